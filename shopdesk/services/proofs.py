"""Where proofs stand, and releases: the owner's word that they do. `proving` makes a proof."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

import sqlalchemy as sa

from shopdesk.domain import proving
from shopdesk.domain.problem import Problem
from shopdesk.domain.proving import Result
from shopdesk.domain.rights import Action
from shopdesk.services import stage_facts, stages, tags
from shopdesk.services.papers.keeping import keep_paper
from shopdesk.services.papers.proof_sheet import proof_sheet_facts
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.proving import Proof, Release
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.shop import Staff
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class ProofDue:
    """One proof a job needs, and where it stands: `missing`, `meets`, `does not meet`, ..."""

    code: str
    name: str
    how: str
    meets: str
    basis: str
    readings: tuple[str, ...]
    hazards: tuple[str, ...]
    signable: bool
    stands: bool
    last_result: str  # empty when never done
    last_at: dt.datetime | None


@dataclass(frozen=True, slots=True)
class ReleaseState:
    """Whether the owner's word stands for a job."""

    given: bool
    lapsed_because: str
    by: str
    at: dt.datetime | None
    missing: tuple[str, ...]
    blocking: tuple[str, ...]  # those nobody can sign for
    without: tuple[tuple[str, str], ...] = ()  # signed for by the owner: name and reason


def proofs_due(seat: Seat, job_id: int) -> list[ProofDue]:
    """The proofs of a job in the order of proving, each with where it stands."""
    with seat.look() as session:
        job = session.get_one(Job, job_id)
        due = sorted(stages.proofs_due(session, seat.catalogue, job), key=lambda k: k.order)
        if job.gone_on is not None:
            due += [k for k in seat.catalogue.proofs.values() if k.at_home]
        missing = {k.code for k in stages.proofs_missing(session, seat.catalogue, job)}
        last: dict[str, Proof] = {}
        for row in session.scalars(
            sa.select(Proof).where(Proof.job_id == job_id).order_by(Proof.at, Proof.id)
        ):
            last[row.kind] = row
    return [
        ProofDue(
            k.code,
            k.name,
            k.how,
            k.meets,
            k.basis,
            k.readings,
            k.hazards,
            k.signable,
            stands=last[k.code].result == Result.MEETS.value
            if k.at_home and k.code in last
            else k.code not in missing and k.code in last,
            last_result=last[k.code].result if k.code in last else "",
            last_at=last[k.code].at if k.code in last else None,
        )
        for k in due
    ]


def release(seat: Seat, job_id: int, *, without: Mapping[str, str] | None = None) -> None:
    """The owner's word that the proofs stand.

    `without`: lesser proofs the owner signs for, each with a reason that prints. Tightness,
    carbon monoxide, safety shut-off, gas identity and electrical proofs cannot be signed away.
    """
    reasons = {code: reason.strip() for code, reason in (without or {}).items()}
    for code, reason in reasons.items():
        if not reason:
            raise Problem(
                "Signing a release without “{proof}” needs a reason; it prints.", proof=_name(seat, code)
            )
    with seat.change(Action.RELEASE) as work:
        job = work.get(Job, job_id, "job")
        facts = stage_facts.facts(work.session, seat.catalogue, job)
        if not facts.work_done:
            raise Problem(
                "The work on {number} is not finished; it cannot be released.", number=job.range.number
            )
        tags.refuse_while_out(work.session, job)
        lacking = stages.proofs_missing(work.session, seat.catalogue, job)
        blocking = proving.unsigned(lacking, reasons)
        if blocking:
            raise Problem(
                "{number} cannot be released: {proofs} not proved. Prove them, or let it leave "
                "disconnected and red-tagged.",
                number=job.range.number,
                proofs=", ".join(k.name for k in blocking),
            )
        used = {k.code: reasons[k.code] for k in lacking}
        row = work.add(Release(job_id=job_id, at=work.now, staff_id=seat.acting.staff_id, without=used))
        work.session.flush()
        work.about(row, job_id)


def release_state(seat: Seat, job_id: int) -> ReleaseState:
    with seat.look() as session:
        job = session.get_one(Job, job_id)
        lacking = stages.proofs_missing(session, seat.catalogue, job)
        row = stages.last_release(session, job_id)
        by = session.get_one(Staff, row.staff_id).name if row else ""
        return ReleaseState(
            given=row is not None and row.lapsed_at is None,
            lapsed_because=row.lapsed_because if row else "",
            by=by,
            at=row.at if row else None,
            missing=tuple(k.name for k in lacking),
            blocking=tuple(k.name for k in lacking if not k.signable),
            without=_signed(seat, row) if row else (),
        )


def _signed(seat: Seat, release: Release) -> tuple[tuple[str, str], ...]:
    return tuple((_name(seat, code), reason) for code, reason in release.without.items())


def _name(seat: Seat, code: str) -> str:
    kinds = seat.catalogue.proofs
    return kinds[code].name if code in kinds else code


def print_proof_sheet(seat: Seat, job_id: int) -> str:
    """Issues the proof sheet as things stand; returns its number."""
    with seat.change(Action.PRINT) as work:
        job = work.get(Job, job_id, "job")
        number = work.take_number("proof sheet")
        facts = proof_sheet_facts(seat, work.session, job, number)
        title = say("Proof sheet {number}", number=number)
        paper = keep_paper(work, "proof sheet", number, title, facts, job_id=job_id, party_id=job.customer_id)
        work.about(paper, job_id)
        return number
