"""A quiet strip over the pages that leads through a shop's first range, in the pages themselves.

It says what comes next and goes there; it never holds anything up, can be left for now or put away for
good, and goes on from what stands in the shop.
"""

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QApplication, QFrame, QSizePolicy, QWidget

from shopdesk.domain.rights import Action
from shopdesk.ui.context import Context
from shopdesk.ui.look import colours_of, spacing
from shopdesk.ui.widgets.boxes import level, upright
from shopdesk.ui.widgets.buttons import Button, QuietButton
from shopdesk.ui.widgets.headings import Words
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.services.first_range import FirstRange
    from shopdesk.services.seat import Seat


class StepsDrawn(QWidget):
    """The steps as marks on a line: filled ones are done, the ring is where one is."""

    def __init__(self) -> None:
        super().__init__()
        self._done: list[bool] = []
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def show_steps(self, done: list[bool]) -> None:
        self._done = done
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        side = spacing(QApplication.font()).icon
        return QSize(side * max(1, len(self._done)) * 3 // 2, side)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.updateGeometry()

    def paintEvent(self, event: QPaintEvent) -> None:
        colours = colours_of(QApplication.palette())
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        side, middle = self.height() * 0.55, self.height() / 2
        step = self.width() / max(1, len(self._done))
        painter.setPen(QPen(QColor(colours.edge), 2))
        painter.drawLine(QPointF(step / 2, middle), QPointF(self.width() - step / 2, middle))
        here = self._done.index(False) if False in self._done else -1
        for place, done in enumerate(self._done):
            painter.setBrush(QColor(colours.accent if done else colours.window))
            painter.setPen(QPen(QColor(colours.accent if done or place == here else colours.edge), 2))
            painter.drawEllipse(QRectF(step * place + (step - side) / 2, middle - side / 2, side, side))
            if place == here:
                painter.setBrush(QColor(colours.accent))
                painter.drawEllipse(QPointF(step * place + step / 2, middle), side / 6, side / 6)
        painter.end()


class FirstRangeStrip(QFrame):
    """Hidden where nobody is led: in a sample, for all but the owner, once done or put away."""

    def __init__(self, context: Context, *, leads: bool) -> None:
        super().__init__()
        self._context, self._leads = context, leads
        self._way: FirstRange | None = None
        self._later = False
        self.setObjectName("first-range")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.drawn = StepsDrawn()
        self.words = Words()
        self.there = Button(say("Take me there"), self._go, icon_name="next")
        self.later = QuietButton(say("Later"), self.leave_for_now)
        self.away = QuietButton(say("Do not show it again"), self.put_away)
        head = level([self.drawn, self.words], gap="gap")
        head.setStretchFactor(self.words, 1)
        self.setLayout(
            upright([head, WrappedRow([self.there, self.later, self.away])], gap="hair", margin="small")
        )
        self.hide()
        context.changed.connect(lambda _topics: self.ask())
        context.stood.connect(self._go_on)
        context.seatChanged.connect(self.ask)
        self.ask()

    def ask(self) -> None:
        """How far it is, where somebody is led at all."""
        if self._leads and self._context.may(Action.SET_UP):
            self._context.ask(_first_range, self._show, key="first range", owner=self)
        else:
            self.hide()

    def _go_on(self) -> None:
        """Something was done, an answer of the walk perhaps: the next step may have come."""
        if not self.isHidden():
            self.ask()

    def leave_for_now(self) -> None:
        """Until the shop is opened again, or it is taken up from the first hour's page."""
        self._later = True
        self.hide()

    def put_away(self) -> None:
        """For good, for this person."""
        self._way = None
        self.hide()
        self._context.do(_put_away, changes=("first range",), owner=self)

    def take_up(self) -> None:
        """Again, from where the shop stands."""
        self._later = False
        self._leads = True
        self._context.do(_take_up, changes=("first range",), owner=self)

    def _show(self, way: "FirstRange | None") -> None:
        begun, self._way = self._way is not None, way
        if way is None or self._later or (way.next is None and not begun):
            if way is not None and way.next is None:
                self.put_away()  # a shop that had its first range long ago
            self.hide()
            return
        steps = list(_told())
        self.drawn.show_steps([step in way.done for step in steps])
        at = steps.index(way.next) + 1 if way.next else len(steps)
        text = (
            _told()[way.next]
            if way.next
            else say(
                "That was a whole first range: booked in, walked round, judged, its work in order and its "
                "report printed. From here it is quoted at the Counter and worked on at the Bench."
            )
        )
        head = (
            say("First range, {at} of {count}.", at=at, count=len(steps)) if way.next else say("First range.")
        )
        self.words.setText(say("{head} {what}", head=head, what=text))
        self.setAccessibleName(self.words.text())
        self.there.setVisible(way.next is not None)
        self.later.setVisible(way.next is not None)
        self.away.setText(say("Do not show it again") if way.next else say("Good"))
        self.away.setAccessibleName(self.away.text())
        self.show()

    def _go(self) -> None:
        way = self._way
        if way is None:
            return
        if way.job_id is None:
            self._context.go("floor", book_in=True)
        else:
            self._context.go("walk-round", job_id=way.job_id)


def _told() -> dict[str, str]:
    """What each step asks, by its name."""
    return {
        "book in": say(
            "Book a range in: whose it is, how it is built, what the plate says. A made-up one will do."
        ),
        "walk": say(
            "Walk a few checkpoints. Each says how to tell. S: sound; a figure: what is wrong; N: not seen."
        ),
        "verdict": say(
            "Look at the verdict beside the walk: it moves with every answer. Then finish the walk; "
            "what nobody looked at keeps its risk."
        ),
        "work order": say(
            "Write the work order, under What now above the walk: the findings become the tasks, in order."
        ),
        "report": say(
            "Print the condition report, with the button of that name above the walk. It is kept as it is "
            "and opens from the jacket."
        ),
    }


def _first_range(seat: "Seat") -> "FirstRange | None":
    from shopdesk.services.first_range import first_range

    return first_range(seat)


def _put_away(seat: "Seat") -> None:
    from shopdesk.services.first_range import put_away

    put_away(seat)


def _take_up(seat: "Seat") -> None:
    from shopdesk.services.first_range import take_up

    take_up(seat)
