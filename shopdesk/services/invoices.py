"""Invoices and credits: written from what was agreed and done, issued once, never changed."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import payments, settings
from shopdesk.services.agreements import agreed
from shopdesk.services.lines import Line, from_row, to_row, totals_of, without_tax
from shopdesk.services.papers.invoice import credit_pdf, invoice_pdf
from shopdesk.services.papers.keeping import keep_paper
from shopdesk.services.quotes import exempt
from shopdesk.services.seat import Seat
from shopdesk.services.shops import tax_on
from shopdesk.storage.tables.counter import Agreement, Invoice, InvoiceLine, Quote, QuoteLine
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.stores import ConsignmentPiece, Need
from shopdesk.storage.tables.work import Task
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class InvoiceRow:
    """An invoice or credit as lists show it; `standing` follows from facts."""

    id: int
    kind: str
    number: str  # empty while it is being written
    job_id: int
    range_number: str
    customer: str
    on_day: dt.date | None
    due_on: dt.date | None
    net_cents: int
    tax_cents: int
    gross_cents: int
    open_cents: int
    currency: str
    standing: str  # being written, issued, part settled, settled, past due, credited


@dataclass(frozen=True, slots=True)
class InvoiceView:
    """One invoice with its lines."""

    row: InvoiceRow
    lines: tuple[Line, ...]


def draft_invoice(seat: Seat, job_id: int) -> int:
    """Writes an invoice over the agreed lines whose work is done and which no invoice has yet.

    Parts are billed as they were covered and outwork as it was accepted; prices are the
    agreed ones. Nothing is billed above what is agreed.
    """
    with seat.change(Action.INVOICE) as work:
        job = work.get(Job, job_id, "job")
        if job.customer is None:
            raise Problem("{number} has no customer to bill. Sell it first.", number=job.range.number)
        _drop_drafts(work, job_id)
        lines = billable(work.session, job_id)
        if not lines:
            raise Problem(
                "There is nothing to bill on {number} yet: all agreed work that is ticked is billed.",
                number=job.range.number,
            )
        if exempt(seat, job.customer):
            lines = without_tax(lines)
        _refuse_above_agreed(work.session, job, lines)
        return _keep_draft(seat, work, job, job.customer, lines)


def draft_sale(seat: Seat, job_id: int, customer_id: int, price_cents: int) -> int:
    """Writes the bill of sale for a range of the shop's own; the buyer becomes its owner on issue."""
    if price_cents <= 0:
        raise Problem("A sale has a price above zero.", field="price")
    with seat.change(Action.INVOICE) as work:
        job = work.get(Job, job_id, "job")
        customer = work.get(Party, customer_id, "customer")
        if job.customer_id is not None:
            raise Problem("{number} belongs to a customer; bill the work instead.", number=job.range.number)
        _drop_drafts(work, job_id)
        name = " ".join(w for w in (job.range.maker, job.range.model, job.range.serial) if w)
        line = Line(
            kind="charge",
            what=say("Restored range {number} {name}", number=job.range.number, name=name).strip(),
            quantity=1,
            unit_cents=price_cents,
            because=say("sold as agreed"),
            tax=tax_on(work.session, "charge", seat.today),
        )
        lines = without_tax([line]) if exempt(seat, customer) else [line]
        return _keep_draft(seat, work, job, customer, lines)


def issue_invoice(seat: Seat, invoice_id: int) -> str:
    """Gives a written invoice its number, sets deposits against it, archives the paper."""
    with seat.change(Action.INVOICE) as work:
        invoice = work.get(Invoice, invoice_id, "invoice")
        if invoice.number is not None:
            raise Problem("{number} is issued already.", number=invoice.number)
        if not invoice.customer.street and not invoice.customer.town:
            raise Problem(
                "{name} has no address. Write it down first; an invoice needs one.",
                name=invoice.customer.name,
                field="customer",
            )
        terms = settings.read(work.session, settings.Terms)
        invoice.on_day = seat.today
        invoice.due_on = seat.today + dt.timedelta(days=terms.payment_days)
        invoice.issued_at = work.now
        work.session.flush()
        if invoice.job.customer_id is None:
            invoice.job.range.owner_id = invoice.customer_id
        invoice.number = work.take_number("invoice")
        work.session.flush()
        payments.apply_held(work, invoice)
        pdf = invoice_pdf(seat, work.session, invoice)
        keep_paper(
            work,
            "invoice",
            invoice.number,
            say("Invoice {number}", number=invoice.number),
            pdf,
            job_id=invoice.job_id,
            party_id=invoice.customer_id,
        )
        work.about(invoice, invoice.job_id)
        return invoice.number


def credit_invoice(seat: Seat, invoice_id: int, why: str) -> str:
    """Corrects an issued invoice by a credit over all of it; what was paid is held for the customer."""
    if not why.strip():
        raise Problem("Say why the invoice is credited; it prints on the credit.", field="why")
    with seat.change(Action.INVOICE) as work:
        invoice = work.get(Invoice, invoice_id, "invoice")
        if invoice.number is None or invoice.kind != "invoice":
            raise Problem("Only an issued invoice can be credited.")
        if work.session.scalar(sa.select(Invoice.id).where(Invoice.corrects_id == invoice.id)):
            raise Problem("{number} is credited already.", number=invoice.number)
        credit = Invoice(
            job_id=invoice.job_id,
            customer_id=invoice.customer_id,
            kind="credit",
            corrects_id=invoice.id,
            issued_at=work.now,
            on_day=seat.today,
            due_on=seat.today,
            currency=invoice.currency,
            net_cents=invoice.net_cents,
            tax_cents=invoice.tax_cents,
            gross_cents=invoice.gross_cents,
        )
        credit.lines = [
            to_row(from_row(row), place, InvoiceLine()) for place, row in enumerate(invoice.lines, start=1)
        ]
        work.add(credit)
        work.session.flush()
        payments.release_shares(work, invoice)
        credit.number = work.take_number("credit")
        work.session.flush()
        pdf = credit_pdf(seat, work.session, credit, invoice, why.strip())
        keep_paper(
            work,
            "credit",
            credit.number,
            say("Credit {number}", number=credit.number),
            pdf,
            job_id=credit.job_id,
            party_id=credit.customer_id,
        )
        work.about(credit, credit.job_id)
        return credit.number


def invoices(
    seat: Seat, *, job_id: int | None = None, owing: bool = False, limit: int = 200
) -> list[InvoiceRow]:
    """Invoices and credits, newest first; `owing` those with something still open."""
    query = sa.select(Invoice).order_by(Invoice.id.desc()).limit(limit)
    if job_id is not None:
        query = query.where(Invoice.job_id == job_id)
    query = query.options(
        sa.orm.joinedload(Invoice.customer), sa.orm.joinedload(Invoice.job).joinedload(Job.range)
    )
    with seat.look() as session:
        rows = list(session.scalars(query))
        settled = payments.settled_by_invoice(session, [r.id for r in rows])
        credited = set(
            session.scalars(sa.select(Invoice.corrects_id).where(Invoice.corrects_id.is_not(None)))
        )
        listed = [_row(r, settled.get(r.id, 0), r.id in credited, seat.today) for r in rows]
    return [r for r in listed if not owing or r.open_cents > 0]


def invoice_view(seat: Seat, invoice_id: int) -> InvoiceView:
    with seat.look() as session:
        invoice = session.get_one(Invoice, invoice_id)
        settled = payments.settled_by_invoice(session, [invoice_id]).get(invoice_id, 0)
        credited = session.scalar(sa.select(Invoice.id).where(Invoice.corrects_id == invoice_id)) is not None
        lines = tuple(from_row(row) for row in invoice.lines)
        return InvoiceView(_row(invoice, settled, credited, seat.today), lines)


def billable(session: Session, job_id: int) -> list[Line]:
    """Agreed lines ready to be billed: their task is ticked, and no invoice holds them yet."""
    billed_tasks, billed_needs, charges_billed = _billed(session, job_id)
    lines = []
    for row in _agreed_lines(session, job_id):
        line = from_row(row)
        task = session.get(Task, row.task_id) if row.task_id else None
        if task is not None and (task.dropped or task.done_share < 100):
            continue
        if line.kind == "labour" and line.task_id in billed_tasks.get("labour", ()):
            continue
        if line.kind == "part":
            need = session.get(Need, row.need_id) if row.need_id else None
            if need is None or need.covered == 0 or need.id in billed_needs:
                continue
            line = _as_covered(line, need)
        if line.kind == "outwork":
            if line.task_id in billed_tasks.get("outwork", ()):
                continue
            line = _as_accepted(session, line)
        if line.kind in ("charge", "delivery") and charges_billed:
            continue
        lines.append(line)
    only_charges = all(line.kind in ("charge", "delivery") for line in lines)
    return [] if only_charges else lines


def _agreed_lines(session: Session, job_id: int) -> list[QuoteLine]:
    """The lines of the agreed quote (the job's, else the teardown's) and of agreed change orders."""
    quotes = list(
        session.scalars(sa.select(Quote).join(Agreement).where(Quote.job_id == job_id).order_by(Agreement.id))
    )
    base = [q for q in quotes if q.step == "job"] or [q for q in quotes if q.step == "teardown"]
    changes = [q for q in quotes if q.step == "change"]
    return [line for quote in (*base[-1:], *changes) for line in quote.lines]


def _billed(session: Session, job_id: int) -> tuple[dict[str, set[int]], set[int], bool]:
    """What issued, uncredited invoices of the job hold: tasks by kind, needs, and its charges."""
    corrected = sa.select(Invoice.corrects_id).where(Invoice.corrects_id.is_not(None))
    rows = session.scalars(
        sa.select(InvoiceLine)
        .join(Invoice)
        .where(
            Invoice.job_id == job_id,
            Invoice.kind == "invoice",
            Invoice.number.is_not(None),
            Invoice.id.not_in(corrected),
        )
    )
    tasks: dict[str, set[int]] = {}
    needs: set[int] = set()
    charges = False
    for row in rows:
        if row.need_id is not None:
            needs.add(row.need_id)
        elif row.task_id is not None:
            tasks.setdefault(row.kind, set()).add(row.task_id)
        charges = charges or row.kind in ("charge", "delivery")
    return tasks, needs, charges


def _as_covered(line: Line, need: Need) -> Line:
    """A part line as it came: how many were covered and in which condition, disclosed."""
    return Line(
        kind=line.kind,
        what=line.what,
        quantity=need.covered,
        unit_cents=line.unit_cents,
        because=line.because,
        tax=line.tax,
        condition=need.condition,
        task_id=line.task_id,
        need_id=need.id,
    )


def _as_accepted(session: Session, line: Line) -> Line:
    """An outwork line tied to the pieces that came back; the agreed price stands."""
    piece = session.scalars(
        sa.select(ConsignmentPiece).where(
            ConsignmentPiece.task_id == line.task_id, ConsignmentPiece.accepted == "accepted"
        )
    ).first()
    if piece is None:
        return line
    return Line(
        kind=line.kind,
        what=line.what,
        quantity=line.quantity,
        unit_cents=line.unit_cents,
        because=line.because,
        tax=line.tax,
        task_id=line.task_id,
        piece_id=piece.id,
    )


def _refuse_above_agreed(session: Session, job: Job, lines: list[Line]) -> None:
    limit = agreed(session, job.id).ceiling_cents
    before = (
        session.scalar(
            sa.select(
                sa.func.sum(sa.case((Invoice.kind == "credit", -Invoice.net_cents), else_=Invoice.net_cents))
            ).where(Invoice.job_id == job.id, Invoice.number.is_not(None))
        )
        or 0
    )
    if before + sum(line.net_cents for line in lines) > limit:
        raise Problem(
            "The bill for {number} would pass what the customer agreed to. "
            "Write a change order and get consent first.",
            number=job.range.number,
        )


def _drop_drafts(work: UnitOfWork, job_id: int) -> None:
    for draft in work.session.scalars(
        sa.select(Invoice).where(Invoice.job_id == job_id, Invoice.number.is_(None))
    ):
        work.session.delete(draft)
    work.session.flush()


def _keep_draft(seat: Seat, work: UnitOfWork, job: Job, customer: Party, lines: list[Line]) -> int:
    sums = totals_of(lines)
    invoice = Invoice(
        job_id=job.id,
        customer_id=customer.id,
        currency=seat.region.currency,
        net_cents=sums.without_tax,
        tax_cents=sums.tax,
        gross_cents=sums.with_tax,
    )
    invoice.lines = [to_row(line, place, InvoiceLine()) for place, line in enumerate(lines, start=1)]
    work.add(invoice)
    work.session.flush()
    work.about(invoice, job.id)
    return invoice.id


def _row(invoice: Invoice, settled: int, credited: bool, today: dt.date) -> InvoiceRow:
    issued = invoice.number is not None
    open_cents = 0
    if issued and invoice.kind == "invoice" and not credited:
        open_cents = invoice.gross_cents - settled
    return InvoiceRow(
        id=invoice.id,
        kind=invoice.kind,
        number=invoice.number or "",
        job_id=invoice.job_id,
        range_number=invoice.job.range.number,
        customer=invoice.customer.name,
        on_day=invoice.on_day,
        due_on=invoice.due_on,
        net_cents=invoice.net_cents,
        tax_cents=invoice.tax_cents,
        gross_cents=invoice.gross_cents,
        open_cents=open_cents,
        currency=invoice.currency,
        standing=_standing(invoice, open_cents, credited, today),
    )


def _standing(invoice: Invoice, open_cents: int, credited: bool, today: dt.date) -> str:
    if invoice.number is None:
        return "being written"
    if invoice.kind == "credit" or credited:
        return "credited" if credited else "issued"
    if open_cents <= 0:
        return "settled"
    if invoice.due_on is not None and invoice.due_on < today:
        return "past due"
    return "part settled" if open_cents < invoice.gross_cents else "issued"
