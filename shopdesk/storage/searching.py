"""Keeps the folded words that searches read in step with the rows they are made of, and reads them.

Two kinds of words: `search_text` of a range and of a person, which lists are narrowed by, and a
`findable` row for everything that can be found by typing. On SQLite an FTS5 index of three-letter pieces
stands over the latter, on PostgreSQL a trigram index (extension pg_trgm) where the server has it.
"""

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

import sqlalchemy as sa
from sqlalchemy import event
from sqlalchemy.orm import Session

from shopdesk.domain.folding import fold
from shopdesk.storage.tables.bench import Tag
from shopdesk.storage.tables.counter import Paper
from shopdesk.storage.tables.finding import Findable
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.stores import Consignment, Part, PurchaseOrder
from shopdesk.storage.tables.walk import Observation, WalkRound
from shopdesk.storage.tables.work import Task, WorkOrder

_SEARCHED: dict[type, tuple[str, ...]] = {
    Party: ("name", "contact", "email", "phone", "town", "street", "postcode"),
    Range: ("number", "maker", "model", "serial", "colour", "stands_at", "note"),
}


def _refold(_mapper: Any, _connection: Any, row: Any) -> None:
    row.search_text = fold(" ".join(getattr(row, name) or "" for name in _SEARCHED[type(row)]))


for _table in _SEARCHED:
    event.listen(_table, "before_insert", _refold)
    event.listen(_table, "before_update", _refold)


@dataclass(frozen=True)
class _Words:
    """How a table's rows are found: the fields of the title, of the line below, and unseen ones."""

    kind: str
    title: tuple[str, ...]
    line: tuple[str, ...] = ()
    unseen: tuple[str, ...] = ()
    job: Callable[[Any], Any] = lambda row: getattr(row, "job_id", None)
    stands: Callable[[Any], bool] = lambda _row: True


def _job_of(table: type[WalkRound] | type[WorkOrder], key: int) -> Any:
    return sa.select(table.job_id).where(table.id == key).scalar_subquery()


_FOUND: dict[type, _Words] = {
    Range: _Words("range", ("number", "maker", "model"), ("colour",), ("serial", "stands_at", "note")),
    Party: _Words(
        "party", ("name",), ("phone", "town"), ("contact", "email", "street", "postcode", "note"),
        stands=lambda row: row.merged_into_id is None,
    ),
    Part: _Words("part", ("number", "name"), ("lies_at",), ("note",)),
    PurchaseOrder: _Words("order", ("number",), ("note",), ("their_number",)),
    Consignment: _Words("consignment", ("number",), ("note",), ("bill_number",)),
    Paper: _Words("paper", ("title",), (), ("number",)),
    Tag: _Words("tag", ("number", "what"), ("lies_at",), ("goes_back_words",)),
    Job: _Words("job", ("complaint",), job=lambda row: row.id, stands=lambda row: bool(row.complaint)),
    Observation: _Words(
        "look", ("note",), stands=lambda row: bool(row.note),
        job=lambda row: _job_of(WalkRound, row.walk_round_id),
    ),
    Task: _Words(
        "task", ("note",), ("name",), stands=lambda row: bool(row.note),
        job=lambda row: _job_of(WorkOrder, row.work_order_id),
    ),
}  # fmt: skip
_FINDABLE = Findable.__table__


def _keep(_mapper: Any, connection: sa.Connection, row: Any) -> None:
    how = _FOUND[type(row)]
    _forget(_mapper, connection, row)
    title, line = _joined(row, how.title), _joined(row, how.line)
    if how.stands(row) and title:
        digits = re.sub(r"\D", "", row.phone) if isinstance(row, Party) else ""
        connection.execute(
            sa.insert(_FINDABLE).values(  # type: ignore[arg-type]
                kind=how.kind,
                record_id=row.id,
                job_id=how.job(row),
                title=title,
                line=line,
                words=fold(f"{title} {line} {digits} {_joined(row, how.unseen)}"),
            )
        )


def _forget(_mapper: Any, connection: sa.Connection, row: Any) -> None:
    of_it = (_FINDABLE.c.kind == _FOUND[type(row)].kind) & (_FINDABLE.c.record_id == row.id)
    connection.execute(sa.delete(_FINDABLE).where(of_it))  # type: ignore[arg-type]


def _joined(row: Any, names: tuple[str, ...]) -> str:
    return " ".join(filter(None, (str(getattr(row, name) or "").strip() for name in names)))


def _changed(mapper: Any, connection: sa.Connection, row: Any) -> None:
    """Only when a word of it changed: tasks are ticked a hundred times for each note."""
    how = _FOUND[type(row)]
    watched = (*how.title, *how.line, *how.unseen, "merged_into_id")
    state = sa.inspect(row)
    if any(name in state.attrs and state.attrs[name].history.has_changes() for name in watched):
        _keep(mapper, connection, row)


for _table in _FOUND:
    event.listen(_table, "after_insert", _keep)
    event.listen(_table, "after_update", _changed)
    event.listen(_table, "after_delete", _forget)


def made_findable() -> Iterator[tuple[str, sa.Select[Any], Callable[[Sequence[Any]], tuple[Any, ...]]]]:
    """For making all of `findable` anew: of each kind, the query of its rows and what makes of one row
    its record's key, job, title, line and folded words."""
    for table, how in _FOUND.items():
        columns = table.__table__.c  # type: ignore[attr-defined]
        fields = [columns[name] for name in (*how.title, *how.line, *how.unseen)]
        query = sa.select(columns.id, _job_column(table), *fields)
        if table is Observation:
            query = query.join(WalkRound.__table__, WalkRound.id == columns.walk_round_id)
        elif table is Task:
            query = query.join(WorkOrder.__table__, WorkOrder.id == columns.work_order_id)
        elif table is Party:
            query = query.where(columns.merged_into_id.is_(None))
        yield how.kind, query.where(fields[0] != ""), partial(_words_of, how)


def _job_column(table: type) -> Any:
    if table is Job:
        return Job.id
    if table in (Observation, Task):
        return (WalkRound if table is Observation else WorkOrder).job_id
    return getattr(table, "job_id", sa.null())


def _words_of(how: _Words, row: Sequence[Any]) -> tuple[Any, ...]:
    key, job_id, *texts = row
    titles, lines = len(how.title), len(how.line)
    title = " ".join(filter(None, (text.strip() for text in texts[:titles])))
    line = " ".join(filter(None, (text.strip() for text in texts[titles : titles + lines])))
    digits = re.sub(r"\D", "", texts[how.line.index("phone") + titles]) if how.kind == "party" else ""
    unseen = " ".join(filter(None, (text.strip() for text in texts[titles + lines :])))
    return key, job_id, title, line, fold(f"{title} {line} {digits} {unseen}")


def with_words(session: Session, words: Sequence[str], limit: int) -> list[Findable]:
    """Records that hold all these folded words or beginnings of phrases; those that begin so come first."""
    if not words:
        return []
    first = words[0]
    begins = (Findable.words >= first) & (Findable.words < first + "\U0010ffff")
    rest = [Findable.words.contains(word, autoescape=True) for word in words[1:]]
    found = list(
        session.scalars(sa.select(Findable).where(begins, *rest).order_by(Findable.words).limit(limit))
    )
    known = {row.id for row in found}
    if len(found) < limit:
        found += [row for row in session.scalars(_holding(session, words, limit)) if row.id not in known]
    return found[:limit]


def _holding(session: Session, words: Sequence[str], limit: int) -> sa.Select[Findable]:
    query = sa.select(Findable).order_by(Findable.id.desc()).limit(limit)
    long = [word for word in words if len(word) >= 3]
    if session.get_bind().dialect.name == "sqlite" and long:
        pieces = sa.text("SELECT rowid FROM ft_findable WHERE words MATCH :match ORDER BY rowid DESC")
        match = pieces.bindparams(match=" AND ".join(map(_quoted, long))).columns(rowid=sa.Integer)
        query = query.where(Findable.id.in_(match))
        words = [word for word in words if len(word) < 3]
    return query.where(*(Findable.words.contains(word, autoescape=True) for word in words))


def few_with(
    connection: sa.Connection, word: str, kinds: Sequence[str], most: int
) -> list[tuple[str, int]] | None:
    """Kind and key of the records of some kinds that hold a folded word; None when there are more than
    `most`, or the word is too short to be looked up."""
    if len(word) < 3:
        return None
    if connection.dialect.name == "sqlite":
        # from the index of pieces to the records; the plus keeps SQLite from going the other way
        few = sa.text(
            "SELECT f.kind, f.record_id FROM ft_findable t JOIN findable f ON f.id = t.rowid "
            "WHERE t.words MATCH :match AND +f.kind IN :kinds LIMIT :most"
        ).bindparams(sa.bindparam("kinds", expanding=True))
        rows = connection.execute(few, {"match": _quoted(word), "kinds": list(kinds), "most": most + 1})
    else:
        holding = Findable.words.contains(word, autoescape=True)
        query = sa.select(Findable.kind, Findable.record_id).where(Findable.kind.in_(kinds), holding)
        rows = connection.execute(query.limit(most + 1))
    found = [(kind, key) for kind, key in rows]
    return found if len(found) <= most else None


def like_words(session: Session, words: Sequence[str], limit: int) -> list[Findable]:
    """Records that share many three-letter pieces with these words; for a slip of the pen."""
    pieces = {word[i : i + 3] for word in words for i in range(len(word) - 2)}
    if not pieces:
        return []
    if session.get_bind().dialect.name != "sqlite":
        has = session.execute(sa.text("SELECT 1 FROM pg_extension WHERE extname = 'pg_trgm'")).first()
        near = Findable.words.bool_op("%>")(" ".join(words))  # word similarity above 0.6
        return list(session.scalars(sa.select(Findable).where(near).limit(limit))) if has else []
    rare = session.execute(
        sa.text("SELECT term FROM ft_findable_pieces WHERE term IN :pieces ORDER BY doc LIMIT 6").bindparams(
            sa.bindparam("pieces", sorted(pieces), expanding=True)
        )
    ).scalars()
    match = " OR ".join(map(_quoted, rare))
    if not match:
        return []
    ranked = sa.text("SELECT rowid FROM ft_findable WHERE words MATCH :match ORDER BY rank LIMIT :most")
    ids = session.execute(ranked, {"match": match, "most": limit}).scalars().all()
    return list(session.scalars(sa.select(Findable).where(Findable.id.in_(ids))))


def _quoted(word: str) -> str:
    return '"' + word.replace('"', '""') + '"'
