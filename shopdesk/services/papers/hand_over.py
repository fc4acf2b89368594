"""The hand-over sheet: goes with a range to its kitchen."""

from collections.abc import Callable, Sequence

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.documents.facts import HandOverFacts, PartyFacts, Piece
from shopdesk.domain.problem import Problem
from shopdesk.domain.proof_forms.identity import FACTS
from shopdesk.domain.proof_forms.oven import SETTINGS_F, cycles_field, thermostat
from shopdesk.services import settings, stages, walks
from shopdesk.services.papers.completeness import with_it
from shopdesk.services.papers.heads import gas_identity, party_facts, range_facts, shop_head
from shopdesk.services.papers.living import cautions_at_home, living_with_it
from shopdesk.services.papers.proof_sheet import at_home, last_by_kind, proofs_of, readings_of, standing_of
from shopdesk.services.papers.words import shortened
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice, Paper
from shopdesk.storage.tables.proving import Proof
from shopdesk.storage.tables.ranges import Job
from shopdesk.wording import Region, say
from shopdesk.wording.bench_measures import say_sentence

_WORK = ("repair", "refit")
_LINES = 24  # of work done; the invoice has them all


def hand_over_facts(seat: Seat, session: Session, job: Job, number: str) -> HandOverFacts:
    build = stages.build_of(job)
    texts = settings.read(session, settings.Texts)
    recorded = proofs_of(session, job.id)
    return HandOverFacts(
        shop=shop_head(seat, session),
        number=number,
        day=job.gone_on or seat.today,
        customer=_receiver(job),
        range=range_facts(job.range, seat.region),
        standing=standing_of(seat, session, job),
        handed_by=seat.acting.name,
        gas=gas_identity(job.range, seat.region),
        settings=_settings(seat, recorded),
        work_done=_work_done(session, job.id),
        pieces=_pieces(seat, session, job),
        proofs=_proofs(seat, session, job, recorded),
        at_home=at_home(seat, recorded),
        living_with_it=living_with_it(build, red_tagged=job.red_tagged),
        cautions=cautions_at_home(seat.catalogue, build),
        warranty=(texts.warranty,) if texts.warranty else (),
        proof_sheet=_last_paper(session, job.id, "proof sheet"),
        invoice=_last_invoice(session, job.id),
    )


def _receiver(job: Job) -> PartyFacts:
    """The customer; for a range of the shop's own the buyer it was sold to."""
    receiver = job.customer or job.range.owner
    if receiver is None:
        raise Problem(
            "{number} is the shop's own and not sold. Write its invoice first, then hand it over.",
            number=job.range.number,
        )
    return party_facts(receiver)


def _settings(seat: Seat, recorded: Sequence[Proof]) -> tuple[tuple[str, str], ...]:
    """The pressures that were read, and what the oven comes to at each setting of its dial."""
    last, kinds = last_by_kind(recorded), seat.catalogue.proofs
    rows = []
    if "gas-identity" in kinds and "gas-identity" in last:
        rows.append((kinds["gas-identity"].name, pressures(last["gas-identity"])))
    if "thermostat" in kinds and "thermostat" in last:
        rows.append((kinds["thermostat"].name, oven_settings(last["thermostat"], seat.region)))
    return tuple(row for row in rows if row[1])


def pressures(proof: Proof) -> str:
    """The five facts of the gas stand above already."""
    facts = {say(label) for _, label in FACTS}
    return _read(proof, lambda name: name not in facts)


def oven_settings(proof: Proof, region: Region) -> str:
    """Dial and mean, worked out again from the cycles on record."""
    if not any(proof.figures.get(cycles_field(set_f)) for set_f in SETTINGS_F):
        return _read(proof, lambda _name: True)
    told = thermostat().judge(proof.figures).says
    return " ".join(say_sentence(each, region) for each in told if "{mean}" in each.text)


def _read(proof: Proof, wanted: Callable[[str], bool]) -> str:
    return "; ".join(f"{r.name}: {r.value}" for r in readings_of(proof) if wanted(r.name))


def _work_done(session: Session, job_id: int) -> tuple[str, ...]:
    done = (t for t in stages.tasks_of(session, job_id) if t.stage in _WORK and t.done_share == 100)
    return shortened((t.name if t.count == 1 else f"{t.name} × {t.count}" for t in done), _LINES)


def _pieces(seat: Seat, session: Session, job: Job) -> tuple[Piece, ...]:
    walk = walks.newest(session, job.id)
    return with_it(seat.catalogue, walk.accessories) if walk is not None else ()


def _proofs(seat: Seat, session: Session, job: Job, recorded: Sequence[Proof]) -> tuple[tuple[str, str], ...]:
    """Each proof made or due with its last result; what work has made due again says so."""
    last = last_by_kind(recorded)
    lacking = {kind.code for kind in stages.proofs_missing(session, seat.catalogue, job)}
    due = {kind.code for kind in stages.proofs_due(session, seat.catalogue, job)}
    kinds = [k for k in seat.catalogue.proofs.values() if k.code in due or k.code in last]
    rows = []
    for kind in sorted(kinds, key=lambda k: k.order):
        proof = last.get(kind.code)
        if proof is None:
            rows.append((kind.name, say("not made")))
            continue
        day = seat.region.day(seat.region.local_day(proof.at))
        told = say("{result}, {day}", result=say(proof.result), day=day)
        if kind.code in lacking and proof.result == "meets":
            told = say("{result}; due again since", result=told)
        rows.append((kind.name, told))
    return tuple(rows)


def _last_paper(session: Session, job_id: int, kind: str) -> str:
    query = sa.select(Paper.number).where(Paper.job_id == job_id, Paper.kind == kind)
    return session.scalar(query.order_by(Paper.id.desc()).limit(1)) or ""


def _last_invoice(session: Session, job_id: int) -> str:
    """The newest invoice that no credit corrects."""
    corrected = sa.select(Invoice.corrects_id).where(Invoice.corrects_id.is_not(None))
    query = sa.select(Invoice.number).where(
        Invoice.job_id == job_id,
        Invoice.kind == "invoice",
        Invoice.number.is_not(None),
        Invoice.id.not_in(corrected),
    )
    return session.scalar(query.order_by(Invoice.id.desc()).limit(1)) or ""
