"""The shop's instruments: what each measures, to which division, and until when it is calibrated."""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.instruments import KINDS, Calibration
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.proving import Instrument
from shopdesk.wording import Region, say


@dataclass(frozen=True, slots=True)
class InstrumentDraft:
    """`divisions`: smallest step by what is measured, in US units (in w.c., °F, ppm)."""

    name: str
    serial: str = ""
    measures: tuple[str, ...] = ()
    divisions: Mapping[str, float] = field(default_factory=dict)
    calibration_due: dt.date | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class InstrumentRow:
    """`past`: its calibration is past today, or its day was never written down."""

    id: int
    name: str
    serial: str
    measures: tuple[str, ...]
    divisions: Mapping[str, float]
    calibration_due: dt.date | None
    note: str
    retired: bool
    past: bool
    version: int

    @property
    def named(self) -> str:
        return f"{self.name}, {self.serial}" if self.serial else self.name


def keep_instrument(seat: Seat, draft: InstrumentDraft, instrument_id: int | None = None) -> int:
    """Writes an instrument down, or changes one; returns its key."""
    _check(draft)
    with seat.change(Action.KEEP_INSTRUMENTS) as work:
        if instrument_id is None:
            row = work.add(Instrument(name=draft.name.strip()))
        else:
            row = work.get(Instrument, instrument_id, "instrument")
        row.name, row.serial, row.note = draft.name.strip(), draft.serial.strip(), draft.note.strip()
        row.measures = [kind for kind in KINDS if kind in draft.measures]
        row.divisions = {kind: float(step) for kind, step in draft.divisions.items()}
        row.calibration_due = draft.calibration_due
        work.session.flush()
        work.about(row)
        return row.id


def retire(seat: Seat, instrument_id: int, *, retired: bool = True) -> None:
    """Takes an instrument out of use, or back into it; proofs made with it keep its name."""
    with seat.change(Action.KEEP_INSTRUMENTS) as work:
        row = work.get(Instrument, instrument_id, "instrument")
        row.retired = retired
        work.about(row)


def instruments(
    seat: Seat, measuring: Iterable[str] = (), *, with_retired: bool = False
) -> list[InstrumentRow]:
    """Those in use, by name; `measuring` only those that measure one of these."""
    wanted = set(measuring)
    with seat.look() as session:
        rows = session.scalars(sa.select(Instrument).order_by(Instrument.name, Instrument.id))
        return [
            _row(row, seat.today)
            for row in rows
            if (with_retired or not row.retired) and (not wanted or wanted & set(row.measures))
        ]


def used(session: Session, keys: Iterable[int]) -> list[Instrument]:
    """The instruments of these keys, in that order; a Problem for one that is not there."""
    found = []
    for key in dict.fromkeys(keys):
        row = session.get(Instrument, key)
        if row is None:
            raise Problem("There is no instrument {key} in this shop.", field="instruments", key=key)
        found.append(row)
    return found


def on_the_day(rows: Iterable[Instrument], region: Region, day: dt.date) -> str:
    """The instruments in words, each with what its calibration was on the day."""
    return "; ".join(_in_words(row, region, day) for row in rows)


def _in_words(row: Instrument, region: Region, day: dt.date) -> str:
    name = f"{row.name}, {row.serial}" if row.serial else row.name
    due = row.calibration_due
    if due is None:
        return say("{name}, calibration not on record", name=name)
    if Calibration(due).past(day):
        return say("{name}, past its calibration, which was due {day}", name=name, day=region.day(due))
    return say("{name}, calibration due {day}", name=name, day=region.day(due))


def _check(draft: InstrumentDraft) -> None:
    if not draft.name.strip():
        raise Problem("Give the instrument a name, such as manometer 2.", field="name")
    if not draft.measures:
        raise Problem("Say what the instrument measures.", field="measures")
    unknown = next((kind for kind in draft.measures if kind not in KINDS), None)
    if unknown is not None:
        raise Problem("An instrument does not measure {kind} here.", field="measures", kind=unknown)
    for kind, step in draft.divisions.items():
        if not 0 < step < 1000:
            raise Problem(
                "A division of {step} cannot be right; it lies above nought.",
                field=f"division_{kind}",
                step=step,
            )


def _row(row: Instrument, today: dt.date) -> InstrumentRow:
    return InstrumentRow(
        id=row.id,
        name=row.name,
        serial=row.serial,
        measures=tuple(row.measures),
        divisions=dict(row.divisions),
        calibration_due=row.calibration_due,
        note=row.note,
        retired=row.retired,
        past=Calibration(row.calibration_due).past(today),
        version=row.version,
    )
