"""Real files made with Pillow and libheif go in; what is kept is looked at by pixels and by bytes."""

import hashlib
import io
import sys
import zlib
from pathlib import Path

import pillow_heif
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageCms

from shopdesk.domain.problem import Problem, Unavailable
from shopdesk.exchange.pictures import MAX_BYTES, Picture, take_in, take_in_file

RED, BLUE, WHITE = (200, 20, 20), (20, 20, 200), (255, 255, 255)
GPS, ORIENTATION = 0x8825, 0x0112


def a_photograph(width: int = 80, height: int = 40) -> Image.Image:
    """Red on the left half, blue on the right."""
    image = Image.new("RGB", (width, height), BLUE)
    image.paste(RED, (0, 0, width // 2, height))
    return image


def written(image: Image.Image, kind: str = "JPEG", **options: object) -> bytes:
    out = io.BytesIO()
    if kind == "HEIF":
        pillow_heif.register_heif_opener()
    if kind != "PNG":
        options = {"quality": 95} | options
    image.save(out, kind, **options)
    return out.getvalue()


def exif(orientation: int) -> bytes:
    """A camera's note: how it was held, and where."""
    note = Image.Exif()
    note[ORIENTATION] = orientation
    note[0x010F] = "a maker of cameras"
    note.get_ifd(GPS).update({1: "N", 2: (10.0, 20.0, 30.0), 3: "W", 4: (40.0, 50.0, 6.0)})
    return note.tobytes()


def pixel(data: bytes, x: int, y: int) -> tuple[int, ...]:
    image = Image.open(io.BytesIO(data))
    return image.getpixel((x % image.width, y % image.height))


def close(one: tuple[int, ...], other: tuple[int, ...], within: int = 12) -> bool:
    return len(one) == len(other) and all(abs(a - b) <= within for a, b in zip(one, other, strict=True))


def segments(jpeg: bytes) -> list[int]:
    """The marker bytes of a JPEG up to its scan (ITU-T T.81, B.1.1.3 and B.1.1.4)."""
    found, at = [], 2
    while jpeg[at + 1] != 0xDA:
        found.append(jpeg[at + 1])
        at += 2 + int.from_bytes(jpeg[at + 2 : at + 4], "big")
    return found


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "HEIF"])
def test_each_kind_of_file_becomes_a_jpeg_with_the_same_picture(kind: str) -> None:
    kept = take_in(written(a_photograph(), kind), "range.pic")
    assert (kept.media_type, kept.width, kept.height) == ("image/jpeg", 80, 40)
    assert Image.open(io.BytesIO(kept.data)).format == "JPEG"
    assert close(pixel(kept.data, 10, 20), RED)
    assert close(pixel(kept.data, 70, 20), BLUE)
    assert kept.sha256 == hashlib.sha256(kept.data).hexdigest()


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "HEIF"])
def test_nothing_but_the_picture_stays_in_the_file(kind: str) -> None:
    marked = written(a_photograph(), kind, exif=exif(1))
    assert Image.open(io.BytesIO(marked)).getexif().get_ifd(GPS)
    kept = take_in(marked, "range.pic")
    for data in (kept.data, kept.thumbnail):
        assert not Image.open(io.BytesIO(data)).getexif()
        assert b"camera" not in data
        applications_and_comments = {m for m in segments(data) if 0xE0 <= m <= 0xEF or m == 0xFE}
        assert applications_and_comments == {0xE0}  # JFIF alone


def test_a_comment_and_a_profile_in_the_file_are_not_kept() -> None:
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    kept = take_in(written(a_photograph(), comment=b"at the seller's house", icc_profile=profile), "a.jpg")
    assert b"seller" not in kept.data
    assert "icc_profile" not in Image.open(io.BytesIO(kept.data)).info


# Where the stored left edge is seen when the picture is shown (Exif 2.32, tag 274 Orientation).
@pytest.mark.parametrize(
    ("orientation", "red_edge"),
    [
        (1, "left"), (2, "right"), (3, "right"), (4, "left"),
        (5, "top"), (6, "top"), (7, "bottom"), (8, "bottom"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_a_picture_is_turned_as_the_camera_was_held(kind: str, orientation: int, red_edge: str) -> None:
    kept = take_in(written(a_photograph(), kind, exif=exif(orientation)), "range.pic")
    assert (kept.width, kept.height) == ((80, 40) if orientation < 5 else (40, 80))
    edges = {
        "left": pixel(kept.data, 2, kept.height // 2),
        "right": pixel(kept.data, -3, kept.height // 2),
        "top": pixel(kept.data, kept.width // 2, 2),
        "bottom": pixel(kept.data, kept.width // 2, -3),
    }
    assert close(edges[red_edge], RED)
    opposite = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}[red_edge]
    assert close(edges[opposite], BLUE)


def test_a_heic_from_a_camera_held_upright_is_turned_once() -> None:
    kept = take_in(written(a_photograph(), "HEIF", exif=exif(6)), "range.heic")
    assert (kept.width, kept.height) == (40, 80)
    assert close(pixel(kept.data, 20, 2), RED)
    assert close(pixel(kept.data, 20, -3), BLUE)


def test_a_large_picture_is_kept_smaller_and_a_small_one_is_not_blown_up() -> None:
    large = take_in(written(a_photograph(3000, 1500)), "large.jpg")
    assert (large.width, large.height) == (2400, 1200)
    assert Image.open(io.BytesIO(large.thumbnail)).size == (320, 160)
    small = take_in(written(a_photograph(80, 40)), "small.jpg")
    assert (small.width, small.height) == (80, 40)
    assert Image.open(io.BytesIO(small.thumbnail)).size == (80, 40)


def test_a_very_large_jpeg_is_decoded_at_a_fraction_and_looks_the_same() -> None:
    kept = take_in(written(a_photograph(4000, 2000)), "large.jpg", long_edge=400)
    assert (kept.width, kept.height) == (400, 200)
    assert close(pixel(kept.data, 50, 100), RED)
    assert close(pixel(kept.data, 350, 100), BLUE)


def test_the_same_photograph_is_the_same_picture_whatever_it_is_called_or_notes() -> None:
    first = take_in(written(a_photograph(), "PNG"), "one.png")
    assert take_in(written(a_photograph(), "PNG", exif=exif(1)), "two.png") == first
    assert take_in(written(a_photograph().rotate(180), "PNG"), "one.png").sha256 != first.sha256


def test_what_is_clear_in_a_png_is_white_on_paper() -> None:
    clear = Image.new("RGBA", (40, 40), (0, 0, 0, 0))
    clear.paste((*RED, 255), (0, 0, 20, 40))
    kept = take_in(written(clear, "PNG"), "plate.png")
    assert close(pixel(kept.data, 5, 20), RED)
    assert close(pixel(kept.data, 35, 20), WHITE)
    palette = take_in(written(clear.convert("RGB").quantize(4), "PNG", transparency=0), "plate.png")
    assert WHITE in {pixel(palette.data, 5, 20), pixel(palette.data, 35, 20)}


def test_a_grey_picture_of_sixteen_bits_keeps_its_greys() -> None:
    grey = Image.new("I;16", (40, 40), 0x8000)
    kept = take_in(written(grey, "PNG"), "scan.png")
    assert close(pixel(kept.data, 20, 20), (128, 128, 128))


def test_colours_are_moved_out_of_the_profile_of_the_file() -> None:
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    red_and_blue_swapped = (
        profile.replace(b"rXYZ", b"????").replace(b"bXYZ", b"rXYZ").replace(b"????", b"bXYZ")
    )
    red = Image.new("RGB", (16, 16), (255, 0, 0))
    kept = take_in(written(red, "PNG", icc_profile=red_and_blue_swapped), "red.png")
    assert close(pixel(kept.data, 8, 8), (0, 0, 255))


def test_a_profile_that_makes_no_sense_leaves_the_colours_as_they_are() -> None:
    kept = take_in(written(a_photograph(), "PNG", icc_profile=b"no profile"), "a.png")
    assert close(pixel(kept.data, 10, 20), RED)


@pytest.mark.parametrize("data", [b"", b"GIF89a", b"%PDF-1.7", b"<svg/>", b"\xff\xd8", b"\x89PNG\r\n\x1a\n"])
def test_what_is_no_picture_is_named_and_refused(data: bytes) -> None:
    with pytest.raises(Problem, match=r"^letter\.jpg is not a picture") as refused:
        take_in(data, "letter.jpg")
    assert refused.value.field == "picture"


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "HEIF"])
def test_a_picture_that_breaks_off_is_named_and_refused(kind: str) -> None:
    whole = written(Image.effect_noise((300, 200), 80).convert("RGB"), kind)
    with pytest.raises(Problem, match=r"^oven\.jpg is damaged or breaks off"):
        take_in(whole[: len(whole) * 2 // 3], "oven.jpg")


def png_header(width: int, height: int) -> bytes:
    """A PNG that states a size and holds next to nothing (W3C PNG, 5.3 and 11.2.1)."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return len(body).to_bytes(4, "big") + kind + body + zlib.crc32(kind + body).to_bytes(4, "big")

    size = width.to_bytes(4, "big") + height.to_bytes(4, "big")
    picture = chunk(b"IHDR", size + bytes([8, 2, 0, 0, 0])) + chunk(b"IDAT", zlib.compress(b"\0" * 100))
    return b"\x89PNG\r\n\x1a\n" + picture + chunk(b"IEND", b"")


@pytest.mark.parametrize("size", [(8001, 8001), (12_000, 9_000), (20_000, 10_000), (60_000, 60_000)])
def test_a_picture_of_very_many_pixels_is_refused_before_it_is_decoded(size: tuple[int, int]) -> None:
    with pytest.raises(Problem, match=r"^huge\.png has more than 64 million pixels"):
        take_in(png_header(*size), "huge.png")


def test_a_file_of_very_many_bytes_is_refused_unread(tmp_path: Path) -> None:
    with pytest.raises(Problem, match=r"^film\.jpg has 61 MB; pictures of up to 60 MB"):
        take_in(bytes(MAX_BYTES + 1), "film.jpg")
    path = tmp_path / "film.jpg"
    with path.open("wb") as film:
        film.truncate(5_000_000_000)  # a hole, not bytes on the disk
    with pytest.raises(Problem, match=r"^film\.jpg has 5000 MB"):
        take_in_file(path)


def test_a_file_is_taken_in_from_where_it_lies(tmp_path: Path) -> None:
    path = tmp_path / "griddle.png"
    path.write_bytes(written(a_photograph(), "PNG"))
    assert take_in_file(path) == take_in(path.read_bytes(), "griddle.png")


def test_a_file_that_is_gone_or_a_folder_is_named(tmp_path: Path) -> None:
    with pytest.raises(Unavailable, match=r"^gone\.jpg could not be read"):
        take_in_file(tmp_path / "gone.jpg")
    with pytest.raises(Unavailable, match=r"could not be read"):
        take_in_file(tmp_path)


def test_a_heic_without_its_codec_is_refused_with_a_way_out(monkeypatch: pytest.MonkeyPatch) -> None:
    heic = written(a_photograph(), "HEIF")
    monkeypatch.setitem(sys.modules, "pillow_heif", None)  # as if it could not be imported
    with pytest.raises(Problem, match=r"^range\.heic is a HEIC picture .* no codec .* JPEG"):
        take_in(heic, "range.heic")
    assert take_in(written(a_photograph()), "range.jpg").width == 80


_WHOLE = [written(a_photograph(), kind, exif=exif(6)) for kind in ("JPEG", "PNG", "HEIF")]


@settings(max_examples=150, deadline=None)
@given(
    whole=st.sampled_from(_WHOLE),
    length=st.floats(0, 1),
    flips=st.lists(st.tuples(st.floats(0, 1, exclude_max=True), st.integers(0, 255)), max_size=8),
)
def test_a_damaged_file_is_a_picture_or_a_problem_and_never_a_crash(
    whole: bytes, length: float, flips: list[tuple[float, int]]
) -> None:
    data = bytearray(whole[: max(1, round(len(whole) * length))])
    for where, value in flips:
        data[int(where * len(data))] = value
    try:
        kept = take_in(bytes(data), "damaged.pic")
    except Problem as problem:
        assert "damaged.pic" in str(problem)
    else:
        assert isinstance(kept, Picture)
        assert max(kept.width, kept.height) <= 2400


def test_an_exif_that_is_cut_short_leaves_the_picture_as_it_lies() -> None:
    data = bytearray(_WHOLE[0])
    data[int(0.125 * len(data))] = 1  # found by the test above: the EXIF points past its end
    assert isinstance(take_in(bytes(data), "damaged.jpg"), Picture)
