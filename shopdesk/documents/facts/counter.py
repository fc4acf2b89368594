"""Facts of quotes, invoices, credits and payment receipts. Amounts are minor units."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from shopdesk.documents.facts.parties import PartyFacts, RangeFacts, ShopHead
from shopdesk.documents.facts.proving import Standing
from shopdesk.domain.totals import Totals

Kind = Literal["labour", "part", "outwork", "delivery", "charge"]
Condition = Literal["", "new", "used", "exchanged", "made"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LineFacts:
    """A quote or invoice line before tax.

    Labour: `quantity` is minutes and `unit_cents` the price of an hour; else pieces and each.
    `because`: what caused it, in words.
    """

    kind: Kind
    what: str
    quantity: int
    unit_cents: int
    net_cents: int
    because: str = ""
    condition: Condition = ""
    tax_name: str = ""
    adjust_cents: int = 0  # in the net: a discount below, a surcharge above zero
    adjust_why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AdjustmentFacts:
    """A discount (below zero) or surcharge on the whole paper, before tax."""

    why: str
    cents: int
    percent: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Consent:
    """Who agreed to what, when and how; by telephone with the number called and who took it."""

    amount_cents: int
    at: str
    who: str
    how: str
    number_called: str = ""
    taken_by: str = ""
    what: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Paid:
    """Money received towards an invoice (negative: given back)."""

    label: str
    day: date
    cents: int


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishFacts:
    """One surface and how far it is taken, in words; `kept`: it is left as it is."""

    surface: str
    grade: str
    note: str = ""
    kept: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class MilestoneFacts:
    """A share of the sum that is billed when something is reached."""

    name: str
    percent: int
    cents: int  # before tax


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoiceFacts:
    """One scope of a comparison: what each kind of line comes to, before tax."""

    scope: str
    means: str
    kinds: tuple[tuple[Kind, int], ...]
    totals: Totals
    deposit_cents: int = 0
    ceiling_cents: int = 0
    contingency_cents: int = 0
    finishes: tuple[FinishFacts, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoicesFacts:
    """Scopes side by side, before anything is written: no number, nothing agreed."""

    shop: ShopHead
    day: date
    customer: PartyFacts
    range: RangeFacts
    choices: tuple[ChoiceFacts, ...]
    teardown_cents: int = 0  # of the first step alone, before tax
    valid_until: date | None = None
    terms: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class QuoteFacts:
    """A priced proposal. `ceiling_cents` (before tax) is not passed unasked; 0: the total is."""

    shop: ShopHead
    number: str
    day: date
    customer: PartyFacts
    range: RangeFacts
    scope: str
    lines: tuple[LineFacts, ...]
    totals: Totals
    adjustments: tuple[AdjustmentFacts, ...] = ()
    scope_means: str = ""
    valid_until: date | None = None
    received_on: date | None = None
    trouble: str = ""
    deposit_cents: int = 0
    ceiling_cents: int = 0
    promise: str = ""
    not_included: tuple[str, ...] = ()
    terms: tuple[str, ...] = ()
    finishes: tuple[FinishFacts, ...] = ()
    milestones: tuple[MilestoneFacts, ...] = ()
    contingency_cents: int = 0  # what the spread of the hours may add, before tax
    change_to: str = ""  # of a change order: number of the quote it adds to
    replaces: str = ""
    changes: tuple[str, ...] = ()  # against the quote it takes the place of


@dataclass(frozen=True, slots=True, kw_only=True)
class InvoiceFacts:
    """An invoice, or a credit when `credit_of` names the invoice it corrects."""

    shop: ShopHead
    number: str
    day: date
    customer: PartyFacts
    range: RangeFacts
    lines: tuple[LineFacts, ...]
    totals: Totals
    adjustments: tuple[AdjustmentFacts, ...] = ()
    due_on: date | None = None
    received_on: date | None = None
    trouble: str = ""
    payments: tuple[Paid, ...] = ()
    consents: tuple[Consent, ...] = ()
    standing: Standing | None = None
    how_to_pay: tuple[str, ...] = ()
    terms: tuple[str, ...] = ()
    credit_of: str = ""
    credit_why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """The share of a payment that went to one invoice, and what stays open on it."""

    invoice: str
    cents: int
    open_cents: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PaymentReceiptFacts:
    """Money taken (or given back: `amount_cents` negative)."""

    shop: ShopHead
    number: str
    day: date
    customer: PartyFacts
    amount_cents: int
    method: str
    kind: Literal["payment", "deposit", "refund"] = "payment"
    range: RangeFacts | None = None
    reference: str = ""
    taken_by: str = ""
    settled: tuple[Settled, ...] = ()
    held_cents: int = 0  # kept for the customer, not yet set against an invoice
    red_tagged: bool = False  # the range left disconnected
    terms: tuple[str, ...] = ()
