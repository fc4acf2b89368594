"""The statement: a customer's account over a time, what is open, and how old it is."""

from reportlab.platypus import Flowable, KeepTogether, Spacer

from shopdesk.documents.facts.letters import StatementFacts
from shopdesk.documents.layout.accounts import account_rows, open_bills
from shopdesk.documents.layout.blocks import party, section, sums
from shopdesk.documents.layout.look import GAP
from shopdesk.documents.layout.page import printed, width
from shopdesk.documents.layout.tables import beside, pairs
from shopdesk.documents.layout.text import paras
from shopdesk.wording import say


def render(facts: StatementFacts) -> bytes:
    """The paper as PDF bytes."""
    wide, region = width(facts.shop), facts.shop.region
    right = [
        (say("Date"), region.day_long(facts.day)),
        (say("From"), region.day_long(facts.from_day)),
        (say("To"), region.day_long(facts.to_day)),
    ]
    last = (say("Balance"), region.money(facts.closing_cents))
    held = [(say("Held for you, in the balance"), region.money(facts.held_cents))] if facts.held_cents else []
    ages = [(name, region.money(cents)) for name, cents in facts.ages]
    story: list[Flowable] = [
        beside(party(say("Account of"), facts.customer), pairs(right, wide / 2), wide),
        Spacer(0, GAP),
        *account_rows(facts.before_cents, facts.rows, region, wide),
        KeepTogether([sums(held, last, wide)]),
        *section(say("What is open"), open_bills(facts.bills, region, wide)),
        *section(say("How old it is"), pairs(ages, wide, 180)),
        *section(say("How to pay"), paras(facts.how_to_pay)),
    ]
    return printed(facts.shop, say("Statement"), facts.number, story, about=facts.customer.name)
