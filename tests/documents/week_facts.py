"""Facts of a weekly list."""

from dataclasses import replace
from datetime import date
from typing import Any

from parties_facts import DAY, a_shop

from shopdesk.documents.facts import WeekDay, WeekEntry, WeeklyListFacts


def a_week(**changes: Any) -> WeeklyListFacts:
    monday = (
        WeekEntry("8:00 AM–11:30 AM", "R-12", "Service a valve: strip, clean, grease", "bench", "begun"),
        WeekEntry("12:30 PM–2:00 PM", "", "delivery: Ruiz & Søn <b>", "12 Larder Lane"),
    )
    days = (
        WeekDay(date(2026, 11, 23), monday),
        WeekDay(date(2026, 11, 24), away="On leave."),
        WeekDay(date(2026, 11, 25)),
    )
    base = WeeklyListFacts(
        shop=a_shop(), number="L-4", day=DAY, person="Bram Tollgate", first_day=date(2026, 11, 23),
        days=days, promised=("R-12 on Nov 27, 2026",), waiting=("Refit the top (R-9) waits for screws.",),
    )  # fmt: skip
    return replace(base, **changes)
