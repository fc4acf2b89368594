"""The invoice, and the credit that corrects one."""

from reportlab.platypus import Flowable, KeepTogether, Spacer

from shopdesk.documents.facts.counter import Consent, InvoiceFacts
from shopdesk.documents.layout.blocks import party, range_name, range_pairs, section, signatures
from shopdesk.documents.layout.lines import priced_lines, totals_block
from shopdesk.documents.layout.look import GAP, LEDE, NOTE
from shopdesk.documents.layout.page import printed, width
from shopdesk.documents.layout.standing import standing_notice
from shopdesk.documents.layout.tables import Column, Grid, beside, pairs
from shopdesk.documents.layout.text import para, paras
from shopdesk.wording import Region, say


def render(facts: InvoiceFacts) -> bytes:
    """The paper as PDF bytes."""
    wide, region = width(facts.shop), facts.shop.region
    title = say("Credit") if facts.credit_of else say("Invoice")
    last = say("Credited to you") if facts.credit_of else say("Due")
    story: list[Flowable] = [
        beside(_left(facts, wide), pairs(range_pairs(facts.range), wide / 2), wide),
        *(_standing(facts, wide) if _red(facts) else []),
        *pairs([(say("Your account"), facts.trouble)], wide, 78),
        *_why_credit(facts),
        Spacer(0, GAP),
        *priced_lines(facts.lines, region, wide),
        KeepTogether(
            [
                totals_block(
                    facts.totals,
                    region,
                    wide,
                    payments=facts.payments,
                    adjustments=facts.adjustments,
                    last=last,
                )
            ]
        ),
    ]
    if not _red(facts):
        story += _standing(facts, wide)
    story += section(say("What you agreed to"), _consents(facts.consents, region, wide))
    story += section(say("How to pay"), paras(() if facts.credit_of else facts.how_to_pay))
    story += section(say("Conditions"), paras(facts.terms))
    story += [signatures(_signers(facts), wide)]
    about = say("Range {number}, {name}", number=facts.range.number, name=range_name(facts.range))
    return printed(facts.shop, title, facts.number, story, about=about)


def _red(facts: InvoiceFacts) -> bool:
    """A range that must not be lit: said before the figures, not after them."""
    return facts.standing is not None and facts.standing.red_tagged


def _standing(facts: InvoiceFacts, wide: float) -> list[Flowable]:
    return standing_notice(facts.standing, facts.shop.region, wide) if facts.standing else []


def _left(facts: InvoiceFacts, wide: float) -> list[Flowable]:
    region = facts.shop.region
    label = say("Credit to") if facts.credit_of else say("Invoice to")
    dates = [
        (say("Date"), region.day_long(facts.day)),
        (say("Due by"), region.day_long(facts.due_on) if facts.due_on else ""),
        (say("Range received"), region.day_long(facts.received_on) if facts.received_on else ""),
    ]
    return [*party(label, facts.customer), Spacer(0, GAP), *pairs(dates, wide / 2 - GAP * 2, 78)]


def _why_credit(facts: InvoiceFacts) -> list[Flowable]:
    if not facts.credit_of:
        return []
    said = say("This credit corrects invoice {number}.", number=facts.credit_of)
    return [Spacer(0, GAP), para(f"{said} {facts.credit_why}".strip(), LEDE)]


def _consents(consents: tuple[Consent, ...], region: Region, wide: float) -> list[Flowable]:
    if not consents:
        return []
    grid = Grid(
        [Column(say("When"), 120), Column(say("Who and how")), Column(say("Amount without tax"), 100, True)]
    )
    for consent in consents:
        how = say("{who}, {how}", who=consent.who, how=consent.how)
        if consent.number_called:
            how += ", " + say("number called {number}", number=consent.number_called)
        if consent.taken_by:
            how += ", " + say("taken by {name}", name=consent.taken_by)
        cell = [para(how), *([para(consent.what, NOTE)] if consent.what else [])]
        grid.row(consent.at, cell, region.amount(consent.amount_cents))
    return [grid.table(wide)]


def _signers(facts: InvoiceFacts) -> list[str]:
    return [
        say("For {shop}, date", shop=facts.shop.name),
        say("Received by {name}, date", name=facts.customer.name),
    ]
