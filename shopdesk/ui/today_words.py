"""A side's day in words: one line for each thing, and all of it in one sentence."""

import datetime as dt
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from shopdesk.domain.stage import Stage
from shopdesk.ui.range_words import days_words
from shopdesk.ui.widgets.strip_list import Strip, Tone
from shopdesk.wording import Region, say, say_n

if TYPE_CHECKING:
    from shopdesk.services.today import Due, HeldGroup, Today


@dataclass(frozen=True, slots=True)
class Way:
    """Where a line leads: a place and what is shown there."""

    place: str
    what: tuple[tuple[str, Any], ...]


def today_strips(region: Region, day: "Today") -> list[tuple[Strip, Way]]:
    """What has to be done first stands first."""
    return [
        *(_call(region, day.day, one) for one in day.of("call")),
        *(_promise(region, day.day, one) for one in day.of("promise")),
        *(_visit(region, day.day, one) for one in day.due if one.minute is not None),
        *(_coming(region, day.day, one) for one in day.of("order", "outwork")),
        *(_held(region, day.day, group) for group in day.held),
    ]


def today_summary(day: "Today") -> str:
    """`3 calls; 2 promises at risk; 4 held`; what there is none of is left out."""
    visits = sum(one.minute is not None for one in day.due)
    promises, calls = len(day.of("promise")), len(day.of("call"))
    coming, held = len(day.of("order", "outwork")), sum(group.count for group in day.held)
    told = (
        (calls, say_n("{count} call to make", "{count} calls to make", calls)),
        (promises, say_n("{count} promise at risk or near", "{count} promises at risk or near", promises)),
        (visits, say_n("{count} appointment", "{count} appointments", visits)),
        (coming, say_n("{count} delivery", "{count} deliveries", coming)),
        (held, say_n("{count} range held", "{count} ranges held", held)),
    )
    return "; ".join(text for count, text in told if count)


def _held(region: Region, today: dt.date, group: "HeldGroup") -> tuple[Strip, Way]:
    title = say_n(
        "{count} held for {reason}", "{count} held for {reason}", group.count, reason=say(group.reason)
    )
    since = region.day_short(group.since, today) if group.since else ""
    right = group.number
    if since and group.count == 1:
        right = say("{number}, since {day}", number=group.number, day=since)
    elif since:
        right = say("{number} longest, since {day}", number=group.number, day=since)
    strip = Strip(f"held {group.reason}", title, right=right)
    return strip, Way("jacket", (("range_id", group.range_id),))


def _promise(region: Region, today: dt.date, one: "Due") -> tuple[Strip, Way]:
    day = region.day_short(one.on, today) if one.on else ""
    title = say("{number} promised for {day}", number=one.number, day=day)
    if one.who:
        title = say("{number} promised to {who} for {day}", number=one.number, who=one.who, day=day)
    late = one.on is not None and one.on < today
    right = days_words(one.on, today) if one.on else ""
    if one.percent is not None and not late:
        right = say("{days}, kept {percent} times of 100", days=right, percent=one.percent)
    return _strip(one, title, right, "problem" if late else "muted"), _to_job(one)


def _call(region: Region, today: dt.date, one: "Due") -> tuple[Strip, Way]:
    titles = {
        "answer": say("Call {who}: {number} waits for an answer", who=one.who, number=one.number),
        "deposit": say("Call {who}: {number} waits for the deposit", who=one.who, number=one.number),
        Stage.READY.value: say("Call {who}: {number} is ready", who=one.who, number=one.number),
    }
    since = say("since {day}", day=region.day_short(one.on, today)) if one.on else ""
    return _strip(one, titles[one.why], since), Way("counter", (("job_id", one.job_id),))


def _visit(region: Region, today: dt.date, one: "Due") -> tuple[Strip, Way]:
    whose = ", ".join(word for word in (one.number, one.who) if word)
    kind = say(one.kind)
    title = say("{kind}: {whose}", kind=kind[:1].upper() + kind[1:], whose=whose) if whose else kind
    hour = region.time_of_day(one.minute or 0)
    right = say("{day} at {hour}", day=days_words(one.on, today) if one.on else "", hour=hour)
    return _strip(one, title, right), Way("plan", (("section", "appointments"),))


def _coming(region: Region, today: dt.date, one: "Due") -> tuple[Strip, Way]:
    late = one.on is not None and one.on < today
    if one.kind == "order":
        title = say("Order {number} from {who}", number=one.number, who=one.who)
        way = Way("stores", (("order_id", one.record_id),))
    else:
        title = say("Outwork {number} from {who}", number=one.number, who=one.who)
        way = Way("stores", (("consignment_id", one.record_id),))
    day = region.day_short(one.on, today) if one.on else ""
    right = say("{day}, {days}", day=day, days=days_words(one.on, today)) if one.on else ""
    return _strip(one, title, right, "problem" if late else "muted"), way


def _strip(one: "Due", title: str, right: str, tone: Tone = "muted") -> Strip:
    key = f"{one.kind} {one.job_id or one.record_id} {one.minute}"
    return Strip(key, title, right=right, tone=tone)


def _to_job(one: "Due") -> Way:
    return Way("jacket", (("range_id", one.range_id), ("job_id", one.job_id)))
