"""The drawn plan painted: days, rows, the line of now, the names, what is dragged. Only what is in view."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPaintEvent, QPen

from shopdesk.services.planning.picture import CLOSED_WIDTH
from shopdesk.ui.look import colours_of, letters
from shopdesk.ui.pages.plan import bar_painting as paint
from shopdesk.ui.pages.plan import scale
from shopdesk.ui.pages.plan.chart_places import ChartPlaces
from shopdesk.ui.pages.plan.lanes import Laid, Row
from shopdesk.wording import Region, say


class ChartPainting(ChartPlaces):
    """Paints what is shown; knows no deeds."""

    def __init__(self, region: Region) -> None:
        super().__init__()
        self._region = region
        self._drag: tuple[Laid, Row, QPointF] | None = None
        self._promise_drag: Row | None = None
        self._at = QPointF()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self.viewport())
        colours = colours_of(self.palette())
        painter.fillRect(self.viewport().rect(), QColor(colours.base))
        if self.picture is None:
            return
        inks = paint.Inks.of(colours, self.font(), letters("small", self.font()))
        wide, high, names = self.viewport().width(), self.viewport().height(), self._names()
        first, last = self._day_at(names), self._day_at(wide)
        shown = self._numbers(first), self._numbers(last) + 1
        painter.setClipRect(QRectF(names, self._head(), wide - names, high - self._head()))
        self._paint_days(painter, inks, *shown)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        tops = self._tops()
        for top, row in zip(tops, self.rows, strict=True):
            if top + self._height(row) >= self._head() and top <= high:
                self._paint_row(painter, inks, top, row, (first, last))
        self._paint_now(painter, inks, high)
        self._paint_drag(painter, inks)
        painter.setClipping(False)
        self._paint_names(painter, inks, tops)
        self._paint_head(painter, inks, *shown)

    def _paint_days(self, painter: QPainter, inks: paint.Inks, first: int, last: int) -> None:
        assert self.picture is not None
        c, high = inks.colours, self.viewport().height()
        for n in range(max(0, first), min(last, self.picture.days) + 1):
            if n in self.picture.closed:
                wide = self.pixels * CLOSED_WIDTH
                painter.fillRect(QRectF(self._edge(n), 0, wide, high), QColor(c.shade))
        painter.setPen(QPen(QColor(c.line), 1))
        for mark in scale.marks(self.picture.first_day, first, last, self.pixels, self._region):
            painter.setPen(QPen(QColor(c.edge if mark.strong else c.line), 1))
            x = self._edge(mark.day)
            painter.drawLine(QPointF(x, 0), QPointF(x, high))

    def _paint_row(
        self, painter: QPainter, inks: paint.Inks, top: float, row: Row, view: tuple[float, float]
    ) -> None:
        high = self._height(row)
        for begin, end in row.away:
            if end >= view[0] and begin <= view[1] and (end - begin) * self.pixels >= 3:
                rect = QRectF(self._x(begin), top + 3, (end - begin) * self.pixels, high - 6)
                paint.paint_away(painter, rect, inks)
        least = 3 / self.pixels
        painted: dict[tuple[int, bool], int] = {}  # the last pixel column filled, by lane
        for laid in row.laid:
            bar = laid.bar
            if bar.end + least < view[0] or bar.begin > view[1]:
                continue
            rect, chosen = self._rect(top, row, laid), bar.key == self.current
            column = round(rect.x())
            if rect.width() < 2 and not chosen and painted.get((laid.lane, bar.late)) == column:
                continue
            painted[laid.lane, bar.late] = column
            words = bar.task if self.sorting == "range" else f"{bar.number} {bar.task}"
            paint.paint_bar(painter, rect, bar, inks, words=words, chosen=chosen)
        if row.promise is not None:
            paint.paint_promise(painter, self._x(row.promise), top, top + high, inks, late=bool(row.late))
        painter.setPen(QPen(QColor(inks.colours.line), 1))
        painter.drawLine(QPointF(0, top + high), QPointF(self.viewport().width(), top + high))

    def _paint_now(self, painter: QPainter, inks: paint.Inks, high: int) -> None:
        assert self.picture is not None
        x = self._x(self.picture.now)
        painter.setPen(QPen(QColor(inks.colours.grave if inks.colours.scheme == "light" else
                                   inks.colours.problem), 2))  # fmt: skip
        painter.drawLine(QPointF(x, 0), QPointF(x, high))

    def _paint_names(self, painter: QPainter, inks: paint.Inks, tops: list[float]) -> None:
        c, names = inks.colours, self._names()
        painter.fillRect(QRectF(0, 0, names, self.viewport().height()), QColor(c.window))
        painter.setPen(QPen(QColor(c.edge), 1))
        painter.drawLine(QPointF(names, 0), QPointF(names, self.viewport().height()))
        strong = letters("strong", inks.body)
        line = QFontMetricsF(inks.body).height()
        painter.setClipRect(QRectF(0, self._head(), names, self.viewport().height() - self._head()))
        for top, row in zip(tops, self.rows, strict=True):
            rows = [(row.name, strong, c.text), (row.second, inks.small, c.muted)]
            if row.late:
                rows[0] = (say("{range}, {late}", range=row.name, late=row.late), strong, c.problem)
            y = top + 4
            for text, font, ink in rows:
                painter.setFont(font)
                painter.setPen(QColor(ink))
                room = QRectF(8, y, names - 14, line)
                cut = QFontMetricsF(font).elidedText(text, Qt.TextElideMode.ElideRight, room.width())
                painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, cut)
                y += line
            painter.setPen(QPen(QColor(c.line), 1))
            bottom = top + self._height(row)
            painter.drawLine(QPointF(0, bottom), QPointF(names, bottom))
        painter.setClipping(False)

    def _paint_head(self, painter: QPainter, inks: paint.Inks, first: int, last: int) -> None:
        assert self.picture is not None
        c, head, wide = inks.colours, self._head(), self.viewport().width()
        painter.fillRect(QRectF(0, 0, wide, head), QColor(c.window))
        painter.setPen(QPen(QColor(c.edge), 1))
        painter.drawLine(QPointF(0, head), QPointF(wide, head))
        painter.setFont(inks.small)
        painter.setClipRect(QRectF(self._names(), 0, wide - self._names(), head))
        painter.setPen(QColor(c.text))
        for mark in scale.marks(self.picture.first_day, first, last, self.pixels, self._region):
            holiday = self.picture.holidays.get(mark.day, "") if self.pixels >= 120 else ""
            words = say("{day}, {holiday}", day=mark.words, holiday=holiday) if holiday else mark.words
            if mark.day in self.picture.closed and 58 <= self.pixels < 400:
                continue
            room = QRectF(self._edge(mark.day) + 4, 0, max(self.pixels, 70) - 6, head)
            text = inks.metrics.elidedText(words, Qt.TextElideMode.ElideRight, room.width())
            painter.drawText(room, Qt.AlignmentFlag.AlignVCenter, text)
        x = self._x(self.picture.now)
        painter.fillRect(QRectF(x - 1, head - 4, 3, 4), QColor(c.problem))
        painter.setClipping(False)
        painter.setPen(QColor(c.muted))
        painter.drawText(QRectF(8, 0, self._names() - 14, head), Qt.AlignmentFlag.AlignVCenter,
                         self._head_words())  # fmt: skip

    def _head_words(self) -> str:
        return {"person": say("By person"), "station": say("By station"), "range": say("By range")}[
            self.sorting
        ]

    def _paint_drag(self, painter: QPainter, inks: paint.Inks) -> None:
        if self._drag is not None:
            laid, row, grip = self._drag
            shift = self._at - grip
            rect = self._rect(self._tops()[self.rows.index(row)], row, laid)
            painter.setOpacity(0.65)
            paint.paint_bar(painter, rect.translated(shift), laid.bar, inks, words=laid.bar.task, chosen=True)
            painter.setOpacity(1.0)
        elif self._promise_drag is not None:
            top = self._tops()[self.rows.index(self._promise_drag)]
            bottom = top + self._height(self._promise_drag)
            paint.paint_promise(painter, self._at.x(), top, bottom, inks, late=False)
