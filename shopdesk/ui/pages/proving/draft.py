"""A range's proofs without widgets: where each stands in words, what comes next, what a form leads to."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from shopdesk.domain import measured
from shopdesk.domain.catalogue.model import Catalogue
from shopdesk.domain.curve import Curve
from shopdesk.domain.instruments import measured_with
from shopdesk.domain.problem import Problem
from shopdesk.domain.proof_forms.asked import Judged, ProofForm, room_stop
from shopdesk.domain.proving import Result
from shopdesk.services import instruments, proofs, proving
from shopdesk.services.instruments import InstrumentRow
from shopdesk.services.proofs import ProofDue, ReleaseState
from shopdesk.services.proving import ProofRecord
from shopdesk.services.seat import Seat
from shopdesk.wording import Region
from shopdesk.wording.bench_measures import say_problem_in, say_sentence


@dataclass(frozen=True, slots=True)
class Room:
    """What the page shows of a job. `others`: proofs that are not due but may be made."""

    job_id: int
    range_id: int
    number: str
    named: str
    gone: bool
    red_tagged: bool
    due: tuple[ProofDue, ...]
    others: tuple[tuple[str, str], ...]
    release: ReleaseState
    records: tuple[ProofRecord, ...]
    instruments: tuple[InstrumentRow, ...]


def read_room(seat: Seat, job_id: int) -> Room:
    found = proving.proved_range(seat, job_id)
    due = tuple(proofs.proofs_due(seat, job_id))
    codes = {p.code for p in due}
    others = tuple(
        (k.code, k.name) for k in seat.catalogue.proofs.values() if k.code not in codes and not k.at_home
    )
    return Room(
        job_id, found.range_id, found.number, found.named, found.gone, found.red_tagged, due, others,
        proofs.release_state(seat, job_id), tuple(proving.records(seat, job_id)),
        tuple(instruments.instruments(seat)),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Live:
    """What the readings typed so far amount to; `missing` says what is still wanted."""

    result: str
    says: tuple[str, ...]
    missing: str
    stop: str
    curves: tuple[Curve, ...]


def live(form: ProofForm, values: Mapping[str, Any], seen: Result | None, region: Region) -> Live:
    """The judgement of what can be read by now, never a refusal."""
    stop = room_stop(values)
    if stop is not None:
        return Live(Result.DOES_NOT_MEET.value, (), "", say_sentence(stop, region), ())
    word = measured.Result(seen.value.replace(" ", "_")) if seen else None
    try:
        told = form.judge(values, word)
    except Problem as problem:
        return Live("", (), say_problem_in(problem, region), "", ())
    return _told(told, region)


def _told(told: Judged, region: Region) -> Live:
    result = (told.result or measured.Result.CANNOT_TELL).value.replace("_", " ")
    return Live(result, tuple(say_sentence(s, region) for s in told.says), "", "", told.curves)


@dataclass(frozen=True, slots=True)
class Caution:
    """The usual caution of a hazard, and whom to defer to."""

    name: str
    text: str
    defer_to: str


def cautions(catalogue: Catalogue, hazards: Sequence[str]) -> list[Caution]:
    found = (catalogue.cautions[code] for code in hazards if code in catalogue.cautions)
    return [Caution(c.name, c.text, c.defer_to) for c in found]


def divisions(form: ProofForm, chosen: Sequence[InstrumentRow]) -> dict[str, float]:
    """The divisions of the chosen instruments, by the fields that ask for them."""
    steps = {kind: step for row in chosen for kind, step in row.divisions.items()}
    found = {}
    for asked in form.fields:
        kind = measured_with(asked.quantity) if asked.instrument else ""
        if kind in steps:
            found[asked.name] = steps[kind]
    return found
