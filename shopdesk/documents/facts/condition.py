"""Facts of the condition report."""

from dataclasses import dataclass, field
from datetime import date

from shopdesk.documents.facts.parties import PartyFacts, RangeFacts, ShopHead
from shopdesk.domain.catalogue.model import Severity
from shopdesk.domain.money import Spread
from shopdesk.drawing.pins import Pin
from shopdesk.drawing.sheet import Drawing


@dataclass(frozen=True, slots=True)
class PinnedDrawing:
    title: str
    drawing: Drawing
    pins: tuple[Pin, ...] = ()


@dataclass(frozen=True, slots=True)
class Photo:
    """A photograph as JPEG or PNG bytes."""

    image: bytes = field(repr=False)
    caption: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingFacts:
    """One finding; `number` is its pin, 0 when it has none."""

    zone: str
    checkpoint: str
    what: str
    severity: Severity
    evidence: str
    number: int = 0
    extent: str = ""
    means: str = ""
    note: str = ""
    photos: tuple[Photo, ...] = ()


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece that should be or came with the range, and what was found of it."""

    name: str
    state: str
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ScopeFacts:
    """One way to go: what it covers, its hours (minutes) and cost (minor units, before tax)."""

    name: str
    means: str
    minutes: Spread
    cost: Spread
    work: tuple[str, ...] = ()
    chosen: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangedFacts:
    """What is otherwise than on an earlier walk-round: checkpoint, then, now."""

    since: date
    rows: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ConditionReportFacts:
    """Everything a walk-round says. `overall` is the gravest single finding, never an average."""

    shop: ShopHead
    number: str
    day: date
    range: RangeFacts
    purpose: str
    place: str
    circumstances: str
    method: str
    examiner: str
    findings: tuple[FindingFacts, ...]
    overall: Severity
    overall_why: str
    customer: PartyFacts | None = None
    examined_on: date | None = None
    catalogue_version: str = ""
    earlier_work: str = ""
    gas: tuple[tuple[str, str], ...] = ()
    drawings: tuple[PinnedDrawing, ...] = ()
    photos: tuple[Photo, ...] = ()
    sound: tuple[tuple[str, tuple[str, ...]], ...] = ()  # zone, checkpoints; seen unless they say more
    not_seen: tuple[tuple[str, tuple[str, ...]], ...] = ()  # zone, checkpoints
    claimed: tuple[str, ...] = ()
    pieces: tuple[Piece, ...] = ()
    verdict: str = ""
    verdict_why: tuple[str, ...] = ()
    scopes: tuple[ScopeFacts, ...] = ()
    cautions: tuple[tuple[str, str, str], ...] = ()  # name, text, whom to defer to
    not_covered: tuple[str, ...] = ()
    replaces: str = ""
    changed: ChangedFacts | None = None
    way_there: tuple[str, ...] = ()  # whether it gets to where it is to stand, a sentence each
