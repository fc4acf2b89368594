"""The progress letter: what was done since the last one, with photographs of it."""

from reportlab.platypus import Flowable, Spacer

from shopdesk.documents.facts.kept_informed import ProgressLetterFacts
from shopdesk.documents.layout.blocks import party, range_name, section
from shopdesk.documents.layout.look import GAP, LEDE
from shopdesk.documents.layout.page import printed, width
from shopdesk.documents.layout.pictures import photographs
from shopdesk.documents.layout.tables import beside, pairs
from shopdesk.documents.layout.text import listed, para, paras
from shopdesk.wording import say

_DASH = "- "  # a line of the text that begins with it is an entry of a list


def render(facts: ProgressLetterFacts) -> bytes:
    """The paper as PDF bytes."""
    wide, about = width(facts.shop), facts.range
    right = [
        (say("Date"), facts.shop.region.day_long(facts.day)),
        (say("Range"), f"{about.number}, {range_name(about)}"),
        (say("Serial number"), about.serial),
    ]
    story: list[Flowable] = [
        beside(party(say("To"), facts.customer), pairs(right, wide / 2), wide),
        Spacer(0, GAP),
        *(flowable for text in facts.paragraphs for flowable in _paragraph(text)),
        *section(say("Seen at the bench"), photographs(facts.photos, wide, across=2), 220),
        Spacer(0, GAP * 2),
        para(facts.shop.name, LEDE),
    ]
    return printed(facts.shop, facts.subject, facts.number, story, about=facts.customer.name)


def _paragraph(text: str) -> list[Flowable]:
    """A paragraph; its lines with a dash before them are set as a list."""
    lines = text.split("\n")
    plain = "\n".join(line for line in lines if not line.startswith(_DASH))
    entries = tuple(line.removeprefix(_DASH) for line in lines if line.startswith(_DASH))
    return [*paras((plain,), LEDE), *listed(entries), Spacer(0, GAP)]
