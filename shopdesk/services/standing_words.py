"""Where a range stands, in sentences for the telephone and for letters. Text from facts; knows no records."""

import datetime as dt
from collections.abc import Sequence

from shopdesk.domain.catalogue.model import Catalogue
from shopdesk.domain.stage import Held, Hold, Stage
from shopdesk.services.seat import Seat
from shopdesk.wording import Region, say

_NAMED = 5  # things said in one breath
_AT_WORK = (Stage.AGREED, Stage.ON_THE_BENCH, Stage.PROVING)
_OPEN = tuple(Stage)[:8]  # gone and later need no day any more


def stage_words(stage: Stage, gone_on: dt.date | None, region: Region) -> str:
    """The one sentence that answers the question."""
    if gone_on is not None and stage in (Stage.GONE, Stage.SETTLED):
        return say("It left us on {day}.", day=region.day_long(gone_on))
    return {
        Stage.LOOKED_AT: say("We have looked it over; it is not here yet."),
        Stage.BOOKED_IN: say("It is here and waits to be looked over."),
        Stage.INSPECTED: say("It is looked over; we are writing the quote."),
        Stage.QUOTED: say("It is quoted."),
        Stage.AGREED: say("The work is agreed and has not begun yet."),
        Stage.ON_THE_BENCH: say("It is on the bench."),
        Stage.PROVING: say("The work is done; it is being tested."),
        Stage.READY: say("It is ready."),
        Stage.GONE: say("It has left us."),
        Stage.SETTLED: say("It has left us and everything is settled."),
        Stage.DONOR: say("It is kept for its parts."),
        Stage.NOT_TAKEN: say("It was not taken on."),
        Stage.WITHDRAWN: say("The job was ended before it was finished."),
    }[stage]


def done_words(
    done: Sequence[str], more: Sequence[str], since: dt.date, stage: Stage, region: Region
) -> tuple[str, ...]:  # fmt: skip
    """What was done and found since a day; that nothing was, only where work is under way."""
    day, said = region.day_long(since), []
    if done:
        said.append(say("Since {day} we have done this: {tasks}.", day=day, tasks=in_one_breath(done)))
    elif stage in _AT_WORK:
        said.append(say("Since {day} no work was finished on it.", day=day))
    if more:
        said.append(say("More was found: {what}.", what=in_one_breath(more)))
    return tuple(said)


def held_sentences(catalogue: Catalogue, region: Region, held: Sequence[Held]) -> tuple[str, ...]:
    """What it waits for and since when, a sentence for each reason, the most pressing first."""
    groups: dict[tuple[Hold, dt.date | None], list[str]] = {}
    for one in held:
        groups.setdefault((one.hold, one.since), []).append(_what(catalogue, one))
    return tuple(_waits(region, hold, since, what) for (hold, since), what in groups.items())


def _what(catalogue: Catalogue, held: Held) -> str:
    if held.what in catalogue.proofs:
        return catalogue.proofs[held.what].name
    named = {"release": say("the owner's release"), "at-home": say("the proofs at home")}
    return named.get(held.what, held.what)


def _waits(region: Region, hold: Hold, since: dt.date | None, what: Sequence[str]) -> str:
    things = in_one_breath([name for name in what if name])
    if since is None:
        return {
            Hold.ANSWER: say("It waits for your answer: {what}.", what=things or say("to our quote")),
            Hold.DEPOSIT: say("It waits for the deposit."),
            Hold.PART: say("It waits for parts: {what}.", what=things or say("ordered ones")),
            Hold.OUTWORK: say("Pieces of it are with another firm: {what}.", what=things),
            Hold.PERSON: say("It waits for somebody who can do this: {what}.", what=things),
            Hold.PROOF: say("Still to be proven: {what}.", what=things),
        }[hold]
    day = region.day_long(since)
    return {
        Hold.ANSWER: say("It has waited for your answer since {day}: {what}.", day=day, what=things),
        Hold.DEPOSIT: say("It has waited for the deposit since {day}.", day=day),
        Hold.PART: say("It has waited for parts since {day}: {what}.", day=day, what=things),
        Hold.OUTWORK: say("Pieces of it are with another firm since {day}: {what}.", day=day, what=things),
        Hold.PERSON: say(
            "It has waited since {day} for somebody who can do this: {what}.", day=day, what=things
        ),
        Hold.PROOF: say("Still to be proven, since {day}: {what}.", day=day, what=things),
    }[hold]


def promise_words(
    on_day: dt.date | None, odds: int | None, ready_50: dt.date | None, ready_95: dt.date | None,
    stage: Stage, seat: Seat,
) -> tuple[str, ...]:  # fmt: skip
    """The day with its odds; days stay a span where the plan knows one."""
    if stage not in _OPEN or stage is Stage.READY:
        return ()
    region, said = seat.region, []
    if on_day is None:
        said.append(say("No day is promised yet."))
    elif on_day < seat.today:
        said.append(say("It was promised for {day}; that day is past.", day=region.day_long(on_day)))
    else:
        day = region.day_long(on_day)
        said.append(say("It is promised for {day}.", day=day) if odds is None else _with_odds(day, odds))
    if ready_50 is not None and ready_95 is not None and ready_95 >= seat.today:
        said.append(
            say("As things stand it will most likely be ready between {first} and {last}.",
                first=region.day_long(max(ready_50, seat.today)), last=region.day_long(ready_95))
            if ready_95 > ready_50
            else say("As things stand it will be ready on {day}.", day=region.day_long(ready_95))
        )  # fmt: skip
    return tuple(said)


def _with_odds(day: str, percent: int) -> str:
    if percent < 10:
        return say("It is promised for {day}. As things stand that day is hardly kept.", day=day)
    if percent > 95:
        return say("It is promised for {day}. As things stand that day is all but certain.", day=day)
    return say(
        "It is promised for {day}. Of ten such days we keep about {count}.",
        day=day,
        count=round(percent / 10),
    )


def money_words(owed_cents: int, deposit_cents: int, region: Region) -> tuple[str, ...]:
    """What is owed on bills, with tax, and what is held for the customer."""
    said = [
        say("Open on our bills: {amount}.", amount=region.money(owed_cents))
        if owed_cents > 0
        else say("Nothing is owed at this time.")
    ]
    if deposit_cents > 0:
        said.append(say("Paid ahead and held for the bill: {amount}.", amount=region.money(deposit_cents)))
    return tuple(said)


def in_one_breath(names: Sequence[str]) -> str:
    """The first few names, and how many more."""
    found = list(dict.fromkeys(names))
    if len(found) > _NAMED + 1:
        return say("{names} and {count} more", names="; ".join(found[:_NAMED]), count=len(found) - _NAMED)
    return "; ".join(found)
