"""Pictures for demo data, drawn by our own code: a close-up of a fault as a sketch on grey card."""

import io
import random

from PIL import Image, ImageDraw, ImageFilter

from shopdesk.exchange.pictures import Picture, take_in

Colour = tuple[int, int, int]
Size = tuple[int, int]

_CARD = (214, 208, 198)
_INK = (52, 56, 66)
_RUST = (140, 84, 48)


def picture(kind: str, seed: int, size: Size = (960, 720)) -> Picture:
    """A drawn picture of a fault (rust, chip, cord, valve, hole), a plate or what is mended.

    Same seed, same bytes.
    """
    luck = random.Random(f"{kind}-{seed}")
    image = Image.new("RGB", size, _CARD)
    pen = ImageDraw.Draw(image)
    _panel(pen, size, luck)
    _DRAWERS.get(kind, _chip)(pen, size, luck)
    image = image.filter(ImageFilter.GaussianBlur(0.8))
    kept = io.BytesIO()
    image.save(kept, "PNG")
    return take_in(kept.getvalue(), f"{kind}-{seed}.png", long_edge=560)


def _shaded(colour: Colour, by: int) -> Colour:
    red, green, blue = (max(0, min(255, c + by)) for c in colour)
    return red, green, blue


def _panel(pen: ImageDraw.ImageDraw, size: Size, luck: random.Random) -> None:
    width, height = size
    tone = luck.randint(-10, 10)
    pen.rounded_rectangle(
        (60, 60, width - 60, height - 60), 40, fill=_shaded(_CARD, 18 + tone), outline=_INK, width=5
    )
    for y in range(110, height - 90, 16):
        shade = _shaded(_CARD, 12 + luck.randint(-3, 3) + tone)
        pen.line((80, y, width - 80, y + luck.randint(-2, 2)), fill=shade, width=7)


def _blot(
    pen: ImageDraw.ImageDraw, x: float, y: float, r: float, colour: Colour, luck: random.Random
) -> None:
    points = [
        (x + r * luck.uniform(0.6, 1.2) * dx, y + r * luck.uniform(0.6, 1.2) * dy)
        for dx, dy in ((1, 0), (0.7, 0.7), (0, 1), (-0.7, 0.7), (-1, 0), (-0.7, -0.7), (0, -1), (0.7, -0.7))
    ]
    pen.polygon(points, fill=colour, outline=_INK)


def _rust(pen: ImageDraw.ImageDraw, size: Size, luck: random.Random) -> None:
    for _ in range(60):
        shade = _shaded(_RUST, luck.randint(-25, 25))
        _blot(
            pen,
            luck.uniform(200, size[0] - 200),
            luck.uniform(180, size[1] - 180),
            luck.uniform(6, 46),
            shade,
            luck,
        )


def _chip(pen: ImageDraw.ImageDraw, size: Size, luck: random.Random) -> None:
    for _ in range(luck.randint(2, 4)):
        x, y, r = luck.uniform(250, size[0] - 250), luck.uniform(200, size[1] - 200), luck.uniform(24, 70)
        _blot(pen, x, y, r, (92, 92, 96), luck)
        _blot(pen, x, y, r * 0.55, _INK, luck)


def _cord(pen: ImageDraw.ImageDraw, size: Size, luck: random.Random) -> None:
    points = [(90 + n * (size[0] - 180) / 9, size[1] / 2 + luck.uniform(-120, 120)) for n in range(10)]
    pen.line(points, fill=(112, 88, 60), width=34, joint="curve")
    for x, y in points[2:8]:
        for _ in range(7):
            pen.line(
                (x, y, x + luck.uniform(-46, 46), y + luck.uniform(-60, 60)), fill=(170, 120, 60), width=4
            )


def _valve(pen: ImageDraw.ImageDraw, size: Size, luck: random.Random) -> None:
    middle = size[1] / 2
    pen.rectangle((120, middle - 40, size[0] - 120, middle + 40), fill=(176, 150, 92), outline=_INK, width=6)
    pen.polygon(
        [(430, middle - 120), (530, middle - 120), (510, middle + 130), (450, middle + 130)],
        fill=(190, 164, 104),
        outline=_INK,
        width=6,
    )
    for _ in range(30):
        _blot(
            pen,
            luck.uniform(420, 540),
            luck.uniform(middle - 110, middle + 120),
            luck.uniform(3, 10),
            (96, 128, 110),
            luck,
        )


def _hole(pen: ImageDraw.ImageDraw, size: Size, luck: random.Random) -> None:
    _rust(pen, size, luck)
    _blot(pen, size[0] / 2, size[1] / 2, 90, (30, 26, 24), luck)


def _plate(pen: ImageDraw.ImageDraw, size: Size, luck: random.Random) -> None:
    pen.rounded_rectangle(
        (220, 220, size[0] - 220, size[1] - 220), 18, fill=(196, 178, 128), outline=_INK, width=6
    )
    for y in range(270, size[1] - 260, 44):
        pen.line((270, y, 270 + luck.randint(200, 420), y), fill=_INK, width=10)


def _mended(pen: ImageDraw.ImageDraw, size: Size, luck: random.Random) -> None:
    """A clean valve on its pipe, with the shine of polished brass."""
    middle = size[1] / 2
    brass = (206, 178, 104)
    pen.rectangle((120, middle - 40, size[0] - 120, middle + 40), fill=brass, outline=_INK, width=6)
    pen.polygon(
        [(430, middle - 120), (530, middle - 120), (510, middle + 130), (450, middle + 130)],
        fill=_shaded(brass, 14), outline=_INK, width=6,
    )  # fmt: skip
    for x in (150 + luck.randint(0, 60), 600 + luck.randint(0, 120)):
        pen.line((x, middle - 24, x + 150, middle - 24), fill=_shaded(brass, 46), width=9)
    pen.line((462, middle - 96, 470, middle + 90), fill=_shaded(brass, 50), width=10)


_DRAWERS = {
    "rust": _rust,
    "chip": _chip,
    "cord": _cord,
    "valve": _valve,
    "hole": _hole,
    "plate": _plate,
    "mended": _mended,
}
