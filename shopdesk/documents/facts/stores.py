"""Facts of the purchase order."""

from dataclasses import dataclass
from datetime import date

from shopdesk.documents.facts.parties import PartyFacts, ShopHead


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLineFacts:
    """A piece ordered; `theirs` is the supplier's own number for it, `for_range` who waits."""

    what: str
    quantity: int
    unit_cents: int | None = None
    theirs: str = ""
    for_range: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PurchaseOrderFacts:
    """An order in the supplier's currency; an empty currency is the shop's."""

    shop: ShopHead
    number: str
    day: date
    supplier: PartyFacts
    lines: tuple[OrderLineFacts, ...]
    total_cents: int | None = None
    currency: str = ""
    our_account: str = ""
    wanted_by: date | None = None
    deliver_to: tuple[str, ...] = ()
    ship_by: str = ""
    ordered_by: str = ""
    notes: tuple[str, ...] = ()
