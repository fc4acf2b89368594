"""Hours and leave: the shop's week and holidays, a person's week, who is away, room at the stations."""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from babel import Locale
from PySide6.QtWidgets import QWidget

from shopdesk.domain.changed import Seen
from shopdesk.domain.rights import Action
from shopdesk.services import shops
from shopdesk.services.planning import hours
from shopdesk.services.planning.hours import LeaveRow, PersonHours, StationRow
from shopdesk.services.planning.public_holidays import public_holidays
from shopdesk.services.settings import ShopHours
from shopdesk.ui.context import Topics
from shopdesk.ui.pages.plan.side import Side
from shopdesk.ui.pages.plan.time_field import DayHoursField
from shopdesk.ui.widgets.beside import Beside
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button, MainButton
from shopdesk.ui.widgets.fields import ChoiceField, CountField, DayField, TextField, TickField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.ui.widgets.strip_list import Strip, StripList
from shopdesk.wording import say
from shopdesk.wording.day_hours import stretches

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat
    from shopdesk.ui.pages.page import Page

SHOP = 0  # the key of the shop's own row among the people


@dataclass(frozen=True, slots=True)
class _Found:
    shop: ShopHours
    people: list[PersonHours]
    away: list[LeaveRow]
    stations: list[StationRow]
    next_holiday: tuple[dt.date, str] | None


class HoursSection(QWidget):
    """Two lists: whose hours, and who is away. Each row opens its form."""

    topics: Topics = frozenset({"everything", "hours", "staff", "settings"})

    def __init__(self, page: "Page") -> None:
        super().__init__()
        self.page, self.context = page, page.context
        self.found: _Found | None = None
        self._read: Seen | None = None
        self.weeks = StripList(say("Hours"), empty=say("Working hours will stand here."), most=7)
        self.away = StripList(
            say("Who is away"), empty=say("Leave, closed days and shut firms will stand here.")
        )
        self.weeks.opened.connect(self._open_week)
        self.away.chosen.connect(lambda _key: self._follow())
        self.week_button = Button(
            say("Change these hours…"), lambda: self._open_week(self.weeks.current_key())
        )
        self.leave_button = MainButton(say("Write down leave…"), self.new_leave, icon_name="add")
        self.shut_button = Button(say("A firm outside is shut…"), self.new_closure)
        self.day_button = Button(say("A day that is not as usual…"), self.new_day)
        self.room_button = Button(say("Room at the stations…"), self.stations)
        self.off_button = Button(say("Take it back"), self.take_back, icon_name="close")
        buttons = [
            self.leave_button, self.week_button, self.shut_button, self.day_button, self.room_button,
            self.off_button,
        ]  # fmt: skip
        self.side = Side(buttons)
        left = QWidget()
        inside = upright(
            [Heading(say("Hours")), self.weeks, Heading(say("Away")), self.away], gap="small"
        )  # fmt: skip
        inside.setStretchFactor(self.away, 1)
        left.setLayout(upright([PageScroll(inside)]))
        self.setLayout(upright([Beside(left, self.side, self.context.memory, "plan/hours", shares=(3, 2))]))
        self._follow()

    def refresh(self, _topics: Topics) -> None:
        self.page.ask(_gathered, self._show, key="hours")

    def focusFirst(self) -> None:
        self.weeks.focusFirst()

    def _show(self, found: _Found) -> None:
        self.found, self._read = found, self.context.reading
        self.weeks.show_rows([self._shop_strip(found), *(self._strip(row) for row in found.people)])
        self.away.show_rows([self._away_strip(row) for row in found.away])
        self._follow()

    def _shop_strip(self, found: _Found) -> Strip:
        country = found.shop.country or say("no country")
        part = f"-{found.shop.subdivision}" if found.shop.subdivision else ""
        right = ""
        if found.next_holiday is not None:
            day = self.context.region.day_short(found.next_holiday[0], self.context.seat.today)
            right = say("next holiday {day}", day=day)
        return Strip(
            SHOP, say("The shop's opening hours"), _week_words(hours.as_week(found.shop.week)), right,
            say("holidays of {country}", country=country + part), strong=True,
        )  # fmt: skip

    def _strip(self, row: PersonHours) -> Strip:
        own = say("hours of their own") if row.own else say("the shop's hours")
        return Strip(row.staff_id, row.name, _week_words(row.week) if row.own else "", own)

    def _away_strip(self, row: LeaveRow) -> Strip:
        region, today = self.context.region, self.context.seat.today
        title = {
            "leave": row.who,
            "outwork": say("The {trade} is shut", trade=say(row.who)),
            "closed": say("The shop is closed"),
            "open": say("The shop is open"),
        }[row.kind]
        days = region.day_short(row.first_day, today)
        if row.last_day != row.first_day:
            days = f"{days} – {region.day_short(row.last_day, today)}"
        return Strip((row.kind, row.id), title, row.why, days)

    def _follow(self) -> None:
        may = self.context.may(Action.KEEP_HOURS)
        self.side.close_form()
        for button in (
            self.leave_button, self.week_button, self.shut_button, self.day_button, self.room_button,
        ):  # fmt: skip
            button.setVisible(may)
        self.off_button.setVisible(may and self.away.current() is not None)
        self.side.say(
            say("Hours and leave"),
            say("The plan gives nobody work outside these hours, on leave or on a public holiday."),
        )

    # Forms

    def _open(self, title: str, fill: Callable[[Form], None], save: Callable[[dict[str, Any]], Any]) -> None:
        if not self.context.may(Action.KEEP_HOURS):
            return

        def keep(values: dict[str, Any]) -> None:
            self.page.do(
                save(values), lambda _none: self._saved(), self.side.show_problem,
                changes=["hours", "plan"], form=small.form,
            )  # fmt: skip

        small = SmallForm(title, say("Write it down"), keep, self._close)
        small.form.read_from(self._read)
        fill(small.form)
        self.side.say("")
        self.side.open_form(small.ready())

    def _open_week(self, key: object) -> None:
        if self.found is None or key is None:
            return
        if key == SHOP:
            self._open_shop(self.found.shop)
            return
        row = next(each for each in self.found.people if each.staff_id == key)

        def fill(form: Form) -> None:
            form.add("own", "", TickField(say("Other hours than the shop's"), row.own))
            self._add_week(form, row.week)

        def save(values: dict[str, Any]) -> Callable[["Seat"], None]:
            week = _week_of(values) if values["own"] else None
            return lambda seat: hours.keep_working_hours(seat, row.staff_id, week)

        self._open(say("Hours of {name}", name=row.name), fill, save)

    def _open_shop(self, shop: ShopHours) -> None:
        def fill(form: Form) -> None:
            self._add_week(form, hours.as_week(shop.week))
            form.add("country", say("Public holidays of"), TextField(shop.country),
                     note=say("Two letters of the country, such as US; empty: none."))  # fmt: skip
            form.add("part", say("Part of the country"), TextField(shop.subdivision),
                     note=say("Its code, such as OR; empty: those of the whole country."))  # fmt: skip

        def save(values: dict[str, Any]) -> Callable[["Seat"], None]:
            country, part = values["country"].upper(), values["part"].upper()
            return lambda seat: hours.keep_shop_hours(seat, _week_of(values), country, part)

        self._open(say("The shop's opening hours"), fill, save)

    def _add_week(self, form: Form, week: Any) -> None:
        names = Locale.parse(self.context.region.locale).days["format"]["wide"]
        for n in range(7):
            form.add(f"day {n}", str(names[n]), DayHoursField())
            form[f"day {n}"].setValue(week[n])

    def new_leave(self) -> None:
        def fill(form: Form) -> None:
            people = self.found.people if self.found else []
            form.add("who", say("Who"), ChoiceField([(p.staff_id, p.name) for p in people]))
            self._add_days(form)

        self._open(
            say("Leave"), fill,
            lambda v: lambda seat: hours.keep_leave(
                seat, v["who"], v["first_day"], v["last_day"] or v["first_day"], v["why"]
            ),
        )  # fmt: skip

    def new_closure(self) -> None:
        trades = sorted({o.trade for t in self.context.seat.catalogue.tasks.values() if (o := t.outwork)})

        def fill(form: Form) -> None:
            form.add("trade", say("Who is shut"), ChoiceField([(t, say(t)) for t in trades]))
            self._add_days(form)

        self._open(
            say("A firm outside is shut"), fill,
            lambda v: lambda seat: hours.keep_closure(
                seat, v["trade"], v["first_day"], v["last_day"] or v["first_day"], v["why"]
            ),
        )  # fmt: skip

    def _add_days(self, form: Form) -> None:
        region = self.context.region
        form.add("first_day", say("From"), DayField(region), required=say("Write the first day."))
        form.add("last_day", say("Up to and with"), DayField(region), note=say("Empty: one day."))
        form.add("why", say("Why"), TextField())

    def new_day(self) -> None:
        def fill(form: Form) -> None:
            form.add("day", say("Day"), DayField(self.context.region), required=say("Write the day."))
            form.add(
                "is_open", say("The shop is"),
                ChoiceField([(False, say("closed")), (True, say("open, though it is a holiday"))]),
            )  # fmt: skip
            form.add("why", say("Why"), TextField())

        self._open(
            say("A day that is not as usual"), fill,
            lambda v: lambda seat: hours.keep_odd_day(
                seat, v["day"], is_open=v["is_open"], why=v["why"]
            ),
        )  # fmt: skip

    def stations(self) -> None:
        rows = self.found.stations if self.found else []

        def fill(form: Form) -> None:
            for row in rows:
                form.add(row.code, say("How many at the {station} at once", station=say(row.code)),
                         CountField(1, 40))  # fmt: skip
                form[row.code].setValue(row.room)

        def save(values: dict[str, Any]) -> Callable[["Seat"], None]:
            def action(seat: "Seat") -> None:
                for row in rows:
                    if values[row.code] != row.room:
                        hours.keep_station(seat, row.code, values[row.code])

            return action

        self._open(say("Room at the stations"), fill, save)

    def take_back(self) -> None:
        key = self.away.current_key()
        row = next((r for r in self.found.away if (r.kind, r.id) == key), None) if self.found else None
        if row is not None:
            self.page.do(
                lambda seat: hours.call_off(seat, row),
                lambda _none: self.context.tell(say("It is taken back. Plan again to use the time.")),
                self.side.show_problem, changes=["hours", "plan"],
            )  # fmt: skip

    def _saved(self) -> None:
        self._close()
        self.context.tell(say("It is written down. Plan again to work around it."))

    def _close(self) -> None:
        self.side.close_form()
        self._follow()
        self.weeks.focusFirst()


def _gathered(seat: "Seat") -> _Found:
    shop, today = shops.setting(seat, ShopHours), seat.today
    kept = public_holidays(shop.country, shop.subdivision, today.year, today.year + 1)
    holiday = next(((day, name) for day, name in kept.items() if day >= today), None)
    return _Found(shop, hours.people_hours(seat), hours.away(seat), hours.stations(seat), holiday)


def _week_of(values: dict[str, Any]) -> list[Any]:
    return [values[f"day {n}"] or () for n in range(7)]


def _week_words(week: Any) -> str:
    """Days with the same hours together: `Mon-Fri 8:00-12:00, 12:30-16:30`."""
    names = [say("Mon"), say("Tue"), say("Wed"), say("Thu"), say("Fri"), say("Sat"), say("Sun")]
    told, n = [], 0
    while n < 7:
        last = n
        while last + 1 < 7 and week[last + 1] == week[n]:
            last += 1
        if week[n]:
            days = names[n] if last == n else f"{names[n]}–{names[last]}"
            told.append(f"{days} {stretches(week[n])}")
        n = last + 1
    return "; ".join(told)
