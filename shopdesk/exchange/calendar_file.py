"""Plan and appointments as a calendar file (iCalendar, RFC 5545) that other programs subscribe to or read.

Every entry keeps its UID from file to file, so that reading a newer file moves entries instead
of doubling them.
"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from icalendar import Calendar, Event, vCalAddress, vText

PRODUCT = "-//shopdesk//plan//EN"


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One entry; a `whole_day` one has the day of `begins` alone. Instants are aware."""

    uid: str
    title: str
    begins: dt.datetime
    ends: dt.datetime
    place: str = ""
    note: str = ""
    who: tuple[str, ...] = ()
    whole_day: bool = False


def calendar_file(name: str, entries: Iterable[Entry], made_at: dt.datetime, timezone: str) -> bytes:
    """The file's bytes; times stand in the shop's time zone, whose rules are in the file."""
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", name)
    zone = ZoneInfo(timezone)
    for entry in entries:
        calendar.add_component(_event(entry, made_at, zone))
    calendar.add_missing_timezones()
    written: bytes = calendar.to_ical()
    return written


def _event(entry: Entry, made_at: dt.datetime, zone: ZoneInfo) -> Event:
    event = Event()
    event.add("uid", entry.uid)
    event.add("dtstamp", made_at.astimezone(dt.UTC))
    event.add("summary", entry.title)
    begins, ends = entry.begins.astimezone(zone), entry.ends.astimezone(zone)
    if entry.whole_day:
        event.add("dtstart", begins.date())
        event.add("dtend", begins.date() + dt.timedelta(days=1))
        event.add("transp", "TRANSPARENT")
    else:
        event.add("dtstart", begins)
        event.add("dtend", max(ends, begins + dt.timedelta(minutes=5)))
    if entry.place:
        event.add("location", entry.place)
    if entry.note:
        event.add("description", entry.note)
    for who in entry.who:
        # No address is given away: the name alone, as RFC 5545's CN.
        attendee = vCalAddress("invalid:nomail")
        attendee.params["CN"] = vText(who)
        event.add("attendee", attendee, encode=False)
    return event
