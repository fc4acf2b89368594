"""The Floor: the day in a few sentences, and every range with where it stands and what it waits for."""

from typing import TYPE_CHECKING, Any

from PySide6.QtWidgets import QMenu, QStackedWidget, QWidget

from shopdesk.domain.rights import Action
from shopdesk.domain.sides import Side
from shopdesk.domain.stage import Stage
from shopdesk.services.floor import FloorRow, floor
from shopdesk.ui.context import Context, Topics
from shopdesk.ui.pages.floor.narrowing import Narrowing
from shopdesk.ui.pages.floor.range_list import RangeList
from shopdesk.ui.pages.floor.shown import ShownRow, shown_row
from shopdesk.ui.pages.page import Page
from shopdesk.ui.today_list import TodayList
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.buttons import Button, MainButton
from shopdesk.ui.widgets.headings import Heading, Note
from shopdesk.wording import say

if TYPE_CHECKING:  # the form and what it writes are loaded when they are wanted
    from shopdesk.services.seat import Seat
    from shopdesk.ui.pages.range_form.booking import BookingForm
    from shopdesk.ui.pages.range_form.booking_draft import Booked

MOST = 200  # rows; more are narrowed by typing
_SHOWN = frozenset({"everything", "jobs", "ranges", "money", "papers", "people", "stores", "settings"})


class FloorPage(Page):
    """The list, or in its place the form of a range that comes in."""

    place = "floor"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        may_book = context.may(Action.BOOK_IN)
        self.list = RangeList((say("Book a range in"), self.book_in) if may_book else None)
        self.list.opened.connect(self._open)
        self.list.menuAsked.connect(self._fill_menu)
        self.narrowing = Narrowing(context.memory, self.list)
        self.narrowing.changed.connect(self._ask_rows)
        self.day = TodayList(self, Side.SHOP)
        self.note = Note()
        self.note.hide()
        self.book_button = MainButton(
            say("Book a range &in"), self.book_in, icon_name="add", shortcut="Ctrl+N"
        )
        self.look_button = Button(
            say("&Look one over"),
            self.look_over,
            icon_name="walk-round",
            shortcut="Ctrl+L",
            tip=say("A range that stands elsewhere; it is not booked in"),
        )
        self.booking: BookingForm | None = None
        self._day_after: Topics = frozenset()  # what the day is asked anew for, once the ranges stand here
        self._rooms = QStackedWidget()
        self._rooms.addWidget(self._make_list_room())
        self.setLayout(upright([self._rooms]))
        self._show_rights()

    def refresh(self, topics: Topics) -> None:
        if topics & _SHOWN:
            self._show_rights()
            self._day_after = topics
            self._ask_rows()

    def focusFirst(self) -> None:
        if self.booking is not None and self._rooms.currentWidget() is self.booking:
            self.booking.focusFirst()
        else:
            self.list.focusFirst()

    def open_on(self, **what: Any) -> None:
        """`words` searches for them, `book_in` opens the form."""
        if what.get("book_in"):
            self.book_in()
        elif "words" in what:
            self._show_list()
            self.narrowing.search.setText(str(what["words"]))

    def book_in(self) -> None:
        """The form of a range that has come in."""
        self._show_form()

    def look_over(self) -> None:
        """A range that stands elsewhere is written down where it is walked round."""
        self.context.go("walk-round", look_over=True)

    # The list

    def _make_list_room(self) -> QWidget:
        head = level([Heading(say("Floor"), "head"), STRETCH, self.look_button, self.book_button])
        box = upright([head, self.day, self.narrowing, self.list, self.note], margin="wide")
        box.setStretchFactor(self.list, 1)
        holder = QWidget()
        holder.setLayout(box)
        return holder

    def _show_rights(self) -> None:
        may_book = self.context.may(Action.BOOK_IN)
        self.book_button.setVisible(may_book)
        self.look_button.setVisible(may_book)

    def _ask_rows(self) -> None:
        wanted = self.narrowing.now()
        self.ask(
            lambda seat: floor(
                seat, words=wanted.words, stages=wanted.stages, held=wanted.held, order=wanted.order,
                limit=MOST,
            ),
            self._show_rows, key="rows",
        )  # fmt: skip

    def _show_rows(self, rows: list[FloorRow]) -> None:
        seat = self.context.seat
        plain = self.narrowing.now().plain
        self.list.empty.setText(
            say("Ranges you book in will stand here.")
            if plain
            else say("No range is like that. Search for less, or show every range.")
        )
        self.list.show_rows([shown_row(seat.catalogue, seat.region, seat.today, row) for row in rows])
        self.note.setVisible(len(rows) == MOST)
        self.note.setText(say("The first {count} are shown. Search to narrow them.", count=MOST))
        topics, self._day_after = self._day_after, frozenset()
        self.day.refresh(topics)

    # What one does with a row

    def _open(self, range_id: Any) -> None:
        self.context.open_jacket(int(range_id))

    def _fill_menu(self, row: ShownRow, menu: QMenu) -> None:
        go = self.context.go
        menu.addAction(say("Open the jacket"), lambda: self._open(row.range_id))
        menu.addSeparator()
        menu.addAction(say("Walk-round"), lambda: go("walk-round", job_id=row.job_id))
        menu.addAction(say("Bench"), lambda: go("bench", job_id=row.job_id))
        menu.addAction(say("Counter"), lambda: go("counter", job_id=row.job_id))
        if not self.context.may(Action.BOOK_IN):
            return
        menu.addSeparator()
        if row.stage is Stage.LOOKED_AT:
            menu.addAction(say("It has come in"), lambda: self._has_come_in(row))
        if not row.own:
            menu.addAction(say("Print the intake receipt"), lambda: self._print_receipt(row))

    def _has_come_in(self, row: ShownRow) -> None:
        self.do(
            lambda seat: _book_in(seat, row.job_id),
            lambda _done: self.context.tell(say("{number} is booked in.", number=row.number)),
            changes=[f"job {row.job_id}", "jobs"],
        )

    def _print_receipt(self, row: ShownRow) -> None:
        self.do(
            lambda seat: _print_receipt(seat, row.job_id),
            self._show_receipt, changes=[f"job {row.job_id}", "papers"],
        )  # fmt: skip

    def _show_receipt(self, number: str) -> None:
        self.context.show_paper(number, say("Intake receipt {number}", number=number), "intake receipt")

    # The form

    def _show_form(self) -> None:
        if self.booking is None:
            from shopdesk.ui.pages.range_form.booking import BookingForm

            self.booking = BookingForm(self, booked_in=True, back=say("Back to the Floor"))
            self.booking.booked.connect(self._booked)
            self.booking.left.connect(self._show_list)
            self.booking.afresh.connect(self._show_fresh_form)
            self._rooms.addWidget(self.booking)
        self._rooms.setCurrentWidget(self.booking)
        self.booking.focusFirst()

    def _show_fresh_form(self) -> None:
        self._drop_form()
        self._show_form()

    def _show_list(self) -> None:
        """Back to the list; what was typed stays as a draft."""
        self._drop_form()
        self.list.focusFirst()

    def _drop_form(self) -> None:
        if self.booking is not None:
            self._rooms.removeWidget(self.booking)
            self.booking.deleteLater()
            self.booking = None

    def _booked(self, booked: "Booked") -> None:
        self._show_list()
        number = booked.taken.number
        self.context.tell(say("{number} is booked in.", number=number), say("Open its jacket"),
                          lambda: self._open(booked.taken.range_id))  # fmt: skip
        if booked.receipt:
            self._show_receipt(booked.receipt)


def _book_in(seat: "Seat", job_id: int) -> None:
    from shopdesk.services.intake import book_in

    book_in(seat, job_id)


def _print_receipt(seat: "Seat", job_id: int) -> str:
    from shopdesk.services.handovers import print_intake_receipt

    return print_intake_receipt(seat, job_id)
