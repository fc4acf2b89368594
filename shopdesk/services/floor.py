"""The Floor: every range in the shop with where it stands and what it waits for.

The first thing anybody sees: its questions are plain SQL for both databases, so that neither the mapped
tables nor the words of a search have to be loaded before it is painted.
"""

import datetime as dt
import json
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import Any

import sqlalchemy as sa

from shopdesk.domain.build import Build
from shopdesk.domain.folding import fold
from shopdesk.domain.stage import Stage
from shopdesk.services.seat import Seat


class FloorOrder(StrEnum):
    """What the Floor is sorted by."""

    NUMBER = "number"
    PROMISED = "promised"
    STAGE = "stage"
    HELD_SINCE = "held since"
    CUSTOMER = "customer"


@dataclass(frozen=True, slots=True)
class FloorRow:
    """One range on the Floor with its newest job; `open_cents` is what its invoices still owe."""

    range_id: int
    job_id: int
    number: str
    maker: str
    model: str
    colour: str
    build: Build
    customer: str  # empty: the shop's own
    stage: Stage
    held_for: str
    held_what: str
    held_since: dt.date | None
    promised_on: dt.date | None
    stands_at: str
    open_cents: int
    findings: tuple[str, ...]  # codes of the newest walk-round
    odds_percent: int | None = None  # that the promise is kept, as the plan last told


HERE = (
    Stage.BOOKED_IN,
    Stage.INSPECTED,
    Stage.QUOTED,
    Stage.AGREED,
    Stage.ON_THE_BENCH,
    Stage.PROVING,
    Stage.READY,
    Stage.GONE,
)

_STAGES = {stage.value: place for place, stage in enumerate(Stage)}
_DONE = {Stage.SETTLED, Stage.DONOR, Stage.NOT_TAKEN, Stage.WITHDRAWN}  # most of what there ever was
_FEW = 1000  # records up to which a word is looked up rather than looked for along the order

HELD = "held"  # narrows to what is held for anything

_KEYS = (
    "SELECT j.id, j.range_id, j.promised_on, j.stage, j.held_since, p.name FROM job j "
    "JOIN gas_range r ON r.id = j.range_id LEFT JOIN party p ON p.id = j.customer_id"
)
# Read along another table's order: the sum keeps SQLite from looking that table up job by job instead.
_ALONG_RANGES = _KEYS.replace("r.id = j.range_id", "r.id + 0 = j.range_id")
_ALONG_CUSTOMERS = _KEYS.replace("LEFT JOIN party p ON p.id", "JOIN party p ON p.id + 0")
# As `FloorRow` has them, each with what is billed less credited, what is settled, and the promise's odds.
_ROWS = """
SELECT r.id, j.id, r.number, r.maker, r.model, r.colour, r.build, p.name, j.stage, j.held_for, j.held_what,
 j.held_since, j.promised_on, r.stands_at,
 (SELECT sum(CASE i.kind WHEN 'credit' THEN -i.gross_cents ELSE i.gross_cents END) FROM invoice i
  WHERE i.job_id = j.id AND i.number IS NOT NULL),
 (SELECT sum(s.amount_cents) FROM invoice i JOIN payment_share s ON s.invoice_id = i.id
  WHERE i.job_id = j.id),
 (SELECT o.odds_percent FROM morning_odds o WHERE o.job_id = j.id AND o.promised_on = j.promised_on
  ORDER BY o.on_day DESC LIMIT 1)
FROM job j JOIN gas_range r ON r.id = j.range_id LEFT JOIN party p ON p.id = j.customer_id
WHERE j.id IN ({jobs})
"""
_FINDINGS = """
SELECT w.job_id, o.finding FROM walk_round w JOIN observation o ON o.walk_round_id = w.id
WHERE w.id IN (SELECT max(id) FROM walk_round WHERE job_id IN ({jobs}) GROUP BY job_id) AND o.finding <> ''
ORDER BY o.id
"""
_NEWEST = "NOT EXISTS (SELECT 1 FROM job n WHERE n.range_id = j.range_id AND n.id > j.id)"
_HOLDS = "(r.search_text LIKE :word{n} ESCAPE '/' OR p.search_text LIKE :word{n} ESCAPE '/')"

_PLACE: dict[FloorOrder, Callable[[Any], tuple[Any, ...]]] = {
    FloorOrder.NUMBER: lambda row: (row.range_id,),
    FloorOrder.PROMISED: lambda row: (_day(row.promised_on) or dt.date.max, row.id),
    FloorOrder.STAGE: lambda row: (_STAGES.get(row.stage, 99), row.id),
    FloorOrder.HELD_SINCE: lambda row: (_day(row.held_since) or dt.date.max, row.id),
    FloorOrder.CUSTOMER: lambda row: (row.name is None, row.name or "", row.id),
}


def floor(
    seat: Seat,
    *,
    words: str = "",
    stages: tuple[Stage, ...] = (),
    held: str = "",
    order: FloorOrder = FloorOrder.PROMISED,
    limit: int = 200,
) -> list[FloorRow]:
    """Ranges by their newest job. `words` narrows by number, maker, serial, customer, telephone."""
    with seat.glance() as connection:
        asked = _asked(connection, fold(words).split(), stages, held)
        jobs = _page(connection, asked, order, limit) if asked is not None else []
        if not jobs:
            return []
        listed = ",".join(map(str, jobs))  # keys, as the database gave them
        rows = {row[1]: row for row in connection.exec_driver_sql(_ROWS.format(jobs=listed))}
        findings: dict[int, list[str]] = {}
        for job_id, finding in connection.exec_driver_sql(_FINDINGS.format(jobs=listed)):
            findings.setdefault(job_id, []).append(finding)
    return [_shown(rows[job], tuple(findings.get(job, ()))) for job in jobs]


def _shown(row: Any, findings: tuple[str, ...]) -> FloorRow:
    (range_id, job_id, number, maker, model, colour, build, customer, stage, held_for, held_what,
     held_since, promised_on, stands_at, billed, settled, odds) = row  # fmt: skip
    built = _build(build) if isinstance(build, str) else Build(**build)
    owed = int(billed or 0) - int(settled or 0)
    return FloorRow(
        range_id, job_id, number, maker, model, colour, built, customer or "", Stage(stage), held_for,
        held_what, _day(held_since), _day(promised_on), stands_at, owed, findings, odds,
    )  # fmt: skip


@lru_cache(maxsize=256)
def _build(kept: str) -> Build:
    return Build(**json.loads(kept))


def _day(value: Any) -> dt.date | None:
    """A day as either database gives it."""
    return dt.date.fromisoformat(value) if isinstance(value, str) else value


@dataclass(frozen=True, slots=True)
class _Asked:
    """What the newest job of a range has to be; `narrow` when few can be it, so that they are sorted here
    rather than looked for along the order."""

    wanted: tuple[str, ...]
    values: dict[str, str]
    narrow: bool


def _asked(
    connection: sa.Connection, words: list[str], stages: tuple[Stage, ...], held: str
) -> _Asked | None:
    """None when nothing can be it."""
    wanted, values = [_NEWEST], {}
    narrow = bool(held) or (bool(stages) and not set(stages) & _DONE)
    for n, word in enumerate(words):
        plain = word.replace("/", "//").replace("%", "/%").replace("_", "/_")
        wanted.append(_HOLDS.format(n=n))
        values[f"word{n}"] = f"%{plain}%"
        few = _few(connection, word)
        if few is not None and not few:
            return None
        if few is not None:
            ranges, people = (
                ",".join(str(key) for kind, key in few if kind == of) or "NULL" for of in ("range", "party")
            )
            wanted.append(f"(j.range_id IN ({ranges}) OR j.customer_id IN ({people}))")
            narrow = True
    if stages:
        wanted.append(f"j.stage IN ({','.join(f':stage{n}' for n in range(len(stages)))})")
        values |= {f"stage{n}": stage.value for n, stage in enumerate(stages)}
    if held:
        wanted.append("j.held_for <> ''")
    if held and held != HELD:
        wanted.append("j.held_for = :held")
        values["held"] = held
    return _Asked(tuple(wanted), values, narrow)


def _few(connection: sa.Connection, word: str) -> list[tuple[str, int]] | None:
    from shopdesk.storage import searching  # it brings all the tables, and most look without a word

    return searching.few_with(connection, word, ("range", "party"), _FEW)


def _page(connection: sa.Connection, asked: _Asked, order: FloorOrder, limit: int) -> list[int]:
    """The first jobs in an order."""
    if asked.narrow:
        sql = f"{_KEYS} WHERE {' AND '.join(asked.wanted)} LIMIT {_FEW + 1}"
        few = connection.execute(_statement(sql), asked.values).all()
        if len(few) <= _FEW:
            backwards = order is FloorOrder.NUMBER
            return [row.id for row in sorted(few, key=_PLACE[order], reverse=backwards)][:limit]
    found: list[int] = []
    for query, where, by in _stretches(order):
        if len(found) < limit:
            wanted = " AND ".join(filter(None, (where, *asked.wanted)))
            if query is _ALONG_CUSTOMERS:  # or SQLite reads a whole stage for each customer
                wanted = wanted.replace("j.stage IN", "j.stage || '' IN")
            sql = f"{query} WHERE {wanted} ORDER BY {by} LIMIT {limit - len(found)}"
            found += [row.id for row in connection.execute(_statement(sql), asked.values)]
    return found


@lru_cache(maxsize=64)
def _statement(sql: str) -> sa.TextClause:
    return sa.text(sql)


def _stretches(order: FloorOrder) -> list[tuple[str, str, str]]:
    """An order as stretches one after another, each read along an index; nothing known comes last."""
    if order is FloorOrder.STAGE:
        return [(_KEYS, f"j.stage = '{stage.value}'", "j.id") for stage in Stage]
    if order is FloorOrder.NUMBER:  # given in the order of the keys; as texts R-9999 would follow R-10000
        return [(_ALONG_RANGES, "", "r.id DESC")]
    if order is FloorOrder.CUSTOMER:
        return [(_ALONG_CUSTOMERS, "", "p.name, j.id"), (_KEYS, "j.customer_id IS NULL", "j.id")]
    column = "j.promised_on" if order is FloorOrder.PROMISED else "j.held_since"
    return [(_KEYS, f"{column} IS NOT NULL", f"{column}, j.id"), (_KEYS, f"{column} IS NULL", "j.id")]
