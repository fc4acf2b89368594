"""A kept photograph drawn anew: marked, cropped and turned. The original's bytes are only read."""

import io

from PIL import Image, ImageDraw

from shopdesk.domain.picture_changes import (
    BARB,
    STROKE,
    MarkKind,
    PictureChanges,
    Point,
    arrow_lines,
    box_between,
)
from shopdesk.exchange.pictures import Picture, kept_again

INK, CASING = (200, 16, 46), (255, 255, 255)  # red within white: seen on dark rust and on pale enamel

_TURNS = {
    1: Image.Transpose.ROTATE_270,  # Pillow counts against the clock
    2: Image.Transpose.ROTATE_180,
    3: Image.Transpose.ROTATE_90,
}


def redrawn(original: bytes, changes: PictureChanges) -> Picture:
    """The changed copy of a photograph as the shop keeps it."""
    image = Image.open(io.BytesIO(original), formats=["JPEG"]).convert("RGB")
    _draw_marks(image, changes)
    width, height = image.size
    crop = changes.crop
    box = (crop.left * width, crop.top * height, crop.right * width, crop.bottom * height)
    image = image.crop((round(box[0]), round(box[1]), round(box[2]), round(box[3])))
    if changes.quarter_turns:
        image = image.transpose(_TURNS[changes.quarter_turns])
    return kept_again(image)


def _draw_marks(image: Image.Image, changes: PictureChanges) -> None:
    draw = ImageDraw.Draw(image)
    edge = max(image.size)
    stroke = max(2, round(edge * STROKE))
    for colour, thick in ((CASING, stroke * 2), (INK, stroke)):
        for mark in changes.marks:
            first, second = _pixels(mark.first, image), _pixels(mark.second, image)
            if mark.kind is MarkKind.CIRCLE:
                grown = (thick - stroke) / 2
                left, top, right, bottom = box_between(first, second)
                draw.ellipse(
                    (left - grown, top - grown, right + grown, bottom + grown), outline=colour, width=thick
                )
            else:
                for one, other in arrow_lines(first, second, edge * BARB):
                    draw.line((*one, *other), fill=colour, width=thick)


def _pixels(point: Point, image: Image.Image) -> Point:
    return point[0] * image.width, point[1] * image.height
