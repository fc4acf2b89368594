"""The findings of a walk-round as its report shows them: numbered, pinned, photographed."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session, joinedload

from shopdesk.documents.facts import FindingFacts, Photo, PinnedDrawing
from shopdesk.domain.build import Build
from shopdesk.domain.condition import Condition, Found
from shopdesk.drawing import View, compose, find, place_pins, stand_in, views
from shopdesk.exchange.pictures import take_in
from shopdesk.services.papers.words import counted, evidence_word
from shopdesk.storage.tables.ranges import Photograph, PhotographEdit, PhotographUse
from shopdesk.storage.tables.walk import WalkRound
from shopdesk.wording import Region, say

_EDGE = 900  # pixels; sharp at the width a photograph has on the paper
_EACH, _ALL, _GENERAL = 2, 36, 6  # photographs: of one finding, of all findings, of the range


@dataclass(frozen=True, slots=True)
class Placed:
    """A finding with the view its pin stands in and its number; 0 and no view without a pin."""

    found: Found
    zone: str
    view: View | None
    number: int


def placed(known: Condition, build: Build) -> tuple[Placed, ...]:
    """Findings zone by zone; those that the drawing can show are numbered through."""
    rows: list[Placed] = []
    number = 0
    for zone in known.zones:
        for found in zone.found:
            view = _view(found.checkpoint.part, build)
            number += view is not None
            rows.append(Placed(found, zone.name, view, number if view is not None else 0))
    return tuple(rows)


def _view(part: str, build: Build) -> View | None:
    """Where a part is best seen, else the front if it can stand in; the room has no pin."""
    if not part or part == "room":
        return None
    best: tuple[View, ...] = (find(part), "front")
    fitting = (v for v in best if v in views(build) and stand_in(compose(build, v), part))
    return next(fitting, None)


def drawings(rows: Sequence[Placed], build: Build) -> tuple[PinnedDrawing, ...]:
    """The front always, every other view only where a pin stands in it."""
    shown = []
    for view in views(build):
        wanted = [
            (row.number, row.found.checkpoint.part, row.found.severity.value)
            for row in rows
            if row.view == view
        ]
        if wanted or view == "front":
            drawing = compose(build, view)
            shown.append(
                PinnedDrawing(view_name(view), drawing, place_pins(drawing, wanted, hidden_too=True))
            )
    return tuple(shown)


def view_name(view: View) -> str:
    return {
        "front": say("Front"),
        "top": say("Top"),
        "left": say("Left side"),
        "right": say("Right side"),
        "back": say("Back"),
        "under-top": say("Under the top"),
        "oven": say("Inside the oven"),
        "broiler": say("Broiler"),
    }[view]


def findings(
    session: Session, walk: WalkRound, rows: Iterable[Placed], region: Region
) -> tuple[FindingFacts, ...]:
    pictures = _of_findings(session, walk)
    filed = {row.finding: row.filed_for for row in walk.observations if row.filed_for}
    told = []
    left = _ALL
    for row in rows:
        found = row.found
        shots = pictures.get((found.checkpoint.code, found.finding.code), [])[: min(_EACH, left)]
        left -= len(shots)
        told.append(
            FindingFacts(
                zone=row.zone,
                checkpoint=found.checkpoint.name,
                what=found.finding.name,
                severity=found.severity,
                evidence=evidence_word(found.answer.evidence),
                number=row.number,
                extent=_extent(found),
                means=_means(found),
                note=" ".join(t for t in (filed.get(found.finding.code, ""), found.answer.note) if t),
                photos=tuple(_photo(session, region, use, found.checkpoint.name) for use in shots),
            )
        )
    return tuple(told)


def general_photos(session: Session, walk: WalkRound, region: Region) -> tuple[Photo, ...]:
    """Photographs of the range that belong to no finding, task or agreement."""
    query = _with_pictures().where(
        PhotographUse.range_id == walk.job.range_id,
        PhotographUse.observation_id.is_(None),
        PhotographUse.task_id.is_(None),
        PhotographUse.agreement_id.is_(None),
    )
    return tuple(_photo(session, region, use) for use in session.scalars(query.limit(_GENERAL)))


def _extent(found: Found) -> str:
    if found.answer.extent == 1:
        return ""
    return counted(found.answer.extent, found.finding.per or "piece")


def _means(found: Found) -> str:
    """What the finding means, else why its checkpoint is looked at; what it rules out stands last."""
    texts = (found.finding.means or found.checkpoint.why, found.finding.decides)
    return " ".join(text for text in texts if text)


def _of_findings(session: Session, walk: WalkRound) -> dict[tuple[str, str], list[PhotographUse]]:
    codes = {o.id: (o.checkpoint, o.finding) for o in walk.observations}
    by_finding: dict[tuple[str, str], list[PhotographUse]] = {}
    query = _with_pictures().where(PhotographUse.observation_id.in_(list(codes)))
    for use in session.scalars(query):
        assert use.observation_id is not None, "asked for by it"
        by_finding.setdefault(codes[use.observation_id], []).append(use)
    return by_finding


def _with_pictures() -> sa.Select[PhotographUse]:
    loaded = joinedload(PhotographUse.photograph)
    return sa.select(PhotographUse).options(loaded).order_by(PhotographUse.id)


def _photo(session: Session, region: Region, use: PhotographUse, already_said: str = "") -> Photo:
    """The picture made small enough for paper; a caption that only repeats its place is left out."""
    small = take_in(use.photograph.data, use.caption or "photograph", long_edge=_EDGE)
    shown = "" if use.caption == already_said else use.caption
    return Photo(small.data, _caption(session, region, use, shown))


def _caption(session: Session, region: Region, use: PhotographUse, shown: str) -> str:
    """What it shows, the day it was kept, and that arrows and circles on it are the shop's."""
    edit = session.scalar(sa.select(PhotographEdit).where(PhotographEdit.photograph_id == use.photograph_id))
    kept = session.get_one(Photograph, edit.original_id) if edit else use.photograph
    day = region.day(region.local_day(kept.taken_in_at))
    if edit is not None and edit.changes["marks"]:
        if shown:
            return say("{caption}, {day}, marked by the shop", caption=shown, day=day)
        return say("{day}, marked by the shop", day=day)
    return say("{caption}, {day}", caption=shown, day=day) if shown else day
