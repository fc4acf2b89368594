"""How the plan's answers are said: odds, who pays, where the plan comes from. Knows no Qt."""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from shopdesk.services.planning.morning import MorningRow
from shopdesk.services.planning.outlook import Odds
from shopdesk.services.planning.picture import Picture
from shopdesk.services.planning.suppose import Hire, HoldTask, MovePromise, Shut, Supposed, TakeIn
from shopdesk.services.planning.what_if import Answer, Moved
from shopdesk.wording import Region, say, say_n


@dataclass(frozen=True, slots=True)
class Line:
    """A strip in words: what, under it, to the right, and the word under that with its tone."""

    key: int
    title: str
    second: str
    right: str
    below: str
    tone: str  # muted, hold, problem


def odds_words(percent: int | None) -> str:
    """The figure with its word; a word alone says it as well."""
    if percent is None:
        return ""
    for least, word in ((90, say("very likely")), (75, say("likely")), (50, say("rather yes than no")),
                        (25, say("rather no than yes")), (5, say("unlikely"))):  # fmt: skip
        if percent >= least:
            return say("{percent} %, {word}", percent=min(percent, 99), word=word)
    return say("{percent} %, hardly", percent=max(percent, 1))


def tone_of(percent: int | None) -> str:
    if percent is None or percent >= 75:
        return "muted"
    return "hold" if percent >= 50 else "problem"


def three_days(odds: Odds, region: Region, today: dt.date) -> str:
    """Ready at 50, 80 and 95 %."""
    if odds.ready_50 is None or odds.ready_80 is None or odds.ready_95 is None:
        return odds.why_not
    day = region.day_short
    return say(
        "ready by {half} (50 %), {most} (80 %), {nearly} (95 %)",
        half=day(odds.ready_50, today), most=day(odds.ready_80, today), nearly=day(odds.ready_95, today),
    )  # fmt: skip


def promise_line(row: MorningRow, region: Region, today: dt.date) -> Line:
    """A promise this morning."""
    odds = row.odds
    who = odds.customer or say("the shop's own")
    promised = say("not promised")
    if odds.promised_on is not None:
        promised = say("promised {day}", day=region.day_short(odds.promised_on, today))
    below = odds_words(odds.percent) if odds.promised_on else ""
    if row.fell and row.before is not None:
        below = say("{odds}; was {before} %", odds=below, before=row.before)
    if odds.why_not:
        below = say("cannot be told")
    second = three_days(odds, region, today)
    if row.reasons:
        second = "; ".join(row.reasons)
    title = say("{range}, {who}", range=odds.number, who=who)
    return Line(odds.job_id, title, second, promised, below, tone_of(odds.percent))


def moved_line(row: Moved, region: Region, today: dt.date) -> Line:
    """A range that pays or gains."""
    day = region.day_short
    days = row.days
    if row.before and row.after and days:
        right = say("{before} → {after}", before=day(row.before, today), after=day(row.after, today))
        later = say_n("{count} day later", "{count} days later", days)
        below = later if days > 0 else say_n("{count} day sooner", "{count} days sooner", -days)
    else:
        right, below = (day(row.after, today) if row.after else "", say("as today"))
    second = (
        say("promised {day}", day=day(row.promised_on, today)) if row.promised_on else say("not promised")
    )
    tone = "muted"
    if row.late_after > row.late_before:
        late = say_n("{count} day late", "{count} days late", row.late_after)
        below, tone = say("{moved}, {late}", moved=below, late=late), "problem"
    elif days > 0:
        tone = "hold"
    return Line(row.job_id or 0, " ".join(w for w in (row.number, row.name) if w), second, right, below, tone)


def answer_words(answer: Answer, region: Region, today: dt.date) -> str:
    """The answer in a few sentences, before the list."""
    told = []
    if answer.taken_in is not None and answer.taken_in.after is not None:
        day = region.day_short(answer.taken_in.after, today)
        told.append(
            say("{range} would be ready on {day} by the plan.", range=answer.taken_in.number, day=day)
        )
    if answer.odds is not None and answer.odds.ready_50 is not None:
        told.append(say("With its odds: {days}.", days=three_days(answer.odds, region, today)))
    late = [row for row in answer.pays if row.late_after > row.late_before]
    if not answer.pays:
        told.append(say("Nobody pays for it: no range is ready later than by today's plan."))
    elif late:
        told.append(
            say_n("{count} range pays with its promise.", "{count} ranges pay with their promise.", len(late))
        )
    else:
        told.append(
            say_n("{count} range is ready later; no promise is broken by it.",
                  "{count} ranges are ready later; no promise is broken by it.", len(answer.pays))
        )  # fmt: skip
    if answer.gains:
        told.append(say_n("{count} range gains.", "{count} ranges gain.", len(answer.gains)))
    if answer.moved_tasks:
        told.append(say_n("{count} sitting moves.", "{count} sittings move.", answer.moved_tasks))
    told += [each.sentence for each in answer.made.left_out[:3]]
    return " ".join(told)


def supposed_words(supposed: Supposed, region: Region, today: dt.date) -> str:
    """What was asked."""
    day = region.day_short
    if isinstance(supposed, TakeIn):
        return say("Another range like this one comes in on {day}.", day=day(supposed.on, today)) if (
            supposed.new
        ) else say("This range is agreed and begun on {day}.", day=day(supposed.on, today))  # fmt: skip
    if isinstance(supposed, MovePromise):
        return say("The promise moves to {day}.", day=day(supposed.on, today)) if supposed.on else say(
            "The promise is taken back."
        )  # fmt: skip
    if isinstance(supposed, Hire):
        return say("{name} helps from {first} to {last}.", name=supposed.name,
                   first=day(supposed.first_day, today), last=day(supposed.last_day, today))  # fmt: skip
    if isinstance(supposed, Shut):
        return say("The {trade} is shut from {first} to {last}.", trade=say(supposed.trade),
                   first=day(supposed.first_day, today), last=day(supposed.last_day, today))  # fmt: skip
    assert isinstance(supposed, HoldTask)
    if supposed.day is None:
        return say("The task goes to another person.")
    time = region.time_of_day(supposed.minute or 0)
    return say("The task is held on {day} at {time}.", day=day(supposed.day, today), time=time)


def plan_words(picture: Picture, region: Region) -> str:
    """Where the plan comes from, what is late in it, and what it does not know yet."""
    kept = picture.kept
    if kept is None:
        return say("There is no plan yet.")
    told = [say("Planned {at}.", at=region.instant(kept.made_at))]
    late = picture.late
    if late:
        names = ", ".join(row.number for row in late[:4])
        more = say(" and {count} more", count=len(late) - 4) if len(late) > 4 else ""
        told.append(say("Late: {ranges}.", ranges=names + more))
    elif any(row.promised_on for row in picture.ranges):
        told.append(say("Every promise is kept by this plan."))
    if picture.stale:
        told.append(
            say_n("{count} task came since and has no place; plan again.",
                  "{count} tasks came since and have no place; plan again.", picture.stale)
        )  # fmt: skip
    if not picture.with_solver:
        told.append(say("OR-Tools is not installed here: rules and many starts make the plan."))
    return " ".join(told)


def listed(sentences: Iterable[str]) -> str:
    return "\n".join(f"– {sentence}" for sentence in sentences)


_FEW = 8  # sentences of a list that are read at a glance


def first_of(sentences: Sequence[str]) -> list[str]:
    """A long list's beginning, and how many more there are."""
    if len(sentences) <= _FEW + 1:
        return list(sentences)
    return [*sentences[:_FEW], say("and {count} more", count=len(sentences) - _FEW)]
