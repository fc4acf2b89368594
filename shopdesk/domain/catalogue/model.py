"""Values of the catalogue. Codes are words joined by hyphens; a finding is `checkpoint.word`."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from shopdesk.domain.build import Build
from shopdesk.domain.money import NOTHING, Spread


class Purpose(StrEnum):
    """What the range is wanted for; severity and verdict follow it."""

    COOK = "cook"
    FULL = "full"
    RESALE = "resale"
    DONOR = "donor"


class Scope(StrEnum):
    """How far the work goes (never a statement about use), from little to much."""

    MECHANICAL = "mechanical"
    EVERYDAY = "everyday"
    SHOW = "show"

    @property
    def rank(self) -> int:
        return list(Scope).index(self)


class Evidence(StrEnum):
    """How an answer is known; `NOT_SEEN` is the default and keeps its risk."""

    NOT_SEEN = "not seen"
    CLAIMED = "claimed"
    SEEN = "seen"
    TESTED = "tested"


class Severity(StrEnum):
    """What a finding means for a purpose, from nothing to the end of the matter."""

    NONE = "none"
    MINOR = "minor"
    SERIOUS = "serious"
    GRAVE = "grave"

    @property
    def rank(self) -> int:
        return list(Severity).index(self)


@dataclass(frozen=True, slots=True)
class Zone:
    """A part of the range that is looked over in one go; `order` is the order of the walk."""

    code: str
    name: str
    order: int


@dataclass(frozen=True, slots=True)
class Way:
    """One way of putting a finding right; the ways of a finding are a choice, never a sum.

    `scope` is the smallest scope that takes this way. The way taken by default is the one
    with the largest scope not above the chosen scope; none fits: the finding is left as it is.
    """

    key: str  # repair, donor, new, outwork, season, ...
    scope: Scope
    tasks: tuple[str, ...]
    name: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """What may be found at a checkpoint.

    `chance`: how often it is found where nobody looked (0-1). `per`: the trade's word for
    what `extent` counts ("valve", "panel"); empty: the extent is 1. `decides`: a sentence
    when this finding alone rules out restoring. `only_costs` is False for facts that can be
    good news as well (an original part, a rarity).
    """

    code: str
    checkpoint: str
    name: str
    severity: Mapping[Purpose, Severity]
    ways: tuple[Way, ...] = ()
    chance: float = 0.0
    per: str = ""
    decides: str = ""
    holds: str = ""  # code of a hold point this finding raises, e.g. "laboratory"
    means: str = ""
    only_costs: bool = True

    def way(self, scope: Scope, chosen: str = "") -> Way | None:
        """The chosen way by key, else the default way of the scope."""
        for way in self.ways:
            if way.key == chosen:
                return way
        fitting = [w for w in self.ways if w.scope.rank <= scope.rank]
        return max(fitting, key=lambda w: w.scope.rank, default=None)


@dataclass(frozen=True, slots=True)
class Checkpoint:
    """One thing to look at, feel, hear or measure.

    `sound` says what stands there when nothing is wrong. `safety`: 0 none, 1 may matter,
    2 to be cleared before release, 3 stop and tag out when bad. `flame`: needs something
    lit, so the tightness steps and a gas-competent person come first. `applies`: feature
    words of a build, all needed. `part`: the part of the drawing it belongs to. `donor`:
    what the part brings when sound, sold for its own sake (cents).
    """

    code: str
    zone: str
    name: str
    tell: str
    sound: str
    why: str
    safety: int
    findings: tuple[Finding, ...]
    applies: frozenset[str] = frozenset()
    flame: bool = False
    part: str = ""
    donor: Spread = NOTHING

    def fits(self, build: Build) -> bool:
        return self.applies <= build.features


@dataclass(frozen=True, slots=True)
class PartUse:
    """A part a task uses up; `each`: price in per piece (cents)."""

    name: str
    each: Spread
    count: int = 1
    per_extent: bool = True


@dataclass(frozen=True, slots=True)
class OutworkUse:
    """Work sent to another trade with a task; `each`: price per piece (cents), `days` away."""

    trade: str  # plater, enameller, blaster, welder, laboratory, ...
    each: Spread
    days: Spread


@dataclass(frozen=True, slots=True)
class Task:
    """A piece of work.

    `minutes` per unit; `per` empty: once an order however many findings call for it, else
    the sum of the extents. `needs` are pulled onto the order, `then` too (what was taken off
    is put back); `after` binds only when both are there. `proofs` become due when it is done.
    `holds`: hold points of its own beside those its hazards bring (`work.holds`).
    `scope`: smallest scope for routine tasks (`routine` True: part of every order of that
    scope whose build has `applies`).
    """

    code: str
    name: str
    group: str
    minutes: Spread
    skills: tuple[str, ...]
    station: str = "bench"
    per: str = ""
    after: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    then: tuple[str, ...] = ()
    proofs: tuple[str, ...] = ()
    hazards: tuple[str, ...] = ()
    parts: tuple[PartUse, ...] = ()
    outwork: OutworkUse | None = None
    supplies: str = ""
    routine: Scope | None = None
    applies: frozenset[str] = frozenset()
    advice: str = ""
    stage: str = "repair"  # intake, teardown, repair, refit, proving, delivery
    holds: tuple[str, ...] = ()  # gas-off, gas-train-out


@dataclass(frozen=True, slots=True)
class Caution:
    """A hazard with its usual caution and whom to defer to."""

    code: str
    name: str
    text: str
    defer_to: str


@dataclass(frozen=True, slots=True)
class ProofKind:
    """A safety or function test. `signable`: the owner may sign a release without it.

    `applies`: feature words of a build, all needed. `order`: the order of proving.
    `basis`: the published figure or "common practice, no source".
    """

    code: str
    name: str
    how: str
    meets: str
    readings: tuple[str, ...]
    basis: str
    order: int
    signable: bool
    applies: frozenset[str] = frozenset()
    hazards: tuple[str, ...] = ()
    always: bool = False
    at_home: bool = False


@dataclass(frozen=True, slots=True)
class Accessory:
    """A piece that comes with a range and has a price of its own (cents)."""

    code: str
    name: str
    worth: Spread


@dataclass(frozen=True, slots=True)
class Figures:
    """Trade figures a shop overwrites with its own (cents, minutes, shares of one)."""

    cost_per_hour: int
    charge_per_hour: int
    margin: float
    confidence: float
    selling_share: float
    warranty_share: float
    haulage: Spread
    disposal: Spread
    correlation: float
    donor_sold_share: float
    finished: Mapping[str, Spread]  # by scope
    unrestored: Spread
    feature_worth: Mapping[str, int]  # what a feature adds to a finished range
    claimed_trust: float  # share of the risk a mere claim removes
    offer_step: int
    good_finish: float  # what a finish found sound everywhere adds to a finished range's price
    most_taken: float  # the most that what is left as it is takes off the price
    left_takes: Mapping[str, float]  # off the price for each finding left, by severity
    still_sells: Mapping[str, float]  # of a donor part's price with such a finding, by severity


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Everything read from `resources/catalogue`, looked up by code."""

    version: str
    zones: Mapping[str, Zone]
    checkpoints: Mapping[str, Checkpoint]
    findings: Mapping[str, Finding]
    tasks: Mapping[str, Task]
    cautions: Mapping[str, Caution]
    proofs: Mapping[str, ProofKind]
    accessories: Mapping[str, Accessory]
    figures: Figures
    phrases: tuple[str, ...] = field(default=())
    off: frozenset[str] = frozenset()  # checkpoints and findings no longer asked; old answers still name them

    def walk(self, build: Build) -> list[Checkpoint]:
        """The checkpoints of a build in the order of the walk."""
        return [c for c in self.checkpoints.values() if c.fits(build) and c.code not in self.off]

    def offered(self, checkpoint: Checkpoint) -> tuple[Finding, ...]:
        """The findings of a checkpoint that are asked for."""
        return tuple(f for f in checkpoint.findings if f.code not in self.off)

    def number(self, code: str) -> str:
        """A checkpoint's printed number, `zone.place`, the same for every build."""
        zone = self.checkpoints[code].zone
        within = [c.code for c in self.checkpoints.values() if c.zone == zone]
        return f"{self.zones[zone].order}.{within.index(code) + 1}"
