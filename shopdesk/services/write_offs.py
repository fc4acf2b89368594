"""An invoice nobody will pay: the owner writes off what is open, with a reason. Money that comes counts."""

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.owed import open_of
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice, WriteOff


def write_off(seat: Seat, invoice_id: int, why: str) -> int:
    """Asks no longer for what is open on an invoice; returns the amount, minor units."""
    if not why.strip():
        raise Problem("Say why it is written off; the bookkeeper will ask.", field="why")
    with seat.change(Action.WRITE_OFF) as work:
        invoice = work.get(Invoice, invoice_id, "invoice")
        if invoice.number is None or invoice.kind != "invoice":
            raise Problem("Only an issued invoice can be written off.")
        asked = open_of(work.session, [invoice])[invoice.id].asked_cents
        if asked <= 0:
            raise Problem("Nothing is open on {number}.", number=invoice.number)
        row = work.add(
            WriteOff(
                invoice_id=invoice.id,
                on_day=seat.today,
                amount_cents=asked,
                why=why.strip(),
                staff_id=seat.acting.staff_id,
            )
        )
        work.session.flush()
        work.about(row, invoice.job_id)
        return asked
