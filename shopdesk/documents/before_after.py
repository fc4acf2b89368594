"""Before and after: one page to frame, with two pictures, the drawing and few words."""

from io import BytesIO

from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from shopdesk.documents.facts.condition import Photo
from shopdesk.documents.facts.kept_informed import BeforeAfterFacts
from shopdesk.documents.layout.drawn import DrawnRange
from shopdesk.documents.layout.look import ACCENT, INK, QUIET, RULE
from shopdesk.documents.layout.page import framed
from shopdesk.documents.layout.typeface import BOLD, ITALIC, REGULAR, fitted
from shopdesk.wording import say

_MARGIN = 48.0  # points; a frame's mount covers the edge
_LETTERS = 2.2  # points between the letters of a picture's word


def render(facts: BeforeAfterFacts) -> bytes:
    """The page as PDF bytes, upright: the pictures one over the other, words and drawing below."""
    name = say("Before and after, {name}", name=facts.name)
    return framed(facts.shop, f"{name} {facts.number}".strip(), lambda canvas: _page(canvas, facts))


def _page(canvas: Canvas, facts: BeforeAfterFacts) -> None:
    wide, high = canvas._pagesize  # noqa: SLF001 - reportlab offers no public way
    across = wide - 2 * _MARGIN
    foot = high * 0.17
    each = (high - _MARGIN * 1.6 - foot - 2 * 26) / 2
    top = high - _MARGIN
    for photo, word in ((facts.before, say("Before")), (facts.after, say("After"))):
        _picture(canvas, photo, (_MARGIN, top - each, across, each))
        _spaced(canvas, word.upper(), wide / 2, top - each - 15)
        top -= each + 26
    _foot(canvas, facts, wide, foot)


def _picture(canvas: Canvas, photo: Photo, box: tuple[float, float, float, float]) -> None:
    """The picture fitted into its box, never stretched, with a thin line about it."""
    x, y, wide, high = box
    image = ImageReader(BytesIO(photo.image))
    width, height = image.getSize()
    scale = min(wide / width, high / height)
    width, height = width * scale, height * scale
    left, low = x + (wide - width) / 2, y + (high - height) / 2
    canvas.drawImage(image, left, low, width, height)
    canvas.setStrokeColor(INK)
    canvas.setLineWidth(0.8)
    canvas.rect(left, low, width, height)
    canvas.setStrokeColor(RULE)
    canvas.setLineWidth(0.6)
    canvas.rect(left - 5, low - 5, width + 10, height + 10)


def _spaced(canvas: Canvas, word: str, middle: float, y: float) -> None:
    canvas.setFillColor(QUIET)
    wide = canvas.stringWidth(word, REGULAR, 8) + _LETTERS * (len(word) - 1)
    text = canvas.beginText(middle - wide / 2, y)
    text.setFont(REGULAR, 8)
    text.setCharSpace(_LETTERS)
    text.textOut(word)
    text.setCharSpace(0)
    canvas.drawText(text)


def _foot(canvas: Canvas, facts: BeforeAfterFacts, wide: float, high: float) -> None:
    """The drawing on the left, name and words beside it, the shop at the right edge."""
    drawn = DrawnRange(facts.drawing, (), wide * 0.24, high - _MARGIN * 0.8)
    low = _MARGIN * 0.8
    drawn.drawOn(canvas, _MARGIN, low)
    left = _MARGIN + drawn.width + 22
    room = wide - _MARGIN - left
    middle = low + drawn.height / 2
    canvas.setFillColor(ACCENT)
    canvas.setFont(BOLD, 17)
    canvas.drawString(left, middle + 10, fitted(facts.name, BOLD, 17, room))
    canvas.setFillColor(INK)
    canvas.setFont(ITALIC, 10.5)
    canvas.drawString(left, middle - 8, fitted(facts.words, ITALIC, 10.5, room))
    canvas.setFillColor(QUIET)
    canvas.setFont(REGULAR, 8.6)
    canvas.drawString(left, middle - 26, fitted(facts.shop.name, REGULAR, 8.6, room))
