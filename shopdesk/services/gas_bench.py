"""The gas bench for a range: its calculators' inputs kept, conversions decided and put on the order."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.build import Build
from shopdesk.domain.gas.conversion import Change
from shopdesk.domain.gas.whole_range import lit_on_another, plan_conversion
from shopdesk.domain.measured import Sentence
from shopdesk.domain.problem import NotFound, Problem
from shopdesk.domain.proof_forms.burner_names import all_burners
from shopdesk.domain.rights import Action
from shopdesk.services import conversions, gas_identity, work_orders
from shopdesk.services.gas_tables import drills, gas_code, gases
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Agreement, ChangeOrder
from shopdesk.storage.tables.gas import GasConversion, GasReckoning
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.work import TaskCause, WorkOrder
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say

KINDS = ("flow", "drill", "convert", "clock", "wobbe", "supply")
FACTS = ("gas_on_plate", "spuds_found", "house_gas", "set_to_gas", "gas_label")


@dataclass(frozen=True, slots=True)
class BenchRange:
    """A range as the gas bench knows it; `warning`: its spuds lit on the gas of its kitchen."""

    range_id: int
    job_id: int | None
    number: str
    burners: tuple[str, ...]
    facts: Mapping[str, str]  # the five facts of its gas, as written
    inputs: Mapping[str, Mapping[str, Any]]  # by calculator, what was last typed
    warning: Sentence | None
    decided: str  # the conversion that was decided for its newest job, in words; empty for none


@dataclass(frozen=True, slots=True)
class OnOrder:
    """What a conversion put on the work order; `change_order` when the customer must consent first."""

    conversion_id: int
    added: tuple[str, ...]
    change_order: str


def bench_range(seat: Seat, range_id: int) -> BenchRange:
    """What the gas bench shows of a range."""
    with seat.look() as session:
        row = _range(session, range_id)
        job_id = max((j.id for j in row.jobs), default=None)
        kept = session.scalars(sa.select(GasReckoning).where(GasReckoning.range_id == range_id))
        found = conversions.newest(session, job_id) if job_id is not None else None
        facts = {name: getattr(row, name) for name in FACTS}
        return BenchRange(
            range_id,
            job_id,
            row.number,
            all_burners(Build(**row.build)),
            facts,
            {each.kind: dict(each.inputs) for each in kept},
            gas_warning(facts),
            _decided(seat, found) if found else "",
        )


def gas_warning(facts: Mapping[str, str]) -> Sentence | None:
    """What the spuds that were found make of the gas in the kitchen, where both are known."""
    drilled, house = gas_code(facts["spuds_found"]), gas_code(facts["house_gas"])
    if not drilled or not house or drilled == house:
        return None
    return lit_on_another(gases()[drilled], gases()[house])


def keep_inputs(seat: Seat, range_id: int, kind: str, inputs: Mapping[str, Any]) -> None:
    """Keeps what was typed into a calculator with the range."""
    if kind not in KINDS:
        raise NotFound("There is no calculator called {kind}.", kind=kind)
    with seat.change(Action.RECKON_GAS) as work:
        row = _range(work.session, range_id)
        kept = work.session.scalar(
            sa.select(GasReckoning).where(GasReckoning.range_id == range_id, GasReckoning.kind == kind)
        )
        if kept is None:
            kept = work.add(GasReckoning(range_id=row.id, kind=kind))
        kept.at, kept.staff_id = work.now, seat.acting.staff_id
        kept.inputs = {name: value for name, value in inputs.items() if value not in (None, "")}
        work.session.flush()
        work.about(kept)


def decide_conversion(
    seat: Seat, job_id: int, inputs: Mapping[str, Any], decided_by: str, *,
    on: dt.date | None = None, note: str = "",
) -> OnOrder:  # fmt: skip
    """The licensed fitter decided that the range is converted: its tasks go on the work order.

    What the customer has agreed to already does not cover it: then it is a change order, and its
    new tasks wait for consent.
    """
    if not decided_by.strip():
        raise Problem(
            "The licensed fitter decides whether a range is converted. Write the fitter's name.",
            field="decided_by",
        )
    with seat.change(Action.CONVERT_GAS) as work:
        job = work.get(Job, job_id, "job")
        if job.gone_on is not None or job.ended_as:
            raise Problem("{number} is no longer here; nothing is converted.", number=job.range.number)
        plan = plan_conversion(inputs, all_burners(Build(**job.range.build)), gases(), drills())
        row = work.add(
            GasConversion(
                range_id=job.range_id,
                job_id=job.id,
                at=work.now,
                staff_id=seat.acting.staff_id,
                from_gas=plan.present.code,
                to_gas=plan.coming.code,
                inputs={name: value for name, value in inputs.items() if value not in (None, "")},
                burners=[_kept(change) for change in plan.changes],
                decided_by=decided_by.strip(),
                decided_on=on or seat.today,
                note=note.strip(),
            )
        )
        work.session.flush()
        added, change_order = _put_on_order(seat, work, job, row)
        gas_identity.file_for_range(seat, work, job.range)
        work.about(row, job_id)
        return OnOrder(row.id, added, change_order)


def _put_on_order(seat: Seat, work: UnitOfWork, job: Job, row: GasConversion) -> tuple[tuple[str, ...], str]:
    order = work.session.scalar(sa.select(WorkOrder).where(WorkOrder.job_id == job.id))
    before = {t.id for t in order.tasks if not t.dropped} if order else set()
    agreed = work.session.scalar(sa.select(Agreement.id).where(Agreement.job_id == job.id).limit(1))
    order, _ = work_orders.bring_up_to_date(seat, work, job)
    fresh = [t for t in order.tasks if not t.dropped and t.id not in before]
    if agreed is None or not fresh:
        return tuple(t.name for t in fresh), ""
    what = conversions.gases_in_words(row.from_gas, row.to_gas)
    change = work.add(
        ChangeOrder(
            job_id=job.id,
            number=work.take_number("change order"),
            found_on=seat.today,
            found_by_id=seat.acting.staff_id,
            what=say("Conversion, {gases}, decided by {name}", gases=what, name=row.decided_by),
        )
    )
    work.session.flush()
    for task in fresh:
        task.change_order_id = change.id
        task.causes.append(TaskCause(kind="hand", code=change.number))
    work.session.flush()
    return tuple(t.name for t in fresh), change.number


def _kept(change: Change) -> dict[str, Any]:
    chosen = change.choice.chosen
    return {
        "burner": change.spud.burner,
        "found_in": change.spud.diameter_in,
        "drill": chosen.drill.size,
        "diameter_in": chosen.drill.diameter_in,
        "work": change.work,
        "rated_btuh": round(change.rated_btuh, 1),
        "input_btuh": round(chosen.input_btuh or 0, 1),
        "unchanged_btuh": round(change.unchanged_btuh, 1),
    }


def _decided(seat: Seat, row: GasConversion) -> str:
    return say(
        "Conversion, {gases}, decided by {name} on {day}.",
        gases=conversions.gases_in_words(row.from_gas, row.to_gas),
        name=row.decided_by,
        day=seat.region.day(row.decided_on) if row.decided_on else "?",
    )


def _range(session: Session, range_id: int) -> Range:
    row = session.get(Range, range_id)
    if row is None:
        raise NotFound("There is no range {key} in this shop.", key=range_id)
    return row
