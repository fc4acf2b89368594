"""The calendar file is read back by a library that knows RFC 5545."""

import datetime as dt
from zoneinfo import ZoneInfo

import icalendar

from shopdesk.exchange.calendar_file import Entry, calendar_file

PACIFIC = ZoneInfo("America/Los_Angeles")
MADE = dt.datetime(2026, 3, 6, 17, 0, tzinfo=dt.UTC)


def read(*entries: Entry) -> icalendar.Calendar:
    data = calendar_file("Bram; his week, all of it", entries, MADE, "America/Los_Angeles")
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))  # RFC 5545, 3.1: folded at 75 octets
    found = icalendar.Calendar.from_ical(data)
    assert not found.errors
    return found


def entry(day: int, **more: object) -> Entry:
    begins = dt.datetime(2026, 3, day, 9, 30, tzinfo=PACIFIC)
    known: dict[str, object] = {
        "uid": f"task-{day}@shop", "title": "R-12: Łucja's valve; strip, clean\nand grease" + "x" * 90,
        "begins": begins, "ends": begins + dt.timedelta(hours=2),
    }  # fmt: skip
    return Entry(**(known | more))  # type: ignore[arg-type]


def test_an_entry_comes_back_with_its_words_place_people_and_instants() -> None:
    one = entry(6, place="bench", note="Wear gloves", who=("Bram Tollgate",))
    event = read(one).walk("VEVENT")[0]
    assert (str(event["uid"]), str(event["summary"])) == (one.uid, one.title)
    assert event["dtstart"].dt == one.begins
    assert event["dtend"].dt == one.ends
    assert str(event["location"]) == "bench"
    assert event["attendee"].params["CN"] == "Bram Tollgate"


def test_hours_hold_across_the_change_of_the_clocks() -> None:
    """The clocks go on in the night to 8 March 2026 in this zone: 9:30 is 17:30 and then 16:30 UTC."""
    events = read(entry(6), entry(9)).walk("VEVENT")
    assert [event["dtstart"].dt.astimezone(dt.UTC).hour for event in events] == [17, 16]
    assert read(entry(6)).walk("VTIMEZONE")


def test_a_whole_day_has_no_hours_and_nothing_is_shorter_than_a_moment() -> None:
    whole, short = read(entry(6, whole_day=True), entry(9, ends=entry(9).begins)).walk("VEVENT")
    assert whole["dtstart"].dt == dt.date(2026, 3, 6)
    assert short["dtend"].dt > short["dtstart"].dt
