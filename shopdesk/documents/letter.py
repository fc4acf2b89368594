"""A letter: ready notices, storage, reminders, the account of a withdrawal."""

from reportlab.platypus import Flowable, Spacer

from shopdesk.documents.facts.letters import LetterFacts
from shopdesk.documents.layout.accounts import open_bills, reckoning
from shopdesk.documents.layout.blocks import bullets, party, range_name, section, signatures
from shopdesk.documents.layout.look import GAP, LEDE
from shopdesk.documents.layout.page import printed, width
from shopdesk.documents.layout.tables import beside, pairs
from shopdesk.documents.layout.text import para, paras
from shopdesk.wording import say


def render(facts: LetterFacts) -> bytes:
    """The paper as PDF bytes."""
    wide, region = width(facts.shop), facts.shop.region
    about = facts.range
    right = [
        (say("Date"), region.day_long(facts.day)),
        (say("Range"), f"{about.number}, {range_name(about)}" if about else ""),
        (say("Serial number"), about.serial if about else ""),
    ]
    story: list[Flowable] = [
        beside(party(say("To"), facts.customer), pairs(right, wide / 2), wide),
        Spacer(0, GAP),
        *paras(facts.paragraphs[:1], LEDE),
        *paras(facts.paragraphs[1:]),
        *section(say("What is open"), open_bills(facts.bills, region, wide)),
        *reckoning(facts.reckoning, region, wide),
        *bullets(say("What goes back to you"), facts.listed),
        *section(say("Conditions"), paras(facts.terms)),
        Spacer(0, GAP * 2),
        para(say("Local law comes first where it says otherwise.")),
        signatures([say("For {shop}, date", shop=facts.shop.name)], wide),
    ]
    return printed(facts.shop, facts.subject, facts.number, story, about=facts.customer.name)
