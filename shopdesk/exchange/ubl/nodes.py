"""Elements of UBL 2.1: its two name spaces, amounts, texts that XML can hold."""

import unicodedata
from decimal import Decimal
from xml.etree import ElementTree as ET

from shopdesk.domain.money import decimals
from shopdesk.domain.totals import Tax

_UBL = "urn:oasis:names:specification:ubl:schema:xsd:"
CAC, CBC = f"{_UBL}CommonAggregateComponents-2", f"{_UBL}CommonBasicComponents-2"
INVOICE, CREDIT = f"{_UBL}Invoice-2", f"{_UBL}CreditNote-2"
for _prefix, _space in (("cac", CAC), ("cbc", CBC), ("inv", INVOICE), ("cn", CREDIT)):
    ET.register_namespace(_prefix, _space)
_UNFIT = ("Cc", "Cs", "Cn")  # control characters, halves of pairs, and code points that are none

VAT = "VAT"  # the scheme under which EN 16931 knows every tax on sales


def group(parent: ET.Element, name: str) -> ET.Element:
    """An aggregate of others."""
    return ET.SubElement(parent, f"{{{CAC}}}{name}")


def shown(text: str) -> str:
    """The text without what XML cannot hold, in one line."""
    return " ".join("".join(" " if unicodedata.category(c) in _UNFIT else c for c in text).split())


def put(parent: ET.Element, name: str, text: str, **attributes: str) -> None:
    """A basic element; none is written for an empty text (UBL-DT: no empty elements)."""
    fit = shown(text)
    if fit:
        ET.SubElement(parent, f"{{{CBC}}}{name}", attributes).text = fit


def amount(parent: ET.Element, name: str, cents: int, currency: str) -> None:
    """An amount with its currency and no more decimals than it has (BR-DEC)."""
    text = format(Decimal(cents).scaleb(-decimals(currency)), "f")
    put(parent, name, text, currencyID=currency)


def tax_category(parent: ET.Element, name: str, tax: Tax, why: str = "") -> None:
    """A category with its rate; of what is outside the scope of tax no rate is written (BR-O)."""
    category = group(parent, name)
    put(category, "ID", tax.category)
    if tax.category != "O":
        put(category, "Percent", format(tax.percent, "f"))
    put(category, "TaxExemptionReason", why)
    put(group(category, "TaxScheme"), "ID", VAT)
