"""The proof sheet, and where a range stands with its proofs, as other papers repeat it."""

import datetime as dt
from collections.abc import Sequence

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.documents.facts import ProofFacts, ProofSheetFacts, ReadingFacts, SignedWithout, Standing
from shopdesk.documents.facts.condition import Photo
from shopdesk.domain.catalogue.model import ProofKind
from shopdesk.domain.curve import from_documents, over_earlier
from shopdesk.domain.proving import Result
from shopdesk.drawing.chart import Chart, chart_of
from shopdesk.services import stages
from shopdesk.services.papers.heads import gas_identity, party_facts, range_facts, shop_head
from shopdesk.services.papers.words import cautions_for, staff_name
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.proving import Proof, Release
from shopdesk.storage.tables.ranges import Job, Photograph, PhotographUse
from shopdesk.wording import say
from shopdesk.wording.guides import guide_in_units

_GRAVE = frozenset({"gas", "flame", "carbon-monoxide", "mains"})  # the bench's own are on the traveller


def proof_sheet_facts(seat: Seat, session: Session, job: Job, number: str) -> ProofSheetFacts:
    recorded = proofs_of(session, job.id)
    due = stages.proofs_due(session, seat.catalogue, job)
    hazards = {code for kind in due for code in kind.hazards if code in _GRAVE}
    return ProofSheetFacts(
        shop=shop_head(seat, session),
        number=number,
        day=seat.today,
        range=range_facts(job.range, seat.region),
        customer=party_facts(job.customer) if job.customer else None,
        gas=gas_identity(job.range, seat.region),
        proofs=tuple(_in_order_of_proving(seat, session, job, recorded)),
        standing=standing_of(seat, session, job),
        at_home=at_home(seat, recorded),
        cautions=tuple((f"{c.name}. {c.text}", c.defer_to) for c in cautions_for(seat.catalogue, hazards)),
    )


def standing_of(seat: Seat, session: Session, job: Job) -> Standing:
    """What does not stand, what was signed away, and whose word the range leaves on."""
    release = stages.last_release(session, job.id)
    given = release if release is not None and release.lapsed_at is None else None
    signed: dict[str, str] = dict(given.without) if given else {}
    lacking = [k for k in stages.proofs_missing(session, seat.catalogue, job) if k.code not in signed]
    by = staff_name(session, given.staff_id) if given else ""
    return Standing(
        red_tagged=job.red_tagged,
        missing=tuple(kind.name for kind in lacking),
        signed_without=tuple(_signed(seat, code, reason, by, given) for code, reason in signed.items()),
        released_by=by,
        released_at=seat.region.instant(given.at) if given else "",
        not_released="" if given else _not_released(release),
    )


def proofs_of(session: Session, job_id: int) -> list[Proof]:
    """Every proof recorded for a job, oldest first."""
    return list(session.scalars(sa.select(Proof).where(Proof.job_id == job_id).order_by(Proof.at, Proof.id)))


def last_by_kind(recorded: Sequence[Proof]) -> dict[str, Proof]:
    """The proof of each kind that speaks now; an earlier one stays on record."""
    return {proof.kind: proof for proof in recorded}


def at_home(seat: Seat, recorded: Sequence[Proof]) -> tuple[str, ...]:
    """The proofs still to be made where the range is connected, each with how."""
    last = last_by_kind(recorded)
    return tuple(
        f"{kind.name}. {guide_in_units(kind.how, seat.region)}"
        for kind in sorted(seat.catalogue.proofs.values(), key=lambda k: k.order)
        if kind.at_home and (kind.code not in last or last[kind.code].result != Result.MEETS.value)
    )


def _not_released(release: Release | None) -> str:
    if release is None:
        return say("The owner has not released it.")
    return say("The owner's release has lapsed: {because}.", because=release.lapsed_because or "?")


def _signed(seat: Seat, code: str, reason: str, by: str, release: Release | None) -> SignedWithout:
    assert release is not None, "only a release is signed"
    kind = seat.catalogue.proofs.get(code)
    return SignedWithout(kind.name if kind else code, reason, by, seat.region.local_day(release.at))


def _in_order_of_proving(
    seat: Seat, session: Session, job: Job, recorded: Sequence[Proof]
) -> list[ProofFacts]:
    kinds = seat.catalogue.proofs
    last = last_by_kind(recorded)
    lacking = {kind.code for kind in stages.proofs_missing(session, seat.catalogue, job)}

    def place(proof: Proof) -> tuple[int, dt.datetime, int]:
        order = kinds[proof.kind].order if proof.kind in kinds else len(kinds) + 1
        return order, proof.at, proof.id

    pictures = _pictures(session, [proof.id for proof in recorded])
    return [
        _facts(
            seat,
            job,
            proof,
            kinds.get(proof.kind),
            by=staff_name(session, proof.staff_id),
            superseded=last[proof.kind] is not proof,
            due_again=proof.kind in lacking and proof.result == Result.MEETS.value,
            pictures=pictures.get(proof.id, ()),
            before=_before(proof, recorded),
        )
        for proof in sorted(recorded, key=place)
    ]


def _facts(
    seat: Seat,
    job: Job,
    proof: Proof,
    kind: ProofKind | None,
    *,
    by: str,
    superseded: bool,
    due_again: bool,
    pictures: tuple[Photo, ...],
    before: Proof | None,
) -> ProofFacts:
    note = proof.note
    if due_again and not superseded:
        note = " ".join(w for w in (note, _why_again(proof, job)) if w)
    return ProofFacts(
        name=kind.name if kind else proof.kind,
        result=proof.result,  # type: ignore[arg-type]  # the database checks the words
        readings=readings_of(proof),
        instrument=proof.instrument,
        by=by,
        at=seat.region.instant(proof.at),
        limit=proof.limit_text,
        source=proof.limit_source,
        how=guide_in_units(kind.how, seat.region) if kind else "",
        note=note,
        signed_by=proof.signed_by,
        superseded=superseded,
        says=tuple(proof.says),
        charts=() if superseded else _charts(seat, proof, before),
        pictures=pictures,
    )


def _why_again(proof: Proof, job: Job) -> str:
    if proof.kind == "gas-identity" and stages.gases_differ(job.range):
        return say("The house is known now to have another gas; this proof is due again.")
    return say("Work done after it made this proof due again.")


def _charts(seat: Seat, proof: Proof, before: Proof | None) -> tuple[Chart, ...]:
    """The curves of a proof, each over the one from before where there is one."""
    earlier = from_documents(before.curves) if before else ()
    drawn = (over_earlier(curve, earlier) for curve in from_documents(proof.curves))
    return tuple(chart_of(curve, seat.region) for curve in drawn)


def _before(proof: Proof, recorded: Sequence[Proof]) -> Proof | None:
    """The proof of the same kind made before this one, if it drew a curve."""
    earlier = [p for p in recorded if p.kind == proof.kind and p.id < proof.id and p.curves]
    return earlier[-1] if earlier else None


def _pictures(session: Session, keys: Sequence[int]) -> dict[int, tuple[Photo, ...]]:
    found: dict[int, tuple[Photo, ...]] = {}
    query = (
        sa.select(PhotographUse.proof_id, PhotographUse.caption, Photograph.thumbnail)
        .join(Photograph, Photograph.id == PhotographUse.photograph_id)
        .where(PhotographUse.proof_id.in_(keys))
        .order_by(PhotographUse.id)
    )
    for proof_id, caption, picture in session.execute(query):
        found[proof_id or 0] = (*found.get(proof_id or 0, ()), Photo(picture, caption))
    return found


def readings_of(proof: Proof) -> tuple[ReadingFacts, ...]:
    """What was read, in the order in which it was asked."""
    return tuple(ReadingFacts(name, str(value)) for name, value in proof.readings)
