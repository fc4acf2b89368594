"""Priced lines and their totals, alike on quotes, invoices and credits."""

from collections.abc import Sequence

from reportlab.platypus import Flowable, Paragraph

from shopdesk.documents.facts.counter import AdjustmentFacts, Condition, Kind, LineFacts, Paid
from shopdesk.documents.layout.blocks import sums
from shopdesk.documents.layout.tables import Column, Grid
from shopdesk.documents.layout.text import marked, markup, quiet
from shopdesk.domain.totals import Totals
from shopdesk.wording import Region, say

_ORDER: tuple[Kind, ...] = ("labour", "part", "outwork", "delivery", "charge")


def kind_name(kind: Kind) -> str:
    return {
        "labour": say("Labor"),
        "part": say("Parts"),
        "outwork": say("Outwork"),
        "delivery": say("Delivery"),
        "charge": say("Other charges"),
    }[kind]


def condition_name(condition: Condition) -> str:
    return {
        "": "",
        "new": say("new part"),
        "used": say("used part"),
        "exchanged": say("exchanged part"),
        "made": say("made in the shop"),
    }[condition]


def priced_lines(lines: Sequence[LineFacts], region: Region, width: float) -> list[Flowable]:
    """Lines by kind, each kind with its sum, each line with what caused it beside it in small grey.

    A job has forty lines or more: they are set close, so that a quote stays a paper one reads.
    """
    if not lines:
        return []
    money = say("{label} ({currency})", label=say("Amount"), currency=region.currency)
    rate = _one_rate(lines)
    grid = Grid(
        [
            Column(say("What")),
            Column(say("Quantity"), 58, True),
            Column(say("Price"), 74 if rate is None else 50, True),
            Column(money, 68, True),
        ],
        close=True,
    )
    for kind in _ORDER:
        within = [line for line in lines if line.kind == kind]
        if within:
            name = kind_name(kind)
            if kind == "labour" and rate is not None:
                name = say("{kind}, {price} an hour", kind=name, price=region.amount(rate))
            grid.group(name, region.amount(sum(line.net_cents for line in within)))
        for line in within:
            grid.row(
                _what(line, region),
                _quantity(line, region),
                "" if kind == "labour" and rate is not None else _price(line, region),
                region.amount(line.net_cents),
            )
    return [grid.table(width)]


def _one_rate(lines: Sequence[LineFacts]) -> int | None:
    """The price of an hour where several hours of work have the same; it is then said once, over them."""
    rates = [line.unit_cents for line in lines if line.kind == "labour"]
    return rates[0] if len(rates) > 1 and len(set(rates)) == 1 else None


def _what(line: LineFacts, region: Region) -> Paragraph:
    pieces = marked(line.what)
    asides = [piece for piece in (condition_name(line.condition), line.tax_name) if piece]
    if asides:
        pieces += " " + quiet("(" + ", ".join(asides) + ")")
    if line.adjust_cents:
        pieces += "<br/>" + quiet(_adjusted(line, region))
    if line.because:
        pieces += "  " + quiet(say("because: {cause}", cause=line.because))
    return markup(pieces)


def _adjusted(line: LineFacts, region: Region) -> str:
    """So that what is printed multiplies out: the full amount, then what comes off or on."""
    full = region.amount(line.net_cents - line.adjust_cents)
    less = region.amount(abs(line.adjust_cents))
    if line.adjust_cents < 0:
        return say("{full} less {amount}: {why}", full=full, amount=less, why=line.adjust_why)
    return say("{full} and {amount} more: {why}", full=full, amount=less, why=line.adjust_why)


def _quantity(line: LineFacts, region: Region) -> str:
    return region.hours(line.quantity) if line.kind == "labour" else region.number(line.quantity)


def _price(line: LineFacts, region: Region) -> str:
    price = region.amount(line.unit_cents)
    return say("{price} an hour", price=price) if line.kind == "labour" else price


def totals_block(
    totals: Totals,
    region: Region,
    width: float,
    *,
    payments: Sequence[Paid] = (),
    adjustments: Sequence[AdjustmentFacts] = (),
    without: str = "",
    last: str = "",
) -> Flowable:
    """Without tax, tax by rate, with tax, each payment, and what is due when `last` names it."""
    rows = []
    if adjustments:
        rows.append((say("Lines"), region.money(totals.lines)))
        rows += [(_reason(entry, region), region.money(entry.cents)) for entry in adjustments]
    elif totals.adjustments:
        rows += [(say("Lines"), region.money(totals.lines)),
                 (say("Discounts and surcharges"), region.money(totals.adjustments))]  # fmt: skip
    rows.append((without or say("Without tax"), region.money(totals.without_tax)))
    rows += [
        (
            say("{name} {rate} on {base}", name=group.tax_kind.name or say("Tax"),
                rate=region.percent(group.tax_kind.percent), base=region.money(group.base)),
            region.money(group.tax),
        )
        for group in totals.groups
        if group.tax_kind.percent
    ]  # fmt: skip
    if not last:
        return sums(rows, (say("With tax"), region.money(totals.with_tax)), width)
    rows.append((say("With tax"), region.money(totals.with_tax)))
    for paid in payments:
        label = say("{label}, {day}", label=paid.label, day=region.day(paid.day))
        rows.append((label, region.money(-paid.cents)))
    if totals.paid and not payments:
        rows.append((say("Paid"), region.money(-totals.paid)))
    if totals.rounding:
        rows.append((say("Rounding"), region.money(totals.rounding)))
    return sums(rows, (last, region.money(totals.due)), width)


def _reason(entry: AdjustmentFacts, region: Region) -> str:
    if entry.percent is None:
        return entry.why
    return say("{why}, {rate}", why=entry.why, rate=region.percent(abs(entry.percent)))
