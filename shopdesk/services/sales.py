"""A range of the shop's own: what went into it, its sale, and what is left of the price."""

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal

import sqlalchemy as sa

from shopdesk.domain.margin import Cost, tax_within
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.totals import Tax
from shopdesk.services import settings
from shopdesk.services.invoice_drafts import SALE, keep_draft
from shopdesk.services.lines import Line, without_tax
from shopdesk.services.owed import issued_invoices
from shopdesk.services.pricing import exempt
from shopdesk.services.reckoning.costs import cost_of
from shopdesk.services.seat import Seat
from shopdesk.services.taxes import place_of, tax_on
from shopdesk.storage.tables.counter import Invoice, Outlay
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class OutlayRow:
    on_day: dt.date
    what: str
    amount_cents: int


@dataclass(frozen=True, slots=True)
class OwnRange:
    """A range the shop owns or sold: its cost so far, its price once it is sold, and the margin."""

    job_id: int
    minutes: int
    cost: Cost
    outlays: tuple[OutlayRow, ...]
    price_cents: int | None  # without tax, as invoiced
    tax_on_margin_cents: int

    @property
    def margin_cents(self) -> int | None:
        """The price less all cost and less the tax that lies within it."""
        if self.price_cents is None:
            return None
        return self.price_cents - self.tax_on_margin_cents - self.cost.whole


def draft_sale(seat: Seat, job_id: int, customer_id: int, price_cents: int) -> int:
    """Writes the invoice of a sale; the buyer becomes the owner on issue, with a bill of sale.

    Under the shop's margin scheme the price carries no tax of its own, unless the buyer is exempt.
    """
    if price_cents <= 0:
        raise Problem("A sale has a price above zero.", field="price")
    with seat.change(Action.INVOICE) as work:
        job = work.get(Job, job_id, "job")
        customer = work.get(Party, customer_id, "customer")
        if job.customer_id is not None:
            raise Problem("{number} belongs to a customer; bill the work instead.", number=job.range.number)
        if work.session.scalar(issued_invoices(Invoice.job_id == job_id).limit(1)) is not None:
            raise Problem("{number} is sold already. Credit that invoice first.", number=job.range.number)
        scheme = settings.read(work.session, settings.Margin)
        tax = tax_on(work.session, "charge", seat.today, place_of(customer))
        within = 0
        if scheme.on and not exempt(seat, customer):
            tax = Tax("E", Decimal(0), say("margin scheme"))
            within = tax_within(price_cents, job.bought_cents or 0, Decimal(scheme.percent))
        line = _sale_line(job, price_cents, tax)
        lines = without_tax([line]) if exempt(seat, customer) else [line]
        return keep_draft(seat, work, job, customer, lines, basis=SALE, margin_tax_cents=within)


def _sale_line(job: Job, price_cents: int, tax: Tax) -> Line:
    name = " ".join(w for w in (job.range.maker, job.range.model, job.range.serial) if w)
    return Line(
        kind="charge",
        what=say("Restored range {number} {name}", number=job.range.number, name=name).strip(),
        quantity=1,
        unit_cents=price_cents,
        because=say("sold as agreed"),
        tax=tax,
    )


def add_outlay(seat: Seat, job_id: int, what: str, amount_cents: int, on: dt.date | None = None) -> int:
    """Money spent on a range beside parts, hours and outwork; a wrong one is corrected by its opposite."""
    if not what.strip():
        raise Problem("Write what the money was for.", field="what")
    if amount_cents == 0:
        raise Problem("An outlay of nothing needs no line.", field="amount")
    with seat.change(Action.SEE_COSTS) as work:
        job = work.get(Job, job_id, "job")
        row = work.add(
            Outlay(job_id=job.id, on_day=on or seat.today, what=what.strip(), amount_cents=amount_cents,
                   staff_id=seat.acting.staff_id)
        )  # fmt: skip
        work.session.flush()
        work.about(row, job.id)
        return row.id


def own_range(seat: Seat, job_id: int) -> OwnRange:
    """What went into a range and what it brought; for the owner."""
    with seat.look(Action.SEE_COSTS) as session:
        outlays = session.scalars(sa.select(Outlay).where(Outlay.job_id == job_id).order_by(Outlay.id)).all()
        minutes, cost = cost_of(session, seat.region, job_id)
        sold = session.scalars(issued_invoices(Invoice.job_id == job_id)).first()
        return OwnRange(
            job_id,
            minutes,
            cost,
            tuple(OutlayRow(row.on_day, row.what, row.amount_cents) for row in outlays),
            sold.net_cents if sold else None,
            sold.margin_tax_cents if sold else 0,
        )
