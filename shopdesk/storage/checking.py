"""Whether a shop is whole: the database's own checks, the journal's chain, the papers' hashes."""

import hashlib
from collections.abc import Callable, Iterator

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.storage.erasing import erasures
from shopdesk.storage.opening import ShopFile
from shopdesk.storage.tables.counter import (
    Invoice,
    InvoiceAdjustment,
    InvoiceLine,
    Paper,
    Payment,
    PaymentShare,
)
from shopdesk.storage.tables.ranges import Photograph
from shopdesk.storage.tables.shop import Journal, NumberSeries
from shopdesk.storage.unit_of_work import journal_hash

Told = Callable[[float], None]


def faults(shop: ShopFile, told: Told = lambda _share: None) -> list[str]:
    """Every fault found, a sentence each; empty when the shop is whole.

    `told` hears how much of it is done, from 0 to 1. A file so damaged that it cannot be read through is a
    fault like the others.
    """
    with shop.reading() as session:
        found = _database(shop, session)
        if found:
            return found  # nothing read from a damaged file can be relied on
        checks = (_journal, _papers, _photographs, _invoices, _payments, _numbers)
        for done, check in enumerate(checks, start=1):
            told(done / (len(checks) + 1))
            found += check(session)
    told(1)
    return found


def quick_faults(shop: ShopFile) -> list[str]:
    """The pages and cells of a file without its indexes: much sooner than a full check."""
    if not shop.is_file:
        return []
    with shop.reading() as session:
        try:
            rows = session.connection().exec_driver_sql("PRAGMA quick_check")
            return [f"The file is damaged: {line}." for (line,) in rows if line != "ok"]
        except sa.exc.DatabaseError as error:
            return [f"The file is damaged: {error.orig}."]


def _database(shop: ShopFile, session: Session) -> list[str]:
    if not shop.is_file:
        return []
    run = session.connection().exec_driver_sql
    try:
        found = [f"The file is damaged: {line}." for (line,) in run("PRAGMA integrity_check") if line != "ok"]
        return found + [
            f"A row of {row[0]} points to a row of {row[2]} that is not there."
            for row in run("PRAGMA foreign_key_check")
        ]
    except sa.exc.DatabaseError as error:
        return [f"The file is damaged: {error.orig}."]


def _journal(session: Session) -> Iterator[str]:
    connection = session.connection()
    if connection.dialect.name == "postgresql" and connection.scalar(
        sa.text("SELECT row_security_active('journal')")
    ):
        return  # rows that tell wages are hidden from this account; an owner's checks the chain
    previous, last, erased = "", 0, dict(erasures(session))
    columns = [c for c in Journal.__table__.columns if c.key != "hash"]
    for row in session.execute(sa.select(Journal.__table__).order_by(Journal.id)).mappings():
        fields = {c.key: row[c.key] for c in columns}
        if row["id"] != last + 1:
            yield f"Journal row {last + 1} is missing."
        holds = journal_hash(fields)
        if row["previous_hash"] != previous or holds not in (row["hash"], erased.get(row["id"])):
            yield f"Journal row {row['id']} was changed after it was written."
        previous, last = row["hash"], row["id"]


def _papers(session: Session) -> Iterator[str]:
    for number, sha256, pdf in session.execute(sa.select(Paper.number, Paper.sha256, Paper.pdf)):
        if hashlib.sha256(pdf).hexdigest() != sha256:
            yield f"The paper {number} is not the one that was issued."


def _photographs(session: Session) -> Iterator[str]:
    for key, sha256, data in session.execute(sa.select(Photograph.id, Photograph.sha256, Photograph.data)):
        if hashlib.sha256(data).hexdigest() != sha256:
            yield f"Photograph {key} is not the one that was taken in."


def _invoices(session: Session) -> Iterator[str]:
    lines, changes = _summed(InvoiceLine.net_cents), _summed(InvoiceAdjustment.amount_cents)
    rows = session.execute(
        sa.select(Invoice.number, Invoice.net_cents, Invoice.tax_cents, Invoice.gross_cents, lines, changes)
        .where(Invoice.number.is_not(None))
        .order_by(Invoice.id)
    )
    for number, net, tax, gross, of_lines, of_changes in rows:
        if net != of_lines + of_changes or gross != net + tax:
            yield f"The lines of {number} do not add up to its total."


def _payments(session: Session) -> Iterator[str]:
    shared = sa.func.sum(PaymentShare.amount_cents)
    rows = session.execute(
        sa.select(Payment.number, Payment.amount_cents, shared).join(PaymentShare).group_by(Payment.id)
    )
    for number, amount, of_shares in rows:
        if abs(of_shares) > abs(amount):
            yield f"More of payment {number} is used than was paid."


def _numbers(session: Session) -> Iterator[str]:
    for column, series in ((Invoice.number, ("invoice", "credit")), (Payment.number, ("payment",))):
        numbers = set(session.scalars(sa.select(column).where(column.is_not(None))))
        for name in series:
            row = session.get(NumberSeries, name)
            for n in range(1, row.next if row else 1):
                if f"{row.prefix}{n:04d}" not in numbers:  # type: ignore[union-attr]
                    yield f"The {name} number {row.prefix}{n:04d} is missing."  # type: ignore[union-attr]


def _summed(column: sa.orm.InstrumentedAttribute[int]) -> sa.ScalarSelect[int]:
    """A column of an invoice's rows, summed for each invoice."""
    total = sa.select(sa.func.coalesce(sa.func.sum(column), 0))
    return total.where(column.class_.invoice_id == Invoice.id).correlate(Invoice).scalar_subquery()
