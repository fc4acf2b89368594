"""One row of every table that the database itself protects, with what it hangs on."""

import datetime as dt
from decimal import Decimal

import sqlalchemy as sa

from shopdesk.domain.rights import Acting, Role
from shopdesk.storage.tables.counter import Invoice, InvoiceLine, Paper, Payment, PaymentShare
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.proving import Proof
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.tables.stores import GoodsIn, Need, Part, PartMovement, PurchaseLine, PurchaseOrder
from shopdesk.storage.tables.work import Task, WorkOrder
from shopdesk.storage.unit_of_work import UnitOfWork

SOMEBODY = Acting(0, "Odile Fennimarsh", Role.OWNER)
DAY = dt.date(2026, 9, 15)


def write_protected_rows(work: UnitOfWork) -> Job:
    """A job with an issued invoice, a payment, a proof, a paper, goods in and a movement."""
    staff, party, range_ = _people(work)
    job = work.add(Job(range_id=range_.id, customer_id=party.id, opened_on=DAY))
    work.session.flush()
    _money(work, job, party, staff)
    _stores(work, party, staff)
    work.add(Proof(job_id=job.id, kind="doors", at=work.now, staff_id=staff.id, result="meets"))
    work.add(
        Paper(
            kind="invoice", number="I-0001", title="Invoice", issued_at=work.now, issued_by_id=staff.id,
            facts={}, pdf=b"%PDF", sha256="0",
        )
    )  # fmt: skip
    work.session.flush()
    work.about(job, None)
    return job


def an_invoice(job: Job, party: Party) -> Invoice:
    """An invoice over one hour, not issued yet."""
    line = InvoiceLine(
        place=1, kind="labour", what="Free the valve", quantity=60, unit_cents=9500, net_cents=9500,
        tax_category="O", tax_percent=Decimal(0),
    )  # fmt: skip
    return Invoice(job_id=job.id, customer_id=party.id, net_cents=9500, gross_cents=9500, lines=[line])


def _people(work: UnitOfWork) -> tuple[Staff, Party, Range]:
    staff = work.add(Staff(name="Bram Tollgate", role="technician", skills=[]))
    party = work.add(Party(name="Ruiz & Søn <b>", supplies=True))
    range_ = work.add(Range(number="R-0001", build={}))
    work.session.flush()
    return staff, party, range_


def _money(work: UnitOfWork, job: Job, party: Party, staff: Staff) -> None:
    invoice = work.add(an_invoice(job, party))
    work.add(an_invoice(job, party))  # stays a draft
    work.session.flush()
    invoice.number = "I-0001"
    payment = Payment(
        number="P-0001", party_id=party.id, job_id=job.id, on_day=DAY, method="cash", amount_cents=9500,
        taken_by_id=staff.id, shares=[PaymentShare(invoice_id=invoice.id, amount_cents=9500)],
    )  # fmt: skip
    work.add(payment)
    work.session.flush()


def _stores(work: UnitOfWork, party: Party, staff: Staff) -> None:
    line = PurchaseLine(name="grease", quantity=1)
    work.add(PurchaseOrder(number="O-0001", supplier_id=party.id, ordered_on=DAY, lines=[line]))
    part = work.add(Part(number="S-0001", name="grease"))
    work.session.flush()
    line.received.append(GoodsIn(on_day=DAY, quantity=1, unit_cost_cents=800, staff_id=staff.id))
    work.add(PartMovement(part_id=part.id, at=work.now, quantity=1, reason="counted in", staff_id=staff.id))
    work.session.flush()


def write_open_task(work: UnitOfWork) -> Task:
    """A task with a need on the job of `write_protected_rows`."""
    job = work.session.scalars(sa.select(Job)).one()
    order = work.add(WorkOrder(job_id=job.id, written_at=work.now))
    work.session.flush()
    task = work.add(
        Task(
            work_order_id=order.id, name="Free the valve", place=1, minutes_low=30, minutes_likely=60,
            minutes_high=90, skills=[], hazards=[], proofs=[], holds=[],
        )
    )  # fmt: skip
    work.session.flush()
    work.add(Need(task_id=task.id, name="grease"))
    return task
