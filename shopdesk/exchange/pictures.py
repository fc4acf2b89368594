"""Photographs taken in: JPEG, PNG and HEIC become upright JPEGs of a modest size without metadata.

What is kept is made anew from the pixels alone, so neither a place nor a camera's number can stay
in it, and the same photograph always gives the same bytes: its SHA-256 tells that it is here already.
Knows nothing of ranges, shops or screens.
"""

import hashlib
import importlib
import io
import struct
import warnings
from dataclasses import dataclass
from pathlib import Path

from PIL import Image, ImageCms, ImageOps

from shopdesk.domain.problem import Problem, Unavailable

MAX_BYTES = 60_000_000
MAX_PIXELS = 64_000_000
LONG_EDGE = 2400
THUMBNAIL_EDGE = 320

_HEIC_BRANDS = frozenset({b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"})

# What Pillow and libheif raise on damaged or hostile files (found by cutting and flipping real ones).
_UNREADABLE = (OSError, ValueError, SyntaxError, EOFError, RuntimeError, struct.error, LookupError, TypeError)
_TOO_MANY_PIXELS = (Image.DecompressionBombError, Image.DecompressionBombWarning)


@dataclass(frozen=True, slots=True)
class Picture:
    """A photograph as the shop keeps it; `sha256` is that of `data`, sizes are pixels."""

    sha256: str
    media_type: str
    width: int
    height: int
    data: bytes
    thumbnail: bytes


def take_in_file(path: Path) -> Picture:
    """Like `take_in`; the size is looked at before anything is read. Problem, Unavailable."""
    try:
        _refuse_large(path.stat().st_size, path.name)
        data = path.read_bytes()
    except OSError as error:
        raise Unavailable(
            "{name} could not be read ({reason}). Look whether it is still there and add it again.",
            field="picture",
            name=path.name,
            reason=error.strerror or type(error).__name__,
        ) from error
    return take_in(data, path.name)


def take_in(data: bytes, name: str, *, max_pixels: int = MAX_PIXELS, long_edge: int = LONG_EDGE) -> Picture:
    """The picture in `data`, upright, at most `long_edge` pixels on its longer side, with a thumbnail.

    `name` is what the person calls the file. Problem: too large, no picture, damaged, or no HEIC codec.
    """
    _refuse_large(len(data), name)
    if _looks_like_heic(data):
        _need_heic_codec(name)
    image = _open(data, name, max_pixels)
    try:
        # A large JPEG is decoded at a fraction of its size, which never falls below what we keep.
        image.draft(None, (long_edge, long_edge))
        image.load()
    except _UNREADABLE as error:
        raise Problem(
            "{name} is damaged or breaks off before its end. "
            "Copy it again from the camera or phone and add it.",
            field="picture",
            name=name,
        ) from error
    return _kept(_fitted(_plain_rgb(_upright(image)), long_edge))


def kept_again(picture: Image.Image) -> Picture:
    """What was drawn anew from a kept picture, kept in its turn."""
    return _kept(picture)


def _refuse_large(size: int, name: str) -> None:
    if size > MAX_BYTES:
        raise Problem(
            "{name} has {size} MB; pictures of up to {limit} MB are taken in. "
            "Make it smaller and add it again.",
            field="picture",
            name=name,
            size=-(-size // 1_000_000),
            limit=MAX_BYTES // 1_000_000,
        )


def _looks_like_heic(data: bytes) -> bool:
    """By the brands of its first box (ISO/IEC 14496-12 `ftyp`; brands of ISO/IEC 23008-12)."""
    if data[4:8] != b"ftyp":
        return False
    box = data[8 : min(int.from_bytes(data[:4], "big"), 256)]
    return any(box[i : i + 4] in _HEIC_BRANDS for i in range(0, len(box), 4))


def _need_heic_codec(name: str) -> None:
    """Teach Pillow to read HEIC; on a machine that has no codec for it, say so."""
    try:
        importlib.import_module("pillow_heif").register_heif_opener()
    except ImportError as error:
        raise Problem(
            "{name} is a HEIC picture and this computer has no codec for it. "
            "Save it as JPEG, or set the phone to take JPEG pictures, and add it again.",
            field="picture",
            name=name,
        ) from error


def _open(data: bytes, name: str, max_pixels: int) -> Image.Image:
    """The picture with its size known and nothing decoded yet."""
    try:
        image = Image.open(io.BytesIO(data), formats=_readable_formats())
    except _TOO_MANY_PIXELS as error:
        raise _too_many_pixels(name, max_pixels) from error
    except _UNREADABLE as error:
        raise Problem(
            "{name} is not a picture that can be read here (JPEG, PNG or HEIC). "
            "Save it as JPEG and add it again.",
            field="picture",
            name=name,
        ) from error
    if image.width * image.height > max_pixels:
        raise _too_many_pixels(name, max_pixels)
    return image


def _too_many_pixels(name: str, limit: int) -> Problem:
    return Problem(
        "{name} has more than {limit} million pixels. Make it smaller and add it again.",
        field="picture",
        name=name,
        limit=limit // 1_000_000,
    )


def _readable_formats() -> list[str]:
    Image.init()
    return [kind for kind in ("JPEG", "PNG", "HEIF") if kind in Image.OPEN]


def _upright(image: Image.Image) -> Image.Image:
    """Turned as its EXIF says; as it lies where the EXIF makes no sense."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", UserWarning)  # Pillow's word on an EXIF that is cut short
            return ImageOps.exif_transpose(image)
    except _UNREADABLE:
        return image


def _plain_rgb(image: Image.Image) -> Image.Image:
    """Eight-bit sRGB on white, in an image that carries nothing but its pixels."""
    profile = image.info.get("icc_profile")
    if image.mode.startswith("I"):  # 16-bit grey: Pillow would clip it to white
        image = image.convert("I").point(lambda level: level * (1 / 256)).convert("L")
    elif image.mode == "P" or "transparency" in image.info:
        image = image.convert("RGBA")
    mask = image.getchannel("A") if "A" in image.getbands() else None
    plain = Image.new("RGB", image.size, "white")
    plain.paste(_srgb(image.convert("RGB") if mask else image, profile), mask=mask)
    return plain


def _srgb(image: Image.Image, profile: bytes | None) -> Image.Image:
    """Colours moved out of the profile, which is not kept; as they are where it makes no sense."""
    if profile:
        try:
            source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            target = ImageCms.createProfile("sRGB")
            moved = ImageCms.profileToProfile(image, source, target, outputMode="RGB")
        except (ImageCms.PyCMSError, OSError, ValueError):
            moved = None
        if moved is not None:
            return moved
    return image.convert("RGB")


def _fitted(image: Image.Image, long_edge: int) -> Image.Image:
    fitted = image.copy()
    fitted.thumbnail((long_edge, long_edge), Image.Resampling.LANCZOS)
    return fitted


def _kept(image: Image.Image) -> Picture:
    data = _jpeg(image, quality=88)
    return Picture(
        sha256=hashlib.sha256(data).hexdigest(),
        media_type="image/jpeg",
        width=image.width,
        height=image.height,
        data=data,
        thumbnail=_jpeg(_fitted(image, THUMBNAIL_EDGE), quality=80),
    )


def _jpeg(image: Image.Image, quality: int) -> bytes:
    out = io.BytesIO()
    image.save(out, "JPEG", quality=quality, optimize=True)
    return out.getvalue()
