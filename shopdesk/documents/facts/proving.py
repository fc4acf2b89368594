"""Facts of the proof sheet, and what other papers say about a range's proofs."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from shopdesk.documents.facts.condition import Photo
from shopdesk.documents.facts.parties import PartyFacts, RangeFacts, ShopHead
from shopdesk.drawing.chart import Chart

Result = Literal["meets", "does not meet", "cannot tell"]


@dataclass(frozen=True, slots=True)
class SignedWithout:
    """A lesser proof the owner signed a release without."""

    proof: str
    reason: str
    by: str
    day: date


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Where a range stands when it leaves. `missing`: required proofs that do not stand.

    `not_released`: a sentence that there is no release, or why it lapsed; empty when one stands.
    """

    red_tagged: bool
    missing: tuple[str, ...] = ()
    signed_without: tuple[SignedWithout, ...] = ()
    released_by: str = ""
    released_at: str = ""
    not_released: str = ""


@dataclass(frozen=True, slots=True)
class ReadingFacts:
    name: str
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ProofFacts:
    """One test as recorded; `result` is one of three words and nothing else."""

    name: str
    result: Result
    readings: tuple[ReadingFacts, ...]
    instrument: str
    by: str
    at: str
    limit: str
    source: str
    how: str = ""
    note: str = ""
    signed_by: str = ""
    superseded: bool = False
    says: tuple[str, ...] = ()  # what the readings amount to
    charts: tuple[Chart, ...] = ()
    pictures: tuple[Photo, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ProofSheetFacts:
    """All proofs of a job in the order of proving, and where the range stands with them."""

    shop: ShopHead
    number: str
    day: date
    range: RangeFacts
    customer: PartyFacts | None
    gas: tuple[tuple[str, str], ...]  # plate, spuds found, house supply, set to, label
    proofs: tuple[ProofFacts, ...]
    standing: Standing
    at_home: tuple[str, ...] = ()  # proofs to be made where it is connected
    cautions: tuple[tuple[str, str], ...] = ()  # text, whom to defer to
