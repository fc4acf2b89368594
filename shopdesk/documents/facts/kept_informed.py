"""Facts of the papers that keep a customer informed: progress letter, before-and-after page, log book."""

from dataclasses import dataclass
from datetime import date

from shopdesk.documents.facts.condition import Photo
from shopdesk.documents.facts.parties import PartyFacts, RangeFacts, ShopHead
from shopdesk.documents.facts.proving import ReadingFacts
from shopdesk.drawing.sheet import Drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgressLetterFacts:
    """What was done since the last letter, in the shop's words, with pictures of it."""

    shop: ShopHead
    number: str
    day: date
    customer: PartyFacts
    subject: str
    paragraphs: tuple[str, ...]
    range: RangeFacts
    photos: tuple[Photo, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BeforeAfterFacts:
    """Two pictures of one range with its drawing and few words; `number` stands in the file only."""

    shop: ShopHead
    number: str
    day: date
    name: str
    words: str
    before: Photo
    after: Photo
    drawing: Drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class LoggedPart:
    """A part that was put in: `source` is new, used, exchanged or made, in words; from which donor."""

    name: str
    count: int
    source: str
    day: date
    donor: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoggedProof:
    """One proof as it speaks now. No person of an earlier owner's house is named."""

    name: str
    result: str
    day: date
    by: str
    instrument: str
    readings: tuple[ReadingFacts, ...] = ()
    says: tuple[str, ...] = ()
    limit: str = ""
    again: bool = False  # work made it due again


@dataclass(frozen=True, slots=True, kw_only=True)
class LoggedJob:
    """One stay in the shop: how it came, what was done, how it left."""

    since: date
    until: date | None
    how_it_left: str
    found: tuple[tuple[str, str], ...] = ()  # finding, how it is known
    done: tuple[tuple[date, str], ...] = ()
    parts: tuple[LoggedPart, ...] = ()
    outside: tuple[tuple[date, str], ...] = ()  # pieces back from another trade
    settings: tuple[tuple[str, str], ...] = ()
    proofs: tuple[LoggedProof, ...] = ()
    before: tuple[Photo, ...] = ()
    during: tuple[Photo, ...] = ()
    after: tuple[Photo, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class LogBookFacts:
    """What goes with a range to its next owner: no prices, and nothing of who owned it before."""

    shop: ShopHead
    number: str
    day: date
    range: RangeFacts
    drawing: Drawing
    gas: tuple[tuple[str, str], ...]
    jobs: tuple[LoggedJob, ...]
    at_home: tuple[str, ...] = ()
    cautions: tuple[tuple[str, str, str], ...] = ()
