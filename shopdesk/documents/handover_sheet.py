"""The hand-over sheet: goes with a range to its kitchen."""

from reportlab.platypus import Flowable, Spacer

from shopdesk.documents.facts.custody import HandOverFacts
from shopdesk.documents.layout.blocks import (
    bullets,
    labelled,
    party,
    pieces_table,
    range_name,
    range_pairs,
    section,
    signatures,
)
from shopdesk.documents.layout.look import GAP
from shopdesk.documents.layout.page import printed, width
from shopdesk.documents.layout.standing import cautions_section, closing_deferral, standing_notice
from shopdesk.documents.layout.tables import beside, pairs
from shopdesk.documents.layout.text import listed, para, paras
from shopdesk.wording import say


def render(facts: HandOverFacts) -> bytes:
    """The paper as PDF bytes."""
    wide, region = width(facts.shop), facts.shop.region
    signers = [
        say("Handed over by {name}, date", name=facts.handed_by),
        say("Received by {name}, date", name=facts.customer.name),
    ]
    if facts.at_home:
        signers.append(say("Licensed fitter, after the proofs at home: name, license number, date"))
    story: list[Flowable] = [
        beside(_left(facts, wide), pairs(range_pairs(facts.range), wide / 2), wide),
        *standing_notice(facts.standing, region, wide),
        *_at_home(facts),
        *labelled(say("Gas identity"), facts.gas, wide),
        *section(say("As it was set"), pairs(facts.settings, wide, 170)),
        *section(say("Proofs in the shop"), pairs(facts.proofs, wide, 240)),
        *bullets(say("What was done"), facts.work_done),
        *section(say("What goes with it"), pieces_table(facts.pieces, wide)),
        *bullets(say("Living with it"), facts.living_with_it),
        *cautions_section(facts.cautions),
        *section(say("Warranty"), paras(facts.warranty)),
        signatures(signers, wide, [closing_deferral()]),
    ]
    about = say("Range {number}, {name}", number=facts.range.number, name=range_name(facts.range))
    return printed(facts.shop, say("Hand-over sheet"), facts.number, story, about=about)


def _left(facts: HandOverFacts, wide: float) -> list[Flowable]:
    rows = [
        (say("Date"), facts.shop.region.day_long(facts.day)),
        (say("Proof sheet"), facts.proof_sheet),
        (say("Invoice"), facts.invoice),
    ]
    return [
        *party(say("Handed over to"), facts.customer),
        Spacer(0, GAP),
        *pairs(rows, wide / 2 - GAP * 2, 78),
    ]


def _at_home(facts: HandOverFacts) -> list[Flowable]:
    if not facts.at_home:
        return []
    said = para(
        say(
            "Moving a range can open a joint. A licensed fitter connects it with a new connector and makes "
            "these proofs where it stands, before it is used."
        )
    )
    return section(say("Still to prove at home"), [said, *listed(facts.at_home)])
