"""Tables of money over several bills: what is open, a reckoning, the rows of a statement."""

from collections.abc import Sequence

from reportlab.platypus import Flowable, KeepTogether

from shopdesk.documents.facts.letters import AccountLine, OpenBill, StatementRow
from shopdesk.documents.layout.blocks import sums
from shopdesk.documents.layout.tables import Column, Grid
from shopdesk.wording import Region, say


def open_bills(bills: Sequence[OpenBill], region: Region, wide: float) -> list[Flowable]:
    """Each bill with its days and what is left of it, and the whole below."""
    if not bills:
        return []
    money = say("{label} ({currency})", label=say("Open"), currency=region.currency)
    grid = Grid(
        [
            Column(say("Invoice")),
            Column(say("Date"), 104),
            Column(say("Due by"), 104),
            Column(say("Amount"), 92, True),
            Column(money, 92, True),
        ]
    )
    for bill in bills:
        due = region.day(bill.due_on) if bill.due_on else ""
        grid.row(bill.number, region.day(bill.day), due, region.amount(bill.gross_cents),
                 region.amount(bill.open_cents))  # fmt: skip
    whole = region.money(sum(bill.open_cents for bill in bills))
    return [grid.table(wide), KeepTogether([sums([], (say("Open altogether"), whole), wide)])]


def reckoning(lines: Sequence[AccountLine], region: Region, wide: float) -> list[Flowable]:
    """Figures one below the other; the last one strong."""
    if not lines:
        return []
    rows = [(line.label, region.money(line.cents)) for line in lines]
    return [KeepTogether([sums(rows[:-1], rows[-1], wide)])]


def account_rows(
    before_cents: int, rows: Sequence[StatementRow], region: Region, wide: float
) -> list[Flowable]:  # fmt: skip
    grid = Grid(
        [
            Column(say("Date"), 92),
            Column(say("What")),
            Column(say("Billed"), 88, True),
            Column(say("Paid or credited"), 96, True),
            Column(say("Balance"), 88, True),
        ]
    )
    grid.row("", say("Balance before"), "", "", region.amount(before_cents))
    for row in rows:
        plus = region.amount(row.cents) if row.cents > 0 else ""
        minus = region.amount(-row.cents) if row.cents < 0 else ""
        grid.row(region.day(row.day), row.what, plus, minus, region.amount(row.balance_cents))
    return [grid.table(wide)]
