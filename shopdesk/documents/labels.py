"""Labels for what came off: on common sheets of labels and on a roll, each with its QR code."""

from dataclasses import dataclass
from io import BytesIO

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.units import inch, mm
from reportlab.pdfgen.canvas import Canvas

from shopdesk.documents.facts.labels import LabelSheetFacts, LabelSize, TagLabel
from shopdesk.documents.layout.drawn import QrCode
from shopdesk.documents.layout.look import INK
from shopdesk.documents.layout.typeface import BOLD, REGULAR, fitted, register, width_of
from shopdesk.wording import say

PADDING = 4.0


@dataclass(frozen=True, slots=True)
class Sheet:
    """Where the labels lie on a page, in points from its top left corner."""

    page: tuple[float, float]
    columns: int
    rows: int
    label: tuple[float, float]
    left: float
    top: float
    across: float  # from one label's left edge to the next
    down: float

    @property
    def places(self) -> int:
        return self.columns * self.rows

    def corner(self, place: int) -> tuple[float, float]:
        """Left and bottom of a place, counted from nought along the rows."""
        row, column = divmod(place, self.columns)
        high = self.page[1] - self.top - row * self.down
        return self.left + column * self.across, high - self.label[1]


# Sizes as stationers sell them: common practice, no source.
SHEETS: dict[LabelSize, Sheet] = {
    LabelSize.LETTER: Sheet(
        LETTER, 3, 10, (2.625 * inch, 1 * inch), 0.1875 * inch, 0.5 * inch, 2.75 * inch, 1 * inch
    ),
    LabelSize.A4: Sheet(A4, 3, 8, (70 * mm, 36 * mm), 0.0, 4.5 * mm, 70 * mm, 36 * mm),
    LabelSize.ROLL: Sheet((62 * mm, 36 * mm), 1, 1, (62 * mm, 36 * mm), 0.0, 0.0, 0.0, 0.0),
}


def render(facts: LabelSheetFacts) -> bytes:
    """The labels as PDF bytes; the same facts give the same bytes."""
    register()
    sheet = SHEETS[facts.size]
    out = BytesIO()
    canvas = Canvas(
        out,
        pagesize=sheet.page,
        invariant=1,
        lang=facts.shop.region.locale.replace("_", "-"),
        initialFontName=REGULAR,
    )
    canvas.setTitle(say("Labels"))
    canvas.setAuthor(facts.shop.name)
    canvas.setCreator("shopdesk")
    place = (facts.first - 1) % sheet.places
    for number, label in enumerate(facts.labels):
        if number and place == 0:
            canvas.showPage()
        _label(canvas, label, *sheet.corner(place), *sheet.label)
        place = (place + 1) % sheet.places
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def _label(canvas: Canvas, label: TagLabel, x: float, y: float, wide: float, high: float) -> None:
    size = min(high - 2 * PADDING, 0.4 * wide)
    code = QrCode(label.qr, size)
    code.drawOn(canvas, x + PADDING, y + (high - size) / 2)
    left, room = x + size + 2 * PADDING, wide - size - 3 * PADDING
    canvas.setFillColor(INK)
    at = y + high - PADDING - 11
    canvas.setFont(BOLD, 13)
    canvas.drawString(left, at, fitted(label.number, BOLD, 13, room))
    for text, font, size_of in _lines(label, room):
        at -= size_of * 1.22
        if at < y + 2:
            return
        canvas.setFont(font, size_of)
        canvas.drawString(left, at, text)


def _lines(label: TagLabel, room: float) -> list[tuple[str, str, float]]:
    """What is read at the bench: what and how many, then whose, then where it goes back."""
    what = say("{count} × {what}", count=label.how_many, what=label.what)
    lines = [(line, BOLD, 8.6) for line in _wrapped(what, BOLD, 8.6, room, 2)]
    lines.append((fitted(label.range, REGULAR, 7.4, room), REGULAR, 7.4))
    back = say("Back to: {place}", place=label.goes_back)
    lines += [(line, REGULAR, 7.4) for line in _wrapped(back, REGULAR, 7.4, room, 2)]
    if label.lies_at:
        at = say("Lies: {place}", place=label.lies_at)
        lines.append((fitted(at, REGULAR, 7.4, room), REGULAR, 7.4))
    return lines


def _wrapped(text: str, font: str, size: float, room: float, most: int) -> list[str]:
    """The text on at most so many lines, the last one cut where it is too long."""
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if len(lines) == most or not lines[-1] or width_of(longer, font, size) <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    return [fitted(line, font, size, room) for line in lines]
