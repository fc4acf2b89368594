"""The document itself, its elements in the order of the UBL 2.1 schemas.

Labour stands in minutes (unit MIN) at the price of an hour (base quantity 60), so that quantity times
price is the amount of the line; everything else in pieces (unit C62). Unit codes: UN/ECE Recommendation
20. Type codes: UNTDID 1001 (380 invoice, 381 credit), UNTDID 1001 code 130 for what was worked on.
"""

from xml.etree import ElementTree as ET

from shopdesk.domain.totals import Tax, TaxGroup
from shopdesk.exchange.ubl.bill import Bill, BillLine
from shopdesk.exchange.ubl.nodes import CBC, CREDIT, INVOICE, amount, group, put, shown, tax_category
from shopdesk.exchange.ubl.sides import put_side
from shopdesk.wording import say

GUIDE = "urn:cen.eu:en16931:2017"  # BT-24
_OUTSIDE, _EXEMPT = "O", "E"  # UNCL5305


def bill_xml(bill: Bill) -> bytes:
    """The bill as UBL 2.1 after EN 16931, in UTF-8."""
    root = ET.Element(f"{{{CREDIT if bill.credit else INVOICE}}}{'CreditNote' if bill.credit else 'Invoice'}")
    single = _one_scope(bill)
    _head(root, bill)
    vat = any(g.tax_kind.category != _OUTSIDE for g in single)
    put_side(root, "AccountingSupplierParty", bill.seller, vat=vat)
    put_side(root, "AccountingCustomerParty", bill.buyer, vat=vat)
    if bill.payment_terms:
        put(group(root, "PaymentTerms"), "Note", bill.payment_terms)
    mixed = _mixed(bill)
    for charge in bill.charges:
        _charge(root, charge.cents, charge.why, bill.currency, _within(charge.tax, mixed))
    _taxes(root, bill, single)
    _sums(root, bill)
    for number, line in enumerate(bill.lines, start=1):
        _line(root, bill, number, line, mixed)
    ET.indent(root)
    written: bytes = ET.tostring(root, encoding="UTF-8", xml_declaration=True)
    return written + b"\n"


def _head(root: ET.Element, bill: Bill) -> None:
    put(root, "CustomizationID", GUIDE)
    put(root, "ID", bill.number)
    put(root, "IssueDate", bill.day.isoformat())
    if bill.due_on and not bill.credit:
        put(root, "DueDate", bill.due_on.isoformat())
    put(root, "CreditNoteTypeCode" if bill.credit else "InvoiceTypeCode", "381" if bill.credit else "380")
    for note in bill.notes:
        put(root, "Note", note)
    put(root, "DocumentCurrencyCode", bill.currency)
    for number in bill.refers_to:
        put(group(group(root, "BillingReference"), "InvoiceDocumentReference"), "ID", number)
    if bill.object:
        about = group(root, "AdditionalDocumentReference")
        put(about, "ID", bill.object)
        put(about, "DocumentTypeCode", "130")


def _mixed(bill: Bill) -> bool:
    """Whether something outside the scope of tax stands beside something within it."""
    categories = {g.tax_kind.category for g in bill.totals.groups}
    return _OUTSIDE in categories and len(categories) > 1


def _within(tax: Tax, mixed: bool) -> Tax:
    """Beside taxed lines what is outside the scope is written as exempt: BR-O-11 lets O stand alone only."""
    return Tax(_EXEMPT, tax.percent) if mixed and tax.category == _OUTSIDE else Tax(tax.category, tax.percent)


def _one_scope(bill: Bill) -> list[TaxGroup]:
    """One group for each category and rate (BG-23), whatever the shop calls the tax."""
    mixed, merged = _mixed(bill), dict[Tax, TaxGroup]()
    for entry in bill.totals.groups:
        kind = _within(entry.tax_kind, mixed)
        before = merged.get(kind, TaxGroup(kind, 0, 0))
        merged[kind] = TaxGroup(kind, before.base + entry.base, before.tax + entry.tax)
    return list(merged.values())


def _taxes(root: ET.Element, bill: Bill, groups: list[TaxGroup]) -> None:
    whole = group(root, "TaxTotal")
    amount(whole, "TaxAmount", bill.totals.tax, bill.currency)
    for entry in groups:
        part = group(whole, "TaxSubtotal")
        amount(part, "TaxableAmount", entry.base, bill.currency)
        amount(part, "TaxAmount", entry.tax, bill.currency)
        tax_category(part, "TaxCategory", entry.tax_kind, _why_none(entry.tax_kind, bill.exempt_why))


def _why_none(tax: Tax, why: str) -> str:
    """BR-E-10 and BR-O-10 ask for a reason; BR-S-10 and BR-Z-10 forbid one."""
    if tax.category == _EXEMPT:
        return shown(why) or say("Not taxed")
    return (shown(why) or say("Not subject to tax")) if tax.category == _OUTSIDE else ""


def _sums(root: ET.Element, bill: Bill) -> None:
    totals, code = bill.totals, bill.currency
    sums = group(root, "LegalMonetaryTotal")
    amount(sums, "LineExtensionAmount", totals.lines, code)
    amount(sums, "TaxExclusiveAmount", totals.without_tax, code)
    amount(sums, "TaxInclusiveAmount", totals.with_tax, code)
    taken_off = -sum(charge.cents for charge in bill.charges if charge.cents < 0)
    added = sum(charge.cents for charge in bill.charges if charge.cents > 0)
    if taken_off:
        amount(sums, "AllowanceTotalAmount", taken_off, code)
    if added:
        amount(sums, "ChargeTotalAmount", added, code)
    if totals.paid:
        amount(sums, "PrepaidAmount", totals.paid, code)
    if totals.rounding:
        amount(sums, "PayableRoundingAmount", totals.rounding, code)
    amount(sums, "PayableAmount", totals.due, code)


def _charge(parent: ET.Element, cents: int, why: str, currency: str, tax: Tax | None) -> None:
    if not cents:
        return
    charge = group(parent, "AllowanceCharge")
    put(charge, "ChargeIndicator", "true" if cents > 0 else "false")
    put(charge, "AllowanceChargeReason", shown(why) or (say("Surcharge") if cents > 0 else say("Discount")))
    amount(charge, "Amount", abs(cents), currency)
    if tax:
        tax_category(charge, "TaxCategory", tax)


def _line(root: ET.Element, bill: Bill, number: int, line: BillLine, mixed: bool) -> None:
    unit = "MIN" if line.labour else "C62"
    sign = -1 if line.unit_cents < 0 else 1  # a price is never negative (BR-27): the quantity is
    item = group(root, "CreditNoteLine" if bill.credit else "InvoiceLine")
    put(item, "ID", str(number))
    quantity = "CreditedQuantity" if bill.credit else "InvoicedQuantity"
    ET.SubElement(item, f"{{{CBC}}}{quantity}", {"unitCode": unit}).text = str(sign * line.quantity)
    amount(item, "LineExtensionAmount", line.net_cents, bill.currency)
    _charge(item, line.adjust_cents, line.adjust_why, bill.currency, None)
    about = group(item, "Item")
    put(about, "Description", line.description)
    put(about, "Name", shown(line.name) or say("Work"))
    tax_category(about, "ClassifiedTaxCategory", _within(line.tax, mixed))
    price = group(item, "Price")
    amount(price, "PriceAmount", abs(line.unit_cents), bill.currency)
    put(price, "BaseQuantity", "60" if line.labour else "1", unitCode=unit)
