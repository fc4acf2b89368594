"""How far each zone of a walk-round is answered, checkpoint by checkpoint. No widgets, no shop."""

from dataclasses import dataclass

from shopdesk.domain.catalogue.model import Checkpoint, Evidence
from shopdesk.domain.condition import findings_of
from shopdesk.ui.pages.walk_round.draft import Walk


@dataclass(frozen=True, slots=True)
class Standing:
    """How far one zone is answered; `passed` are those passed over as not seen."""

    code: str
    name: str
    marks: tuple[str, ...]  # for each checkpoint: a severity, "passed" or ""
    here: int = -1  # place of the open checkpoint, or -1

    @property
    def answered(self) -> int:
        return sum(1 for mark in self.marks if mark not in ("", "passed"))


def standings(walk: Walk) -> list[Standing]:
    """The zones in the order of the walk."""
    zones: dict[str, list[Checkpoint]] = {}
    for checkpoint in walk.checkpoints:
        zones.setdefault(checkpoint.zone, []).append(checkpoint)
    return [_standing(walk, code, here) for code, here in zones.items()]


def _standing(walk: Walk, zone: str, here: list[Checkpoint]) -> Standing:
    codes = [c.code for c in here]
    place = codes.index(walk.open) if walk.open in codes else -1
    marks = tuple(_mark(walk, code) for code in codes)
    return Standing(zone, walk.catalogue.zones[zone].name, marks, place)


def _mark(walk: Walk, code: str) -> str:
    here = walk.answers(code)
    if not here:
        return ""
    if all(a.evidence is Evidence.NOT_SEEN for a in here):
        return "passed"
    severities = [f.severity for f in findings_of(walk.catalogue, here, walk.purpose)]
    worst = max(severities, key=lambda s: s.rank, default=None)
    return "sound" if worst is None else worst.value
