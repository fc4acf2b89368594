"""The two sides of a bill: names, addresses and the numbers they are known by."""

from xml.etree import ElementTree as ET

from shopdesk.exchange.ubl.bill import Seller, Side
from shopdesk.exchange.ubl.nodes import VAT, group, put
from shopdesk.wording.countries import is_country_code

LOCAL = "LOC"  # a tax number of the place, which is no VAT number (BT-32)


def put_side(root: ET.Element, role: str, side: Side, *, vat: bool) -> None:
    """The seller or the buyer; VAT numbers only where `vat` (BR-O-02 forbids them beside category O)."""
    party = group(group(root, role), "Party")
    put(group(party, "PartyName"), "Name", side.name)
    _address(group(party, "PostalAddress"), side)
    number = side.tax_number.replace(" ", "").upper()
    is_vat = is_vat_number(side.tax_number)
    if is_vat and vat:
        _scheme(party, number, VAT)
    elif side.tax_number and isinstance(side, Seller) and not is_vat:
        _scheme(party, side.tax_number, LOCAL)
    entity = group(party, "PartyLegalEntity")
    put(entity, "RegistrationName", side.name)
    known_by = side.registration or side.tax_number if isinstance(side, Seller) else ""
    put(entity, "CompanyID", known_by or ("" if is_vat else side.tax_number))
    if side.phone or side.email:
        contact = group(party, "Contact")
        put(contact, "Telephone", side.phone)
        put(contact, "ElectronicMail", side.email)


def is_vat_number(number: str) -> bool:
    """A number that begins with the code of its country, as BR-CO-09 asks of VAT numbers."""
    packed = number.replace(" ", "").upper()
    return (
        len(packed) > 4
        and (is_country_code(packed[:2]) or packed.startswith("EL"))
        and any(letter.isdigit() for letter in packed[2:])
        and packed.isalnum()
    )


def _scheme(party: ET.Element, number: str, scheme: str) -> None:
    tax = group(party, "PartyTaxScheme")
    put(tax, "CompanyID", number)
    put(group(tax, "TaxScheme"), "ID", scheme)


def _address(address: ET.Element, side: Side) -> None:
    put(address, "StreetName", side.street)
    put(address, "CityName", side.town)
    put(address, "PostalZone", side.postcode)
    put(address, "CountrySubentity", side.region)
    if side.more:
        put(group(address, "AddressLine"), "Line", side.more)
    put(group(address, "Country"), "IdentificationCode", side.country)
