"""A job's money as short lines: what was agreed, billed, held and is still open."""

from dataclasses import dataclass

from shopdesk.services.jacket import Money
from shopdesk.wording import Region, say


@dataclass(frozen=True, slots=True)
class MoneyLine:
    name: str
    amount: str
    note: str


def money_lines(region: Region, money: Money) -> list[MoneyLine]:
    """Always the same five lines, so that one finds them by place."""
    ceiling = say("without tax; the customer is asked before the work passes it")
    return [
        MoneyLine(say("Agreed"), region.money(money.agreed_cents), say("without tax")),
        MoneyLine(say("Ceiling"), region.money(money.ceiling_cents), ceiling),
        MoneyLine(say("Billed"), region.money(money.billed_cents), say("with tax, credits taken off")),
        MoneyLine(say("Held"), region.money(money.held_cents), say("paid, not yet set against an invoice")),
        MoneyLine(say("Balance"), region.money(money.balance_cents), _balance_note(money)),
    ]


def _balance_note(money: Money) -> str:
    if money.balance_cents > 0:
        return say("still owed")
    if money.balance_cents < 0:
        return say("owed to the customer")
    return say("nothing is owed") if money.billed_cents else say("nothing is billed yet")
