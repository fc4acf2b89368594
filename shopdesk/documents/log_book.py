"""A range's log book: before, during, after, readings, settings; goes with it to the next owner."""

from reportlab.platypus import Flowable, Spacer

from shopdesk.documents.facts.kept_informed import LogBookFacts, LoggedJob, LoggedProof
from shopdesk.documents.layout.blocks import bullets, labelled, range_name, range_pairs, section
from shopdesk.documents.layout.drawn import DrawnRange
from shopdesk.documents.layout.look import GAP, SMALL
from shopdesk.documents.layout.page import printed, width
from shopdesk.documents.layout.pictures import photographs
from shopdesk.documents.layout.standing import cautions_section, closing_deferral
from shopdesk.documents.layout.tables import Cell, Column, Grid, beside, pairs
from shopdesk.documents.layout.text import marked, markup, para, quiet, strong
from shopdesk.documents.proof_sheet import result_words
from shopdesk.wording import Region, say

_BLANK = 8  # lines for what comes later
_LINE = 17.0  # points


def render(facts: LogBookFacts) -> bytes:
    """The paper as PDF bytes."""
    wide, region = width(facts.shop), facts.shop.region
    drawn = DrawnRange(facts.drawing, (), wide * 0.44, 190)
    drawn.hAlign = "CENTER"
    story: list[Flowable] = [
        para(_about()),
        Spacer(0, GAP),
        beside(pairs(range_pairs(facts.range), wide / 2), [drawn], wide),
        *labelled(say("Gas, spuds and label"), facts.gas, wide),
        *(flowable for job in facts.jobs for flowable in _job(job, region, wide)),
        *bullets(say("Still to prove where it is connected"), facts.at_home),
        *cautions_section(facts.cautions),
        *section(say("From here on"), [_later(wide)], 140),
        closing_deferral(),
    ]
    about = say("Range {number}, {name}", number=facts.range.number, name=range_name(facts.range))
    return printed(facts.shop, say("Log book"), facts.number, story, about=about)


def _about() -> str:
    return say(
        "This book stays with the range. It says how the range came to the shop, what was done, with which "
        "parts, and what was measured. Write below what is done to it later, and hand it on."
    )


def _job(job: LoggedJob, region: Region, wide: float) -> list[Flowable]:
    """One stay in the shop, told in its order."""
    when = (
        say("{since} to {until}", since=region.day(job.since), until=region.day(job.until))
        if job.until
        else say("since {since}", since=region.day(job.since))
    )
    head = [markup(strong(job.how_it_left))] if job.how_it_left else []
    return [
        *section(say("In the shop, {when}", when=when), [*head, Spacer(0, GAP / 2)], 120),
        *section(say("Before"), [*_found(job, wide), *photographs(job.before, wide)], 120),
        *section(say("During"), [*_done(job, region, wide), *photographs(job.during, wide)], 120),
        *section(say("Parts put in, and where they came from"), _parts(job, region, wide), 90),
        *section(say("Pieces done outside"), _outside(job, region, wide), 90),
        *section(say("After"), photographs(job.after, wide), 150),
        *labelled(say("How it is set"), job.settings, wide),
        *section(say("Proofs"), [f for proof in job.proofs for f in _proof(proof, region, wide)], 120),
    ]


def _found(job: LoggedJob, wide: float) -> list[Flowable]:
    if not job.found:
        return []
    grid = Grid([Column(say("Found")), Column(say("How it is known"), 110)], close=True)
    for what, known in job.found:
        grid.row(what, known)
    return [grid.table(wide), Spacer(0, GAP)]


def _done(job: LoggedJob, region: Region, wide: float) -> list[Flowable]:
    if not job.done:
        return [para(say("Nothing was done in this time."), SMALL)]
    grid = Grid([Column(say("Day"), 78), Column(say("Done"))], close=True)
    for day, what in job.done:
        grid.row(region.day(day), what)
    return [grid.table(wide), Spacer(0, GAP)]


def _parts(job: LoggedJob, region: Region, wide: float) -> list[Flowable]:
    if not job.parts:
        return []
    columns = [Column(say("Day"), 78), Column(say("Part")), Column(say("Pieces"), 46, True),
               Column(say("Where from"), 190)]  # fmt: skip
    grid = Grid(columns, close=True)
    for part in job.parts:
        source = (
            say("{source}, from range {donor}", source=part.source, donor=part.donor)
            if part.donor
            else part.source
        )
        grid.row(region.day(part.day), part.name, region.number(part.count), source)
    return [grid.table(wide), Spacer(0, GAP)]


def _outside(job: LoggedJob, region: Region, wide: float) -> list[Flowable]:
    if not job.outside:
        return []
    grid = Grid([Column(say("Back"), 78), Column(say("Piece"))], close=True)
    for day, what in job.outside:
        grid.row(region.day(day), what)
    return [grid.table(wide), Spacer(0, GAP)]


def _proof(proof: LoggedProof, region: Region, wide: float) -> list[Flowable]:
    """The result with its mark, the readings, and with what they were taken."""
    verdict = strong(proof.name) + ": " + marked(result_words(proof.result))
    if proof.again:
        verdict += " " + quiet(say("work after it made it due again"))
    readings = "; ".join(f"{reading.name}: {reading.value}" for reading in proof.readings)
    rows = [
        (say("Read"), readings or " ".join(proof.says)),
        (say("Limit"), proof.limit),
        (say("With"), proof.instrument),
        (say("Made by"), say("{name}, {day}", name=proof.by, day=region.day(proof.day))),
    ]
    return [markup(verdict), *pairs(rows, wide, 70), Spacer(0, GAP / 2)]


def _later(wide: float) -> Flowable:
    """Empty lines for what comes after."""
    grid = Grid([Column(say("Day"), 84), Column(say("What was done, measured or changed")),
                 Column(say("By whom"), 130)])  # fmt: skip
    for _ in range(_BLANK):
        blank: list[Cell] = [[Spacer(0, _LINE)], "", ""]
        grid.row(*blank)
    return grid.table(wide)
