"""Labels for what came off, for parts, bins and ranges, on common sheets and rolls, each with its code."""

from dataclasses import dataclass
from io import BytesIO

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.units import inch, mm
from reportlab.pdfgen.canvas import Canvas

from shopdesk.documents.facts.labels import LabelSheetFacts, LabelSize, TagLabel, ThingLabel
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
    LabelSize.LETTER_LARGE: Sheet(
        LETTER, 2, 5, (4 * inch, 2 * inch), 0.15625 * inch, 0.5 * inch, 4.1875 * inch, 2 * inch
    ),
    LabelSize.A4_LARGE: Sheet(A4, 2, 7, (99.1 * mm, 38.1 * mm), 4.65 * mm, 15.15 * mm, 101.6 * mm, 38.1 * mm),
    LabelSize.ROLL_SMALL: Sheet((54 * mm, 25 * mm), 1, 1, (54 * mm, 25 * mm), 0.0, 0.0, 0.0, 0.0),
    LabelSize.ROLL_LARGE: Sheet((102 * mm, 51 * mm), 1, 1, (102 * mm, 51 * mm), 0.0, 0.0, 0.0, 0.0),
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


def _label(
    canvas: Canvas, label: TagLabel | ThingLabel, x: float, y: float, wide: float, high: float
) -> None:
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


def _lines(label: TagLabel | ThingLabel, room: float) -> list[tuple[str, str, float]]:
    """What is read at the bench: what and how many, then whose, then where it goes back."""
    if isinstance(label, ThingLabel):
        lines = [(line, BOLD, 8.6) for line in _wrapped(label.what, BOLD, 8.6, room, 2) if line]
        return lines + [(fitted(line, REGULAR, 7.4, room), REGULAR, 7.4) for line in label.lines if line]
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
