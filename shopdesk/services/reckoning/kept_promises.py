"""How promises were kept: every day that was given, at what odds, and whether the range was ready by then.

A day counts once it has passed or the range is ready. One that was moved later counts as given too: the
customer had been told it. Ready is the last release, or the day the range left without one.
"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.rights import Action
from shopdesk.services.reckoning.chosen import span_of
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.plan import MorningOdds, Promise
from shopdesk.storage.tables.proving import Release
from shopdesk.storage.tables.ranges import Job, Range

BANDS = ((0, 49), (50, 69), (70, 89), (90, 100))  # percent; as fine as a small shop's numbers bear


@dataclass(frozen=True, slots=True)
class GivenDay:
    """One day that was promised; `odds_percent` as told then, or by the first morning after, or None."""

    job_id: int
    range_id: int
    number: str
    told_on: dt.date
    on_day: dt.date
    odds_percent: int | None
    ready_on: dt.date | None

    @property
    def kept(self) -> bool:
        return self.ready_on is not None and self.ready_on <= self.on_day


@dataclass(frozen=True, slots=True)
class OddsBand:
    """Days promised at like odds; `said` is the middle of what was said, None where nobody knew."""

    low: int | None
    high: int | None
    days: tuple[GivenDay, ...]

    @property
    def kept(self) -> int:
        return sum(day.kept for day in self.days)

    @property
    def said(self) -> int | None:
        known = [day.odds_percent for day in self.days if day.odds_percent is not None]
        return round(sum(known) / len(known)) if known and self.low is not None else None

    @property
    def kept_percent(self) -> int:
        return round(100 * self.kept / len(self.days)) if self.days else 0


def given_days(seat: Seat, year: int | None = None) -> list[GivenDay]:
    """Every promised day that can be judged, of a year or of all; the newest first."""
    with seat.look(Action.PROMISE) as session:
        ready = _ready(seat, session)
        odds = _first_odds(session)
        found = [
            GivenDay(
                job_id, range_id, number, seat.region.local_day(at), on_day,
                percent if percent is not None else odds.get((job_id, on_day)), ready.get(job_id),
            )
            for job_id, range_id, number, at, on_day, percent in session.execute(_given(year))
            if on_day is not None
        ]  # fmt: skip
    return [day for day in found if day.on_day < seat.today or day.ready_on is not None]


def bands(days: Iterable[GivenDay]) -> list[OddsBand]:
    """The days by the odds they were given at, those of unknown odds last; empty bands are left out."""
    days = tuple(days)
    found = [
        OddsBand(
            low, high, tuple(d for d in days if d.odds_percent is not None and low <= d.odds_percent <= high)
        )
        for low, high in BANDS
    ]
    found.append(OddsBand(None, None, tuple(day for day in days if day.odds_percent is None)))
    return [band for band in found if band.days]


def _given(year: int | None) -> sa.Select[int, int, str, dt.datetime, dt.date | None, int | None]:
    query = (
        sa.select(Promise.job_id, Range.id, Range.number, Promise.at, Promise.on_day, Promise.odds_percent)
        .join(Job, Job.id == Promise.job_id)
        .join(Range, Range.id == Job.range_id)
        .where(Promise.on_day.is_not(None), Job.ended_as == "")
        .order_by(Promise.id.desc())
    )
    if year is None:
        return query
    first, after = span_of(year)
    return query.where(Promise.on_day >= first, Promise.on_day < after)


def _ready(seat: Seat, session: Session) -> dict[int, dt.date]:
    """By job: the day it was ready."""
    gone = session.execute(sa.select(Job.id, Job.gone_on).where(Job.gone_on.is_not(None)))
    found = {job_id: day for job_id, day in gone if day is not None}
    released = sa.select(Release.job_id, sa.func.max(Release.at)).where(Release.lapsed_at.is_(None))
    for job_id, at in session.execute(released.group_by(Release.job_id)):
        day = seat.region.local_day(at)
        found[job_id] = min(day, found.get(job_id, day))
    return found


def _first_odds(session: Session) -> dict[tuple[int, dt.date | None], int | None]:
    """By job and promised day: the odds of the first morning they were worked out."""
    query = sa.select(MorningOdds.job_id, MorningOdds.promised_on, MorningOdds.odds_percent)
    rows = session.execute(query.order_by(MorningOdds.on_day.desc()))
    return {(job_id, day): percent for job_id, day, percent in rows}
