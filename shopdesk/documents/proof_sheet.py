"""The proof sheet: each test with its readings, instrument, person, limit and where the limit comes from."""

from reportlab.platypus import Flowable, KeepTogether, Spacer

from shopdesk.documents.facts.proving import ProofFacts, ProofSheetFacts
from shopdesk.documents.layout.blocks import (
    bullets,
    labelled,
    party,
    range_name,
    range_pairs,
    section,
    signatures,
)
from shopdesk.documents.layout.cells import cells
from shopdesk.documents.layout.charted import DrawnChart
from shopdesk.documents.layout.look import BENCH, GAP, RULE, RULE_WIDTH, SMALL, STRONG_RIGHT
from shopdesk.documents.layout.page import printed, width
from shopdesk.documents.layout.pictures import photographs
from shopdesk.documents.layout.standing import closing_deferral, standing_notice
from shopdesk.documents.layout.tables import beside, pairs
from shopdesk.documents.layout.text import marked, markup, para, quiet, strong
from shopdesk.wording import say

# Shape and word tell the result; a sheet copied in black and white says the same.
_MARKS = {"meets": "○", "does not meet": "■", "cannot tell": "△"}


def render(facts: ProofSheetFacts) -> bytes:
    """The paper as PDF bytes."""
    wide, region = width(facts.shop), facts.shop.region
    left = [*party(say("For"), facts.customer)] if facts.customer else []
    left += [Spacer(0, GAP), *pairs([(say("Date"), region.day_long(facts.day))], wide / 2, 78)]
    proofs = [block for proof in facts.proofs for block in _proof(proof, wide)]
    story: list[Flowable] = [
        beside(left, pairs(range_pairs(facts.range), wide / 2), wide),
        *standing_notice(facts.standing, region, wide),
        *labelled(say("Gas identity"), facts.gas, wide),
        *section(say("In short"), pairs(_in_short(facts), wide, 240)),
        *section(say("Proofs in the order of proving"), [para(_three_words(), SMALL), *proofs], _room(facts)),
        *bullets(say("Still to prove where it is connected"), facts.at_home),
        *section(say("Cautions"), [markup(marked(text) + " " + marked(to)) for text, to in facts.cautions]),
        signatures(_signers(facts), wide, [closing_deferral()]),
    ]
    about = say("Range {number}, {name}", number=facts.range.number, name=range_name(facts.range))
    return printed(facts.shop, say("Proof sheet"), facts.number, story, about=about)


def _room(facts: ProofSheetFacts) -> float:
    """Points the heading and the first proof take; a proof with charts is the taller one."""
    return 320 if any(proof.charts for proof in facts.proofs[:1]) else 160


def _in_short(facts: ProofSheetFacts) -> list[tuple[str, str]]:
    """Each proof's last word, before the sheets of readings."""
    return [
        (proof.name, say("{result}, {at}", result=result_words(proof.result), at=proof.at))
        for proof in facts.proofs
        if not proof.superseded
    ]


def result_words(result: str) -> str:
    """One of the three words, with its mark."""
    words = {"meets": say("meets"), "does not meet": say("does not meet"), "cannot tell": say("cannot tell")}
    return f"{_MARKS[result]} {words[result]}"


def _three_words() -> str:
    return say(
        "Each proof meets its limit, does not meet it, or cannot tell: the instrument was too coarse or the "
        "test could not be finished. A reading that did not meet stays on this sheet."
    )


def _proof(proof: ProofFacts, wide: float) -> list[Flowable]:
    verdict = marked(result_words(proof.result))
    if proof.superseded:
        verdict += "<br/>" + quiet(say("made again below"))
    head = cells(
        [[para(proof.name, BENCH), markup(verdict, STRONG_RIGHT)]],
        [wide - 130, 130],
        ("LINEABOVE", (0, 0), (-1, 0), RULE_WIDTH, RULE),
        ("TOPPADDING", (0, 0), (-1, -1), 5),
    )
    who = say("{by}, {at}", by=proof.by, at=proof.at)
    if proof.signed_by:
        who += "; " + say("signed by {name}", name=proof.signed_by)
    rows = [
        (say("How"), proof.how), (say("Instrument"), proof.instrument), (say("Made by"), who),
        (say("Limit"), proof.limit), (say("Limit from"), proof.source), (say("Remark"), proof.note),
    ]  # fmt: skip
    readings = [markup(f"{marked(r.name)}: {strong(r.value)}") for r in proof.readings]
    left: list[Flowable] = [*readings] or [para(say("No reading taken."))]
    drawn: list[Flowable] = [DrawnChart(chart, wide / 2 - GAP * 4, 138) for chart in proof.charts]
    if len(drawn) == 1:
        left += [Spacer(0, GAP), *drawn]
    body = beside(left, pairs(rows, wide / 2, 62), wide)
    charts = _two_by_two(drawn, wide) if len(drawn) > 1 else []
    told = [para(text) for text in proof.says]
    first: list[Flowable] = [Spacer(0, GAP), head, *told, body, *charts[:1]]
    block: list[Flowable] = [KeepTogether(first), *charts[1:]]
    return [*block, *photographs(proof.pictures, wide)]


def _two_by_two(drawn: list[Flowable], wide: float) -> list[Flowable]:
    """Charts beside each other, each row kept whole."""
    half = wide / 2
    return [cells([[*drawn[n : n + 2], ""][:2]], [half, half]) for n in range(0, len(drawn), 2)]


def _signers(facts: ProofSheetFacts) -> list[str]:
    signers = [say("For {shop}, name and date", shop=facts.shop.name)]
    return [*signers, say("Licensed fitter, where one took part: name, license number, date")]
