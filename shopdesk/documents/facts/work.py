"""Facts of the traveller, the paper that goes round the bench with a job."""

from dataclasses import dataclass
from datetime import date

from shopdesk.documents.facts.parties import RangeFacts, ShopHead
from shopdesk.domain.money import Spread


@dataclass(frozen=True, slots=True)
class CautionFacts:
    """A kind of hazard; its text prints once, its name at every task that has it."""

    code: str
    name: str
    text: str
    defer_to: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskFacts:
    """A task in its place. `minutes` low, likely, high; `after` the places it waits for."""

    place: int
    name: str
    minutes: Spread
    stage: str = ""
    station: str = ""
    skill: str = ""
    because: tuple[str, ...] = ()
    after: tuple[int, ...] = ()
    cautions: tuple[str, ...] = ()  # codes
    parts: tuple[str, ...] = ()
    outwork: str = ""
    readings: tuple[str, ...] = ()
    advice: str = ""
    reopens: tuple[str, ...] = ()  # proofs due after it
    done: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class TagFacts:
    """What came off and is still out; `task` is the place of the task that took it off, if one did."""

    number: str
    what: str
    how_many: int
    goes_back: str
    lies_at: str = ""
    task: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TravellerFacts:
    """The work order for the bench. `qr` opens the range in the program."""

    shop: ShopHead
    number: str
    day: date
    range: RangeFacts
    scope: str
    tasks: tuple[TaskFacts, ...]
    cautions: tuple[CautionFacts, ...]
    proofs: tuple[str, ...] = ()
    promised_on: date | None = None
    qr: str = ""
    notes: tuple[str, ...] = ()
    tags: tuple[TagFacts, ...] = ()
