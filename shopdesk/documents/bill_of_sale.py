"""The bill of sale: a range of the shop's own passes to its buyer."""

from reportlab.platypus import Flowable, Spacer

from shopdesk.documents.facts.letters import BillOfSaleFacts
from shopdesk.documents.layout.blocks import party, range_name, range_pairs, section, signatures
from shopdesk.documents.layout.look import GAP, LEDE
from shopdesk.documents.layout.page import printed, width
from shopdesk.documents.layout.standing import closing_deferral, standing_notice
from shopdesk.documents.layout.tables import beside, pairs
from shopdesk.documents.layout.text import para, paras
from shopdesk.wording import say


def render(facts: BillOfSaleFacts) -> bytes:
    """The paper as PDF bytes."""
    wide, region = width(facts.shop), facts.shop.region
    left = [
        *party(say("Buyer"), facts.buyer),
        Spacer(0, GAP),
        *pairs([(say("Date"), region.day_long(facts.day)), (say("Invoice"), facts.invoice)], wide / 2, 78),
    ]
    story: list[Flowable] = [
        beside(left, pairs(range_pairs(facts.range), wide / 2), wide),
        Spacer(0, GAP),
        para(_passes(facts), LEDE),
        *section(say("Warranty"), paras(_warranty(facts))),
        *(standing_notice(facts.standing, region, wide) if facts.standing else []),
        *section(say("Conditions"), paras(facts.terms)),
        signatures(
            [
                say("For {shop}, date", shop=facts.shop.name),
                say("{name} (buyer), date", name=facts.buyer.name),
            ],
            wide,
            [closing_deferral()],
        ),
    ]
    about = say("Range {number}, {name}", number=facts.range.number, name=range_name(facts.range))
    return printed(facts.shop, say("Bill of sale"), facts.number, story, about=about)


def _passes(facts: BillOfSaleFacts) -> str:
    return say(
        "{shop} sells the range named here to {buyer} for {price}, billed with invoice {invoice}. The shop "
        "says that it owns the range and that nobody else has a claim on it. It passes to the buyer when "
        "the invoice is paid.",
        shop=facts.shop.name,
        buyer=facts.buyer.name,
        price=facts.shop.region.money(facts.price_cents),
        invoice=facts.invoice,
    )


def _warranty(facts: BillOfSaleFacts) -> tuple[str, ...]:
    if facts.warranty_until is None:
        return ()
    day = facts.shop.region.day_long(facts.warranty_until)
    return (say("The shop answers for its work on this range until {day}.", day=day),)
