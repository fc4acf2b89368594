"""What an issued paper adds to what was billed, as the books have it."""

import sqlalchemy as sa

from shopdesk.storage.tables.counter import Invoice


def billed_without_tax() -> sa.ColumnElement[int]:
    """Cents without tax, and without the tax within a price; a credit's stand below zero."""
    left = Invoice.net_cents - Invoice.margin_tax_cents
    return sa.case((Invoice.kind == "credit", -left), else_=left)
