"""What a range's log book says: how it came, what was done, with which parts, what was measured.

It goes to strangers. Nothing in it names a customer, a fitter of theirs or their house, no price stands in
it, and no text that a person typed freely (notes, complaints, captions) is taken over.
"""

import datetime as dt
from collections.abc import Sequence

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.documents.facts import LogBookFacts, LoggedJob, LoggedPart, LoggedProof, Photo, ReadingFacts
from shopdesk.domain.catalogue.model import Evidence
from shopdesk.domain.proof_forms.identity import FACTS
from shopdesk.domain.stage import Stage
from shopdesk.drawing import compose
from shopdesk.services import stages
from shopdesk.services.because import because
from shopdesk.services.papers.heads import gas_identity, range_facts, shop_head
from shopdesk.services.papers.living import cautions_at_home
from shopdesk.services.papers.log_settings import settings_of
from shopdesk.services.papers.proof_sheet import at_home, last_by_kind, proofs_of, readings_of
from shopdesk.services.papers.words import evidence_word, staff_name
from shopdesk.services.seat import Seat
from shopdesk.services.work_pictures import When, WorkPicture, pictures_of, printed_photos
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.proving import Proof
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.stores import Consignment, ConsignmentPiece, Need, Part, PartMovement
from shopdesk.storage.tables.walk import Observation, WalkRound
from shopdesk.storage.tables.work import Task, WorkOrder
from shopdesk.wording import say

_PICTURES = 6  # of each time
_EDGE = 640  # pixels; three stand beside each other


def log_book_facts(seat: Seat, session: Session, row: Range, number: str) -> LogBookFacts:
    pictures = pictures_of(seat, session, row.id)
    newest = row.jobs[-1]
    build = stages.build_of(newest)
    house = say("Supply at the house")
    return LogBookFacts(
        shop=shop_head(seat, session),
        number=number,
        day=seat.today,
        range=range_facts(row, seat.region),
        drawing=compose(build, "front"),
        gas=tuple(fact for fact in gas_identity(row, seat.region) if fact[0] != house),
        jobs=tuple(_job(seat, session, job, pictures) for job in row.jobs),
        at_home=at_home(seat, ()),
        cautions=cautions_at_home(seat.catalogue, build),
    )


def _job(seat: Seat, session: Session, job: Job, pictures: Sequence[WorkPicture]) -> LoggedJob:
    recorded = proofs_of(session, job.id)
    of_job = [picture for picture in pictures if picture.job_id == job.id]
    return LoggedJob(
        since=job.booked_in_on or job.opened_on,
        until=job.gone_on or job.ended_on,
        how_it_left=_left(seat, session, job),
        found=_found(seat, session, job.id),
        done=_done(seat, session, job.id),
        parts=_parts(seat, session, job.id),
        outside=_outside(session, job.id),
        settings=settings_of(seat, session, job, recorded),
        proofs=_proofs(seat, session, job, recorded),
        before=_photos(session, of_job, When.BEFORE),
        during=_photos(session, of_job, When.DURING),
        after=_photos(session, of_job, When.AFTER),
    )


def _left(seat: Seat, session: Session, job: Job) -> str:
    """Released or red-tagged, which the next owner has to know before anything else."""
    if job.red_tagged:
        return say(
            "It left disconnected and red-tagged: it must not be connected or lit before its proofs stand."
        )
    if job.stage in (Stage.DONOR, Stage.NOT_TAKEN, Stage.WITHDRAWN):
        return say("The work was not finished.")
    release = stages.last_release(session, job.id)
    if release is None or release.lapsed_at is not None:
        return say("It is not released: it must not be connected or lit before its proofs stand.")
    day = seat.region.day(seat.region.local_day(release.at))
    by = staff_name(session, release.staff_id)
    if not release.without:
        return say("Released by {name}, {day}. The release lapses when it is moved or a gas joint is opened.",
                   name=by, day=day)  # fmt: skip
    kinds = seat.catalogue.proofs
    names = ", ".join(kinds[code].name if code in kinds else code for code in release.without)
    return say(
        "Released by {name}, {day}, without {proofs}. The release lapses when it is moved or a gas joint is "
        "opened.",
        name=by, day=day, proofs=names,
    )  # fmt: skip


def _found(seat: Seat, session: Session, job_id: int) -> tuple[tuple[str, str], ...]:
    """What the first walk-round of a job found: how it came."""
    first = sa.select(sa.func.min(WalkRound.id)).where(WalkRound.job_id == job_id).scalar_subquery()
    rows = session.execute(
        sa.select(Observation.finding, Observation.evidence, Observation.extent)
        .where(Observation.walk_round_id == first, Observation.finding != "")
        .order_by(Observation.id)
    )
    return tuple(
        (_times(because(seat.catalogue, "finding", code), extent), evidence_word(Evidence(evidence)))
        for code, evidence, extent in rows
    )


def _done(seat: Seat, session: Session, job_id: int) -> tuple[tuple[dt.date, str], ...]:
    """Finished tasks in the order in which they were done."""
    tasks = [t for t in stages.tasks_of(session, job_id) if t.done_share == 100 and t.done_at is not None]
    ordered = sorted(tasks, key=lambda task: (task.done_at, task.place))
    return tuple(
        (seat.region.local_day(task.done_at), _times(task.name, task.count))
        for task in ordered
        if task.done_at is not None
    )


def _times(what: str, count: int) -> str:
    return what if count == 1 else say("{what}, {count} times", what=what, count=count)


def _parts(seat: Seat, session: Session, job_id: int) -> tuple[LoggedPart, ...]:
    """What was set aside for the job's tasks and not put back, with its day and where it came from."""
    count = -sa.func.sum(PartMovement.quantity)
    rows = session.execute(
        sa.select(Need.name, count, Part.condition, Range.number, sa.func.max(PartMovement.at))
        .select_from(PartMovement).join(Need, Need.id == PartMovement.need_id)
        .join(Part, Part.id == PartMovement.part_id).join(Task, Task.id == Need.task_id)
        .join(WorkOrder, WorkOrder.id == Task.work_order_id)
        .outerjoin(Range, Range.id == Part.from_range_id)
        .where(WorkOrder.job_id == job_id)
        .group_by(Need.id, Need.name, Part.id, Part.condition, Range.number)
        .having(count > 0).order_by(Need.id)
    )  # fmt: skip
    return tuple(
        LoggedPart(
            name=name, count=int(pieces), source=source_words(condition), day=seat.region.local_day(moved),
            donor=donor or "",
        )
        for name, pieces, condition, donor, moved in rows
    )  # fmt: skip


def source_words(condition: str) -> str:
    """Where a part came from."""
    return {
        "new": say("new"),
        "used": say("used"),
        "exchanged": say("exchanged, rebuilt"),
        "made": say("made in the shop"),
    }.get(condition, condition)


def _outside(session: Session, job_id: int) -> tuple[tuple[dt.date, str], ...]:
    """Pieces that came back from another trade, with their finish."""
    rows = session.execute(
        sa.select(ConsignmentPiece.back_on, ConsignmentPiece.name, ConsignmentPiece.finish, Party.trade)
        .join(Consignment, Consignment.id == ConsignmentPiece.consignment_id)
        .join(Party, Party.id == Consignment.firm_id)
        .join(Task, Task.id == ConsignmentPiece.task_id).join(WorkOrder, WorkOrder.id == Task.work_order_id)
        .where(WorkOrder.job_id == job_id, ConsignmentPiece.back_on.is_not(None))
        .order_by(ConsignmentPiece.back_on, ConsignmentPiece.id)
    )  # fmt: skip
    return tuple(
        (back_on, ", ".join(w for w in (name, finish, say(trade)) if w))
        for back_on, name, finish, trade in rows
        if back_on is not None
    )


def _proofs(seat: Seat, session: Session, job: Job, recorded: Sequence[Proof]) -> tuple[LoggedProof, ...]:
    """The proof of each kind that speaks now, in the order of proving; of one at a house the result only."""
    kinds = seat.catalogue.proofs
    lacking = {kind.code for kind in stages.proofs_missing(session, seat.catalogue, job)}
    last = [p for p in last_by_kind(recorded).values() if p.kind in kinds]
    return tuple(
        LoggedProof(
            name=kinds[proof.kind].name,
            result=proof.result,
            day=seat.region.local_day(proof.at),
            by=_by(seat, session, proof),
            instrument="" if kinds[proof.kind].at_home else proof.instrument,
            readings=() if kinds[proof.kind].at_home else _readings(proof),
            says=() if kinds[proof.kind].at_home else tuple(proof.says),
            limit=", ".join(word for word in (proof.limit_text, proof.limit_source) if word),
            again=proof.kind in lacking and proof.result == "meets",
        )
        for proof in sorted(last, key=lambda proof: kinds[proof.kind].order)
    )


def _by(seat: Seat, session: Session, proof: Proof) -> str:
    """Who made it: one of the shop; at the house a licensed fitter, who is not named."""
    if seat.catalogue.proofs[proof.kind].at_home:
        return say("a licensed fitter at the house")
    return staff_name(session, proof.staff_id)


def _readings(proof: Proof) -> tuple[ReadingFacts, ...]:
    """What was read, without what tells of an earlier owner's house or fitter."""
    left_out = {say(label) for name, label in FACTS if name == "house_gas"}
    left_out.add(say("Converted by, if the plate names another gas"))
    return tuple(r for r in readings_of(proof) if r.name not in left_out)


def _photos(session: Session, pictures: Sequence[WorkPicture], when: When) -> tuple[Photo, ...]:
    """The newest pictures of a time, under the trade's names of what they show."""
    of_time = [picture for picture in pictures if picture.when is when][-_PICTURES:]
    return printed_photos(session, of_time, own_words=False, edge=_EDGE)
