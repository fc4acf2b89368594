"""The quote (written estimate), and the change order that adds to one."""

from reportlab.platypus import Flowable, KeepTogether, Spacer

from shopdesk.documents.facts.counter import QuoteFacts
from shopdesk.documents.layout.blocks import bullets, party, range_name, range_pairs, section, signatures
from shopdesk.documents.layout.finishes import finish_list
from shopdesk.documents.layout.lines import priced_lines, totals_block
from shopdesk.documents.layout.look import GAP, LEDE, SECTION
from shopdesk.documents.layout.page import printed, width
from shopdesk.documents.layout.standing import closing_deferral
from shopdesk.documents.layout.tables import Column, Grid, beside, pairs
from shopdesk.documents.layout.text import listed, para, paras
from shopdesk.wording import say


def render(facts: QuoteFacts) -> bytes:
    """The paper as PDF bytes."""
    wide, region = width(facts.shop), facts.shop.region
    title = say("Change order") if facts.change_to else say("Quote")
    right = pairs(range_pairs(facts.range), wide / 2)
    without = say("Estimate, parts and labor, without tax")
    story: list[Flowable] = [
        beside(_left(facts, wide), right, wide),
        *pairs([(say("Your account"), facts.trouble)], wide, 78),
        *_opening(facts),
        *priced_lines(facts.lines, region, wide),
        KeepTogether(
            [totals_block(facts.totals, region, wide, adjustments=facts.adjustments, without=without)]
        ),
        *section(say("What changed since {number}", number=facts.replaces), listed(facts.changes)),
        *finish_list(facts.finishes, wide),
        *section(say("What you can rely on"), paras(_promises(facts))),
        *_milestones(facts, wide),
        *bullets(say("Not included"), facts.not_included),
        _agreement(facts, wide),
    ]
    about = say("Range {number}, {name}", number=facts.range.number, name=range_name(facts.range))
    return printed(facts.shop, title, facts.number, story, about=about)


def _left(facts: QuoteFacts, wide: float) -> list[Flowable]:
    region = facts.shop.region
    dates = [
        (say("Date"), region.day_long(facts.day)),
        (say("Holds until"), region.day_long(facts.valid_until) if facts.valid_until else ""),
        (say("Range received"), region.day_long(facts.received_on) if facts.received_on else ""),
    ]
    return [*party(say("For"), facts.customer), Spacer(0, GAP), *pairs(dates, wide / 2 - GAP * 2, 78)]


def _opening(facts: QuoteFacts) -> list[Flowable]:
    said = []
    if facts.change_to:
        said.append(
            say(
                "This adds to quote {number}. The work below was found at the bench and was not in it.",
                number=facts.change_to,
            )
        )
    if facts.replaces:
        said.append(say("It takes the place of {number}.", number=facts.replaces))
    said.append(say("How far the work goes: {scope}.", scope=facts.scope))
    if facts.scope_means:
        said.append(facts.scope_means)
    return [Spacer(0, GAP), para(" ".join(said), LEDE), Spacer(0, GAP)]


def _promises(facts: QuoteFacts) -> tuple[str, ...]:
    region = facts.shop.region
    ceiling = facts.ceiling_cents or facts.totals.without_tax
    said = []
    if facts.contingency_cents:
        said.append(
            say(
                "The hours are an estimate. With a contingency of {spare} on top of the {net} before tax, "
                "most jobs like this one stay within {amount}. It is charged only for hours the work has "
                "taken, on a line of its own; what is not needed you do not pay.",
                spare=region.money(facts.contingency_cents),
                net=region.money(facts.totals.without_tax),
                amount=region.money(ceiling),
            )
        )
    said.append(
        say(
            "We will not charge more than {amount} before tax without asking you first. If more turns up we "
            "stop, show you what was found, and go on only when you have agreed to the added parts, labor "
            "and new total.",
            amount=region.money(ceiling),
        )
    )
    if facts.deposit_cents:
        said.append(
            say("Work begins when {amount} has been paid as a deposit. It is set against the invoice.",
                amount=region.money(facts.deposit_cents))
        )  # fmt: skip
    if facts.promise:
        said.append(facts.promise)
    return tuple(said)


def _milestones(facts: QuoteFacts, wide: float) -> list[Flowable]:
    """When which share of the sum is billed."""
    if not facts.milestones:
        return []
    grid = Grid([Column(say("When")), Column(say("Share"), 72, True), Column(say("Without tax"), 100, True)])
    for each in facts.milestones:
        share = say("{percent} %", percent=each.percent)
        grid.row(each.name, share, facts.shop.region.amount(each.cents))
    return section(say("What is billed when"), [grid.table(wide)])


def _agreement(facts: QuoteFacts, wide: float) -> Flowable:
    """What is signed stands over the signatures, on one page with the conditions."""
    region, net = facts.shop.region, facts.totals.without_tax
    if facts.ceiling_cents > net:
        agreed = say("I agree to the work above for {amount} without tax, and to no more than {ceiling}.",
                     amount=region.money(net), ceiling=region.money(facts.ceiling_cents))  # fmt: skip
    else:
        agreed = say("I agree to the work above for {amount} without tax.", amount=region.money(net))
    signers = [say("{name}, date", name=facts.customer.name), say("For {shop}, date", shop=facts.shop.name)]
    conditions = [para(say("Conditions"), SECTION), *paras(facts.terms)] if facts.terms else []
    said = [*conditions, closing_deferral(), para(say("Agreement"), SECTION), para(agreed)]
    return signatures(signers, wide, said)
