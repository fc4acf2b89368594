"""Where bars lie on the screen: the drawn plan's days, names, rows and lanes in pixels."""

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import QAbstractScrollArea

from shopdesk.services.planning.picture import Picture
from shopdesk.ui.pages.plan.lanes import Laid, Row, Sorting

Key = tuple[int, str]


class ChartPlaces(QAbstractScrollArea):
    """The geometry of the drawing, from what is shown, the zoom and the scroll bars."""

    def __init__(self) -> None:
        super().__init__()
        self.picture: Picture | None = None
        self.rows: list[Row] = []
        self.sorting: Sorting = "person"
        self.pixels = 92.0
        self.current: Key | None = None
        self._line = QFontMetricsF(self.font()).height()

    def _lane(self) -> float:
        return self._line * 1.5

    def _head(self) -> float:
        return self._line * 1.7

    def _names(self) -> float:
        letter = QFontMetricsF(self.font()).averageCharWidth()
        return min(letter * 27, self.viewport().width() * 0.34)

    def _height(self, row: Row) -> float:
        least = 2 if row.second or row.late else 1.4
        return max(least, min(row.lanes, 12)) * self._lane() + 8

    def _tops(self) -> list[float]:
        tops, y = [], self._head() - self.verticalScrollBar().value()
        for row in self.rows:
            tops.append(y)
            y += self._height(row)
        return tops

    def _x(self, day: float) -> float:
        return self._names() + day * self.pixels - self.horizontalScrollBar().value()

    def _edge(self, day: int) -> float:
        """Where a day begins, in pixels."""
        assert self.picture is not None
        return self._x(self.picture.edges[min(day, self.picture.days)])

    def _numbers(self, place: float) -> int:
        """The number of the day at a place of the line."""
        assert self.picture is not None
        return (self.picture.day_at(place) - self.picture.first_day).days

    def _day_at(self, x: float) -> float:
        return (x - self._names() + self.horizontalScrollBar().value()) / self.pixels

    def _rect(self, top: float, row: Row, laid: Laid) -> QRectF:
        lane = (self._height(row) - 8) / max(row.lanes, 1) if row.lanes > 12 else self._lane()
        x = self._x(laid.bar.begin)
        wide = max(0.0, (laid.bar.end - laid.bar.begin) * self.pixels)
        return QRectF(x, top + 4 + laid.lane * lane + 1, wide, lane - 3)

    def _measure(self) -> None:
        self._line = QFontMetricsF(self.font()).height()
        days = self.picture.edges[-1] if self.picture else 0.0
        room = self.viewport().width() - self._names()
        across, down = self.horizontalScrollBar(), self.verticalScrollBar()
        across.setRange(0, max(0, round(days * self.pixels - room)))
        across.setPageStep(max(1, round(room)))
        across.setSingleStep(max(8, round(self.pixels / 4)))
        whole = sum(self._height(row) for row in self.rows) + self._head()
        down.setRange(0, max(0, round(whole - self.viewport().height())))
        down.setPageStep(max(1, self.viewport().height()))
        down.setSingleStep(round(self._lane()))

    def _bring(self, row: Row, laid: Laid) -> None:
        """Scrolls so that a bar can be seen."""
        rect = self._rect(self._tops()[self.rows.index(row)], row, laid)
        across, down = self.horizontalScrollBar(), self.verticalScrollBar()
        if rect.left() < self._names() or (rect.right() > self.viewport().width() and rect.width() < 600):
            across.setValue(round(laid.bar.begin * self.pixels - 60))
        if rect.top() < self._head():
            down.setValue(round(down.value() + rect.top() - self._head()))
        elif rect.bottom() > self.viewport().height():
            down.setValue(round(down.value() + rect.bottom() - self.viewport().height() + 8))

    def _place_of(self, key: Key | None) -> tuple[int, int] | None:
        for r, row in enumerate(self.rows):
            for n, laid in enumerate(row.laid):
                if laid.bar.key == key:
                    return r, n
        return None

    def _hit(self, at: QPointF) -> tuple[Row, Laid] | None:
        for top, row in zip(self._tops(), self.rows, strict=True):
            if top <= at.y() <= top + self._height(row):
                for laid in reversed(row.laid):
                    if self._rect(top, row, laid).adjusted(-3, -1, 3, 1).contains(at):
                        return row, laid
        return None

    def _hit_promise(self, at: QPointF) -> Row | None:
        for top, row in zip(self._tops(), self.rows, strict=True):
            inside = top <= at.y() <= top + self._height(row)
            if inside and row.promise is not None and abs(self._x(row.promise) - at.x()) <= 6:
                return row
        return None

    def _row_at(self, y: float) -> Row | None:
        for top, row in zip(self._tops(), self.rows, strict=True):
            if top <= y <= top + self._height(row):
                return row
        return None
