"""The drawn plan: one painted widget with a fixed line of days and fixed names. Bars are chosen, not edited.

Only what is in view is painted. Moving a bar or a promised day by mouse asks first; nothing moves here.
"""

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QColor,
    QFocusEvent,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QAbstractScrollArea, QToolTip

from shopdesk.services.planning.picture import CLOSED_WIDTH, Bar, Picture
from shopdesk.ui.look import colours_of, letters
from shopdesk.ui.pages.plan import bar_painting as paint
from shopdesk.ui.pages.plan import scale
from shopdesk.ui.pages.plan.lanes import Laid, Row, Sorting, bar_words, rows_of
from shopdesk.wording import Region, say

Key = tuple[int, str]


class PlanChart(QAbstractScrollArea):
    """Arrows walk from bar to bar, plus and minus zoom, Home goes to now. Letters belong to the page."""

    chosen = Signal(object)  # Bar, or None
    opened = Signal(int)  # key of a range: Return or double click
    moveAsked = Signal(object, float, object)  # Bar, place on the line, key of the row dropped on
    promiseAsked = Signal(int, float)  # key of a job, place on the line
    zoomed = Signal()

    def __init__(self, region: Region) -> None:
        super().__init__()
        self._region = region
        self.picture: Picture | None = None
        self.rows: list[Row] = []
        self.sorting: Sorting = "person"
        self.pixels = 92.0
        self.current: Key | None = None
        self.may_move = False
        self._drag: tuple[Laid, Row, QPointF] | None = None
        self._promise_drag: Row | None = None
        self._at = QPointF()
        self._line = QFontMetricsF(self.font()).height()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(say("The plan, drawn"))
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.viewport().setMouseTracking(True)

    # What is shown

    def show_picture(self, picture: Picture, sorting: Sorting) -> None:
        """Shows a plan; the chosen bar, the zoom and the scroll stay."""
        fresh = self.picture is None
        self.picture, self.sorting = picture, sorting
        self.rows = rows_of(picture, sorting, self._region)
        if self._place_of(self.current) is None:
            self.current = None
        self._measure()
        if fresh:
            self.go_to_now()
        self.viewport().update()
        self.chosen.emit(self.current_bar())

    def current_bar(self) -> Bar | None:
        place = self._place_of(self.current)
        return self.rows[place[0]].laid[place[1]].bar if place else None

    def choose(self, key: Key | None) -> None:
        """Chooses a bar and brings it into view."""
        self.current = key
        place = self._place_of(key)
        if place is not None:
            row = self.rows[place[0]]
            self._bring(row, row.laid[place[1]])
            bar = row.laid[place[1]].bar
            words = bar_words(bar, self._region, self.picture.today) if self.picture else ""
            self.setAccessibleDescription(words)
            QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.DescriptionChanged))
        self.viewport().update()
        self.chosen.emit(self.current_bar())

    def zoom(self, steps: int, around: float | None = None) -> None:
        """Nearer or farther; the day under the mouse (or in the middle) stays where it is."""
        x = around if around is not None else self._names() + (self.viewport().width() - self._names()) / 2
        day = self._day_at(x)
        self.pixels = scale.stepped(self.pixels, steps)
        self._measure()
        self.horizontalScrollBar().setValue(round(day * self.pixels - (x - self._names())))
        self.viewport().update()
        self.zoomed.emit()

    def show_days(self, days: float) -> None:
        """A zoom at which so many days, two in seven of them closed, stand across the window."""
        days = days if days < 2 else days * (5 + 2 * CLOSED_WIDTH) / 7
        room = max(100, self.viewport().width() - self._names())
        left = self._day_at(self._names())
        self.pixels = min(scale.WIDEST, max(scale.NARROWEST, room / days))
        self._measure()
        self.horizontalScrollBar().setValue(round(left * self.pixels))
        self.viewport().update()
        self.zoomed.emit()

    def go_to_now(self) -> None:
        if self.picture is not None:
            self.horizontalScrollBar().setValue(round((self.picture.now - 0.4) * self.pixels))

    def zoom_words(self) -> str:
        return scale.zoom_words(self.pixels, max(1, round(self.viewport().width() - self._names())))

    # Places in pixels

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

    # Painting

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
            if mark.day in self.picture.closed and self.pixels < 400:
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

    # Mouse

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

    def mousePressEvent(self, event: QMouseEvent) -> None:
        at = event.position()
        if event.button() != Qt.MouseButton.LeftButton or at.x() < self._names():
            return
        promise = self._hit_promise(at) if self.may_move else None
        hit = self._hit(at)
        self._at = at
        if promise is not None:
            self._promise_drag = promise
        elif hit is not None:
            self.choose(hit[1].bar.key)
            if self.may_move and hit[1].bar.kind == "hand":
                self._drag = (hit[1], hit[0], at)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        at = event.position()
        if self._drag is not None or self._promise_drag is not None:
            self._at = at
            self.viewport().update()
            return
        hit = self._hit(at)
        flag = self.may_move and self._hit_promise(at) is not None
        shape = Qt.CursorShape.SizeHorCursor if flag else Qt.CursorShape.ArrowCursor
        if hit is not None and not flag:
            shape = Qt.CursorShape.OpenHandCursor if self.may_move else Qt.CursorShape.PointingHandCursor
        self.viewport().setCursor(shape)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        at = event.position()
        drag, self._drag = self._drag, None
        promise, self._promise_drag = self._promise_drag, None
        self.viewport().update()
        if drag is not None and (at - drag[2]).manhattanLength() > 8:
            laid, _, grip = drag
            place = self._begin_of(laid.bar) + (at.x() - grip.x()) / self.pixels
            row = self._row_at(at.y())
            self.moveAsked.emit(laid.bar, max(0.0, place), row.key if row else None)
        elif (
            promise is not None
            and promise.job_id is not None
            and promise.promise is not None
            and abs(self._x(promise.promise) - at.x()) > 6
        ):
            self.promiseAsked.emit(promise.job_id, max(0.0, self._day_at(at.x())))

    def _begin_of(self, bar: Bar) -> float:
        """Where a task's first sitting begins: a moved sitting takes the whole task along."""
        bars = self.picture.bars if self.picture else ()
        return min(
            (b.begin for b in bars if b.task_id == bar.task_id and b.kind == "hand"), default=bar.begin
        )

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        hit = self._hit(event.position())
        if hit is not None:
            self.opened.emit(hit[1].bar.range_id)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """With Ctrl the wheel zooms, with Shift it goes along the days."""
        turns = event.angleDelta().y()
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier and turns:
            self.zoom(1 if turns > 0 else -1, event.position().x())
        elif event.modifiers() & Qt.KeyboardModifier.ShiftModifier and turns:
            across = self.horizontalScrollBar()
            across.setValue(across.value() - turns)
        else:
            super().wheelEvent(event)

    def viewportEvent(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip and self.picture is not None:
            at = event.pos()  # type: ignore[attr-defined]  # a QHelpEvent
            hit = self._hit(QPointF(at))
            if hit is not None:
                words = bar_words(hit[1].bar, self._region, self.picture.today)
                QToolTip.showText(self.viewport().mapToGlobal(QPoint(at)), words, self)
            else:
                QToolTip.hideText()
            return True
        return super().viewportEvent(event)

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = event.key()
        if key in (Qt.Key.Key_Escape,) and (self._drag or self._promise_drag):
            self._drag = self._promise_drag = None
            self.viewport().update()
        elif key in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            self._along(1 if key == Qt.Key.Key_Right else -1)
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            self._across(1 if key == Qt.Key.Key_Down else -1)
        elif key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal, Qt.Key.Key_Minus):
            self.zoom(-1 if key == Qt.Key.Key_Minus else 1)
        elif key == Qt.Key.Key_Home:
            self.go_to_now()
        elif key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown) and not event.modifiers():
            across = self.horizontalScrollBar()
            across.setValue(across.value() + (1 if key == Qt.Key.Key_PageDown else -1) * across.pageStep())
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            bar = self.current_bar()
            if bar is not None:
                self.opened.emit(bar.range_id)
        else:
            event.ignore()
            return
        event.accept()

    def _along(self, step: int) -> None:
        """The bar before or after in the same row."""
        place = self._place_of(self.current)
        if place is None:
            self._first()
            return
        row = self.rows[place[0]]
        to = place[1] + step
        if 0 <= to < len(row.laid):
            self.choose(row.laid[to].bar.key)

    def _across(self, step: int) -> None:
        """The bar nearest in time in the next row that has any."""
        place = self._place_of(self.current)
        if place is None:
            self._first()
            return
        begin = self.rows[place[0]].laid[place[1]].bar.begin
        r = place[0] + step
        while 0 <= r < len(self.rows) and not self.rows[r].laid:
            r += step
        if 0 <= r < len(self.rows):
            nearest = min(self.rows[r].laid, key=lambda laid: abs(laid.bar.begin - begin))
            self.choose(nearest.bar.key)

    def _first(self) -> None:
        for row in self.rows:
            if row.laid:
                self.choose(row.laid[0].bar.key)
                return

    # Qt

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if self.current is None:
            self._first()
        self.viewport().update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._measure()

    def scrollContentsBy(self, dx: int, dy: int) -> None:
        self.viewport().update()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.PaletteChange):
            self._measure()
            self.viewport().update()

    def sizeHint(self) -> QSize:
        return QSize(720, 420)
