"""The purchase order to a supplier."""

from reportlab.platypus import Flowable, Spacer

from shopdesk.documents.facts.stores import OrderLineFacts, PurchaseOrderFacts
from shopdesk.documents.layout.blocks import party, section, signatures, sums
from shopdesk.documents.layout.look import GAP, LEDE, SMALL
from shopdesk.documents.layout.page import printed, width
from shopdesk.documents.layout.tables import Column, Grid, beside, pairs
from shopdesk.documents.layout.text import marked, markup, para, paras, quiet
from shopdesk.wording import say


def render(facts: PurchaseOrderFacts) -> bytes:
    """The paper as PDF bytes."""
    wide, region = width(facts.shop), facts.shop.region
    story: list[Flowable] = [
        beside(party(say("To"), facts.supplier), pairs(_facts(facts), wide / 2), wide),
        Spacer(0, GAP),
        para(say("Please send us the following. Put our order number on the parcel and the bill."), LEDE),
        Spacer(0, GAP),
        *_lines(facts, wide),
    ]
    if facts.total_cents is not None:
        total = region.money(facts.total_cents, facts.currency)
        story.append(sums([], (say("Total as agreed"), total), wide))
    story += section(say("Remarks"), paras(facts.notes))
    story += [signatures([say("For {shop}, date", shop=facts.shop.name)], wide)]
    return printed(facts.shop, say("Purchase order"), facts.number, story, about=facts.supplier.name)


def _facts(facts: PurchaseOrderFacts) -> list[tuple[str, str]]:
    region = facts.shop.region
    return [
        (say("Date"), region.day_long(facts.day)),
        (say("Wanted by"), region.day_long(facts.wanted_by) if facts.wanted_by else ""),
        (say("Our account"), facts.our_account),
        (say("Send by"), facts.ship_by),
        (say("Deliver to"), "\n".join(facts.deliver_to)),
        (say("Ordered by"), facts.ordered_by),
    ]


def _lines(facts: PurchaseOrderFacts, wide: float) -> list[Flowable]:
    region = facts.shop.region
    currency = facts.currency or region.currency
    money = say("{label} ({currency})", label=say("Amount"), currency=currency)
    grid = Grid([
        Column(say("No."), 26), Column(say("Your number"), 84), Column(say("What")),
        Column(say("Quantity"), 56, True), Column(say("Each"), 68, True), Column(money, 84, True),
    ])  # fmt: skip
    for number, line in enumerate(facts.lines, start=1):
        each, amount = "", ""
        if line.unit_cents is not None:
            each = region.amount(line.unit_cents, currency)
            amount = region.amount(line.unit_cents * line.quantity, currency)
        grid.row(
            para(str(number), SMALL), line.theirs, _what(line), region.number(line.quantity), each, amount
        )
    return [grid.table(wide)]


def _what(line: OrderLineFacts) -> Flowable:
    asides = [line.note, say("for range {number}", number=line.for_range) if line.for_range else ""]
    below = ", ".join(piece for piece in asides if piece)
    return markup(marked(line.what) + ("<br/>" + quiet(below) if below else ""))
