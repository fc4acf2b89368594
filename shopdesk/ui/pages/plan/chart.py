"""The drawn plan: one painted widget with a fixed line of days and fixed names. Bars are chosen, not edited.

Only what is in view is painted. Moving a bar or a promised day by mouse asks first; nothing moves here.
"""

from PySide6.QtCore import QEvent, QPoint, QPointF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QFocusEvent,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QToolTip

from shopdesk.services.planning.picture import CLOSED_WIDTH, Bar, Picture
from shopdesk.ui.pages.plan import scale
from shopdesk.ui.pages.plan.chart_painting import ChartPainting
from shopdesk.ui.pages.plan.chart_places import Key
from shopdesk.ui.pages.plan.lanes import Sorting, bar_words, rows_of
from shopdesk.wording import Region, say

_WEEK_WIDTH = 5 + 2 * CLOSED_WIDTH  # widths of an open day


class PlanChart(ChartPainting):
    """Arrows walk from bar to bar, plus and minus zoom, Home goes to now. Letters belong to the page."""

    chosen = Signal(object)  # Bar, or None
    opened = Signal(int)  # key of a range: Return or double click
    moveAsked = Signal(object, float, object)  # Bar, place on the line, key of the row dropped on
    promiseAsked = Signal(int, float)  # key of a job, place on the line
    zoomed = Signal()

    def __init__(self, region: Region) -> None:
        super().__init__(region)
        self.may_move = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(say("The plan, drawn"))
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.viewport().setMouseTracking(True)
        self._claim_height()

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
        """Nearer or farther; the day under the mouse, the chosen bar in view or the middle stays put."""
        x = around if around is not None else self._middle()
        day = self._day_at(x)
        self.pixels = scale.stepped(self.pixels, steps)
        self._measure()
        self.horizontalScrollBar().setValue(round(day * self.pixels - (x - self._names())))
        self.viewport().update()
        self.zoomed.emit()

    def _middle(self) -> float:
        """Where the chosen bar begins when it can be seen, else the middle of the days."""
        names, wide = self._names(), self.viewport().width()
        bar = self.current_bar()
        at = self._x(bar.begin) if bar is not None else -1.0
        return at if names <= at <= wide else names + (wide - names) / 2

    def show_days(self, days: float) -> None:
        """A zoom at which so many days, two in seven of them closed, stand across the window."""
        days = days if days < 2 else days * _WEEK_WIDTH / 7
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
        return scale.zoom_words(self.days_across())

    def days_across(self) -> float:
        """Days of the calendar the window shows; closed ones are drawn narrow."""
        room = max(100, self.viewport().width() - self._names()) / self.pixels
        return room if room < 2 else room * 7 / _WEEK_WIDTH

    # Mouse

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
            self._claim_height()
            self._measure()
            self.viewport().update()

    def _claim_height(self) -> None:
        """Room for the days and three rows at least, whatever the size of the letters."""
        self.setMinimumHeight(round(QFontMetricsF(self.font()).height() * 12))

    def sizeHint(self) -> QSize:
        return QSize(720, 420)
