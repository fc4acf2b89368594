"""Taking back what was done, by name, from the journal: what stood before is put back, if nobody
has changed it since.

What is issued, paid, agreed, proved, moved in the stores or sent is never taken back here: it has a
counter-entry of its own (a credit, a refund, a correction). Taking back is itself written into the
journal and can be taken back.
"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.problem import ChangedMeanwhile, Problem
from shopdesk.domain.rights import Action, Role, require
from shopdesk.services.finding import range_numbers
from shopdesk.services.seat import Seat
from shopdesk.storage.column_types import Day, Percent, UtcTime
from shopdesk.storage.seen import DERIVED
from shopdesk.storage.tables import Base
from shopdesk.storage.tables.shop import Journal
from shopdesk.storage.unit_of_work import plain

# Tables whose rows are only ever added to, or hold money and promises: undone by a counter-entry alone.
COUNTER_ENTRY_ONLY = frozenset({
    "paper", "journal", "payment", "payment_share", "proof", "part_movement", "goods_in", "goods_back",
    "caution_seen", "hours_word", "hold_answer", "agreement", "agreement_left_out", "comeback", "letter",
    "erasure", "outlay", "write_off", "table_in", "piece_event", "stock_take", "stock_take_line", "promise",
    "invoice_adjustment", "invoice", "invoice_line", "setting", "staff", "wage", "brought_record",
})  # fmt: skip
_LOOKED_THROUGH = 400  # journal rows, newest first, among which deeds to take back are looked for
_CLASSES: dict[str, type[Base]] = {m.local_table.name: m.class_ for m in Base.registry.mappers}  # type: ignore[attr-defined]
_ORDER = [table.name for table in Base.metadata.sorted_tables]


@dataclass(frozen=True)
class Undoable:
    """One deed that can be taken back; `again` when it is itself a taking-back."""

    journal_id: int
    at: dt.datetime
    who: str
    action: str
    record: str  # the kind of record it was about
    job_id: int | None
    range_number: str  # empty where it was about no range
    again: bool


def undoable(seat: Seat, *, limit: int = 50) -> tuple[Undoable, ...]:
    """The newest deeds this person may take back, newest first; an owner may take back anybody's."""
    with seat.look() as session:
        rows = session.scalars(sa.select(Journal).order_by(Journal.id.desc()).limit(_LOOKED_THROUGH)).all()
        undone = _undone(session, [row.id for row in rows])
        found = [row for row in rows if row.id not in undone and _whose(seat, row) and _reversible(row)]
        numbers = range_numbers(session, {one.job_id for one in found[:limit] if one.job_id is not None})
    return tuple(
        Undoable(
            row.id, row.at, row.who, row.action, row.record, row.job_id,
            numbers.get(row.job_id or 0, ""), row.action == Action.UNDO,
        )
        for row in found[:limit]
    )  # fmt: skip


def undo(seat: Seat, journal_id: int) -> None:
    """Puts back what stood before this deed, whole or not at all.

    Problem when it is of a kind that has a counter-entry, or something was built on it since;
    ChangedMeanwhile when a field it changed was changed again.
    """
    with seat.change(Action.UNDO) as work:
        row = work.get(Journal, journal_id, "deed")
        if row.action != Action.UNDO:
            require(seat.acting, Action(row.action))
        if not _whose(seat, row):
            raise Problem("{who} did this; only {who} or an owner takes it back.", who=row.who)
        if _undone(work.session, [row.id]):
            raise Problem("This is taken back already: {action}.", action=row.action)
        if not _reversible(row):
            raise Problem(
                "“{action}” is not taken back: what is issued, agreed, paid or moved stands. "
                "Write its counter-entry.", action=row.action,
            )  # fmt: skip
        _put_back(work.session, row)
        work.about(row, row.job_id)


def _whose(seat: Seat, row: Journal) -> bool:
    return seat.acting.role is Role.OWNER or row.staff_id == seat.acting.staff_id


def _reversible(row: Journal) -> bool:
    tables = {_table(key) for key in (*row.before, *row.after)}
    if not tables or tables & COUNTER_ENTRY_ONLY or tables - _CLASSES.keys():
        return False
    gone = {_table(key) for key in row.before if key not in row.after}
    return not any(_has_silent(table) for table in gone)


def _has_silent(table: str) -> bool:
    """Whether a row cannot be made again from the journal, which keeps no pictures and no secrets."""
    columns = Base.metadata.tables[table].columns
    derived = DERIVED.get(table, frozenset())
    return any(not c.info.get("journal", True) and c.name not in derived for c in columns)


def _undone(session: Session, ids: list[int]) -> set[int]:
    """Which of these deeds a later one took back."""
    taken = sa.select(Journal.record_id).where(
        Journal.record == "journal", Journal.record_id.in_(ids), Journal.action == Action.UNDO
    )
    return set(filter(None, session.scalars(taken)))


def _put_back(session: Session, deed: Journal) -> None:
    added = [key for key in deed.after if _was_added(deed, key)]
    changed = [key for key in deed.after if not _was_added(deed, key)]
    removed = [key for key in deed.before if key not in deed.after]
    for key in (*added, *changed):
        _refuse_changed(_row(session, key, deed), key, deed)
    _refuse_built_on(session, added, deed)
    for key in sorted(removed, key=_place):
        session.add(_made_again(key, deed.before[key]))
        session.flush()
    for key in changed:
        row = _row(session, key, deed)
        for name, value in deed.before[key].items():
            if name not in _skipped(row.__tablename__):
                setattr(row, name, _value(row.__table__.c[name], value))
    session.flush()
    for key in sorted(added, key=_place, reverse=True):
        session.delete(_row(session, key, deed))
        session.flush()


def _was_added(deed: Journal, key: str) -> bool:
    """An added row's key is among its values; a changed one's is not."""
    keys = Base.metadata.tables[_table(key)].primary_key.columns
    return all(column.name in deed.after[key] for column in keys)


def _table(key: str) -> str:
    return key.partition(" ")[0]


def _skipped(table: str) -> frozenset[str]:
    return DERIVED.get(table, frozenset()) | {"version"}


def _row(session: Session, key: str, deed: Journal) -> Any:
    table, _, identity = key.partition(" ")
    kind = _CLASSES[table]
    columns = list(Base.metadata.tables[table].primary_key.columns)
    parts = [identity] if len(columns) == 1 else identity.split("-")
    found = session.get(kind, tuple(_value(c, p) for c, p in zip(columns, parts, strict=True)))
    if found is None:
        raise ChangedMeanwhile("“{action}” cannot be taken back: what it made is gone.", action=deed.action)
    return found


def _refuse_changed(row: Any, key: str, deed: Journal) -> None:
    after = deed.after[key]
    names = [c.key for c in sa.inspect(row).mapper.column_attrs] if _was_added(deed, key) else list(after)
    silent = {c.name for c in row.__table__.columns if not c.info.get("journal", True)}
    for name in set(names) - silent - _skipped(row.__tablename__):
        value = plain(getattr(row, name))
        if value != after.get(name) and not (name not in after and value in (None, "", [], {})):
            raise ChangedMeanwhile(
                "“{action}” cannot be taken back: it was changed again since. Take that back first.",
                action=deed.action,
            )


def _refuse_built_on(session: Session, added: Iterable[str], deed: Journal) -> None:
    """Rows made since that hang on what would go are not swept away with it."""
    going = set(added)
    for key in going:
        table, _, identity = key.partition(" ")
        if not identity.isdecimal():
            continue  # nothing refers to a row whose key is made of several
        for other in Base.metadata.sorted_tables:
            for column in other.columns:
                if not any(fk.column.table.name == table for fk in column.foreign_keys):
                    continue
                keys = session.execute(
                    sa.select(*other.primary_key.columns).where(column == int(identity))
                ).all()
                if any(f"{other.name} {'-'.join(map(str, found))}" not in going for found in keys):
                    raise Problem(
                        "“{action}” cannot be taken back: more was done on it since. Take that back first.",
                        action=deed.action,
                    )


def _place(key: str) -> int:
    return _ORDER.index(_table(key))


def _made_again(key: str, values: dict[str, Any]) -> Base:
    table = _table(key)
    columns = Base.metadata.tables[table].columns
    kept = {k: _value(columns[k], v) for k, v in values.items() if k != "version"}
    return _CLASSES[table](**kept)


def _value(column: sa.Column[Any], value: Any) -> Any:
    """What the journal wrote as text, as the column takes it."""
    if value is None:
        return None
    if isinstance(column.type, UtcTime):
        return dt.datetime.fromisoformat(value)
    if isinstance(column.type, Day):
        return dt.date.fromisoformat(value)
    if isinstance(column.type, Percent):
        return Decimal(value)
    if isinstance(column.type, sa.Integer | sa.BigInteger) and isinstance(value, str):
        return int(value)
    return value
