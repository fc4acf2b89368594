"""What the counter's forms ask and then do, without widgets: checked values in, services called.

Knows services and words; no fields and no Qt.
"""

import datetime as dt
from dataclasses import dataclass

from shopdesk.domain.adjust import Change
from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.problem import Problem
from shopdesk.services import agreements, payments, quotes, sales, work_orders
from shopdesk.services.seat import Seat
from shopdesk.wording import Region, say


@dataclass(frozen=True, slots=True)
class QuoteWish:
    """A quote to be written; `as_ordered` when the work order stands at this scope already."""

    job_id: int
    step: str
    scope: Scope
    delivery: bool
    deposit_cents: int | None
    as_ordered: bool
    changes: tuple[Change, ...] = ()
    milestones: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Consent:
    """A customer's yes to one quote. `amount_cents` None: the quote's own amount."""

    quote_id: int
    who: str
    how: str
    number_called: str = ""
    amount_cents: int | None = None
    note: str = ""
    left_out: tuple[int, ...] = ()
    kept_text: str = ""


@dataclass(frozen=True, slots=True)
class Money:
    """Money taken or given back on a job."""

    job_id: int
    amount_cents: int | None
    method: str | None
    reference: str = ""
    deposit: bool = False
    on: dt.date | None = None


@dataclass(frozen=True, slots=True)
class Sale:
    """A range of the shop's own sold to someone known."""

    job_id: int
    buyer_id: int | None
    price_cents: int | None


def steps() -> list[tuple[str, str]]:
    """What a new quote may be for."""
    return [("job", say("The whole job")), ("teardown", say("The teardown only"))]


def scopes() -> list[tuple[Scope, str]]:
    return [
        (Scope.MECHANICAL, say("Mechanical-only")),
        (Scope.EVERYDAY, say("Everyday finish")),
        (Scope.SHOW, say("Show finish")),
    ]


def hows() -> list[tuple[str, str]]:
    """How a customer agrees; by telephone comes first at this counter."""
    return [("telephone", say("By telephone")), ("signed", say("Signed")), ("e-mail", say("By e-mail"))]


def methods() -> list[tuple[str, str]]:
    return [
        ("cash", say("Cash")),
        ("card", say("Card")),
        ("transfer", say("Transfer")),
        ("cheque", say("Check")),
    ]


def write(seat: Seat, wish: QuoteWish) -> int:
    """Brings the work order to the scope where it must, and writes the quote; returns its key."""
    if not wish.as_ordered:
        work_orders.write_order(seat, wish.job_id, wish.scope)
    return quotes.write_quote(
        seat, wish.job_id, wish.step, deposit_cents=wish.deposit_cents, delivery=wish.delivery,
        changes=wish.changes, milestones=wish.milestones,
    )  # fmt: skip


def record(seat: Seat, consent: Consent) -> int:
    return agreements.agree(
        seat,
        consent.quote_id,
        who=consent.who,
        how=consent.how,
        number_called=consent.number_called if consent.how == "telephone" else "",
        amount_cents=consent.amount_cents,
        note=consent.note,
        left_out=consent.left_out,
        kept_text=consent.kept_text if consent.how == "e-mail" else "",
    )


def take(seat: Seat, money: Money) -> str:
    """Takes a payment or a deposit; returns the receipt's number."""
    amount, method = _checked(seat, money)
    return payments.take_payment(
        seat, money.job_id, amount, method, reference=money.reference, deposit=money.deposit, on=money.on
    )


def give_back(seat: Seat, money: Money) -> str:
    """Gives held money back; returns the receipt's number."""
    amount, method = _checked(seat, money)
    return payments.refund(seat, money.job_id, amount, method, reference=money.reference)


def sell(seat: Seat, sale: Sale) -> int:
    """Writes the bill of sale; returns the key of the invoice that is being written."""
    if sale.buyer_id is None:
        raise Problem("Choose who buys it. Somebody new is added under Customers.", field="buyer")
    if sale.price_cents is None:
        raise Problem("Write the price it is sold for.", field="price")
    return sales.draft_sale(seat, sale.job_id, sale.buyer_id, sale.price_cents)


def _checked(seat: Seat, money: Money) -> tuple[int, str]:
    if money.amount_cents is None:
        raise Problem("Write the amount.", field="amount")
    if money.method is None:
        raise Problem("Say how the money came.", field="method")
    if money.on is not None and money.on > seat.today:
        raise Problem("{day} has not come yet.", field="on", day=seat.region.day(money.on))
    return money.amount_cents, money.method


def read_change(
    region: Region, way: str, typed: str, why: str, line: tuple[str, str] | None
) -> Change:  # fmt: skip
    """A discount or surcharge as it was typed: `25.00` or `10 %`, given or added."""
    text = typed.strip()
    if not text:
        raise Problem("Write an amount, or a percentage such as 10 %.", field="amount")
    sign = -1 if way == "discount" else 1
    if text.endswith("%"):
        rate = region.parse_percent(text[:-1].strip(), field="amount")
        return Change(why=why, percent=sign * rate, line=line)
    return Change(why=why, cents=sign * region.parse_money(text, field="amount"), line=line)


def ways() -> list[tuple[str, str]]:
    return [("discount", say("Discount")), ("surcharge", say("Surcharge"))]


def read_milestones(typed: str) -> list[tuple[str, int]]:
    """One a line: the share in percent, then what is reached: `30 teardown done`."""
    found = []
    for row in typed.splitlines():
        if not row.strip():
            continue
        share, _, name = row.strip().partition(" ")
        number = share.rstrip("%")
        if not number.isdigit() or not name.strip(" %"):
            raise Problem(
                "“{typed}” is no milestone. Write the share and what is reached, such as: 30 teardown done.",
                field="milestones",
                typed=row.strip(),
            )
        found.append((name.strip(" %"), int(number)))
    return found
