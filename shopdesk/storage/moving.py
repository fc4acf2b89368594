"""A shop moved between a file and a database server, counted and compared row by row.

Either the whole shop stands at its new place and the old one says where it went, or nothing happened:
the new place is made first, compared, and only then is the old one closed for writing.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import zip_longest
from pathlib import Path
from typing import Any

import sqlalchemy as sa

from shopdesk.domain.problem import Problem
from shopdesk.storage.engine import make_engine, shop_url
from shopdesk.storage.file import checked_file
from shopdesk.storage.grants import grant_rights, may_make_roles
from shopdesk.storage.lock import WriteLock
from shopdesk.storage.moved_mark import MOVED, where_it_went
from shopdesk.storage.tables import Base
from shopdesk.storage.upgrading import make_shop, newest, revision_of

_AT_ONCE = 500
Told = Callable[[str, int], None]


@dataclass(frozen=True)
class Moved:
    """How many rows stand at the new place, table by table."""

    rows: dict[str, int]

    @property
    def total(self) -> int:
        return sum(self.rows.values())


def move_shop(place: str | Path, to: str | Path, told: Told = lambda _table, _rows: None) -> Moved:
    """Copies every row to a new shop at `to`, compares them, and closes the old shop for writing.

    `told` hears each table with its rows. Problem when the old shop is in use, is not at this program's
    version or moved before, or when something is at `to` already.
    """
    url = shop_url(place)
    lock = None
    if url.get_backend_name() == "sqlite":
        lock = WriteLock(checked_file(Path(url.database or "")))
        lock.take()
    source = make_engine(url)
    try:
        _refuse_unfit(source, url)
        make_shop(to)
        target = make_engine(shop_url(to))
        try:
            return _moved(source, target, to, told)
        except BaseException:
            target.dispose()
            _remove(shop_url(to))
            raise
        finally:
            target.dispose()
    finally:
        source.dispose()
        if lock is not None:
            lock.give_back()


def _refuse_unfit(source: sa.Engine, url: sa.URL) -> None:
    name = Path(url.database or "").name
    if revision_of(source) != newest():
        raise Problem("The shop {name} is from another version. Bring it up to date first.", name=name)
    with source.connect() as connection:
        went = where_it_went(connection)
    if went:
        raise Problem("The shop {name} moved to {place} before. Move that one.", name=name, place=went)


def _moved(source: sa.Engine, target: sa.Engine, to: str | Path, told: Told) -> Moved:
    tables = Base.metadata.sorted_tables
    if source.dialect.name == "postgresql":  # one picture of the shop, whatever other seats do meanwhile
        source = source.execution_options(isolation_level="REPEATABLE READ")
    with source.connect() as old:
        rows: dict[str, int] = {}
        with target.connect() as new:
            _fill(old, new, tables, rows, told)
        with target.connect() as new:
            for table in tables:
                _compare(old, new, table)
        old.rollback()
        _close_for_writing(old, to)
    return Moved(rows)


def _fill(
    old: sa.Connection, new: sa.Connection, tables: list[sa.Table], rows: dict[str, int], told: Told
) -> None:
    """Every row, with triggers asleep: they guard what people do, not a copy of what was done."""
    sqlite = new.dialect.name == "sqlite"
    if sqlite:
        _raw(new).execute("PRAGMA foreign_keys=OFF")  # before the transaction; checked at its end
    triggers = _sleep(new, tables)
    for table in reversed(tables):
        new.execute(sa.delete(table))
    for table in tables:
        rows[table.name] = 0
        for batch in _batches(old, table):
            new.execute(sa.insert(table), batch)
            rows[table.name] += len(batch)
        told(table.name, rows[table.name])
    _wake(new, tables, triggers)
    if not sqlite and may_make_roles(new):
        grant_rights(new)
    if sqlite:
        new.exec_driver_sql("INSERT INTO ft_findable (ft_findable) VALUES ('rebuild')")
        if new.exec_driver_sql("PRAGMA foreign_key_check").first():
            raise Problem("The shop to be moved is damaged: a row points to one that is not there.")
    else:
        _set_counters(new, tables)
    new.commit()
    if sqlite:
        _raw(new).execute("PRAGMA foreign_keys=ON")


def _raw(connection: sa.Connection) -> Any:
    return connection.connection.dbapi_connection


def _sleep(new: sa.Connection, tables: list[sa.Table]) -> list[tuple[str, str]]:
    if new.dialect.name != "sqlite":
        for table in tables:
            new.exec_driver_sql(f'ALTER TABLE "{table.name}" DISABLE TRIGGER USER')
        return []
    triggers = [
        (row[0], row[1])
        for row in new.exec_driver_sql("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
    ]
    for name, _sql in triggers:
        new.exec_driver_sql(f'DROP TRIGGER "{name}"')
    return triggers


def _wake(new: sa.Connection, tables: list[sa.Table], triggers: list[tuple[str, str]]) -> None:
    for _name, sql in triggers:
        new.exec_driver_sql(sql)
    if new.dialect.name != "sqlite":
        for table in tables:
            new.exec_driver_sql(f'ALTER TABLE "{table.name}" ENABLE TRIGGER USER')


def _batches(old: sa.Connection, table: sa.Table) -> Iterator[list[dict[str, Any]]]:
    for part in old.execute(_in_order(table)).mappings().partitions(_AT_ONCE):
        yield [dict(row) for row in part]


def _in_order(table: sa.Table) -> sa.Select[Any]:
    query = sa.select(table).order_by(*table.primary_key.columns)
    return query.execution_options(yield_per=_AT_ONCE)


def _set_counters(new: sa.Connection, tables: list[sa.Table]) -> None:
    """PostgreSQL counts keys by sequences, which rows copied with their keys leave behind."""
    for table in tables:
        keys = list(table.primary_key.columns)
        if len(keys) != 1 or not isinstance(keys[0].type, sa.Integer | sa.BigInteger):
            continue
        named = {"table": table.name, "column": keys[0].name}
        sequence = new.execute(sa.text("SELECT pg_get_serial_sequence(:table, :column)"), named).scalar()
        highest = new.execute(sa.select(sa.func.max(keys[0]))).scalar()
        if sequence and highest:
            new.execute(
                sa.text("SELECT setval(:sequence, :highest)"), {"sequence": sequence, "highest": highest}
            )


def _compare(old: sa.Connection, new: sa.Connection, table: sa.Table) -> None:
    reading = [connection.execute(_in_order(table)) for connection in (old, new)]
    for here, there in zip_longest(*reading):
        if here is None or there is None or tuple(here) != tuple(there):
            raise Problem(
                "The new shop is not the same in {table}; nothing was moved. Try again, and if it happens "
                "again, keep both and ask whoever looks after this program.",
                table=table.name,
            )


def _close_for_writing(old: sa.Connection, to: str | Path) -> None:
    setting = Base.metadata.tables["setting"]
    with old.begin():
        place = shop_url(to).render_as_string(hide_password=True) if "://" in str(to) else str(to)
        old.execute(sa.insert(setting).values(name=MOVED, value={"to": place}, version=1))


def _remove(url: sa.URL) -> None:
    """What was half made at the new place goes again."""
    if url.get_backend_name() == "sqlite":
        path = Path(url.database or "")
        for ending in ("", "-wal", "-shm"):
            path.with_name(path.name + ending).unlink(missing_ok=True)
        return
    engine = make_engine(url)
    with engine.begin() as connection:
        for function in ("refuse_change", "refuse_issued_line", "journal_head"):
            connection.exec_driver_sql(f"DROP FUNCTION IF EXISTS {function} CASCADE")
        Base.metadata.drop_all(connection)
        connection.exec_driver_sql("DROP TABLE IF EXISTS alembic_version")
    engine.dispose()
