"""Proofs as they are made: the form for a range, what its readings amount to, and the record."""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain import measured
from shopdesk.domain.catalogue.model import ProofKind
from shopdesk.domain.curve import Curve, from_documents, to_document
from shopdesk.domain.instruments import Calibration
from shopdesk.domain.problem import NotFound, Problem
from shopdesk.domain.proof_forms.asked import Asked, Judged, ProofForm
from shopdesk.domain.proof_forms.forms import OnRange, form_of
from shopdesk.domain.proof_forms.identity import FACTS, NO_HOUSE
from shopdesk.domain.proving import Result
from shopdesk.domain.rights import Action
from shopdesk.domain.stage import Stage
from shopdesk.services import gas_identity, gas_tables, instruments, stages
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.proving import Instrument, Proof
from shopdesk.storage.tables.ranges import Job, Photograph, PhotographUse, Range
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import Region, say
from shopdesk.wording.bench_measures import limit_in_words, say_sentence, shown
from shopdesk.wording.guides import guide_in_units

_RANGE_FACTS = dict(
    zip((name for name, _ in FACTS), ("gas_on_plate", "spuds_found", "house_gas", "set_to_gas", "gas_label"),
        strict=True)
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Guide:
    """A proof to be made on one range: its form, and what is known already."""

    kind: ProofKind
    form: ProofForm
    known: Mapping[str, Any]
    range_number: str


@dataclass(frozen=True, slots=True)
class ProofPicture:
    """A picture taken while a proof was made; `thumbnail` is JPEG bytes."""

    id: int
    caption: str
    thumbnail: bytes


@dataclass(frozen=True, slots=True)
class ProofRecord:
    """One proof as it was made; `past_calibration` when an instrument's calibration had run out."""

    id: int
    kind: str
    name: str
    result: str
    at: dt.datetime
    by: str
    readings: tuple[tuple[str, str], ...]
    says: tuple[str, ...]
    curves: tuple[Curve, ...]
    instrument: str
    limit: str
    source: str
    signed_by: str
    note: str
    pictures: tuple[ProofPicture, ...]


@dataclass(frozen=True, slots=True)
class Proved:
    """The range that a job's proofs speak of."""

    job_id: int
    range_id: int
    number: str
    named: str
    gone: bool
    red_tagged: bool


def proved_range(seat: Seat, job_id: int) -> Proved:
    with seat.look() as session:
        job = _job(session, job_id)
        row = job.range
        name = " ".join(word for word in (row.maker, row.model) if word)
        return Proved(job_id, row.id, row.number, name, job.gone_on is not None, job.red_tagged)


def guide(seat: Seat, job_id: int, kind: str) -> Guide:
    """The form of a proof for this range, with what the shop knows already filled in."""
    with seat.look() as session:
        job = _job(session, job_id)
        known_kind = _kind(seat, kind)
        return Guide(known_kind, _form(job, known_kind), _known(job, kind), job.range.number)


def prove(
    seat: Seat,
    job_id: int,
    kind: str,
    values: Mapping[str, Any],
    *,
    seen: Result | None = None,
    with_instruments: Sequence[int] = (),
    signed_by: str = "",
    note: str = "",
    curves: Iterable[Curve] = (),
) -> int:
    """Writes one test down; the result is worked out from the readings.

    `seen`: the person's word, where an eye judges; figures that speak against it count. `curves`:
    what a logger drew. What does not meet stays on record, and a later test is a new line. A proof
    that does not meet takes a release back.
    """
    known = _kind(seat, kind)
    with seat.change(Action.PROVE) as work:
        job = _job(work.session, job_id)
        form = _form(job, known)
        given = {name: value for name, value in values.items() if value not in (None, "", ())}
        told = form.judge(given, measured.Result(seen.value.replace(" ", "_")) if seen else None)
        result = Result((told.result or measured.Result.CANNOT_TELL).value.replace("_", " "))
        _refuse_unsigned(known, job, result, signed_by)
        tools = instruments.used(work.session, with_instruments)
        drawn = tuple(curves) or told.curves
        row = work.add(
            Proof(
                job_id=job_id,
                kind=kind,
                at=work.now,
                staff_id=seat.acting.staff_id,
                result=result.value,
                readings=[list(pair) for pair in readings_in_words(form, given, seat.region)],
                figures={name: _plain(value) for name, value in given.items()},
                says=[*_warned(tools, seat.today), *(say_sentence(s, seat.region) for s in told.says)],
                curves=[to_document(curve) for curve in drawn],
                instruments=[tool.id for tool in tools],
                instrument=instruments.on_the_day(tools, seat.region, seat.today),
                limit_text=limits_in_words(told, known, seat.region),
                limit_source=sources_in_words(told, known),
                signed_by=signed_by.strip(),
                note=note.strip(),
            )
        )
        if kind == "gas-identity":
            _keep_facts(seat, work, job.range, given)
        work.session.flush()
        work.about(row, job_id)
        return row.id


def records(seat: Seat, job_id: int, kind: str = "") -> list[ProofRecord]:
    """What was proved on a job, oldest first."""
    query = (
        sa.select(Proof, Staff.name)
        .join(Staff, Staff.id == Proof.staff_id)
        .where(Proof.job_id == job_id)
        .order_by(Proof.at, Proof.id)
    )
    if kind:
        query = query.where(Proof.kind == kind)
    with seat.look() as session:
        pictures = _pictures(session, job_id)
        kinds = seat.catalogue.proofs
        return [
            ProofRecord(
                id=p.id,
                kind=p.kind,
                name=kinds[p.kind].name if p.kind in kinds else p.kind,
                result=p.result,
                at=p.at,
                by=by,
                readings=tuple((name, text) for name, text in p.readings),
                says=tuple(p.says),
                curves=from_documents(p.curves),
                instrument=p.instrument,
                limit=p.limit_text,
                source=p.limit_source,
                signed_by=p.signed_by,
                note=p.note,
                pictures=pictures.get(p.id, ()),
            )
            for p, by in session.execute(query)
        ]


def _pictures(session: Session, job_id: int) -> dict[int, tuple[ProofPicture, ...]]:
    found: dict[int, tuple[ProofPicture, ...]] = {}
    query = (
        sa.select(PhotographUse.proof_id, Photograph.id, PhotographUse.caption, Photograph.thumbnail)
        .join(Photograph, Photograph.id == PhotographUse.photograph_id)
        .join(Proof, Proof.id == PhotographUse.proof_id)
        .where(Proof.job_id == job_id)
        .order_by(PhotographUse.id)
    )
    for proof_id, key, caption, thumbnail in session.execute(query):
        found[proof_id or 0] = (*found.get(proof_id or 0, ()), ProofPicture(key, caption, thumbnail))
    return found


# ---- in words ------------------------------------------------------------------------------


def label_in_words(asked: Asked, region: Region) -> str:
    return say_sentence(asked.title, region)


def readings_in_words(form: ProofForm, values: Mapping[str, Any], region: Region) -> list[tuple[str, str]]:
    """Each reading that was given, by its label, in the shop's units."""
    return [
        (label_in_words(asked, region), value_in_words(asked, values[asked.name], region))
        for asked in form.fields
        if values.get(asked.name) is not None
    ]


def value_in_words(asked: Asked, value: Any, region: Region) -> str:
    if asked.kind == "number":
        return shown(float(value), asked.quantity, region)
    if asked.kind == "choice":
        return say(dict(asked.choices).get(value, str(value)))
    if asked.kind == "tick":
        return say("yes") if value else say("no")
    if asked.kind == "pairs":
        return ", ".join(
            f"{shown(float(one), asked.quantity, region)} / {shown(float(other), asked.second, region)}"
            for one, other in value
        )
    return str(value)


def limits_in_words(told: Judged, kind: ProofKind, region: Region) -> str:
    """The limits the readings were held against; what the catalogue says where there are none."""
    stated = [
        say("{what}: {figure}", what=say(limit.what), figure=limit_in_words(limit, region))
        for limit in told.limits
        if limit.unit
    ]
    return "; ".join(stated) or guide_in_units(kind.meets, region)


def sources_in_words(told: Judged, kind: ProofKind) -> str:
    stated = [say(limit.source) for limit in told.limits if limit.unit]
    return "; ".join(dict.fromkeys(stated)) or kind.basis


def told_in_words(told: Judged, region: Region) -> tuple[str, ...]:
    return tuple(say_sentence(each, region) for each in told.says)


# ---- inside --------------------------------------------------------------------------------


def _kind(seat: Seat, kind: str) -> ProofKind:
    if kind not in seat.catalogue.proofs:
        raise NotFound("There is no proof called {kind}.", kind=kind)
    return seat.catalogue.proofs[kind]


def _job(session: Session, job_id: int) -> Job:
    job = session.get(Job, job_id)
    if job is None:
        raise NotFound("There is no job {key} in this shop.", key=job_id)
    return job


def _form(job: Job, kind: ProofKind) -> ProofForm:
    row = job.range
    on = OnRange(
        stages.build_of(job),
        gas_tables.gases(),
        set_to=gas_tables.gas_code(row.set_to_gas),
        unsold=stages.unsold(job),
    )
    return form_of(kind, on)


def _known(job: Job, kind: str) -> dict[str, Any]:
    if kind != "gas-identity":
        return {}
    row = job.range
    found = {name: gas_tables.gas_code(getattr(row, column)) for name, column in _RANGE_FACTS.items()}
    if stages.unsold(job) and not row.house_gas.strip():
        found["house_gas"] = NO_HOUSE
    return {name: code for name, code in found.items() if code}


def _refuse_unsigned(kind: ProofKind, job: Job, result: Result, signed_by: str) -> None:
    if not kind.at_home:
        return
    if job.gone_on is None:
        raise Problem(
            "{number} is still here; the proof at home is made where it stands.", number=job.range.number
        )
    if job.ended_as in (Stage.WITHDRAWN.value, Stage.NOT_TAKEN.value):
        raise Problem("The job on {number} has ended; there is nothing to prove.", number=job.range.number)
    if result is Result.MEETS and not signed_by.strip():
        raise Problem(
            "The proof at home is signed by the licensed fitter. Write the fitter's name.", field="signed_by"
        )


def _warned(tools: Sequence[Instrument], day: dt.date) -> list[str]:
    return [
        say("{name} was past its calibration on the day.", name=tool.name)
        for tool in tools
        if Calibration(tool.calibration_due).past(day)
    ]


def _keep_facts(seat: Seat, work: UnitOfWork, row: Range, values: Mapping[str, Any]) -> None:
    """What was found at the range is what the shop knows of its gas from now on."""
    for name, column in _RANGE_FACTS.items():
        code = values.get(name)
        if code and code != NO_HOUSE:
            setattr(row, column, say(gas_tables.gases()[code].name))
    work.session.flush()
    gas_identity.file_for_range(seat, work, row)


def _plain(value: Any) -> Any:
    return [list(pair) for pair in value] if isinstance(value, tuple | list) else value
