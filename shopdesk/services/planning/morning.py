"""Each morning's odds of every promise, kept day by day, with the reason where they fall."""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass, replace

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.rights import Action
from shopdesk.services.planning.facts import Facts
from shopdesk.services.planning.making import Made, plan_close
from shopdesk.services.planning.outlook import DRAWS, Odds, odds_of
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.plan import MorningOdds
from shopdesk.wording import say, say_n

FALL = 5
"""Points by which odds must fall before a reason is looked for; less is luck of the draw."""
LOW = 50


@dataclass(frozen=True, slots=True)
class MorningRow:
    """A promise this morning; `before` are the odds of the last morning kept, `reasons` why they fell."""

    odds: Odds
    before: int | None
    before_on: dt.date | None
    reasons: tuple[str, ...]

    @property
    def fell(self) -> bool:
        return self.before is not None and self.odds.percent is not None and (
            self.odds.percent <= self.before - FALL
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Morning:
    day: dt.date
    rows: tuple[MorningRow, ...]
    assumed: tuple[str, ...]
    by_record: bool  # hours and surprises are the shop's own record; else judgement


def work_out_odds(
    seat: Seat, *, draws: int = DRAWS, stop: Callable[[], bool] = lambda: False, made: Made | None = None
) -> Morning:
    """The odds of all open ranges as they stand now, with reasons. Keeps nothing."""
    made = made or plan_close(seat, seconds=0.5, stop=stop)
    odds = odds_of(made, draws=draws, stop=stop)
    facts = made.work.facts
    with seat.look() as session:
        last = _last(session, seat.today)
    rows = []
    for one in odds.rows:
        before = last.get(one.job_id)
        figures = causes(facts, one)
        rows.append(
            MorningRow(
                one,
                before.odds_percent if before and before.promised_on == one.promised_on else None,
                before.on_day if before else None,
                _reasons(one, figures, before),
            )
        )
    rows.sort(key=lambda row: (row.odds.promised_on or dt.date.max, row.odds.number))
    return Morning(seat.today, tuple(rows), made.work.assumed, facts.record.jobs > 0)


def keep_morning(seat: Seat, morning: Morning, facts: Facts | None = None) -> None:
    """Keeps a morning's odds; worked out again on the same day they replace what was kept."""
    known = facts.causes if facts is not None else {}
    with seat.change(Action.PLAN_BENCH) as work:
        kept = {
            row.job_id: row
            for row in work.session.scalars(sa.select(MorningOdds).where(MorningOdds.on_day == morning.day))
        }
        for one in morning.rows:
            odds = one.odds
            row = kept.get(odds.job_id) or work.add(MorningOdds(job_id=odds.job_id, on_day=morning.day))
            row.promised_on, row.odds_percent = odds.promised_on, odds.percent
            row.ready_50, row.ready_80, row.ready_95 = odds.ready_50, odds.ready_80, odds.ready_95
            row.reasons = list(one.reasons)
            row.causes = known.get(odds.job_id, {})


def morning(seat: Seat, *, draws: int = DRAWS, stop: Callable[[], bool] = lambda: False) -> Morning:
    """Works this morning's odds out and, where this person may plan, keeps them."""
    made = plan_close(seat, seconds=0.5, stop=stop)
    found = work_out_odds(seat, draws=draws, stop=stop, made=made)
    if not seat.file.looking and not stop():
        facts = made.work.facts
        figures = {row.odds.job_id: causes(facts, row.odds) for row in found.rows}
        keep_morning(seat, found, replace(facts, causes=figures))
    return found


def causes(facts: Facts, odds: Odds) -> dict[str, int]:
    """What may move a range's end, as figures that are compared with the last morning's."""
    found = dict(facts.causes.get(odds.job_id, {}))
    until = odds.promised_on or odds.ready_95 or facts.now.date()
    today = facts.now.date()
    for hands in facts.people:
        days = sum(
            max(0, (min(last, until) - max(first, today)).days + 1)
            for first, last in hands.leave
            if first <= until and last >= today
        )
        if days:
            found[f"leave|{hands.name}"] = days
    for task in facts.tasks:
        if task.job_id == odds.job_id and task.over:
            found[f"hours|{task.name}"] = task.over
    return found


def _reasons(odds: Odds, now: dict[str, int], before: MorningOdds | None) -> tuple[str, ...]:
    if odds.percent is None or odds.promised_on is None:
        return (odds.why_not,) if odds.why_not else ()
    was = before.odds_percent if before and before.promised_on == odds.promised_on else None
    fell = was is not None and odds.percent <= was - FALL
    if not fell and odds.percent >= LOW:
        return ()
    known = before.causes if before and fell else {}
    grown = [key for key, value in now.items() if value > known.get(key, -1)]
    grown.sort(key=lambda key: (_ORDER.index(key.partition("|")[0]), -now[key]))
    told = [_sentence(key, now[key]) for key in grown]
    if not told and odds.decides:
        told = [say("What decides most: {tasks}.", tasks="; ".join(odds.decides))]
    return tuple(told[:3])


_ORDER = ("outwork", "part", "laboratory", "answer", "deposit", "hours", "leave")


def _sentence(key: str, value: int) -> str:
    """What a cause says; `value` is its figure (days overdue, days away, minutes over)."""
    kind, _, name = key.partition("|")
    if kind == "outwork":
        return _outwork_sentence(name, value)
    if kind == "part" and value:
        return say_n("{part} is {count} day late", "{part} is {count} days late", value, part=name)
    if kind == "leave":
        one, many = "{name} is away {count} day before then", "{name} is away {count} days before then"
        return say_n(one, many, value, name=name)
    plain = {
        "part": say("{part} is not here yet", part=name),
        "hours": say("{task} has taken {minutes} minutes more than thought", task=name, minutes=value),
        "laboratory": say("the laboratory has not answered"),
        "answer": say("what was found more is not answered yet"),
        "deposit": say("the deposit is not here"),
    }
    return plain[kind]


def _outwork_sentence(trade: str, late: int) -> str:
    who = say("the {trade}", trade=say(trade)) if trade else say("the firm outside")
    if late:
        return say_n("{who} is {count} day late", "{who} is {count} days late", late, who=who)
    return say("{who} still has its pieces", who=who)


def _last(session: Session, before: dt.date) -> dict[int, MorningOdds]:
    """The newest kept odds of each job on a day earlier than this."""
    newest = (
        sa.select(MorningOdds.job_id, sa.func.max(MorningOdds.on_day).label("day"))
        .where(MorningOdds.on_day < before)
        .group_by(MorningOdds.job_id)
        .subquery()
    )
    query = sa.select(MorningOdds).join(
        newest, sa.and_(newest.c.job_id == MorningOdds.job_id, newest.c.day == MorningOdds.on_day)
    )
    found = {row.job_id: row for row in session.scalars(query)}
    session.expunge_all()
    return found
