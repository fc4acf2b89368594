"""Boxes beside and below each other, without padding or rules unless asked for."""

from collections.abc import Sequence

from reportlab.platypus import Table

from shopdesk.documents.layout.typeface import REGULAR

Command = tuple[object, ...]

# The font is named although no cell holds bare text: reportlab would else name one that is not embedded.
FLAT: tuple[Command, ...] = (
    ("FONTNAME", (0, 0), (-1, -1), REGULAR),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 0),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
)


def cells(
    rows: Sequence[Sequence[object]],
    widths: Sequence[float],
    *style: Command,
    heights: Sequence[float | None] | None = None,
    align: str = "LEFT",
) -> Table:
    """A table of `widths` in points; `style` comes after the flat defaults; a tall row may break."""
    table = Table(
        [list(row) for row in rows], colWidths=widths, rowHeights=heights, hAlign=align, splitInRow=1
    )
    table.setStyle([*FLAT, *style])
    return table
