"""Where two walk-rounds differ: a checkpoint a row, what each says below its own drawing. Nothing is cut."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QWidget

from shopdesk.ui.look import colours_of, letters, spacing
from shopdesk.ui.pages.walk_round.drawn_rows import WRAPPED, DrawnRows, text_box
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class DifferenceRow:
    """`code` is the checkpoint's; the rest are words as they are shown."""

    code: str
    checkpoint: str
    how: str
    first: str
    second: str

    def spoken(self) -> str:
        return say(
            "{checkpoint}: {how}. First: {first}. Second: {second}.",
            checkpoint=self.checkpoint, how=self.how, first=self.first, second=self.second,
        )  # fmt: skip


class DifferenceRows(DrawnRows[DifferenceRow]):
    """In two halves, as the two walk-rounds stand above."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(name, parent)
        self.setToolTip(say("Enter or a click opens the checkpoint"))

    def show_rows(self, rows: Sequence[DifferenceRow]) -> None:
        super().show_rows(rows)
        self.setVisible(bool(rows))

    def row_height(self, row: DifferenceRow, width: int) -> int:
        sizes = spacing(self.font())
        return round(self._head(row, width) + self._halves(row, width) + 3 * sizes.small)

    def paint_row(self, painter: QPainter, row: DifferenceRow, top: float) -> None:
        sizes, colours, width = spacing(self.font()), colours_of(self.palette()), self.width()
        room, half = width - 2 * sizes.small, self._half(width)
        y = top + sizes.small
        painter.setPen(QColor(colours.text))
        painter.setFont(letters("strong", self.font()))
        painter.drawText(QRectF(sizes.small, y, room, 4000), int(WRAPPED), self._headed(row))
        y += self._head(row, width) + sizes.hair
        painter.setFont(self.font())
        painter.drawText(QRectF(sizes.small, y, half, 4000), int(WRAPPED), row.first)
        painter.drawText(QRectF(width - sizes.small - half, y, half, 4000), int(WRAPPED), row.second)
        foot = top + self.row_height(row, width)
        painter.setPen(QPen(QColor(colours.line), 1))
        painter.drawLine(sizes.small, round(foot) - 1, width - sizes.small, round(foot) - 1)

    def _headed(self, row: DifferenceRow) -> str:
        return say("{checkpoint}: {how}", checkpoint=row.checkpoint, how=row.how)

    def _head(self, row: DifferenceRow, width: int) -> float:
        room = width - 2 * spacing(self.font()).small
        return text_box(letters("strong", self.font()), self, room, self._headed(row)).height()

    def _halves(self, row: DifferenceRow, width: int) -> float:
        half = self._half(width)
        return max(text_box(self.font(), self, half, text).height() for text in (row.first, row.second))

    def _half(self, width: int) -> float:
        sizes = spacing(self.font())
        return (width - 2 * sizes.small - sizes.wide) / 2
