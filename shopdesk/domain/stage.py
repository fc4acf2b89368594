"""A job's stage and what it is held for: derived from facts, never typed."""

import datetime as dt
from dataclasses import dataclass
from enum import StrEnum


class Stage(StrEnum):
    LOOKED_AT = "looked at"
    BOOKED_IN = "booked in"
    INSPECTED = "inspected"
    QUOTED = "quoted"
    AGREED = "agreed"
    ON_THE_BENCH = "on the bench"
    PROVING = "proving"
    READY = "ready"
    GONE = "gone"
    SETTLED = "settled"
    DONOR = "donor"
    NOT_TAKEN = "not taken"
    WITHDRAWN = "withdrawn"


WAY = tuple(Stage)[:10]  # the usual way, in order; the rest stand beside it


class Hold(StrEnum):
    """Why nothing moves, in the order in which the first one is shown."""

    ANSWER = "answer"
    DEPOSIT = "deposit"
    PART = "part"
    OUTWORK = "outwork"
    PERSON = "person"
    PROOF = "proof"


@dataclass(frozen=True, slots=True)
class Held:
    """One reason to wait, since when, and for what in particular."""

    hold: Hold
    since: dt.date | None = None
    what: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What is recorded of a job; each a plain fact with its day where it has one."""

    shop_owned: bool = False
    booked_in: bool = False
    inspected: bool = False
    quoted: bool = False
    agreed: bool = False
    agreed_on: dt.date | None = None
    open_questions: tuple[Held, ...] = ()  # quotes and change orders without an answer
    deposit_open: int = 0  # minor units asked and not yet there
    started: bool = False
    tasks: int = 0
    work_done: bool = False  # every task up to refit is ticked
    short_parts: tuple[Held, ...] = ()
    outwork_out: tuple[Held, ...] = ()
    without_person: tuple[Held, ...] = ()
    proofs_missing: tuple[str, ...] = ()
    tags_out: tuple[Held, ...] = ()  # what came off and still lies elsewhere
    released: bool = False
    release_lapsed: bool = False
    gone: bool = False
    red_tagged: bool = False
    home_proof: bool = False
    billed: bool = False
    balance: int = 0  # minor units still owed
    ended_as: Stage | None = None  # donor, not taken or withdrawn
    free: bool = False  # a comeback at no charge: nothing is quoted, and it settles without a bill


def stage(facts: Facts) -> Stage:
    """The furthest stage the facts bear out.

    A lapsed release does not move it back; nothing is ready while a tag is out.
    """
    if facts.ended_as is not None:
        return facts.ended_as
    closed_at_home = facts.home_proof or facts.red_tagged
    paid = (facts.billed or facts.free) and facts.balance <= 0
    priced = not (facts.shop_owned or facts.free)
    steps = (
        (facts.gone and closed_at_home and paid, Stage.SETTLED),
        (facts.gone, Stage.GONE),
        (facts.released and not facts.tags_out, Stage.READY),
        (facts.started and facts.tasks > 0 and facts.work_done, Stage.PROVING),
        (facts.started, Stage.ON_THE_BENCH),
        (facts.agreed and priced, Stage.AGREED),
        (facts.quoted and priced, Stage.QUOTED),
        (facts.inspected and facts.booked_in, Stage.INSPECTED),
        (facts.booked_in, Stage.BOOKED_IN),
    )
    return next((name for holds, name in steps if holds), Stage.LOOKED_AT)


def held_for(facts: Facts) -> tuple[Held, ...]:
    """Everything the job waits for, most pressing first; empty when work can go on."""
    at = stage(facts)
    if at in (Stage.SETTLED, Stage.DONOR, Stage.NOT_TAKEN, Stage.WITHDRAWN, Stage.LOOKED_AT):
        return ()
    held: list[Held] = []
    if at is not Stage.GONE:
        held += facts.open_questions
        if facts.deposit_open > 0 and facts.agreed and not facts.started:
            held.append(Held(Hold.DEPOSIT, facts.agreed_on))
    unpriced = facts.shop_owned or facts.free
    if at in (Stage.AGREED, Stage.ON_THE_BENCH) or (unpriced and at is Stage.INSPECTED):
        held += facts.short_parts
        held += facts.outwork_out
        held += facts.without_person
    if at is Stage.PROVING:
        held += facts.tags_out
    if at is Stage.PROVING and facts.proofs_missing:
        held.append(Held(Hold.PROOF, None, facts.proofs_missing[0]))
    if at is Stage.READY and facts.release_lapsed:
        held.append(Held(Hold.PROOF, None, "release"))
    if at is Stage.GONE and not (facts.home_proof or facts.red_tagged):
        held.append(Held(Hold.PROOF, None, "at-home"))
    return tuple(held)
