"""Bills for a share of what is agreed, by milestone or percentage; later bills take them off again."""

from dataclasses import dataclass
from fractions import Fraction

from sqlalchemy.orm import Session

from shopdesk.domain.money import round_half_up
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.totals import Tax
from shopdesk.services.agreed_lines import agreed_lines, agreed_quotes
from shopdesk.services.bill_adjustments import PROGRESS, agreed_adjustments, for_share
from shopdesk.services.billable import refuse_above_agreed
from shopdesk.services.invoice_drafts import keep_draft
from shopdesk.services.lines import Line, from_row, totals_of, without_tax
from shopdesk.services.owed import issued_invoices
from shopdesk.services.pricing import exempt
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice
from shopdesk.storage.tables.ranges import Job
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class Milestone:
    """A share of the agreed sum that is billed when something is reached."""

    name: str
    share_percent: int
    billed: str = ""  # the number of the bill that holds it


def milestones(seat: Seat, job_id: int) -> list[Milestone]:
    """The milestones the customer agreed to, in order, and which are billed."""
    with seat.look() as session:
        return _milestones(session, job_id)


def draft_share(seat: Seat, job_id: int, *, milestone: str = "", percent: int | None = None) -> int:
    """Writes a bill for a share of all that is agreed: a milestone's, or a percentage; returns its key."""
    with seat.change(Action.INVOICE) as work:
        job = work.get(Job, job_id, "job")
        if job.customer is None:
            raise Problem("{number} has no customer to bill. Sell it first.", number=job.range.number)
        share_ = _share(work.session, job_id, milestone, percent)
        because = milestone or say("as agreed")
        lines = _lines(work.session, job_id, share_, because)
        if not lines:
            raise Problem("Nothing is agreed on {number} that a share could be of.", number=job.range.number)
        given = agreed_adjustments(work.session, job_id)
        parts = for_share(given, [_part(entry.amount_cents, share_) for entry in given])
        lines = without_tax(lines) if exempt(seat, job.customer) else lines
        refuse_above_agreed(work.session, job, totals_of(lines, adjustments=parts).without_tax)
        return keep_draft(seat, work, job, job.customer, lines, parts, basis=PROGRESS, milestone=milestone)


def _share(session: Session, job_id: int, milestone: str, percent: int | None) -> int:
    if not milestone:
        if percent is None or not 1 <= percent <= 100:
            raise Problem("A share lies between 1 and 100 percent.", field="percent")
        return percent
    known = {each.name: each for each in _milestones(session, job_id)}
    if milestone not in known:
        raise Problem("The customer agreed to no milestone “{name}”.", field="milestone", name=milestone)
    if known[milestone].billed:
        raise Problem(
            "“{name}” is billed already, by {number}.", field="milestone", name=milestone,
            number=known[milestone].billed,
        )  # fmt: skip
    return known[milestone].share_percent


def _milestones(session: Session, job_id: int) -> list[Milestone]:
    bills = session.scalars(issued_invoices(Invoice.job_id == job_id, Invoice.basis == PROGRESS))
    billed = {bill.milestone: bill.number or "" for bill in bills if bill.milestone}
    rows = [row for quote in agreed_quotes(session, job_id) for row in quote.milestones]
    return [Milestone(row.name, row.share_percent, billed.get(row.name, "")) for row in rows]


def _lines(session: Session, job_id: int, percent: int, because: str) -> list[Line]:
    """One line for each kind and tax of the agreed lines, rounded once."""
    sums: dict[tuple[str, Tax], int] = {}
    for row in agreed_lines(session, job_id):
        line = from_row(row)
        sums[line.kind, line.tax] = sums.get((line.kind, line.tax), 0) + line.net_cents
    numbers = ", ".join(quote.number for quote in agreed_quotes(session, job_id))
    return [
        Line(
            kind="charge",
            what=say("{percent} % of {what}, {numbers}", percent=percent, what=_kind_name(kind),
                     numbers=numbers),
            quantity=1,
            unit_cents=_part(cents, percent),
            because=because,
            tax=tax,
        )
        for (kind, tax), cents in sums.items()
        if _part(cents, percent)
    ]  # fmt: skip


def _part(cents: int, percent: int) -> int:
    return round_half_up(Fraction(cents * percent, 100))


def _kind_name(kind: str) -> str:
    return {
        "labour": say("the labor"),
        "part": say("the parts"),
        "outwork": say("the outwork"),
        "delivery": say("the delivery"),
        "charge": say("the other charges"),
    }[kind]
