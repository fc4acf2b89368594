"""Invoices and credits as UBL 2.1 after EN 16931, for programs that read bills without a person.

Values in, bytes out; the same values give the same bytes.
"""

from shopdesk.exchange.ubl.bill import Bill, BillLine, Charge, Seller, Side
from shopdesk.exchange.ubl.document import bill_xml

__all__ = ["Bill", "BillLine", "Charge", "Seller", "Side", "bill_xml"]
