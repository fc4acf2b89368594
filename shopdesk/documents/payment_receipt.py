"""The receipt for money: a payment, a deposit, or money given back."""

from reportlab.platypus import Flowable, Spacer

from shopdesk.documents.facts.counter import PaymentReceiptFacts
from shopdesk.documents.layout.blocks import party, range_name, section, signatures, sums
from shopdesk.documents.layout.look import GAP, LEDE
from shopdesk.documents.layout.page import printed, width
from shopdesk.documents.layout.standing import red_tag_notice
from shopdesk.documents.layout.tables import Column, Grid, beside, pairs
from shopdesk.documents.layout.text import para, paras
from shopdesk.wording import say


def render(facts: PaymentReceiptFacts) -> bytes:
    """The paper as PDF bytes."""
    wide, region = width(facts.shop), facts.shop.region
    title = say("Refund receipt") if facts.kind == "refund" else say("Payment receipt")
    label = say("Paid back to") if facts.kind == "refund" else say("Received from")
    total = say("Paid back") if facts.kind == "refund" else say("Received")
    story: list[Flowable] = [
        beside(party(label, facts.customer), pairs(_money_facts(facts), wide / 2), wide),
        Spacer(0, GAP),
        para(_sentence(facts), LEDE),
        *_red_tag(facts, wide),
        *section(say("What it was set against"), _settled(facts, wide)),
        sums(_rest(facts), (total, region.money(abs(facts.amount_cents))), wide),
        *section(say("Conditions"), paras(facts.terms)),
        signatures([say("For {shop}, date", shop=facts.shop.name)], wide),
    ]
    return printed(facts.shop, title, facts.number, story, about=facts.customer.name)


def _red_tag(facts: PaymentReceiptFacts, wide: float) -> list[Flowable]:
    if not facts.red_tagged:
        return []
    text = say(
        "It must not be connected or lit. The hand-over sheet says what a licensed fitter has to prove."
    )
    return red_tag_notice([para(text)], wide)


def _money_facts(facts: PaymentReceiptFacts) -> list[tuple[str, str]]:
    about = facts.range
    return [
        (say("Date"), facts.shop.region.day_long(facts.day)),
        (say("Paid by"), facts.method),
        (say("Reference"), facts.reference),
        (say("Taken by"), facts.taken_by),
        (say("Range"), f"{about.number}, {range_name(about)}" if about else ""),
    ]


def _sentence(facts: PaymentReceiptFacts) -> str:
    amount = facts.shop.region.money(abs(facts.amount_cents))
    if facts.kind == "refund":
        return say("We have paid {amount} back to {name}.", amount=amount, name=facts.customer.name)
    if facts.kind == "deposit":
        return say(
            "We have received {amount} from {name} as a deposit. It is kept for this work and set against "
            "the invoice.",
            amount=amount,
            name=facts.customer.name,
        )
    return say("We have received {amount} from {name}. Thank you.", amount=amount, name=facts.customer.name)


def _settled(facts: PaymentReceiptFacts, wide: float) -> list[Flowable]:
    if not facts.settled:
        return []
    region = facts.shop.region
    grid = Grid(
        [
            Column(say("Invoice")),
            Column(say("Set against it"), 120, True),
            Column(say("Still open"), 120, True),
        ]
    )
    for share in facts.settled:
        grid.row(share.invoice, region.amount(share.cents), region.amount(share.open_cents))
    return [grid.table(wide)]


def _rest(facts: PaymentReceiptFacts) -> list[tuple[str, str]]:
    if not facts.held_cents:
        return []
    return [(say("Kept for you, not yet set against an invoice"), facts.shop.region.money(facts.held_cents))]
