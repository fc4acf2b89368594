"""One unit of work: a session, what it changed, and the journal row that says so.

The row is written in the same transaction, so that no change can be made without it.
"""

import datetime as dt
import hashlib
import json
import secrets
from collections.abc import Mapping
from decimal import Decimal
from typing import Any, TypeVar

import sqlalchemy as sa
from sqlalchemy import event
from sqlalchemy.orm import Session

from shopdesk.domain.changed import Changed, Seen
from shopdesk.domain.clock import Clock
from shopdesk.domain.problem import NotFound
from shopdesk.domain.rights import Acting
from shopdesk.storage.grants import last_link
from shopdesk.storage.hearing import tell
from shopdesk.storage.seen import differences, journal_length
from shopdesk.storage.tables.base import Base
from shopdesk.storage.tables.shop import Journal, NumberSeries

Row = TypeVar("Row", bound=Base)


class UnitOfWork:
    """What a service works with while it changes the shop; made by `ShopFile.writing`."""

    def __init__(
        self, session: Session, clock: Clock, acting: Acting, action: str, seen: Seen | None = None
    ) -> None:
        self.session = session
        self._seen = seen
        self.committing = False  # from here on a lost connection leaves open whether it stands
        self.acting = acting
        self.action = action
        self.now = clock()
        self._subject: Any = None
        self._job_id: int | None = None
        self.jobs: set[int] = set()  # jobs whose stage may have changed
        self.forgets = False  # erasing: the journal says which fields, and not what stood in them
        self._before: dict[str, dict[str, Any]] = {}
        self._after: dict[str, dict[str, Any]] = {}
        event.listen(session, "before_flush", self._note_changes)
        event.listen(session, "after_flush", self._note_additions)
        event.listen(session, "persistent_to_deleted", self._note_removal)

    def about(self, record: Any, job_id: int | None = None) -> None:
        """Names the record the journal row is about (its key is read at commit)."""
        self._subject = record
        self._job_id = job_id
        if job_id is not None:
            self.jobs.add(job_id)

    def get(self, table: type[Row], key: int, name: str) -> Row:
        """A row by key, or a sentence that it is not there."""
        row = self.session.get(table, key)
        if row is None:
            raise NotFound("There is no {name} {key} in this shop.", name=name, key=key)
        return row

    def add(self, row: Row) -> Row:
        self.session.add(row)
        return row

    def take_number(self, series: str, prefix: str = "") -> str:
        """The next number of a series; the row stays locked until the transaction ends.

        `prefix` is for a shop that is older than the series.
        """
        row = self.session.get(NumberSeries, series, with_for_update=True, populate_existing=True)
        if row is None:
            row = self.add(NumberSeries(name=series, prefix=prefix or series.upper() + "-", next=1))
        number = f"{row.prefix}{row.next:04d}"
        row.next += 1
        self.session.flush()
        return number

    def commit(self) -> None:
        self.session.flush()
        self._refuse_unseen()
        written = self._write_journal()
        self.committing = True
        self.session.commit()
        if self._seen is not None and written is not None:
            self._seen.own.add(written)

    def _refuse_unseen(self) -> None:
        """Nobody overwrites what another wrote after the screen was read, unless he has seen it."""
        if self._seen is None or not self._before:
            return
        found = differences(self.session, self._seen, self._before, self._after)
        if found:
            raise Changed(found, journal_length(self.session))

    def _note_changes(self, session: Session, _context: Any, _instances: Any) -> None:
        for row in session.dirty:
            if isinstance(row, Journal | NumberSeries):
                continue
            state = sa.inspect(row)
            old = {}
            for column in state.mapper.column_attrs:
                history = state.attrs[column.key].history
                if not _journaled(column) or not history.has_changes():
                    continue
                stood = history.deleted[0] if history.deleted else None
                if self._seen is not None and history.deleted:
                    chosen = self._seen.chosen(_key(row), column.key, stood, getattr(row, column.key))
                    setattr(row, column.key, chosen)
                    if chosen == stood:
                        continue
                old[column.key] = plain(stood)
            if old:
                key = _key(row)
                before = self._before.setdefault(key, {})
                before.update({k: v for k, v in old.items() if k not in before})
                self._after.setdefault(key, {}).update({k: plain(getattr(row, k)) for k in old})

    def _note_removal(self, _session: Session, row: Any) -> None:
        """Rows that went, those taken off a list of their parent among them."""
        key = _key(row)
        self._after.pop(key, None)
        kept = {
            c.key: sa.inspect(row).dict.get(c.key)
            for c in sa.inspect(row).mapper.column_attrs
            if _journaled(c)
        }
        self._before[key] = {k: plain(v) for k, v in kept.items()} | self._before.get(key, {})

    def _note_additions(self, session: Session, _context: Any) -> None:
        for row in session.new:
            if isinstance(row, Journal | NumberSeries):
                continue
            columns = sa.inspect(row).mapper.column_attrs
            values = {c.key: plain(getattr(row, c.key)) for c in columns if _journaled(c)}
            self._after[_key(row)] = {k: v for k, v in values.items() if v not in (None, "", [], {})}

    def _kept_before(self) -> dict[str, dict[str, Any]]:
        if not self.forgets:
            return self._before
        return {key: dict.fromkeys(fields, "") for key, fields in self._before.items()}

    def _write_journal(self) -> int | None:
        """The key of the row that says what was done; None where nothing was."""
        if not self._before and not self._after:
            return None
        connection = self.session.connection()
        if connection.dialect.name == "postgresql":
            connection.exec_driver_sql("SELECT pg_advisory_xact_lock(1397244996)")  # one chain, one writer
        last_id, last_hash = _last_link(connection)
        subject = self._subject
        record = (
            subject.__tablename__
            if subject is not None
            else next(iter(self._after or self._before)).split(" ")[0]
        )
        written = last_id + 1
        row = {
            "id": written,
            "at": max(self.now, _not_before(connection) or self.now),
            "staff_id": self.acting.staff_id or None,
            "who": self.acting.name,
            "action": self.action,
            "record": record,
            "record_id": getattr(subject, "id", None),
            "job_id": self._job_id,
            "before": self._kept_before(),
            "after": self._after,
            "previous_hash": last_hash,
            "salt": secrets.token_hex(8),
        }
        connection.execute(sa.insert(Journal).values(**row, hash=journal_hash(row)))
        tables = {key.partition(" ")[0] for key in (*self._before, *self._after)}
        tell(connection, tables, self._job_id)
        return written


def _not_before(connection: sa.Connection) -> dt.datetime | None:
    """When the newest row of a file's journal was written: a clock that was set back turns nothing around.

    On a server each seat writes by its own machine's clock, and the rows' keys are their order.
    """
    if connection.dialect.name == "postgresql":
        return None
    at: dt.datetime | None = connection.execute(
        sa.select(Journal.at).order_by(Journal.id.desc()).limit(1)
    ).scalar()
    return at


def _last_link(connection: sa.Connection) -> tuple[int, str]:
    """Key and hash of the newest journal row, also where an account may not read the row itself."""
    if connection.dialect.name == "postgresql":
        told = last_link(connection)
        if told is not None:
            return told
    last = connection.execute(
        sa.select(Journal.id, Journal.hash).order_by(Journal.id.desc()).limit(1)
    ).first()
    return (last.id, last.hash) if last else (0, "")


def journal_hash(row: Mapping[str, Any]) -> str:
    """SHA-256 over a journal row's fields in canonical JSON, its predecessor's hash among them.

    A row without a salt is hashed as rows were before there was one.
    """
    fields = {k: plain(v) for k, v in row.items() if k != "hash" and (k, v) != ("salt", "")}
    canonical = json.dumps(fields, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(canonical.encode()).hexdigest()


def _journaled(attribute: Any) -> bool:
    return bool(attribute.columns[0].info.get("journal", True))


def _key(row: Any) -> str:
    identity = sa.inspect(row).mapper.primary_key_from_instance(row)
    return f"{row.__tablename__} {'-'.join(map(str, identity))}"


def plain(value: Any) -> Any:
    """A column's value as the journal writes it."""
    if isinstance(value, dt.datetime):
        return value.astimezone(dt.UTC).isoformat(timespec="microseconds")
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, Decimal):
        return format(value.normalize(), "f")
    return value
