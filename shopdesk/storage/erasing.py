"""Takes a person's words out of rows that never change otherwise, and out of every note that names them.

Consents and journal rows are listed in `erasure` first; only then does the database let their texts go.
A journal row keeps its own hash, so the chain stands, and the list says what it holds since (see
`checking`). Issued papers, and what the books are made of, are left as they are. Knows no services.
"""

import json
import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.storage.tables.base import Base
from shopdesk.storage.tables.counter import Agreement
from shopdesk.storage.tables.shop import Erasure, Journal
from shopdesk.storage.unit_of_work import UnitOfWork, journal_hash

MARK = "[…]"  # stands where a name or a number stood
# What the law has the shop keep as it was: papers, bills, money, proofs, and whatever is only added to.
_STAYS = frozenset({
    "paper", "journal", "erasure", "agreement", "agreement_left_out", "findable", "setting",
    "quote", "quote_line", "quote_adjustment", "invoice", "invoice_line", "invoice_adjustment", "letter",
    "payment", "payment_share", "write_off", "outlay", "proof", "part_movement", "goods_in", "goods_back",
    "caution_seen", "hours_word", "hold_answer", "comeback", "table_in", "piece_event", "stock_take",
    "stock_take_line", "promise", "number_series", "staff", "wage",
})  # fmt: skip
_LONG_WORD = re.compile(r"\w{3,}")  # a part of a name that is looked for
_TELLING = 6  # letters of a text that is looked for in the whole shop
_FOR_ALL = frozenset({"part", "staff"})  # what hangs on these is not about one person

Near = Mapping[str, Collection[int]]  # keys of rows by their table


class Words:
    """What a person is known by: telling texts wherever they stand, parts of the name near their jobs."""

    def __init__(self, texts: Iterable[str], names: Iterable[str]) -> None:
        telling = sorted({t.strip() for t in texts if _is_telling(t.strip())}, key=len, reverse=True)
        parts = sorted({p for name in names for p in _LONG_WORD.findall(name)})
        self.telling = telling
        anywhere = [re.escape(text) for text in telling]
        self._anywhere = re.compile("|".join(anywhere) or r"(?!)", re.IGNORECASE)
        self._near = re.compile("|".join(anywhere + [rf"\b{re.escape(p)}\b" for p in parts]) or r"(?!)")

    def struck(self, text: str, *, near: bool) -> str:
        text = self._anywhere.sub(MARK, text)
        return self._near.sub(MARK, text) if near else text


def _is_telling(text: str) -> bool:
    """Whether a text names one person: a number, an address, a name of two words; not "Hill"."""
    return len(text) >= _TELLING and any(sign.isdigit() or sign in "@ " for sign in text)


def near(session: Session, seeds: Near) -> dict[str, set[int]]:
    """These rows, and every row that hangs on them."""
    found = {table: set(keys) for table, keys in seeds.items()}
    for table in Base.metadata.sorted_tables:
        links = [
            column.in_(found[link.column.table.name])
            for column in table.c
            for link in column.foreign_keys
            if link.column.table.name in found and link.column.table.name not in _FOR_ALL
        ]
        if links and "id" in table.c:
            found.setdefault(table.name, set()).update(
                session.scalars(sa.select(table.c.id).where(sa.or_(*links)))
            )
    return found


def strike_notes(session: Session, words: Words, about: Near) -> None:
    """Takes the words out of every text of the shop that may still be changed."""
    for mapper in list(Base.registry.mappers):
        table: sa.Table = mapper.local_table  # type: ignore[assignment]
        texts = [a.key for a in mapper.column_attrs if _is_text(a.columns[0])]
        if table.name in _STAYS or not texts or "id" not in table.c:
            continue
        keys = about.get(table.name, ())
        held = [_holds(getattr(mapper.class_, key), words.telling) for key in texts]
        for row in session.scalars(sa.select(mapper.class_).where(sa.or_(table.c.id.in_(keys), *held))):
            for key in texts:
                before = getattr(row, key) or ""
                if (after := words.struck(before, near=row.id in keys)) != before:
                    setattr(row, key, after)
    session.flush()


def _is_text(column: Any) -> bool:
    return type(column.type) is sa.Text and not column.unique and bool(column.info.get("journal", True))


def _holds(column: Any, needles: Iterable[str]) -> sa.ColumnElement[bool]:
    return sa.or_(sa.false(), *(column.icontains(needle, autoescape=True) for needle in needles))


def empty_consents(work: UnitOfWork, jobs: Collection[int], who: str) -> None:
    """Empties who agreed, the number called, the note and the kept e-mail; amount, day and way stay."""
    for row in work.session.scalars(sa.select(Agreement).where(Agreement.job_id.in_(jobs))):
        work.add(Erasure(record="agreement", record_id=row.id))
        work.session.flush()
        row.who, row.number_called, row.note, row.kept_text = who, "", "", ""
    work.session.flush()


def strike_journal(work: UnitOfWork, words: Words, about: Near, emptied: Collection[str]) -> None:
    """Takes the words out of the journal, and every text of the records in `emptied` ("party 4")."""
    needles = [json.dumps(text, ensure_ascii=False)[1:-1] for text in words.telling]
    needles += [f'"{key}"' for key in emptied]
    jobs = about.get("job", ())
    held = [_holds(sa.cast(side, sa.Text), needles) for side in (Journal.before, Journal.after)]
    columns = [c for c in Journal.__table__.c if c.key != "hash"]
    query = sa.select(*columns).where(sa.or_(Journal.job_id.in_(jobs), *held)).order_by(Journal.id)
    for row in work.session.execute(query).mappings().all():
        is_near = row["job_id"] in jobs
        struck = {side: _struck(row[side], words, is_near, emptied) for side in ("before", "after")}
        if any(struck[side] != row[side] for side in struck):
            holds = journal_hash({**row, **struck, "salt": ""})
            work.add(Erasure(record="journal", record_id=row["id"], holds=holds))
            work.session.flush()
            change = sa.update(Journal).where(Journal.id == row["id"]).values(**struck, salt="")
            work.session.execute(change, execution_options={"synchronize_session": False})


def _struck(
    rows: dict[str, dict[str, Any]], words: Words, is_near: bool, emptied: Collection[str]
) -> dict[str, Any]:
    def text(value: Any, whole: bool) -> Any:
        if isinstance(value, str):
            return "" if whole else words.struck(value, near=is_near)
        if isinstance(value, list):
            return [text(each, whole) for each in value]
        if isinstance(value, dict):
            return {name: text(each, whole) for name, each in value.items()}
        return value

    return {key: text(fields, key in emptied) for key, fields in rows.items()}


def erasures(session: Session) -> Iterator[tuple[int, str]]:
    """Journal rows with the hash of what they hold since, as the journal itself tells, in its order."""
    listing = sa.cast(Journal.after, sa.Text).contains('"erasure ')
    for after in session.scalars(sa.select(Journal.after).where(listing).order_by(Journal.id)):
        for key, fields in after.items():
            if key.startswith("erasure ") and fields.get("record") == "journal":
                yield int(fields["record_id"]), str(fields["holds"])


def forget_pieces(session: Session) -> None:
    """Makes the index of three-letter pieces without what was taken out of it (SQLite keeps it till then)."""
    if session.get_bind().dialect.name == "sqlite":
        session.connection().exec_driver_sql("INSERT INTO ft_findable(ft_findable) VALUES('optimize')")
