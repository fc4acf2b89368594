"""The shop's facts a plan is made from, read once: open tasks with what they wait for, people, days."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, field

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.planning.calendar import Week
from shopdesk.services import settings
from shopdesk.services.planning import hours
from shopdesk.services.planning.open_tasks import OpenTask, read_work
from shopdesk.services.planning.record import Record, read_record
from shopdesk.services.planning.waits import Waits
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.plan import AppointmentPerson, Leave, OddDay, OutworkClosure, Pin
from shopdesk.storage.tables.ranges import Appointment, Job, Range
from shopdesk.storage.tables.shop import Staff

IN_SHOP = ("booked in", "inspected", "quoted", "agreed", "on the bench", "proving", "ready")


@dataclass(frozen=True, slots=True)
class OpenJob:
    id: int
    range_id: int
    number: str
    name: str
    customer: str
    customer_id: int | None
    stage: str
    promised_on: dt.date | None
    agreed: bool
    in_shop: bool
    arrives: dt.date | None  # a pick-up is arranged for a range that is not in yet


@dataclass(frozen=True, slots=True)
class Hands:
    """Someone who works here, with their own week, leave and appointments (local begin, minutes)."""

    id: int
    name: str
    role: str
    skills: frozenset[str]
    week: Week | None
    leave: tuple[tuple[dt.date, dt.date], ...]
    appointments: tuple[tuple[dt.datetime, int], ...]


@dataclass(frozen=True, slots=True)
class PinnedAt:
    staff_id: int | None
    day: dt.date | None
    minute: int | None


@dataclass(frozen=True, slots=True)
class VanDays:
    """Weekdays (Monday 1) on which a trade outside takes pieces in and gives them back; None: any day."""

    send: frozenset[int] | None = None
    back: frozenset[int] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """Everything read; `unanswered` are jobs whose work waits for its quote's answer."""

    now: dt.datetime  # local
    week: Week
    country: str
    part: str
    terms: settings.PlanTerms
    odd_days: dict[dt.date, bool]
    closures: dict[str, tuple[tuple[dt.date, dt.date], ...]]
    vans: dict[str, VanDays]
    rooms: dict[str, int]
    people: tuple[Hands, ...]
    jobs: dict[int, OpenJob]
    tasks: tuple[OpenTask, ...]
    whole_jobs: dict[int, tuple[OpenTask, ...]]  # with what is done on them, as if nothing were
    share_done: dict[int, float]
    pins: dict[int, PinnedAt]
    unanswered: tuple[int, ...] = ()
    assumed: tuple[str, ...] = ()
    causes: dict[int, dict[str, int]] = field(default_factory=dict)  # as `Waits.causes`
    record: Record = field(default_factory=Record)


def read_facts(seat: Seat, session: Session, *, as_agreed: Iterable[int] = ()) -> Facts:
    """All that is open in the shop; jobs `as_agreed` are taken as if their answer had come today."""
    terms = settings.read(session, settings.PlanTerms)
    shop = settings.read(session, settings.ShopHours)
    jobs = _jobs(seat, session)
    waits = Waits(session, set(jobs), terms, seat.today, frozenset(as_agreed))
    work = read_work(seat, session, {job.id: job.number for job in jobs.values()}, waits)
    for task in work.tasks:
        if task.is_out and task.out_until is not None:
            mine = waits.causes.setdefault(task.job_id, {})
            mine[f"outwork|{task.trade}"] = max(0, (seat.today - task.out_until).days)
    return Facts(
        now=seat.region.local(seat.now),
        week=hours.as_week(shop.week),
        country=shop.country,
        part=shop.subdivision,
        terms=terms,
        odd_days={d.day: d.is_open for d in session.scalars(sa.select(OddDay))},
        closures=_closures(session),
        vans=_vans(session),
        rooms=hours.rooms(session),
        people=_people(seat, session),
        jobs=jobs,
        tasks=work.tasks,
        whole_jobs=work.whole_jobs,
        share_done=work.share_done,
        pins={
            p.task_id: PinnedAt(p.staff_id, p.begins_on, p.begins_minute)
            for p in session.scalars(sa.select(Pin))
        },
        unanswered=work.unanswered,
        assumed=waits.assumed(),
        causes=waits.causes,
        record=read_record(session),
    )


def _jobs(seat: Seat, session: Session) -> dict[int, OpenJob]:
    query = (
        sa.select(Job)
        .join(Range)
        .options(sa.orm.joinedload(Job.range), sa.orm.joinedload(Job.customer))
        .where(Job.stage.in_(IN_SHOP), Job.ended_as == "", Job.gone_on.is_(None))
        .order_by(Job.id)
    )
    arrivals = {
        job_id: seat.region.local_day(at)
        for job_id, at in session.execute(
            sa.select(Appointment.job_id, Appointment.starts_at)
            .where(Appointment.kind == "pick-up", Appointment.called_off == False)
            .order_by(Appointment.starts_at)
        )
    }
    return {
        job.id: OpenJob(
            job.id,
            job.range_id,
            job.range.number,
            " ".join(word for word in (job.range.maker, job.range.model) if word),
            job.customer.name if job.customer else "",
            job.customer_id,
            job.stage,
            job.promised_on,
            True,
            job.booked_in_on is not None,
            arrivals.get(job.id),
        )
        for job in session.scalars(query)
    }


def _people(seat: Seat, session: Session) -> tuple[Hands, ...]:
    own = hours.own_weeks(session)
    leave: dict[int, list[tuple[dt.date, dt.date]]] = {}
    for row in session.scalars(sa.select(Leave).where(Leave.called_off == False)):
        leave.setdefault(row.staff_id, []).append((row.first_day, row.last_day))
    going: dict[int, list[tuple[dt.datetime, int]]] = {}
    for staff_id, at, minutes in session.execute(
        sa.select(AppointmentPerson.staff_id, Appointment.starts_at, Appointment.minutes)
        .join(Appointment)
        .where(Appointment.called_off == False)
    ):
        going.setdefault(staff_id, []).append((seat.region.local(at), minutes))
    people = session.scalars(sa.select(Staff).where(Staff.active == True).order_by(Staff.id))
    return tuple(
        Hands(
            p.id,
            p.name,
            p.role,
            frozenset(p.skills),
            own.get(p.id),
            tuple(leave.get(p.id, ())),
            tuple(going.get(p.id, ())),
        )
        for p in people
    )


def _closures(session: Session) -> dict[str, tuple[tuple[dt.date, dt.date], ...]]:
    found: dict[str, tuple[tuple[dt.date, dt.date], ...]] = {}
    for row in session.scalars(sa.select(OutworkClosure).where(OutworkClosure.called_off == False)):
        found[row.trade] = (*found.get(row.trade, ()), (row.first_day, row.last_day))
    return found


def _vans(session: Session) -> dict[str, VanDays]:
    """The days of all firms of a trade together; a firm without any makes every day one."""
    kept: dict[str, list[Party]] = {}
    for firm in session.scalars(
        sa.select(Party).where(Party.trade != "", Party.merged_into_id.is_(None), Party.erased_at.is_(None))
    ):
        kept.setdefault(firm.trade, []).append(firm)
    return {
        trade: VanDays(_days([f.send_days for f in firms]), _days([f.return_days for f in firms]))
        for trade, firms in kept.items()
    }


def _days(written: list[str]) -> frozenset[int] | None:
    return frozenset(int(day) for days in written for day in days) if all(written) else None
