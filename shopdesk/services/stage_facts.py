"""Jobs' facts gathered from the shop, for one job or for hundreds at once, and the stage written from them.

Each fact is one question to the database for all the jobs asked about; a check of a large shop would
otherwise take as long as all its days of work together.
"""

import datetime as dt
from collections.abc import Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session, joinedload

from shopdesk.domain import proving, stage
from shopdesk.domain.catalogue.model import Catalogue
from shopdesk.domain.stage import Facts, Held, Hold, Stage
from shopdesk.services import settings
from shopdesk.services.agreed_lines import unasked_tasks
from shopdesk.services.comebacks import free_jobs
from shopdesk.services.owed import open_of
from shopdesk.services.stages import WORK_STAGES, last_release, missing_for, proofs_missing
from shopdesk.storage.tables.bench import Tag
from shopdesk.storage.tables.counter import Agreement, ChangeOrder, Invoice, Payment, Quote
from shopdesk.storage.tables.proving import Proof, Release
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.tables.stores import Consignment, ConsignmentPiece, Need
from shopdesk.storage.tables.walk import WalkRound
from shopdesk.storage.tables.work import Task, TimeEntry, WorkOrder
from shopdesk.wording import say
from shopdesk.wording.region import Region

_AT_ONCE = 400  # jobs; their keys are the parameters of one statement


def refresh(session: Session, catalogue: Catalogue, job_id: int, today: dt.date, now: dt.datetime) -> None:
    """Writes stage and held-for as the facts have them now; the only place that does.

    A release whose proofs no longer all stand lapses here, whatever it was that took one away.
    """
    session.flush()
    job = session.get_one(Job, job_id)
    _lapse_if_open(session, catalogue, job, now)
    known = facts(session, catalogue, job)
    job.stage = stage.stage(known).value
    held = stage.held_for(known)
    if not held:
        job.held_for, job.held_what, job.held_since = "", "", None
        return
    first = held[0]
    same = (job.held_for, job.held_what) == (first.hold.value, first.what)
    job.held_since = job.held_since if same and job.held_since else first.since or today
    job.held_for, job.held_what = first.hold.value, first.what


def facts(session: Session, catalogue: Catalogue, job: Job) -> Facts:
    """Everything the stage of a job follows from."""
    return _facts(catalogue, _read(session, [job.id]), job)


def every_job(session: Session, catalogue: Catalogue) -> Iterator[tuple[Job, Facts]]:
    """Every job with its facts, by their keys; a job is let go of once the next ones are read."""
    last = 0
    while True:
        some = sa.select(Job).where(Job.id > last).order_by(Job.id).limit(_AT_ONCE)
        jobs = session.scalars(some.options(joinedload(Job.range))).all()
        if not jobs:
            return
        read = _read(session, [job.id for job in jobs])
        for job in jobs:
            yield job, _facts(catalogue, read, job)
        last = jobs[-1].id
        session.expunge_all()


def _lapse_if_open(session: Session, catalogue: Catalogue, job: Job, now: dt.datetime) -> None:
    release = last_release(session, job.id)
    if release is None or release.lapsed_at is not None or job.gone_on is not None:
        return
    lacking = proving.unsigned(proofs_missing(session, catalogue, job), release.without)
    if lacking:
        names = ", ".join(kind.name for kind in lacking)
        release.lapsed_at, release.lapsed_because = now, say("due again: {proofs}", proofs=names)
        session.flush()


Rows = dict[int, list[Any]]


@dataclass(frozen=True, slots=True)
class _Read:
    """What was read of some jobs, by job."""

    region: Region
    skills: frozenset[str] | None  # what anybody active can do; None: everything
    tasks: Rows
    quotes: Rows
    agreements: Rows
    releases: Rows
    bills: Rows
    unpriced: Rows  # change orders without a quote
    short: Rows
    out: Rows
    tags: Rows
    proofs: Rows
    inspected: set[int]
    clocked: set[int]
    free: set[int]
    unasked: set[int]  # keys of tasks
    paid: dict[int, int]
    owed: dict[int, int]


def _read(session: Session, jobs: Sequence[int]) -> _Read:
    asked = _asked(jobs)
    bills = session.scalars(asked["bills"]).all()
    still = open_of(session, bills)
    owed: dict[int, int] = {}
    for bill in bills:
        if bill.job_id is not None:
            owed[bill.job_id] = owed.get(bill.job_id, 0) + still[bill.id].asked_cents

    def rows(name: str) -> Rows:
        return _by_job(session.execute(asked[name]))

    def keys(name: str) -> set[int]:
        return set(session.scalars(asked[name]))

    return _Read(
        region=settings.read(session, Region), skills=_skills(session),
        tasks=rows("tasks"), quotes=rows("quotes"), agreements=rows("agreements"), releases=rows("releases"),
        bills=_by_job(bills), unpriced=rows("unpriced"), short=rows("short"), out=rows("out"),
        tags=rows("tags"), proofs=rows("proofs"), inspected=keys("inspected"), clocked=keys("clocked"),
        free=free_jobs(session, set(jobs)), unasked=unasked_tasks(session, set(jobs)),
        paid={job: int(cents) for job, cents in session.execute(asked["paid"])}, owed=owed,
    )  # fmt: skip


def _by_job(rows: Iterable[Any]) -> Rows:
    found: Rows = {}
    for row in rows:
        found.setdefault(row.job_id, []).append(row)
    return found


def _skills(session: Session) -> frozenset[str] | None:
    """A person without skills listed has them all, and so has a shop without people."""
    people = session.scalars(sa.select(Staff.skills).where(Staff.active == True)).all()
    if not people or any(not skills for skills in people):
        return None
    return frozenset(skill for skills in people for skill in skills)


def _asked(jobs: Sequence[int]) -> dict[str, sa.Select[Any]]:
    """One question for each fact, in the order in which its rows speak."""
    on_order = sa.select(WorkOrder.job_id).select_from(WorkOrder).where(WorkOrder.job_id.in_(jobs))
    return {
        "tasks": on_order.join(Task).where(Task.dropped == False).order_by(Task.place).add_columns(
            Task.id, Task.stage, Task.name, Task.done_share, Task.skills, Task.proofs, Task.touched_at,
            Task.done_at,
        ),
        "quotes": sa.select(
            Quote.job_id, Quote.id, Quote.step, Quote.number, Quote.on_day, Quote.declined_on,
            Quote.deposit_cents,
        ).where(Quote.job_id.in_(jobs)).order_by(Quote.id),
        "agreements": sa.select(Agreement.job_id, Agreement.quote_id, Agreement.at).where(
            Agreement.job_id.in_(jobs)
        ),
        "releases": sa.select(Release.job_id, Release.lapsed_at).where(Release.job_id.in_(jobs)).order_by(
            Release.id
        ),
        "bills": sa.select(Invoice).where(
            Invoice.job_id.in_(jobs), Invoice.number.is_not(None), Invoice.kind == "invoice"
        ),
        "unpriced": sa.select(ChangeOrder.job_id, ChangeOrder.number, ChangeOrder.found_on).where(
            ChangeOrder.job_id.in_(jobs), ChangeOrder.quote_id.is_(None)
        ).order_by(ChangeOrder.id),
        "short": on_order.join(Task).join(Need, Need.task_id == Task.id).where(
            Task.dropped == False, Task.done_share < 100, Need.covered + Need.called_off < Need.quantity
        ).order_by(Task.place, Need.id).add_columns(Need.name),
        "out": on_order.join(Task).join(ConsignmentPiece, ConsignmentPiece.task_id == Task.id).join(
            Consignment, Consignment.id == ConsignmentPiece.consignment_id
        ).where(ConsignmentPiece.back_on.is_(None)).order_by(
            Consignment.sent_on, ConsignmentPiece.id
        ).add_columns(ConsignmentPiece.name, Consignment.sent_on),
        "tags": sa.select(Tag.job_id, Tag.number, Tag.what).where(
            Tag.job_id.in_(jobs), Tag.back_at.is_(None)
        ).order_by(Tag.id),
        "proofs": sa.select(Proof.job_id, Proof.kind, Proof.at, Proof.result).where(
            Proof.job_id.in_(jobs)
        ).order_by(Proof.id),
        "inspected": sa.select(WalkRound.job_id).where(
            WalkRound.job_id.in_(jobs), WalkRound.finished_at.is_not(None)
        ),
        "clocked": on_order.join(Task).join(TimeEntry, TimeEntry.task_id == Task.id).where(
            Task.stage != "intake"
        ).distinct(),
        "paid": sa.select(Payment.job_id, sa.func.sum(Payment.amount_cents)).where(
            Payment.job_id.in_(jobs)
        ).group_by(Payment.job_id),
    }  # fmt: skip


def _facts(catalogue: Catalogue, read: _Read, job: Job) -> Facts:
    tasks, quotes = read.tasks.get(job.id, []), read.quotes.get(job.id, [])
    agreements = read.agreements.get(job.id, [])
    agreed = {a.quote_id for a in agreements}
    releases = read.releases.get(job.id, [])
    work = [t for t in tasks if t.stage in WORK_STAGES]
    readings = [proving.Reading(p.kind, p.at, proving.Result(p.result)) for p in read.proofs.get(job.id, [])]
    return Facts(
        shop_owned=job.customer_id is None,
        booked_in=job.booked_in_on is not None,
        inspected=job.id in read.inspected,
        quoted=any(q.declined_on is None for q in quotes if q.step != "change"),
        agreed=bool(agreements),
        agreed_on=min((read.region.local_day(a.at) for a in agreements), default=None),
        open_questions=() if job.customer_id is None else _open_questions(read, job.id, quotes, agreed),
        deposit_open=_deposit_open(read, job.id, quotes, agreed),
        started=job.id in read.clocked or any(t.done_share > 0 and t.stage != "intake" for t in tasks),
        tasks=len(tasks),
        work_done=bool(work) and all(t.done_share == 100 for t in work),
        short_parts=tuple(Held(Hold.PART, None, row.name) for row in read.short.get(job.id, [])),
        outwork_out=tuple(Held(Hold.OUTWORK, row.sent_on, row.name) for row in read.out.get(job.id, [])),
        without_person=_without_person(read, tasks),
        proofs_missing=tuple(k.code for k in missing_for(catalogue, job, tasks, readings)),
        tags_out=tuple(
            Held(Hold.PART, None, f"{tag.number} {tag.what}") for tag in read.tags.get(job.id, [])
        ),
        released=bool(releases),
        release_lapsed=bool(releases) and releases[-1].lapsed_at is not None,
        gone=job.gone_on is not None,
        red_tagged=job.red_tagged,
        home_proof=job.gone_on is not None and _met_at_home(readings),
        billed=bool(read.bills.get(job.id)),
        balance=read.owed.get(job.id, 0),
        ended_as=Stage(job.ended_as) if job.ended_as else None,
        free=job.id in read.free,
    )


def _open_questions(read: _Read, job_id: int, quotes: list[Any], agreed: set[int]) -> tuple[Held, ...]:
    """The last quote of each step, and every change order's, without an answer; what was found more
    and not priced yet is a question too, and so is what came beside the agreement unasked."""
    last: dict[Hashable, Any] = {}
    for quote in quotes:
        last[quote.id if quote.step == "change" else quote.step] = quote
    asked = [
        Held(Hold.ANSWER, q.on_day, q.number)
        for q in last.values()
        if q.id not in agreed and q.declined_on is None
    ]
    unasked = any(task.id in read.unasked for task in read.tasks.get(job_id, []))
    added = [Held(Hold.ANSWER, None, say("added work"))] if unasked else []
    unpriced = (Held(Hold.ANSWER, c.found_on, c.number) for c in read.unpriced.get(job_id, []))
    return (*asked, *unpriced, *added)


def _deposit_open(read: _Read, job_id: int, quotes: list[Any], agreed: set[int]) -> int:
    asked = max((q.deposit_cents for q in quotes if q.id in agreed), default=0)
    return max(0, asked - read.paid.get(job_id, 0))


def _without_person(read: _Read, tasks: list[Any]) -> tuple[Held, ...]:
    """Open tasks with a skill that nobody active has."""
    known = read.skills
    if known is None:
        return ()
    return tuple(
        Held(Hold.PERSON, None, t.name) for t in tasks if t.done_share < 100 and not set(t.skills) <= known
    )


def _met_at_home(readings: list[proving.Reading]) -> bool:
    last = proving.latest(readings).get("at-home")
    return last is not None and last.result is proving.Result.MEETS
