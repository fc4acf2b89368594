"""A job's facts gathered from the shop, and its stored stage brought in step with them."""

import datetime as dt

import sqlalchemy as sa
from sqlalchemy.orm import Session, selectinload

from shopdesk.domain import proving, stage
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Catalogue, ProofKind
from shopdesk.domain.stage import Facts, Held, Hold, Stage
from shopdesk.services import gas_tables, settings
from shopdesk.services.agreed_lines import unasked_tasks
from shopdesk.services.comebacks import is_free
from shopdesk.services.owed import open_of
from shopdesk.storage.tables.bench import Tag
from shopdesk.storage.tables.counter import Agreement, ChangeOrder, Invoice, Payment, Quote
from shopdesk.storage.tables.proving import Proof, Release
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.tables.stores import Consignment, ConsignmentPiece, Need
from shopdesk.storage.tables.walk import WalkRound
from shopdesk.storage.tables.work import Task, TimeEntry, WorkOrder
from shopdesk.wording import say
from shopdesk.wording.region import Region

_WORK_STAGES = ("intake", "teardown", "repair", "refit")


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


def _lapse_if_open(session: Session, catalogue: Catalogue, job: Job, now: dt.datetime) -> None:
    release = last_release(session, job.id)
    if release is None or release.lapsed_at is not None or job.gone_on is not None:
        return
    lacking = proving.unsigned(proofs_missing(session, catalogue, job), release.without)
    if lacking:
        names = ", ".join(kind.name for kind in lacking)
        release.lapsed_at, release.lapsed_because = now, say("due again: {proofs}", proofs=names)
        session.flush()


def facts(session: Session, catalogue: Catalogue, job: Job) -> Facts:
    """Everything the stage of a job follows from."""
    tasks = list(tasks_of(session, job.id))
    work = [t for t in tasks if t.stage in _WORK_STAGES]
    quotes = list(session.scalars(sa.select(Quote).where(Quote.job_id == job.id).order_by(Quote.id)))
    agreements = list(session.scalars(sa.select(Agreement).where(Agreement.job_id == job.id)))
    agreed_ids = {a.quote_id for a in agreements}
    release = last_release(session, job.id)
    region = settings.read(session, Region)
    invoices = list(
        session.scalars(sa.select(Invoice).where(Invoice.job_id == job.id, Invoice.number.is_not(None)))
    )
    return Facts(
        shop_owned=job.customer_id is None,
        booked_in=job.booked_in_on is not None,
        inspected=_inspected(session, job.id),
        quoted=any(q.declined_on is None for q in quotes if q.step != "change"),
        agreed=bool(agreements),
        agreed_on=min((region.local_day(a.at) for a in agreements), default=None),
        open_questions=()
        if job.customer_id is None
        else _open_questions(session, job.id, quotes, agreed_ids),
        deposit_open=_deposit_open(session, job.id, [q for q in quotes if q.id in agreed_ids]),
        started=_started(session, job.id, tasks),
        tasks=len(tasks),
        work_done=bool(work) and all(t.done_share == 100 for t in work),
        short_parts=_short_parts(session, job.id),
        outwork_out=_outwork_out(session, job.id),
        without_person=_without_person(session, tasks),
        proofs_missing=tuple(k.code for k in proofs_missing(session, catalogue, job)),
        tags_out=_tags_out(session, job.id),
        released=release is not None,
        release_lapsed=release is not None and release.lapsed_at is not None,
        gone=job.gone_on is not None,
        red_tagged=job.red_tagged,
        home_proof=_home_proof(session, job),
        billed=any(i.kind == "invoice" for i in invoices),
        balance=balance(session, job.id),
        ended_as=Stage(job.ended_as) if job.ended_as else None,
        free=is_free(session, job.id),
    )


def open_jobs(session: Session) -> set[int]:
    """Jobs whose stage may still move."""
    moving = sa.select(Job.id).where(Job.ended_as == "", Job.stage != Stage.SETTLED.value)
    return set(session.scalars(moving))


def tasks_of(session: Session, job_id: int, *, with_causes: bool = False) -> sa.ScalarResult[Task]:
    """The tasks on a job's order, dropped ones left out, in order; with their causes if asked."""
    tasks = sa.select(Task).join(WorkOrder).where(WorkOrder.job_id == job_id, Task.dropped == False)
    if with_causes:
        tasks = tasks.options(selectinload(Task.causes))
    return session.scalars(tasks.order_by(Task.place))


def build_of(job: Job) -> Build:
    return Build(**job.range.build)


def proofs_due(session: Session, catalogue: Catalogue, job: Job) -> list[ProofKind]:
    """The proofs this job needs before it may leave: by its build, and by the work ticked so far."""
    features = build_of(job).features
    called_for = {code for t in tasks_of(session, job.id) for code in t.proofs}
    return [
        k
        for k in catalogue.proofs.values()
        if not k.at_home and (k.code in called_for or (k.always and k.applies <= features))
    ]


def unsold(job: Job) -> bool:
    """A range of the shop's own that nobody has bought yet."""
    return job.customer_id is None and job.range.owner_id is None


def proofs_missing(session: Session, catalogue: Catalogue, job: Job) -> list[ProofKind]:
    """The due proofs that do not stand. Gas identity does not where the house is known to have another
    gas than the range is set to, whatever was read before that was known."""
    readings = [
        proving.Reading(p.kind, p.at, proving.Result(p.result))
        for p in session.scalars(sa.select(Proof).where(Proof.job_id == job.id))
    ]
    touched: dict[str, dt.datetime] = {}
    for task in tasks_of(session, job.id):
        at = later(task.touched_at, task.done_at)
        if at is not None and reopens(task.stage):
            touched.update({kind: max(at, touched.get(kind, at)) for kind in task.proofs})
    due = proofs_due(session, catalogue, job)
    missing = proving.missing(due, readings, touched)
    if not gases_differ(job.range):
        return missing
    codes = {kind.code for kind in missing} | {"gas-identity"}
    return sorted((kind for kind in due if kind.code in codes), key=lambda kind: kind.order)


def gases_differ(row: Range) -> bool:
    """The house is known to have another gas than the range is set to."""
    house, set_to = gas_tables.gas_code(row.house_gas), gas_tables.gas_code(row.set_to_gas)
    return bool(house and set_to and house != set_to)


def reopens(stage: str) -> bool:
    """Whether work of a task's stage makes its proofs due again; the taking of a proof does not."""
    return stage in _WORK_STAGES


def later(touched_at: dt.datetime | None, done_at: dt.datetime | None) -> dt.datetime | None:
    """When a task was last worked on: its tick, whole or in part, its clock, or a tick taken back."""
    return max((at for at in (touched_at, done_at) if at is not None), default=None)


def last_release(session: Session, job_id: int) -> Release | None:
    return session.scalars(
        sa.select(Release).where(Release.job_id == job_id).order_by(Release.id.desc()).limit(1)
    ).first()


def balance(session: Session, job_id: int) -> int:
    """What is still owed on a job's issued papers, minor units: billed less credited, settled and
    written off."""
    bills = session.scalars(
        sa.select(Invoice).where(
            Invoice.job_id == job_id, Invoice.number.is_not(None), Invoice.kind == "invoice"
        )
    ).all()
    return sum(each.asked_cents for each in open_of(session, bills).values())


def _inspected(session: Session, job_id: int) -> bool:
    finished = sa.select(WalkRound.id).where(WalkRound.job_id == job_id, WalkRound.finished_at.is_not(None))
    return session.scalar(finished.limit(1)) is not None


def _open_questions(session: Session, job_id: int, quotes: list[Quote], agreed: set[int]) -> tuple[Held, ...]:
    """The last quote of each step, and every change order's, without an answer; what was found more
    and not priced yet is a question too, and so is what came beside the agreement unasked."""
    unpriced = session.scalars(
        sa.select(ChangeOrder)
        .where(ChangeOrder.job_id == job_id, ChangeOrder.quote_id.is_(None))
        .order_by(ChangeOrder.id)
    )
    last: dict[object, Quote] = {}
    for quote in quotes:
        last[quote.id if quote.step == "change" else quote.step] = quote
    asked = [
        Held(Hold.ANSWER, q.on_day, q.number)
        for q in last.values()
        if q.id not in agreed and q.declined_on is None
    ]
    added = [Held(Hold.ANSWER, None, say("added work"))] if unasked_tasks(session, {job_id}) else []
    return (*asked, *(Held(Hold.ANSWER, c.found_on, c.number) for c in unpriced), *added)


def _deposit_open(session: Session, job_id: int, agreed: list[Quote]) -> int:
    asked = max((q.deposit_cents for q in agreed), default=0)
    paid = session.scalar(sa.select(sa.func.sum(Payment.amount_cents)).where(Payment.job_id == job_id))
    return max(0, asked - (paid or 0))


def _started(session: Session, job_id: int, tasks: list[Task]) -> bool:
    if any(t.done_share > 0 and t.stage != "intake" for t in tasks):
        return True
    clocked = (
        sa.select(TimeEntry.id)
        .join(Task)
        .join(WorkOrder)
        .where(WorkOrder.job_id == job_id, Task.stage != "intake")
    )
    return session.scalar(clocked.limit(1)) is not None


def _short_parts(session: Session, job_id: int) -> tuple[Held, ...]:
    rows = session.scalars(
        sa.select(Need.name)
        .join(Task)
        .join(WorkOrder)
        .where(
            WorkOrder.job_id == job_id,
            Task.dropped == False,
            Task.done_share < 100,
            Need.covered + Need.called_off < Need.quantity,
        )
        .order_by(Task.place, Need.id)
    )
    return tuple(Held(Hold.PART, None, name) for name in rows)


def _outwork_out(session: Session, job_id: int) -> tuple[Held, ...]:
    rows = session.execute(
        sa.select(ConsignmentPiece.name, Consignment.sent_on)
        .join(Consignment)
        .join(Task, Task.id == ConsignmentPiece.task_id)
        .join(WorkOrder)
        .where(WorkOrder.job_id == job_id, ConsignmentPiece.back_on.is_(None))
        .order_by(Consignment.sent_on, ConsignmentPiece.id)
    )
    return tuple(Held(Hold.OUTWORK, sent_on, name) for name, sent_on in rows)


def _without_person(session: Session, tasks: list[Task]) -> tuple[Held, ...]:
    """Open tasks with a skill that nobody active has; a person without skills listed has them all."""
    people = session.scalars(sa.select(Staff.skills).where(Staff.active == True)).all()
    if not people or any(not skills for skills in people):
        return ()
    known = {skill for skills in people for skill in skills}
    return tuple(
        Held(Hold.PERSON, None, t.name) for t in tasks if t.done_share < 100 and not set(t.skills) <= known
    )


def _tags_out(session: Session, job_id: int) -> tuple[Held, ...]:
    rows = session.execute(
        sa.select(Tag.number, Tag.what).where(Tag.job_id == job_id, Tag.back_at.is_(None)).order_by(Tag.id)
    )
    return tuple(Held(Hold.PART, None, f"{number} {what}") for number, what in rows)


def _home_proof(session: Session, job: Job) -> bool:
    if job.gone_on is None:
        return False
    last = session.scalars(
        sa.select(Proof.result)
        .where(Proof.job_id == job.id, Proof.kind == "at-home")
        .order_by(Proof.at.desc(), Proof.id.desc())
        .limit(1)
    ).first()
    return last == proving.Result.MEETS.value
