"""Facts of the two papers that change hands with a range: taken in, handed over."""

from dataclasses import dataclass
from datetime import date

from shopdesk.documents.facts.condition import Piece
from shopdesk.documents.facts.parties import PartyFacts, RangeFacts, ShopHead
from shopdesk.documents.facts.proving import Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class IntakeReceiptFacts:
    """A range taken in. `trouble` is the customer's own account."""

    shop: ShopHead
    number: str
    day: date
    customer: PartyFacts
    range: RangeFacts
    trouble: str
    wanted: str = ""
    condition: str = ""
    pieces: tuple[Piece, ...] = ()
    came_by: str = ""
    taken_by: str = ""
    back_by: date | None = None
    estimate_by: date | None = None
    terms: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class HandOverFacts:
    """A range handed over, with its settings, what goes with it and what is still to prove."""

    shop: ShopHead
    number: str
    day: date
    customer: PartyFacts
    range: RangeFacts
    standing: Standing
    handed_by: str
    gas: tuple[tuple[str, str], ...] = ()
    settings: tuple[tuple[str, str], ...] = ()
    work_done: tuple[str, ...] = ()
    pieces: tuple[Piece, ...] = ()
    proofs: tuple[tuple[str, str], ...] = ()  # proof, result
    at_home: tuple[str, ...] = ()
    living_with_it: tuple[str, ...] = ()
    cautions: tuple[tuple[str, str, str], ...] = ()
    warranty: tuple[str, ...] = ()
    proof_sheet: str = ""
    invoice: str = ""
