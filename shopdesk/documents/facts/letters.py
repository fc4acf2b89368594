"""Facts of letters, statements and bills of sale. Amounts are minor units."""

from dataclasses import dataclass
from datetime import date

from shopdesk.documents.facts.parties import PartyFacts, RangeFacts, ShopHead
from shopdesk.documents.facts.proving import Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenBill:
    """An invoice with something left to pay."""

    number: str
    day: date
    due_on: date | None
    gross_cents: int
    open_cents: int


@dataclass(frozen=True, slots=True, kw_only=True)
class AccountLine:
    """One row of a reckoning: a label and an amount; `strong` for a sum."""

    label: str
    cents: int
    strong: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterFacts:
    """A letter by the shop's own clocks. `reckoning`: figures under the text; `bills`: what is open."""

    shop: ShopHead
    number: str
    day: date
    customer: PartyFacts
    subject: str
    paragraphs: tuple[str, ...]
    range: RangeFacts | None = None
    bills: tuple[OpenBill, ...] = ()
    reckoning: tuple[AccountLine, ...] = ()
    listed: tuple[str, ...] = ()  # what goes back with the range
    terms: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StatementRow:
    """A bill or a payment: what it adds to the account, below zero what it takes off, and the balance."""

    day: date
    what: str
    cents: int
    balance_cents: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StatementFacts:
    """A customer's account over a time: what stood before, what came, what stands."""

    shop: ShopHead
    number: str
    day: date
    customer: PartyFacts
    from_day: date
    to_day: date
    before_cents: int
    rows: tuple[StatementRow, ...]
    closing_cents: int
    bills: tuple[OpenBill, ...] = ()
    ages: tuple[tuple[str, int], ...] = ()
    held_cents: int = 0
    how_to_pay: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BillOfSaleFacts:
    """A range of the shop's own passes to its buyer."""

    shop: ShopHead
    number: str
    day: date
    buyer: PartyFacts
    range: RangeFacts
    price_cents: int
    invoice: str
    standing: Standing | None = None
    warranty_until: date | None = None
    terms: tuple[str, ...] = ()
