"""The condition report: what was looked at, how, what was found, what was not seen, what to do.

Its contents follow the published lists for condition records (Spectrum's condition checking and
EN 16095): identity, purpose, method and circumstances, findings, risks, recommendations, signatures.
"""

from reportlab.platypus import Flowable, KeepTogether, Spacer

from shopdesk.documents.condition_findings import findings_by_zone, severity_words
from shopdesk.documents.facts.condition import ConditionReportFacts, PinnedDrawing, ScopeFacts
from shopdesk.documents.layout.blocks import (
    bullets,
    labelled,
    notice,
    party,
    pieces_table,
    range_name,
    range_pairs,
    section,
    signatures,
)
from shopdesk.documents.layout.cells import cells
from shopdesk.documents.layout.drawn import DrawnRange
from shopdesk.documents.layout.look import GAP, SECTION, SMALL, SMALL_CENTRED
from shopdesk.documents.layout.page import printed, width
from shopdesk.documents.layout.pictures import photographs
from shopdesk.documents.layout.standing import cautions_section, closing_deferral
from shopdesk.documents.layout.tables import Column, Grid, beside, pairs
from shopdesk.documents.layout.text import listed, marked, markup, para, paras, strong
from shopdesk.wording import Region, say

_ROOM = 110.0  # points; a heading, the sentence below it and the first of its list


def render(facts: ConditionReportFacts) -> bytes:
    """The paper as PDF bytes."""
    wide = width(facts.shop)
    overall = say("Overall condition: {severity}", severity=severity_words(facts.overall))
    story: list[Flowable] = [
        beside(_left(facts, wide), pairs(range_pairs(facts.range), wide / 2), wide),
        *notice(overall, paras((facts.overall_why,)), wide),
        *_drawings(facts.drawings, wide),
        *labelled(say("How it was examined"), _examination(facts), wide),
        *labelled(say("Gas identity"), facts.gas, wide),
        *bullets(say("The way to its kitchen"), facts.way_there),
        *section(_changed_title(facts), _changed(facts, wide)),
        *section(say("Findings"), findings_by_zone(facts.findings, wide), 230),
        *section(say("Photographs"), photographs(facts.photos, wide), 150),
        *_unknown(facts),
        *section(say("Completeness"), pieces_table(facts.pieces, wide)),
        *section(say("Found sound"), _sound(facts), _ROOM),
        *section(say("What we advise"), _advice(facts, wide), 110),
        *cautions_section(facts.cautions),
        _close(facts, wide),
    ]
    about = say("Range {number}, {name}", number=facts.range.number, name=range_name(facts.range))
    return printed(facts.shop, say("Condition report"), facts.number, story, about=about)


def _left(facts: ConditionReportFacts, wide: float) -> list[Flowable]:
    region = facts.shop.region
    rows = [
        (say("Date"), region.day_long(facts.day)),
        (say("Examined on"), region.day_long(facts.examined_on) if facts.examined_on else ""),
        (say("Examiner"), facts.examiner),
        (say("Purpose"), facts.purpose),
        (say("Takes the place of"), facts.replaces),
    ]
    who = [*party(say("For"), facts.customer), Spacer(0, GAP)] if facts.customer else []
    return [*who, *pairs(rows, wide / 2 - GAP * 2, 78)]


def _examination(facts: ConditionReportFacts) -> list[tuple[str, str]]:
    return [
        (say("Where"), facts.place),
        (say("Circumstances"), facts.circumstances),
        (say("Method"), facts.method),
        (say("Earlier work"), facts.earlier_work),
        (say("List of checkpoints"), facts.catalogue_version),
    ]


def _drawings(drawings: tuple[PinnedDrawing, ...], wide: float) -> list[Flowable]:
    """The first view large, the others two to a row."""
    half = wide / 2 - GAP
    story: list[Flowable] = [KeepTogether(_drawn(drawing, wide, 300)) for drawing in drawings[:1]]
    small = [_drawn(drawing, half, 185) for drawing in drawings[1:]]
    for at in range(0, len(small), 2):
        left, right = [*small[at : at + 2], []][:2]
        middle = ("ALIGN", (0, 0), (-1, -1), "CENTER")
        below = ("BOTTOMPADDING", (0, 0), (-1, -1), GAP)
        story.append(cells([[left, "", right or ""]], [half, GAP * 2, half], middle, below))
    if any(drawing.pins for drawing in drawings):
        story.append(
            para(
                say("Pins: circle minor, square serious, diamond grave. Numbers are those of the findings."),
                SMALL,
            )
        )
    return story


def _changed_title(facts: ConditionReportFacts) -> str:
    if facts.changed is None:
        return ""
    return say("What changed since {day}", day=facts.shop.region.day_long(facts.changed.since))


def _changed(facts: ConditionReportFacts, wide: float) -> list[Flowable]:
    if facts.changed is None:
        return []
    if not facts.changed.rows:
        return [para(say("Every checkpoint says the same as then."))]
    grid = Grid(
        [Column(say("Checkpoint")), Column(say("Then"), wide * 0.33), Column(say("Now"), wide * 0.33)]
    )
    for checkpoint, then, now in facts.changed.rows:
        grid.row(checkpoint, then, now)
    return [grid.table(wide)]


def _unknown(facts: ConditionReportFacts) -> list[Flowable]:
    """What was not seen and what was only claimed: both keep their risk."""
    zones = _by_zone(facts.not_seen)
    said = para(
        say(
            "Nothing is known about these. They are not taken to be sound, and the costs below allow for "
            "them."
        )
    )
    claims = say("Told to us, not shown. We have not relied on it fully.")
    return [
        *section(say("Not seen"), [said, *zones] if zones else [], _ROOM),
        *section(say("Only claimed"), [para(claims), *listed(facts.claimed)] if facts.claimed else [], _ROOM),
    ]


def _drawn(drawing: PinnedDrawing, wide: float, high: float) -> list[Flowable]:
    drawn = DrawnRange(drawing.drawing, drawing.pins, wide, high)
    drawn.hAlign = "CENTER"
    return [Spacer(0, GAP), drawn, para(drawing.title, SMALL_CENTRED)]


def _by_zone(zones: tuple[tuple[str, tuple[str, ...]], ...]) -> list[Flowable]:
    return [markup(strong(zone + ": ") + marked("; ".join(points))) for zone, points in zones]


def _sound(facts: ConditionReportFacts) -> list[Flowable]:
    if not facts.sound:
        return []
    said = say("Seen, and nothing found. Where it was tested that stands beside it.")
    return [para(said), *_by_zone(facts.sound)]


def _advice(facts: ConditionReportFacts, wide: float) -> list[Flowable]:
    content: list[Flowable] = []
    if facts.verdict:
        content.append(markup(strong(say("Verdict: {verdict}.", verdict=facts.verdict))))
        content += listed(facts.verdict_why)
        content.append(Spacer(0, GAP))
    if facts.scopes:
        content += _scopes(facts.scopes, facts.shop.region, wide)
    return content


def _scopes(scopes: tuple[ScopeFacts, ...], region: Region, wide: float) -> list[Flowable]:
    grid = Grid([Column(say("How far the work goes")), Column(say("Hours"), 92, True),
                 Column(say("Cost before tax"), 150, True)])  # fmt: skip
    for scope in scopes:
        name = say("{scope} (chosen)", scope=scope.name) if scope.chosen else scope.name
        what: list[Flowable] = [markup(strong(name)), para(scope.means, SMALL), *listed(scope.work, SMALL)]
        grid.row(what, region.hours_range(scope.minutes), region.money_range(scope.cost))
    said = say("Likely figure first, then the range it may fall in. This is no quote.")
    return [KeepTogether([grid.table(wide), Spacer(0, GAP / 2), para(said, SMALL)])]


def _close(facts: ConditionReportFacts, wide: float) -> Flowable:
    """The last of the paper in one piece: nobody signs a page on which nothing else stands."""
    title = para(say("What this report does not cover"), SECTION)
    left_out = listed((*_never_covered(), *facts.not_covered))
    return signatures(_signers(facts), wide, [title, *left_out, closing_deferral()])


def _never_covered() -> tuple[str, ...]:
    return (
        say("What could not be seen without taking the range apart, beyond what is named above."),
        say("The gas pipe, flue, wiring and room where it stands or will stand."),
        say("Old insulation, gaskets and paint: only a laboratory can say what is in them."),
    )


def _signers(facts: ConditionReportFacts) -> list[str]:
    name = facts.customer.name if facts.customer else say("Owner or buyer")
    return [say("{name} (examiner), date", name=facts.examiner), say("{name}, date", name=name)]
