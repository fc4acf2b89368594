"""The plan handed out: a person's weekly list as a paper, plan and appointments as a calendar file."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from shopdesk.domain.problem import Problem
from shopdesk.services.planning import weekly
from shopdesk.services.planning.picture import PersonRow
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat
    from shopdesk.ui.pages.page import Page

CALENDAR_FILE = "*.ics"


def print_week(page: "Page", people: Sequence[PersonRow], failed: Callable[[Problem], None]) -> None:
    """A person's list of this week, as a paper."""
    if not people:
        page.context.tell(say("There is nobody in the plan yet."))
        return
    names = [person.name for person in people]
    place = page.context.dialogs.choose(say("Weekly list"), say("Whose week is printed?"), names)
    if place is None:
        return
    person = people[place]
    title = say("Weekly list of {name}", name=person.name)
    page.do(
        lambda seat: weekly.print_week(seat, person.staff_id),
        lambda number: page.context.show_paper(number, title, weekly.WEEKLY_LIST), failed, changes=["papers"],
    )  # fmt: skip


def save_calendar(page: "Page", failed: Callable[[Problem], None]) -> None:
    """Plan, appointments and promises for a calendar program."""
    place = page.context.dialogs.save_file(
        say("Calendar file"), "bench-plan.ics", say("Calendars"), CALENDAR_FILE
    )
    if place is None:
        return

    def write(seat: "Seat") -> int:
        return place.write_bytes(weekly.export_calendar(seat))

    page.ask(
        write, lambda _size: page.context.tell(say("The calendar is in {name}.", name=place.name)), failed
    )  # fmt: skip
