"""The findings of a condition report, zone by zone, with their pins and photographs."""

from collections.abc import Sequence

from reportlab.platypus import Flowable

from shopdesk.documents.facts.condition import FindingFacts
from shopdesk.documents.layout.cells import cells
from shopdesk.documents.layout.drawn import PinMark
from shopdesk.documents.layout.look import GAP, STRONG
from shopdesk.documents.layout.pictures import photographs
from shopdesk.documents.layout.tables import Column, Grid
from shopdesk.documents.layout.text import marked, markup, para, quiet, strong
from shopdesk.domain.catalogue.model import Severity
from shopdesk.wording import say

_PIN, _KNOWN, _SIDE = 26.0, 58.0, 66.0
_PHOTO = 104.0  # points across, of a photograph beside its finding
_BESIDE = 240.0  # points; longer words keep their photograph below, so that the row can break


def severity_words(severity: Severity) -> str:
    """The word for how grave a finding is."""
    return {
        Severity.NONE: say("nothing wrong"),
        Severity.MINOR: say("minor"),
        Severity.SERIOUS: say("serious"),
        Severity.GRAVE: say("grave"),
    }[severity]


def findings_by_zone(findings: Sequence[FindingFacts], width: float) -> list[Flowable]:
    """One table, a heading for each zone in the order given."""
    if not findings:
        return [para(say("Nothing was found wrong where we looked."))]
    grid = Grid(
        [
            Column("", _PIN),
            Column(say("Finding")),
            Column(say("Known by"), _KNOWN),
            Column(say("How grave"), _SIDE),
        ]
    )
    zone = None
    for finding in findings:
        if finding.zone != zone:
            zone = finding.zone
            grid.group(zone)
        text = _text(finding, width - _PIN - _SIDE - _KNOWN - 9)
        pin = PinMark(finding.number, finding.severity)
        grid.row([pin], text, finding.evidence, [para(_gravity(finding.severity), STRONG)])
    return [grid.table(width)]


def _gravity(severity: Severity) -> str:
    """A finding that is no fault for the purpose is still one that was made."""
    return say("noted") if severity is Severity.NONE else severity_words(severity)


def _text(finding: FindingFacts, width: float) -> list[Flowable]:
    extent = f" ({marked(finding.extent)})" if finding.extent else ""
    lines = f"{marked(finding.checkpoint)}: {strong(finding.what)}{extent}"
    if finding.means:
        lines += "<br/>" + quiet(finding.means)
    note = [para(finding.note)] if finding.note else []
    words: list[Flowable] = [markup(lines), *note]
    room = width - _PHOTO - GAP * 2
    if len(finding.photos) != 1 or sum(piece.wrap(room, 1e6)[1] for piece in words) > _BESIDE:
        return [*words, *photographs(finding.photos, width)]
    shown = photographs(finding.photos, _PHOTO, 1)
    return [cells([[words, "", shown]], [room, GAP * 2, _PHOTO])]
