"""Tables that break well: heads repeat, a group keeps its first row, tall rows may split."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TypeAlias

from reportlab.platypus import Flowable, LongTable, Table

from shopdesk.documents.layout.cells import FLAT, Command, cells
from shopdesk.documents.layout.look import (
    ACCENT,
    BODY,
    COLUMN,
    COLUMN_RIGHT,
    GAP,
    RIGHT,
    RULE,
    RULE_WIDTH,
    SMALL,
    ZONE,
)
from shopdesk.documents.layout.text import para

Cell: TypeAlias = str | Flowable | list[Flowable]


@dataclass(frozen=True, slots=True)
class Column:
    """`width` in points; 0 takes what the others leave. `right` for figures."""

    title: str
    width: float = 0
    right: bool = False


@dataclass(slots=True)
class Grid:
    """A table being filled row by row; `close` sets the rows of a long one nearer together."""

    columns: Sequence[Column]
    close: bool = False
    rows: list[list[Cell]] = field(default_factory=list)
    _commands: list[Command] = field(default_factory=list)
    _groups: list[int] = field(default_factory=list)

    def row(self, *cells: Cell) -> None:
        """Texts are set in the column's style; flowables stand as they are."""
        self.rows.append([self._set(cell, column) for cell, column in zip(cells, self.columns, strict=True)])

    def group(self, title: str, figure: str = "") -> None:
        """A heading over the next rows, kept with the first of them; `figure` at the right edge."""
        at = len(self.rows) + 1
        self._groups.append(at)
        blank: list[Cell] = [""] * (len(self.columns) - 2)
        self.rows.append([para(title, ZONE), *blank, para(figure, COLUMN_RIGHT)])
        self._commands += [
            ("SPAN", (0, at), (-2, at)),
            ("TOPPADDING", (0, at), (-1, at), GAP * 1.5),
            ("VALIGN", (-1, at), (-1, at), "BOTTOM"),
        ]

    def table(self, width: float) -> LongTable:
        """The finished table across `width` points."""
        heads = [para(c.title, COLUMN_RIGHT if c.right else COLUMN) for c in self.columns]
        taken = sum(c.width for c in self.columns)
        free = [c for c in self.columns if not c.width]
        widths = [c.width or (width - taken) / len(free) for c in self.columns]
        heights = [_height(row, widths) for row in self.rows]
        # Rows may break only where one fills a page: reportlab would rather break a row than keep a group.
        breaks = int(max(heights, default=0.0) > _PAGE)
        kept = [
            ("NOSPLIT", (0, at), (-1, at + 1))
            for at in self._groups
            if at < len(heights) and heights[at] < _PAGE
        ]
        rows = [heads, *self.rows]
        table = LongTable(rows, colWidths=widths, repeatRows=1, splitInRow=breaks, hAlign="LEFT")
        table.setStyle([*_STYLE, *(_CLOSE if self.close else ()), *self._commands, *kept])
        return table

    def _set(self, cell: Cell, column: Column) -> Cell:
        return para(cell, RIGHT if column.right else BODY) if isinstance(cell, str) else cell


_PAGE = 560.0  # points; what a row may take before it no longer fits a page below heads and headings


def _height(row: Sequence[Cell], widths: Sequence[float]) -> float:
    """The height of the tallest cell, or nearly."""
    tallest, last = 0.0, len(widths) - 1
    for at, (cell, wide) in enumerate(zip(row, widths, strict=True)):
        room = wide - GAP / 2 * ((at > 0) + (at < last))  # as the table will ask, so that lines break once
        stack = cell if isinstance(cell, list) else [] if isinstance(cell, str) else [cell]
        tallest = max(tallest, sum(piece.wrap(room, 1e6)[1] for piece in stack))
    return tallest


_STYLE: list[Command] = [
    *FLAT,
    ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
    ("LEFTPADDING", (0, 0), (-1, -1), GAP / 2),
    ("LEFTPADDING", (0, 0), (0, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), GAP / 2),
    ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 3),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 4),
    ("LINEBELOW", (0, 0), (-1, 0), 0.9, ACCENT),
    ("LINEBELOW", (0, 1), (-1, -1), RULE_WIDTH * 0.6, RULE),
]


_CLOSE: list[Command] = [("TOPPADDING", (0, 1), (-1, -1), 1.6), ("BOTTOMPADDING", (0, 1), (-1, -1), 2.2)]


def pairs(facts: Sequence[tuple[str, str]], width: float, label: float = 92) -> list[Flowable]:
    """Labels in small grey with their facts beside them; facts without text are left out."""
    rows = [[para(name, SMALL), para(fact)] for name, fact in facts if fact]
    if not rows:
        return []
    return [
        cells(
            rows,
            [label, width - label],
            ("RIGHTPADDING", (0, 0), (-1, -1), GAP),
            ("TOPPADDING", (0, 0), (0, -1), 1.5),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 1),
        )
    ]


def beside(left: list[Flowable], right: list[Flowable], width: float) -> Table:
    """Two blocks next to each other."""
    apart = ("RIGHTPADDING", (0, 0), (0, 0), GAP * 2)
    below = ("BOTTOMPADDING", (0, 0), (-1, -1), GAP)
    return cells([[left or "", right or ""]], [width / 2, width / 2], apart, below)
