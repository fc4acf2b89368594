"""Pick-ups, deliveries, home visits and viewings: a list by time, and a form."""

from typing import TYPE_CHECKING, Any

from PySide6.QtWidgets import QWidget

from shopdesk.domain.changed import Seen
from shopdesk.domain.rights import Action
from shopdesk.services import shops
from shopdesk.services.planning import appointments
from shopdesk.services.planning.appointments import KINDS, AppointmentDraft, AppointmentRow
from shopdesk.services.planning.picture import picture
from shopdesk.ui.context import Topics
from shopdesk.ui.pages.plan.side import Side
from shopdesk.ui.pages.plan.time_field import TimeField
from shopdesk.ui.widgets.beside import Beside
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button, MainButton
from shopdesk.ui.widgets.fields import ChoiceField, DayField, HoursField, TextField, TickField
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.ui.widgets.strip_list import Strip, StripList
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat
    from shopdesk.ui.pages.page import Page

People = list[tuple[int, str]]


class AppointmentsSection(QWidget):
    """Who goes to one is not at the bench meanwhile."""

    topics: Topics = frozenset({"everything", "appointments", "jobs", "staff"})

    def __init__(self, page: "Page") -> None:
        super().__init__()
        self.page, self.context = page, page.context
        self.rows: list[AppointmentRow] = []
        self._read: Seen | None = None
        self._people: People = []
        self._jobs: list[tuple[int, str]] = []
        may = self.context.may(Action.APPOINT)
        self.list = StripList(
            say("Appointments"),
            empty=say("Pick-ups, deliveries, home visits and viewings will stand here."),
            first=(say("Make an appointment"), self.new) if may else None,
        )
        self.list.chosen.connect(lambda _key: self._follow())
        self.list.opened.connect(lambda _key: self.change())
        self.new_button = MainButton(say("Make an appointment"), self.new, icon_name="add")
        self.change_button = Button(say("Change it…"), self.change)
        self.off_button = Button(say("Call it off"), self.call_off, icon_name="close")
        self.jacket_button = Button(say("Jacket"), self.open_jacket, icon_name="jacket")
        self.side = Side([self.new_button, self.change_button, self.off_button, self.jacket_button])
        self.setLayout(
            upright([Beside(self.list, self.side, self.context.memory, "plan/appointments", shares=(3, 2))])
        )
        self._follow()

    def refresh(self, _topics: Topics) -> None:
        self.page.ask(_gathered, self._show, key="appointments")

    def focusFirst(self) -> None:
        self.list.focusFirst()

    def _show(self, found: tuple[list[AppointmentRow], People, list[tuple[int, str]]]) -> None:
        self.rows, self._people, self._jobs = found
        self._read = self.context.reading
        self.list.show_rows([self._strip(row) for row in self.rows])
        if self.rows and not self.list.selected():
            self.list.select(self.rows[0].id)
        self._follow()

    def _strip(self, row: AppointmentRow) -> Strip:
        region, today = self.context.region, self.context.seat.today
        title = ", ".join(word for word in (say(row.kind), row.number, row.who) if word)
        going = ", ".join(name for _, name in row.going) or say("nobody named")
        second = "; ".join(word for word in (row.place, going, row.note) if word)
        right = f"{region.day_short(row.day, today)} {region.time_of_day(row.minute)}"
        return Strip(row.id, title, second, right, region.hours(row.minutes), strong=row.day == today)

    def current(self) -> AppointmentRow | None:
        key = self.list.current_key()
        return next((row for row in self.rows if row.id == key), None)

    def _follow(self) -> None:
        row, may = self.current(), self.context.may(Action.APPOINT)
        self.side.close_form()
        self.new_button.setVisible(may)
        self.change_button.setVisible(may and row is not None)
        self.off_button.setVisible(may and row is not None)
        self.jacket_button.setVisible(row is not None and row.range_id is not None)
        if row is None:
            self.side.say(say("Appointments"), say("Who goes to one is not planned at the bench meanwhile."))
        else:
            strip = self._strip(row)
            self.side.say(strip.title, f"{strip.right}, {strip.below}", strip.second)

    def new(self) -> None:
        self._open(None)

    def change(self) -> None:
        self._open(self.current())

    def _open(self, row: AppointmentRow | None) -> None:
        if not self.context.may(Action.APPOINT):
            return
        region = self.context.region

        def save(values: dict[str, Any]) -> None:
            going = tuple(key for key, _ in self._people if values[f"goes {key}"])
            draft = AppointmentDraft(
                kind=values["kind"], day=values["day"], minute=values["minute"], minutes=values["minutes"],
                job_id=values["job"], place=values["place"], note=values["note"], going=going,
            )  # fmt: skip
            self.page.do(
                lambda seat: appointments.appoint(seat, draft, row.id if row else None),
                lambda _key: self._saved(), self.side.show_problem, changes=["appointments", "plan"],
                form=form,
            )  # fmt: skip

        title = say("Change the appointment") if row else say("Make an appointment")
        small = SmallForm(title, say("Write it down"), save, self._close)
        form = small.form
        form.read_from(self._read if row else None)
        form.add("kind", say("What"), ChoiceField([(kind, say(kind)) for kind in KINDS]))
        form.add("day", say("Day"), DayField(region), required=say("Write the day."))
        form.add("minute", say("From"), TimeField(region), required=say("Write the time."))
        form.add("minutes", say("It takes, the way included"), HoursField(region),
                 required=say("Write how long it takes."))  # fmt: skip
        form.add("job", say("Range"), ChoiceField([(None, say("none of those here")), *self._jobs]))
        form.add("place", say("Where"), TextField())
        form.add("note", say("Note"), TextField())
        for key, name in self._people:
            form.add(f"goes {key}", "", TickField(say("{name} goes", name=name)))
        form.show_values({"day": self.context.seat.today, "minute": 9 * 60, "minutes": 60})
        if row is not None:
            known = {f"goes {key}": True for key, _ in row.going}
            form.show_values(
                {"kind": row.kind, "day": row.day, "minute": row.minute, "minutes": row.minutes,
                 "job": row.job_id, "place": row.place, "note": row.note, **known}
            )  # fmt: skip
        self.side.say("")
        self.side.open_form(small.ready())

    def _saved(self) -> None:
        self._close()
        self.context.tell(say("The appointment is written down. Plan again to work around it."))

    def _close(self) -> None:
        self.side.close_form()
        self._follow()
        self.list.focusFirst()

    def call_off(self) -> None:
        row = self.current()
        if row is not None:
            self.page.do(
                lambda seat: appointments.call_off(seat, row.id),
                lambda _none: self.context.tell(say("The {kind} is called off.", kind=say(row.kind))),
                self.side.show_problem, changes=["appointments", "plan"],
            )  # fmt: skip

    def open_jacket(self) -> None:
        row = self.current()
        if row is not None and row.range_id is not None:
            self.context.open_jacket(row.range_id)


def _gathered(seat: "Seat") -> tuple[list[AppointmentRow], People, list[tuple[int, str]]]:
    found = picture(seat)
    ranges = {row.job_id: f"{row.number} {row.name}" for row in found.ranges}
    ranges |= {row.job_id: f"{row.number} {row.name}" for row in found.unanswered}
    people = [(row.id, row.name) for row in shops.staff(seat)]
    return appointments.appointments(seat), people, list(ranges.items())
