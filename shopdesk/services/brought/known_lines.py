"""Which lines of older books are known already, and whether a line says anything new of its record."""

from collections.abc import Iterable, Mapping
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.folding import fold
from shopdesk.domain.problem import Problem
from shopdesk.exchange.tables_in import Line
from shopdesk.storage.tables.price_lists import BroughtRecord
from shopdesk.storage.unit_of_work import UnitOfWork


def read_known(session: Session, kind: str) -> dict[str, int]:
    """The records of all lines of a kind brought in before, by their keys."""
    rows = session.execute(
        sa.select(BroughtRecord.theirs, BroughtRecord.record_id).where(BroughtRecord.kind == kind)
    )
    return {row.theirs: row.record_id for row in rows}


def note_known(work: UnitOfWork, kind: str, known: Mapping[str, int], line: Line, record_id: int) -> None:
    """Keeps the line's number of the older books, if it has one that is not known yet."""
    number = number_of(line)
    if number and number not in known:
        work.add(BroughtRecord(kind=kind, theirs=number, record_id=record_id))


def number_of(line: Line) -> str:
    return fold(line.values.get("theirs") or "")


def refuse_twice(seen: dict[str, int], line: Line, telling: Iterable[str], name: str) -> None:
    """A line that an earlier one of the same table was already, by its number or else by what it tells."""
    number = number_of(line)
    key = f"no {number}" if number else " / ".join(fold(str(line.values.get(n) or "")) for n in telling)
    if key in seen:
        raise Problem("{name} stands on line {number} already.", name=name, number=seen[key])
    seen[key] = line.number


def given(line: Line, names: Iterable[str]) -> dict[str, Any]:
    """What the line says of these columns; what it leaves empty says nothing."""
    return {name: line.values[name] for name in names if line.values.get(name) is not None}


def verdict(record: Any, said: Mapping[str, Any]) -> str:
    """New without a record, same when the record says all of it already, else changed."""
    if record is None:
        return "new"
    return "same" if all(getattr(record, name) == value for name, value in said.items()) else "changed"


def write_on(record: Any, said: Mapping[str, Any]) -> None:
    for name, value in said.items():
        setattr(record, name, value)
