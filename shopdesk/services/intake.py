"""A range comes into the shop's sight: looked over, booked in, described, photographed."""

import datetime as dt
from dataclasses import asdict, dataclass, field

import sqlalchemy as sa

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Purpose, Scope
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.stage import Stage
from shopdesk.exchange.pictures import Picture
from shopdesk.services import gas_identity
from shopdesk.services.planning import promises
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.bench import Tag
from shopdesk.storage.tables.counter import Agreement
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.proving import Proof
from shopdesk.storage.tables.ranges import Job, Photograph, PhotographUse, Range
from shopdesk.storage.tables.walk import Observation
from shopdesk.storage.tables.work import Task
from shopdesk.storage.unit_of_work import UnitOfWork


@dataclass(frozen=True, slots=True, kw_only=True)
class RangeDraft:
    """What is written down of a range itself."""

    maker: str = ""
    model: str = ""
    serial: str = ""
    colour: str = ""
    made_about: str = ""
    gas_on_plate: str = ""
    spuds_found: str = ""
    house_gas: str = ""
    house_pressure_inwc: str = ""
    set_to_gas: str = ""
    gas_label: str = ""
    width_in: str = ""
    weight_lb: str = ""
    depth_in: str = ""
    height_in: str = ""
    door_in: str = ""
    opening_in: str = ""
    stairs: str = ""
    stands_at: str = ""
    note: str = ""
    build: Build = field(default_factory=Build)


@dataclass(frozen=True, slots=True, kw_only=True)
class JobDraft:
    """What is to be done with it, and for whom (`customer_id` None: for the shop itself)."""

    customer_id: int | None = None
    purpose: Purpose = Purpose.FULL
    scope: Scope = Scope.MECHANICAL
    complaint: str = ""
    asking_cents: int | None = None
    promised_on: dt.date | None = None


@dataclass(frozen=True, slots=True)
class Taken:
    """The keys of what was written down."""

    range_id: int
    job_id: int
    number: str


def take_on(seat: Seat, range_: RangeDraft, job: JobDraft, *, booked_in: bool = True) -> Taken:
    """A new range with its first job; not `booked_in` is a range looked at elsewhere."""
    with seat.change(Action.BOOK_IN) as work:
        return write_down(seat, work, range_, job, booked_in=booked_in)


def write_down(seat: Seat, work: UnitOfWork, range_: RangeDraft, job: JobDraft, *, booked_in: bool) -> Taken:
    """A new range with its first job, in a unit of work that does more."""
    _check(job)
    if job.customer_id is not None:
        work.get(Party, job.customer_id, "customer")
    row = work.add(Range(number=work.take_number("range"), owner_id=job.customer_id))
    _describe(row, range_)
    work.session.flush()
    opened = work.add(_open_job(seat, row.id, job, booked_in))
    work.session.flush()
    promises.record(seat, work, opened, job.promised_on, "")
    work.about(row, opened.id)
    return Taken(row.id, opened.id, row.number)


def book_in(seat: Seat, job_id: int, on: dt.date | None = None) -> None:
    """A range that was only looked at has arrived."""
    with seat.change(Action.BOOK_IN) as work:
        job = work.get(Job, job_id, "job")
        if job.booked_in_on is not None:
            raise Problem("{number} was booked in already.", number=job.range.number)
        job.booked_in_on = on or seat.today
        work.about(job, job.id)


def buy(seat: Seat, job_id: int, price_cents: int) -> None:
    """The shop buys a range it looked at; it is the shop's from now on."""
    if price_cents < 0:
        raise Problem("A price is zero or more.", field="price")
    with seat.change(Action.DECIDE) as work:
        job = work.get(Job, job_id, "job")
        job.bought_cents = price_cents
        job.customer_id = job.range.owner_id = None
        job.booked_in_on = job.booked_in_on or seat.today
        work.about(job, job.id)


def comeback(seat: Seat, range_id: int, job: JobDraft) -> Taken:
    """A range that was here before comes again: a new job on the same range."""
    with seat.change(Action.BOOK_IN) as work:
        return come_again(seat, work, range_id, job)


def come_again(seat: Seat, work: UnitOfWork, range_id: int, job: JobDraft) -> Taken:
    """A new job on a range that was here before, in a unit of work that does more."""
    _check(job)
    row = work.get(Range, range_id, "range")
    if any(j.stage not in _CLOSED for j in row.jobs):
        raise Problem("{number} still has an open job. Finish or end it first.", number=row.number)
    if job.customer_id is not None:
        row.owner_id = work.get(Party, job.customer_id, "customer").id
    opened = work.add(_open_job(seat, row.id, job, True))
    work.session.flush()
    promises.record(seat, work, opened, job.promised_on, "")
    work.about(opened, opened.id)
    return Taken(row.id, opened.id, row.number)


def describe(seat: Seat, range_id: int, draft: RangeDraft) -> None:
    """Corrects what is written down of a range."""
    with seat.change(Action.BOOK_IN) as work:
        row = work.get(Range, range_id, "range")
        _describe(row, draft)
        work.session.flush()
        gas_identity.file_for_range(seat, work, row)
        work.about(row, row.jobs[-1].id if row.jobs else None)


def described(seat: Seat, range_id: int) -> RangeDraft:
    """What is written down of a range, to be corrected."""
    with seat.look() as session:
        row = session.get_one(Range, range_id)
        texts = {n: getattr(row, n) for n in RangeDraft.__dataclass_fields__ if n != "build"}
        return RangeDraft(**texts, build=Build(**row.build))


def end_job(seat: Seat, job_id: int, as_: Stage, why: str) -> None:
    """Ends a job without finishing it: kept as donor, not taken, or withdrawn by the customer."""
    if as_ not in (Stage.DONOR, Stage.NOT_TAKEN, Stage.WITHDRAWN):
        raise Problem("A job ends as donor, not taken or withdrawn.", field="as")
    with seat.change(Action.WITHDRAW) as work:
        job = work.get(Job, job_id, "job")
        if job.gone_on is not None:
            raise Problem("{number} has left already; its job cannot be ended.", number=job.range.number)
        job.ended_as, job.ended_on, job.ended_why = as_.value, seat.today, why.strip()
        work.about(job, job.id)


def attach_photograph(
    seat: Seat,
    range_id: int,
    picture: Picture,
    *,
    observation_id: int | None = None,
    task_id: int | None = None,
    agreement_id: int | None = None,
    tag_id: int | None = None,
    proof_id: int | None = None,
    caption: str = "",
) -> int:
    """Keeps a picture (once, by its SHA-256) and says where it belongs; returns its key."""
    with seat.change(Action.KEEP_STORES) as work:
        row = work.get(Range, range_id, "range")
        kept = keep_picture(work, picture)
        if observation_id is not None:
            work.get(Observation, observation_id, "finding")
        if task_id is not None:
            work.get(Task, task_id, "task")
        if agreement_id is not None:
            work.get(Agreement, agreement_id, "agreement")
        if tag_id is not None:
            work.get(Tag, tag_id, "tag")
        if proof_id is not None:
            work.get(Proof, proof_id, "proof")
        work.session.flush()
        use = work.add(
            PhotographUse(
                photograph_id=kept.id,
                range_id=row.id,
                observation_id=observation_id,
                task_id=task_id,
                agreement_id=agreement_id,
                tag_id=tag_id,
                proof_id=proof_id,
                caption=caption.strip(),
            )
        )
        work.session.flush()
        work.about(use, row.jobs[-1].id if row.jobs else None)
        return kept.id


def keep_picture(work: UnitOfWork, picture: Picture) -> Photograph:
    """A picture kept once by its SHA-256, in a unit of work that says where it belongs."""
    kept = work.session.scalar(sa.select(Photograph).where(Photograph.sha256 == picture.sha256))
    if kept is None:
        kept = work.add(
            Photograph(
                sha256=picture.sha256,
                media_type=picture.media_type,
                width=picture.width,
                height=picture.height,
                taken_in_at=work.now,
                data=picture.data,
                thumbnail=picture.thumbnail,
            )
        )
        work.session.flush()
    return kept


def photograph(seat: Seat, photograph_id: int, *, small: bool = False) -> bytes:
    """A kept picture's JPEG bytes."""
    with seat.look() as session:
        row = session.get_one(Photograph, photograph_id)
        return row.thumbnail if small else row.data


_SIZES = ("house_pressure_inwc", "width_in", "depth_in", "height_in", "weight_lb", "door_in", "opening_in")
_LARGEST = 10_000

_CLOSED = {
    Stage.SETTLED.value,
    Stage.GONE.value,
    Stage.NOT_TAKEN.value,
    Stage.WITHDRAWN.value,
    Stage.DONOR.value,
}


def _check(job: JobDraft) -> None:
    if job.asking_cents is not None and job.asking_cents < 0:
        raise Problem("An asking price is zero or more.", field="asking")


def _check_sizes(draft: RangeDraft) -> None:
    """A size is above zero, a count of steps zero or more; words in place of a number stay words."""
    for name in (*_SIZES, "stairs"):
        try:
            number = float(getattr(draft, name))
        except ValueError:
            continue
        if not 0 <= number < _LARGEST or (number == 0 and name != "stairs"):
            raise Problem(
                "{size} is no size of a range or its way. Measure again, or leave it empty.",
                field=name,
                size=getattr(draft, name),
            )


def _describe(row: Range, draft: RangeDraft) -> None:
    _check_sizes(draft)
    for name in RangeDraft.__dataclass_fields__:
        if name != "build":
            setattr(row, name, getattr(draft, name).strip())
    row.build = asdict(draft.build)


def _open_job(seat: Seat, range_id: int, draft: JobDraft, booked_in: bool) -> Job:
    return Job(
        range_id=range_id,
        customer_id=draft.customer_id,
        opened_on=seat.today,
        purpose=draft.purpose.value,
        scope=draft.scope.value,
        complaint=draft.complaint.strip(),
        asking_cents=draft.asking_cents,
        booked_in_on=seat.today if booked_in else None,
    )
