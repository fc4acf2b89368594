"""Why a task's estimated, agreed, clocked and billed hours differ, in sentences. Reads no records."""

from collections.abc import Iterator
from dataclasses import dataclass

from shopdesk.wording import say
from shopdesk.wording.hours import hours


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """A task's minutes and what stands around them; `change_order` is one that nobody agreed to."""

    estimated: int
    agreed: int
    clocked: int
    beyond: int
    billable: int
    billed: int
    running: bool
    done: bool
    dropped: bool
    office: bool
    own: bool
    asked: bool  # something is agreed on the job
    unasked: bool
    change_order: str
    split_from: str
    split: bool
    by_hand: bool
    credited: tuple[str, ...]


def reasons(f: Figures) -> list[str]:
    """Whole sentences: first whose hours these are, then agreed against estimate, clock and bill."""
    if f.office:
        return [say("The shop's own paperwork is in its rates: it is neither agreed nor billed.")]
    return [*_whose(f), *_against_estimate(f), *_against_clock(f), *_against_bill(f)]


def _whose(f: Figures) -> Iterator[str]:
    if f.own:
        yield say("The range is the shop's own: nobody agrees to its hours, and the sale is billed.")
    elif f.change_order:
        yield say("{number} has no consent: these hours are kept, and not billable until it stands.",
                  number=f.change_order)  # fmt: skip
    elif f.unasked:
        yield say("It came onto the order beside what is agreed: not billable until a change order is.")
    elif not f.asked:
        yield say("Nothing is agreed on this job yet.")
    if f.split_from and f.agreed:
        yield say("Split from “{task}”: {hours} of its agreed hours are for this part.",
                  task=f.split_from, hours=hours(f.agreed))  # fmt: skip
    elif f.split and f.agreed:
        yield say("Parts were split off: of the agreed line {hours} are left for this task.",
                  hours=hours(f.agreed))  # fmt: skip


def _against_estimate(f: Figures) -> Iterator[str]:
    if f.dropped:
        yield say("It is off the work order; what was clocked and billed stays.")
    elif f.agreed and f.agreed != f.estimated:
        facts = {"agreed": hours(f.agreed), "estimated": hours(f.estimated)}
        if f.by_hand:
            yield say("Agreed are {agreed}; the estimate was set to {estimated} by hand.", **facts)
        else:
            yield say("Agreed are {agreed}; the order now says {estimated}. The agreed hours stand.", **facts)


def _against_clock(f: Figures) -> Iterator[str]:
    if f.running:
        yield say("A clock is running.")
    if f.beyond and not f.unasked and not f.change_order:
        yield say("{hours} are past all that is agreed on the job: kept, not billable until consent stands.",
                  hours=hours(f.beyond))  # fmt: skip
    if not f.agreed or f.running or not f.done:
        return
    if f.clocked > f.agreed:
        yield say(
            "It took {more} more than agreed; the agreed price stands.", more=hours(f.clocked - f.agreed)
        )
    elif not f.clocked:
        yield say("Nobody clocked on it; it was ticked without hours.")
    elif f.clocked < f.agreed:
        yield say("It took {fewer} less than agreed; the agreed price stands.",
                  fewer=hours(f.agreed - f.clocked))  # fmt: skip


def _against_bill(f: Figures) -> Iterator[str]:
    for number in f.credited:
        yield say("{number} held it and was credited.", number=number)
    if f.billable:
        yield say("{hours} can be billed now.", hours=hours(f.billable))
    elif f.agreed and not f.billed and not f.done and not f.dropped:
        yield say("It is billed when it is ticked.")
    elif f.agreed and f.dropped and not f.billed:
        yield say("Its agreed hours are not billed: it was not done.")
    if f.billed and f.billed != f.agreed:
        yield say("Billed were {billed}, as agreed when the invoice was written.", billed=hours(f.billed))
