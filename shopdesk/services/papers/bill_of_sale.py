"""The bill of sale, kept in the transaction that issues the invoice of the sale."""

from shopdesk.documents.facts import BillOfSaleFacts
from shopdesk.services import settings
from shopdesk.services.papers.heads import party_facts, range_facts, shop_head
from shopdesk.services.papers.keeping import keep_paper
from shopdesk.services.papers.proof_sheet import standing_of
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say


def keep_bill_of_sale(seat: Seat, work: UnitOfWork, invoice: Invoice) -> str:
    """Prints and keeps it; returns its number."""
    number = work.take_number("bill of sale")
    texts = settings.read(work.session, settings.Texts)
    job = invoice.job
    facts = BillOfSaleFacts(
        shop=shop_head(seat, work.session),
        number=number,
        day=invoice.on_day or seat.today,
        buyer=party_facts(invoice.customer),
        range=range_facts(job.range, seat.region),
        price_cents=invoice.gross_cents,
        invoice=invoice.number or "",
        standing=standing_of(seat, work.session, job),
        warranty_until=job.warranty_until,
        terms=(texts.warranty,) if texts.warranty else (),
    )
    title = say("Bill of sale {number}", number=number)
    keep_paper(work, "bill of sale", number, title, facts, job_id=job.id, party_id=invoice.customer_id)
    return number
