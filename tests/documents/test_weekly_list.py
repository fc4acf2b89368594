"""The weekly list says what to do on which day, where, and why a day is empty."""

from reading import in_order, text
from week_facts import a_week

from shopdesk.documents import weekly_list


def test_the_days_stand_in_order_with_their_work_and_why_there_is_none() -> None:
    told = text(weekly_list.render(a_week()))
    in_order(
        told, "Bram Tollgate", "Promised this week", "R-12 on Nov 27, 2026",
        "Monday, November 23", "8:00 AM–11:30 AM", "Service a valve", "begun", "delivery: Ruiz & Søn <b>",
        "Tuesday, November 24", "On leave.", "Wednesday, November 25", "Nothing planned.",
        "Not in the plan", "waits for screws",
    )  # fmt: skip
