"""A customer withdraws half-way: what is owed for what was done, what was paid, what is given back.

Owed is, at the agreed prices: the labour ticked so far, a started task by its share; parts that came
for this range, fitted or not, which go back with it; outwork that was sent out. Sundries follow the
labour; what was not begun and the delivery are not owed. Local law comes first.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.documents.facts import AccountLine, LetterFacts
from shopdesk.domain.adjust import Adjustment
from shopdesk.domain.money import round_half_up
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.stage import Stage
from shopdesk.domain.totals import Totals
from shopdesk.services import payments, settings
from shopdesk.services.agreed_lines import LabourShare, agreed_lines, labour_shares, standing_invoice_lines
from shopdesk.services.bill_adjustments import carried, left_of_shares
from shopdesk.services.billable import for_share
from shopdesk.services.invoice_drafts import WITHDRAWAL, keep_draft
from shopdesk.services.lines import Line, from_row, totals_of, without_tax
from shopdesk.services.owed import issued_invoices, open_of
from shopdesk.services.papers.heads import party_facts, range_facts, shop_head
from shopdesk.services.papers.keeping import keep_paper
from shopdesk.services.pricing import exempt
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.bench import Tag
from shopdesk.storage.tables.counter import Invoice, Letter, QuoteLine
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.stores import ConsignmentPiece, Need
from shopdesk.storage.tables.work import Task
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class Withdrawal:
    """The reckoning of a withdrawal today, minor units; `to_pay` or `to_give_back` is nothing, or both."""

    lines: tuple[Line, ...]
    adjustments: tuple[Adjustment, ...]
    owed_cents: int  # for work not billed yet, with tax
    open_cents: int  # on bills that are out
    held_cents: int
    pieces: tuple[str, ...]  # that go back with the range
    unearned_cents: int  # billed as a share and not earned: credit those bills first, before tax

    @property
    def to_pay(self) -> int:
        return max(0, self.owed_cents + self.open_cents - self.held_cents)

    @property
    def to_give_back(self) -> int:
        return max(0, self.held_cents - self.owed_cents - self.open_cents)


def reckon(seat: Seat, job_id: int) -> Withdrawal:
    """What a withdrawal today would come to, nothing written."""
    with seat.look() as session:
        return _reckoned(seat, session, session.get_one(Job, job_id))


def sums_of(account: Withdrawal) -> Totals:
    """The sums of what is owed for work not billed yet."""
    return totals_of(account.lines, adjustments=account.adjustments)


def withdraw(seat: Seat, job_id: int, why: str) -> int | None:
    """Ends the job as withdrawn, writes the account of it as a letter, and the bill of what is owed.

    Returns the key of the bill that is being written, None when nothing is owed. Issued, it takes
    what is held; the rest is given back as a refund.
    """
    if not why.strip():
        raise Problem("Write why they withdraw, in their words.", field="why")
    with seat.change(Action.WITHDRAW) as work:
        job = work.get(Job, job_id, "job")
        if job.customer is None:
            raise Problem("{number} is the shop's own; nobody withdraws it.", number=job.range.number)
        if job.gone_on is not None or job.ended_as:
            raise Problem("{number} has left or ended already.", number=job.range.number)
        account = _reckoned(seat, work.session, job)
        if account.unearned_cents > 0:
            raise Problem(
                "{amount} was billed as a share and is not earned. Credit that bill first; its money is then "
                "held and reckoned here.",
                amount=seat.region.money(account.unearned_cents),
            )
        job.ended_as, job.ended_on, job.ended_why = Stage.WITHDRAWN.value, seat.today, why.strip()
        _letter(seat, work, job, account)
        key = None
        if account.lines:
            key = keep_draft(
                seat, work, job, job.customer, account.lines, account.adjustments, basis=WITHDRAWAL
            )
        work.about(job, job.id)
        return key


def _reckoned(seat: Seat, session: Session, job: Job) -> Withdrawal:
    lines = _owed_lines(session, job.id)
    if exempt(seat, job.customer):
        lines = without_tax(lines)
    given = carried(session, job.id, lines, whole=False)
    bills = session.scalars(issued_invoices(Invoice.job_id == job.id)).all()
    taken_off = -sum(entry.amount_cents for entry in given if entry.deducts is not None)
    return Withdrawal(
        tuple(lines),
        tuple(given),
        totals_of(lines, adjustments=given).with_tax,
        sum(each.asked_cents for each in open_of(session, bills).values()),
        payments.held_for_job(session, job.id),
        _pieces(session, job.id),
        left_of_shares(session, job.id) - taken_off,
    )


def _owed_lines(session: Session, job_id: int) -> list[Line]:
    billed = standing_invoice_lines(session, job_id)
    parts_billed = {row.need_id for row in billed if row.need_id is not None}
    outwork_billed = {row.task_id for row in billed if row.kind == "outwork"}
    agreed = agreed_lines(session, job_id)
    shares: dict[int, list[LabourShare]] = {}
    for each in labour_shares(session, job_id):
        shares.setdefault(each.line.id, []).append(each)
    lines: list[Line] = []
    for row in agreed:
        if row.kind == "labour":
            lines += _labour(shares.get(row.id, []))
        elif row.kind == "part" and row.need_id not in parts_billed:
            lines += _part(session, row)
        elif row.kind == "outwork" and row.task_id not in outwork_billed:
            lines += _outwork(session, row)
    if not any(row.kind == "charge" for row in billed):
        lines += _sundries(agreed, lines)
    return lines


def _labour(shares: Sequence[LabourShare]) -> list[Line]:
    """Each part of the work by the share of it that is ticked."""
    found = []
    for each in shares:
        task = each.task
        if each.billed or task.dropped or not task.done_share or not each.minutes:
            continue
        line = for_share(each)
        if task.done_share < 100:
            minutes = round_half_up(Fraction(each.minutes * task.done_share, 100))
            cents = round_half_up(Fraction(each.cents * task.done_share, 100))
            because = say("{percent} % of it is done", percent=task.done_share)
            full = replace(line, quantity=minutes, share_cents=None, adjust_cents=0)
            line = replace(full, adjust_cents=cents - full.full_cents if line.adjust_cents else 0,
                           because=f"{line.because} {because}".strip())  # fmt: skip
        if line.quantity:
            found.append(line)
    return found


def _part(session: Session, row: QuoteLine) -> list[Line]:
    need = session.get(Need, row.need_id) if row.need_id else None
    if need is None or not need.covered:
        return []
    line = from_row(row)
    quantity = min(need.covered, line.quantity)
    less = round_half_up(Fraction(line.adjust_cents * quantity, line.quantity))
    return [replace(line, quantity=quantity, condition=need.condition, adjust_cents=less)]


def _outwork(session: Session, row: QuoteLine) -> list[Line]:
    sent = sa.select(ConsignmentPiece.id).where(ConsignmentPiece.task_id == row.task_id).limit(1)
    piece = session.scalar(sent)
    return [replace(from_row(row), piece_id=piece)] if piece is not None else []


def _sundries(agreed: Sequence[QuoteLine], lines: Sequence[Line]) -> list[Line]:
    """Charges in the proportion of the labour done to the labour agreed."""
    whole = sum(row.net_cents for row in agreed if row.kind == "labour")
    done = sum(line.net_cents for line in lines if line.kind == "labour")
    found = []
    for row in agreed:
        if row.kind == "charge" and whole and done:
            cents = round_half_up(Fraction(row.net_cents * done, whole))
            line = replace(from_row(row), quantity=1, unit_cents=cents, adjust_cents=0, share_cents=None)
            found.append(line)
    return [line for line in found if line.unit_cents]


def _pieces(session: Session, job_id: int) -> tuple[str, ...]:
    tags = session.execute(
        sa.select(Tag.number, Tag.what).where(Tag.job_id == job_id, Tag.back_at.is_(None)).order_by(Tag.id)
    )
    off = [say("{number} {what}, taken off", number=number, what=what) for number, what in tags]
    parts = session.execute(
        sa.select(Need.name, Need.covered)
        .join(Task, Task.id == Need.task_id)
        .where(Need.covered > 0, Task.done_share < 100, Task.work_order.has(job_id=job_id))
        .order_by(Need.id)
    )
    bought = [say("{count} × {what}, not fitted", count=count, what=name) for name, count in parts]
    return (*off, *bought)


def _letter(seat: Seat, work: UnitOfWork, job: Job, account: Withdrawal) -> None:
    assert job.customer is not None, "a withdrawal has a customer"
    session = work.session
    number = work.take_number("letter")
    texts = settings.read(session, settings.Texts)
    facts = LetterFacts(
        shop=shop_head(seat, session),
        number=number,
        day=seat.today,
        customer=party_facts(job.customer),
        subject=say("Account of your withdrawal"),
        paragraphs=_paragraphs(job),
        range=range_facts(job.range, seat.region),
        reckoning=_figures(account),
        listed=account.pieces,
        terms=(texts.quote,) if texts.quote else (),
    )
    title = say("{subject}, {number}", subject=facts.subject, number=number)
    paper = keep_paper(work, "letter", number, title, facts, job_id=job.id, party_id=job.customer.id)
    work.add(
        Letter(kind="withdrawal", job_id=job.id, party_id=job.customer.id, on_day=seat.today,
               paper_id=paper.id)
    )  # fmt: skip


def _paragraphs(job: Job) -> tuple[str, ...]:
    return (
        say("You withdrew the work on your range {number}. This is how it stands.", number=job.range.number),
        say(
            "We bill what was done at the agreed prices: work by the share of it that is done, parts that "
            "came for your range, and pieces that other trades have. What was not begun is not billed."
        ),
        say(
            "The range has not been proved. It leaves disconnected and red-tagged and must not be lit until "
            "a licensed fitter has put it in order and connected it."
        ),
    )


def _figures(account: Withdrawal) -> tuple[AccountLine, ...]:
    rows = [AccountLine(label=say("Owed for what was done, with tax"), cents=account.owed_cents)]
    if account.open_cents:
        rows.append(AccountLine(label=say("Open on earlier bills"), cents=account.open_cents))
    if account.held_cents:
        rows.append(AccountLine(label=say("Held for you"), cents=-account.held_cents))
    last = (
        AccountLine(label=say("We give you back"), cents=account.to_give_back, strong=True)
        if account.to_give_back
        else AccountLine(label=say("Left to pay"), cents=account.to_pay, strong=True)
    )
    return (*rows, last)
