"""What an electronic bill says. Amounts are minor units of its currency; BT and BG numbers are EN 16931's."""

import datetime as dt
from dataclasses import dataclass

from shopdesk.domain.totals import Tax, Totals


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """The buyer (BG-7). `country` is a code (ISO 3166-1); `more` are address lines that have no part."""

    name: str
    country: str
    street: str = ""
    town: str = ""
    region: str = ""
    postcode: str = ""
    more: str = ""
    phone: str = ""
    email: str = ""
    tax_number: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Seller(Side):
    """The shop (BG-4). `registration` (BT-30): a licence or registration number."""

    registration: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BillLine:
    """An invoice line (BG-25). Of labour `quantity` is minutes and `unit_cents` the price of an hour.

    `adjust_cents` is in the net: an allowance below zero, a charge above.
    """

    labour: bool
    name: str
    quantity: int
    unit_cents: int
    net_cents: int
    tax: Tax
    description: str = ""
    adjust_cents: int = 0
    adjust_why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Charge:
    """An allowance (BG-20, below zero) or a charge (BG-21) on the whole bill."""

    why: str
    cents: int
    tax: Tax


@dataclass(frozen=True, slots=True, kw_only=True)
class Bill:
    """An invoice, or a credit when `credit` says so.

    `refers_to`: the bills it corrects or takes off (BG-3). `exempt_why` is printed by category (BT-120)
    where a tax of category E or O needs a reason. `object`: what the work was done on (BT-18).
    """

    number: str
    day: dt.date
    currency: str
    seller: Seller
    buyer: Side
    lines: tuple[BillLine, ...]
    totals: Totals
    charges: tuple[Charge, ...] = ()
    credit: bool = False
    due_on: dt.date | None = None
    refers_to: tuple[str, ...] = ()
    object: str = ""
    notes: tuple[str, ...] = ()
    payment_terms: str = ""
    exempt_why: str = ""
