"""The receipt for a range taken in: whose it is, what it is, how it came, what was asked."""

from reportlab.platypus import Flowable, Spacer

from shopdesk.documents.facts.custody import IntakeReceiptFacts
from shopdesk.documents.layout.blocks import party, pieces_table, range_name, range_pairs, section, signatures
from shopdesk.documents.layout.look import GAP
from shopdesk.documents.layout.page import printed, width
from shopdesk.documents.layout.standing import closing_deferral
from shopdesk.documents.layout.tables import beside, pairs
from shopdesk.documents.layout.text import para, paras
from shopdesk.wording import say


def render(facts: IntakeReceiptFacts) -> bytes:
    """The paper as PDF bytes."""
    wide, region = width(facts.shop), facts.shop.region
    left = [
        *party(say("Received from"), facts.customer),
        Spacer(0, GAP),
        *pairs(
            [
                (say("Received on"), region.day_long(facts.day)),
                (say("Brought by"), facts.came_by),
                (say("Taken in by"), facts.taken_by),
                (say("Estimate by"), region.day_long(facts.estimate_by) if facts.estimate_by else ""),
                (say("Back by"), region.day_long(facts.back_by) if facts.back_by else ""),
            ],
            wide / 2 - GAP * 2,
            78,
        ),
    ]
    signers = [
        say("{name} (owner or on the owner's behalf), date", name=facts.customer.name),
        say("For {shop}, date", shop=facts.shop.name),
    ]
    story: list[Flowable] = [
        beside(left, pairs(range_pairs(facts.range), wide / 2), wide),
        *section(say("Your account of the trouble"), paras((facts.trouble,))),
        *section(say("What you asked for"), paras((facts.wanted,))),
        *section(say("Condition as it came in"), paras((facts.condition or _not_examined(),))),
        *section(say("What came with it"), pieces_table(facts.pieces, wide)),
        *section(say("Before we begin"), paras((_no_work_unasked(), *facts.terms))),
        closing_deferral(),
        signatures(signers, wide, [para(_both_agree())]),
    ]
    about = say("Range {number}, {name}", number=facts.range.number, name=range_name(facts.range))
    return printed(facts.shop, say("Intake receipt"), facts.number, story, about=about)


def _not_examined() -> str:
    return say("Not examined yet. The condition report will say what is found.")


def _no_work_unasked() -> str:
    return say(
        "You will have a written estimate of parts and labor. No work is charged above it, and none is "
        "begun, before you have agreed."
    )


def _both_agree() -> str:
    return say("Both of us have looked at the range and the pieces named above as they were handed over.")
