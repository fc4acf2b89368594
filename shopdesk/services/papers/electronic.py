"""An issued invoice or credit as XML: the same facts as its paper, for programs.

Names and addresses come from the snapshot the paper was printed from, lines and sums from the issued
rows, which never change. A shop's or a customer's numbers that were written down later are taken as
they stand now only where the snapshot has none.
"""

from collections.abc import Mapping
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.problem import NotFound, Problem
from shopdesk.exchange.ubl import Bill, BillLine, Charge, Seller, Side, bill_xml
from shopdesk.services import settings
from shopdesk.services.lines import from_adjustment_row, from_row, tax_of, totals_of
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Invoice, Paper
from shopdesk.wording import Region, say
from shopdesk.wording.countries import country_code

_Facts = Mapping[str, Any]


def invoice_xml(seat: Seat, number: str) -> bytes:
    """UBL 2.1 after EN 16931; a Problem says what the standard asks for and the shop has not written down."""
    with seat.look() as session:
        found = session.execute(
            sa.select(Invoice, Paper.facts)
            .join(Paper, sa.and_(Paper.number == Invoice.number, Paper.kind == Invoice.kind))
            .where(Invoice.number == number)
        ).one_or_none()
        if found is None:
            raise NotFound(
                "There is no issued invoice or credit {number} in this shop. Check the number.", number=number
            )
        return bill_xml(_bill(seat, session, *found))


def _bill(seat: Seat, session: Session, invoice: Invoice, facts: _Facts) -> Bill:
    lines = [from_row(row) for row in invoice.lines]
    given = [from_adjustment_row(row) for row in invoice.adjustments]
    refers = [invoice.corrects_id, *(row.deducts_id for row in invoice.adjustments)]
    certificate = invoice.customer.exempt_certificate
    return Bill(
        number=invoice.number or "",
        day=invoice.on_day or seat.today,
        due_on=invoice.due_on,
        currency=invoice.currency,
        credit=invoice.kind == "credit",
        seller=_seller(seat, session, facts["shop"], taxed=any(line.tax.category != "O" for line in lines)),
        buyer=Side(**_side(facts["customer"], seat.region)),
        lines=tuple(
            BillLine(
                labour=line.kind == "labour",
                name=line.what,
                description=say("because: {cause}", cause=line.because) if line.because else "",
                quantity=line.quantity,
                unit_cents=line.unit_cents,
                net_cents=line.net_cents,
                tax=line.tax,
                adjust_cents=line.adjust_cents,
                adjust_why=line.adjust_why,
            )
            for line in lines
        ),
        charges=tuple(
            Charge(why=row.why, cents=row.amount_cents, tax=tax_of(row)) for row in invoice.adjustments
        ),
        totals=totals_of(lines, paid=int(facts["totals"]["paid"]), adjustments=given),
        refers_to=_numbers(session, refers),
        object=str(facts["range"]["number"]),
        notes=_notes(facts),
        payment_terms=_terms(facts, invoice),
        exempt_why=say("Exempt from tax, certificate {certificate}.", certificate=certificate)
        if certificate
        else next((line.tax.name for line in lines if line.tax.category == "E" and line.tax.name), ""),
    )


def _seller(seat: Seat, session: Session, shop: _Facts, *, taxed: bool) -> Seller:
    """BR-S-02 and its like ask for a tax number, BR-CO-26 for any number the shop is known by."""
    now = settings.read(session, settings.ShopIdentity)
    side = _side(shop, seat.region)
    side["tax_number"] = side["tax_number"] or now.tax_number
    registration = str(shop.get("registration", "")) or now.registration
    if not side["tax_number"] and (taxed or not registration):
        raise Problem(
            "The electronic form of an invoice needs the shop's tax number. Write it down in Set-up first.",
            field="tax_number",
        )
    return Seller(**side, registration=registration)


def _side(party: _Facts, region: Region) -> dict[str, str]:
    """A name with its address by its parts; of an older paper, which kept lines only, as lines."""
    place: _Facts = party.get("place") or {}
    lines = [str(line) for line in party.get("address_lines", ())]
    if not place and lines:
        last = country_code(lines[-1], region.locale) if len(lines) > 1 else ""
        place = {"street": lines[0], "country": lines[-1] if last else ""}
        lines = lines[1:-1] if last else lines[1:]
    else:
        lines = []
    country = country_code(str(place.get("country", "")), region.locale)
    if not country:
        raise Problem(
            "The country {country} of {name} is not known. Write it out, or as its two letters.",
            country=str(place.get("country", "")), name=str(party["name"]), field="country",
        )  # fmt: skip
    parts = {name: str(place.get(name, "")) for name in ("street", "town", "region", "postcode")}
    kept = {name: str(party.get(name, "")) for name in ("name", "phone", "email", "tax_number")}
    return {**kept, **parts, "country": country, "more": ", ".join(lines)}


def _numbers(session: Session, keys: list[int | None]) -> tuple[str, ...]:
    wanted = [key for key in keys if key is not None]
    query = sa.select(Invoice.number).where(Invoice.id.in_(wanted)).order_by(Invoice.id)
    return tuple(number for number in session.scalars(query) if number)


def _notes(facts: _Facts) -> tuple[str, ...]:
    about = facts["range"]
    name = " ".join(str(about[word]) for word in ("maker", "model", "serial") if about.get(word))
    range_words = say("Range {number}, {name}", number=str(about["number"]), name=name)
    return tuple(text for text in (str(facts.get("credit_why", "")), range_words) if text)


def _terms(facts: _Facts, invoice: Invoice) -> str:
    """BR-CO-25: where something is due, by when or on which terms."""
    if invoice.kind == "credit":
        return say("What was paid on the corrected invoice is kept for you or paid back.")
    return " ".join(str(text) for text in facts.get("how_to_pay", ()))
