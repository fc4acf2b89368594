"""The sums of a period's tables, by currency: what the bookkeeper checks the columns against."""

from collections.abc import Sequence
from decimal import Decimal

from shopdesk.exchange.tables_out import Cell, Table
from shopdesk.wording import say

_Row = Sequence[Cell]


def sums_of(papers: Table, taxes: Table, payments: Table, written_off: Table) -> Table:
    """One row for each sum that is not empty; the currency stands last in every table."""
    rows: list[list[Cell]] = []
    tables = (papers, taxes, payments, written_off)
    for currency in sorted({str(row[-1]) for table in tables for row in table.rows}):
        within = [[row for row in table.rows if row[-1] == currency] for table in tables]
        rows += [[what, amount, currency] for what, amount in _sums(*within)]
    return Table(say("Sums"), (say("What"), say("Amount"), say("Currency")), rows)


def _sums(
    papers: list[_Row], taxes: list[_Row], payments: list[_Row], written: list[_Row]
) -> list[tuple[str, Decimal]]:
    told: list[tuple[str, Decimal]] = []
    for at, what in ((9, say("without tax")), (10, say("tax")), (11, say("with tax"))):
        for kind, rows in _by(papers, 1).items():
            told.append((f"{kind[0]}: {what}", _sum(rows, at)))
        if papers:
            told.append((say("Papers together: {what}", what=what), _sum(papers, at)))
    for (tax, rate), rows in _by(taxes, 2, 4).items():
        name = say("{tax} at {rate} %", tax=tax or say("No tax"), rate=str(rate))
        told += [(f"{name}: {what}", _sum(rows, at)) for at, what in ((5, say("on")), (6, say("tax")))]
    told += [(str(kind[0]), _sum(rows, 7)) for kind, rows in _by(payments, 1).items()]
    if payments:
        told.append((say("Money taken, less what was given back"), _sum(payments, 7)))
    if written:
        told.append((say("Written off"), _sum(written, 2)))
    return told


def _by(rows: list[_Row], *at: int) -> dict[tuple[Cell, ...], list[_Row]]:
    """Rows that have these columns in common, in the order in which they first come."""
    found: dict[tuple[Cell, ...], list[_Row]] = {}
    for row in rows:
        found.setdefault(tuple(row[place] for place in at), []).append(row)
    return found


def _sum(rows: list[_Row], at: int) -> Decimal:
    return sum((amount for row in rows if isinstance(amount := row[at], Decimal)), Decimal(0))
