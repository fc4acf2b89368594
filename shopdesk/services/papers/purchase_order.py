"""The purchase order to a supplier."""

from sqlalchemy.orm import Session

from shopdesk.documents.facts import OrderLineFacts, PurchaseOrderFacts
from shopdesk.services import settings
from shopdesk.services.papers.heads import address_lines, party_facts, shop_head
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.stores import PurchaseLine, PurchaseOrder


def purchase_order_facts(seat: Seat, session: Session, order: PurchaseOrder) -> PurchaseOrderFacts:
    """A price of nothing is one nobody knows yet; then the order has no total either."""
    shop = settings.read(session, settings.ShopIdentity)
    priced = all(line.unit_cost_cents for line in order.lines)
    total = sum(line.quantity * line.unit_cost_cents for line in order.lines)
    return PurchaseOrderFacts(
        shop=shop_head(seat, session),
        number=order.number,
        day=order.ordered_on,
        supplier=party_facts(order.supplier),
        lines=tuple(_line(line) for line in order.lines),
        total_cents=total if priced else None,
        currency=order.currency,
        our_account=order.supplier.our_account,
        wanted_by=order.expected_on,
        deliver_to=(shop.name, *address_lines(shop)),
        ordered_by=seat.acting.name,
        notes=(order.note,) if order.note else (),
    )


def _line(line: PurchaseLine) -> OrderLineFacts:
    waits = line.need.task.work_order.job.range.number if line.need is not None else ""
    return OrderLineFacts(
        what=line.name,
        quantity=line.quantity,
        unit_cents=line.unit_cost_cents or None,
        theirs=line.theirs,
        for_range=waits,
    )
