"""Electronic bills against the OASIS UBL 2.1 schemas and the published business rules of EN 16931."""

import datetime as dt
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree
from published_rules import rule_faults, schema_faults

from shopdesk.domain.money import for_minutes
from shopdesk.domain.totals import Amount, Tax, total
from shopdesk.exchange.ubl import Bill, BillLine, Charge, Seller, Side, bill_xml

SELLER = Seller(
    name="Emberlow Range Works", country="US", street="4 Kiln Row", town="Quarrel Bend", region="OR",
    postcode="00000", phone="555 0100", email="desk@emberlow.example", tax_number="00-000", registration="7",
)  # fmt: skip
BUYER = Side(name="Ruiz & Søn <b>", country="US", street="12 Larder Lane", town="Quarrel Bend")
STANDARD, ZERO, EXEMPT, OUTSIDE = (
    Tax("S", Decimal("6.5"), "Sales tax"), Tax("Z", Decimal(0), "Not taxed"), Tax("E", Decimal(0), ""),
    Tax("O", Decimal(0), ""),
)  # fmt: skip
CAC = "{urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2}"
CBC = "{urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2}"


def labour(minutes: int, rate: int, tax: Tax = ZERO, adjust: int = 0) -> BillLine:
    return BillLine(labour=True, name="Free the valves", description="because: seized", quantity=minutes,
                    unit_cents=rate, net_cents=for_minutes(minutes, rate) + adjust, tax=tax,
                    adjust_cents=adjust, adjust_why="our own fault" if adjust else "")  # fmt: skip


def part(count: int, each: int, tax: Tax = STANDARD) -> BillLine:
    return BillLine(
        labour=False, name="Spud", quantity=count, unit_cents=each, net_cents=count * each, tax=tax
    )


def a_bill(*lines: BillLine, charges: tuple[Charge, ...] = (), paid: int = 0, **more: object) -> Bill:
    totals = total([Amount(line.net_cents, line.tax) for line in lines],
                   [Amount(charge.cents, charge.tax) for charge in charges], paid=paid)  # fmt: skip
    made = Bill(
        number="I-0001", day=dt.date(2026, 3, 1), due_on=dt.date(2026, 3, 15), currency="USD", seller=SELLER,
        buyer=BUYER, lines=lines, charges=charges, totals=totals, object="R-0001", notes=("Range R-0001",),
        payment_terms="Pay at the counter.",
    )  # fmt: skip
    return replace(made, **more)  # type: ignore[arg-type]


BILLS = {
    "labour and parts at two rates": a_bill(labour(95, 8500), part(4, 1250)),
    "discounts on a line and on the bill, a surcharge": a_bill(
        labour(95, 8500, adjust=-500), part(4, 1250),
        charges=(Charge(why="Regular customer", cents=-777, tax=STANDARD),
                 Charge(why="", cents=300, tax=ZERO)),
    ),
    "a deposit paid before": a_bill(labour(60, 8500), part(1, 1250), paid=5000),
    "settled whole": a_bill(part(1, 1000), paid=1065),
    "exempt with a certificate": a_bill(labour(30, 8500, EXEMPT), part(1, 999, EXEMPT),
                                        exempt_why="Exempt from tax, certificate 12."),
    "nothing within the scope of tax": a_bill(labour(30, 8500, OUTSIDE)),
    "outside the scope beside taxed": a_bill(labour(31, 8500, OUTSIDE), part(3, 333)),
    "a share billed before, taken off": a_bill(
        labour(600, 8500), charges=(Charge(why="Billed before, I-0001", cents=-30000, tax=ZERO),),
        number="I-0002", refers_to=("I-0001",),
    ),
    "more taken off than is billed": a_bill(
        labour(60, 8500), charges=(Charge(why="Billed before", cents=-20000, tax=ZERO),)),
    "a credit": a_bill(labour(95, 8500), part(4, 1250), number="C-0001", credit=True, refers_to=("I-0001",)),
    "a credit with a discount": a_bill(
        labour(95, 8500), charges=(Charge(why="As billed", cents=-100, tax=ZERO),), credit=True),
    "a line below zero": a_bill(labour(60, 8500), part(1, -2000, ZERO)),
    "numbers for VAT": a_bill(part(2, 5000), seller=replace(SELLER, country="DE", tax_number="DE 999999999"),
                              buyer=replace(BUYER, country="AT", tax_number="ATU99999999")),
    "yen": a_bill(labour(95, 8500), part(1, 100), currency="JPY"),
}  # fmt: skip


@pytest.mark.parametrize("name", BILLS)
def test_a_bill_meets_the_schema_and_every_published_rule(name: str) -> None:
    xml = bill_xml(BILLS[name])
    assert schema_faults(xml) == []
    assert rule_faults(xml) == {}
    assert xml == bill_xml(BILLS[name])


def test_the_rules_do_find_what_is_wrong() -> None:
    good = bill_xml(BILLS["labour and parts at two rates"])
    assert "BR-CO-15" in rule_faults(good.replace(b'"USD">187.83', b'"USD">187.84', 1))
    assert "BR-CO-10" in rule_faults(good.replace(b"184.58</cbc:LineExt", b"184.57</cbc:LineExt", 1))
    assert schema_faults(good.replace(b"cbc:IssueDate", b"cbc:IssuedOn"))
    assert "BR-S-02" in rule_faults(bill_xml(a_bill(part(1, 100), seller=replace(SELLER, tax_number=""))))
    with_reason = a_bill(part(1, 100, Tax("S", Decimal(0))))
    assert "BR-S-05" in rule_faults(bill_xml(with_reason))


def test_labour_stands_in_minutes_at_the_price_of_an_hour() -> None:
    root = etree.fromstring(bill_xml(BILLS["labour and parts at two rates"]))
    line = root.find(f"{CAC}InvoiceLine")
    quantity, base = line.find(f"{CBC}InvoicedQuantity"), line.find(f"{CAC}Price/{CBC}BaseQuantity")
    assert (quantity.text, quantity.get("unitCode")) == ("95", "MIN")
    assert (base.text, base.get("unitCode")) == ("60", "MIN")
    price = Decimal(line.findtext(f"{CAC}Price/{CBC}PriceAmount"))
    assert (Decimal(95) * price / 60).quantize(Decimal("0.01")) == Decimal(
        line.findtext(f"{CBC}LineExtensionAmount")
    )


def test_a_deposit_is_money_paid_before() -> None:
    sums = etree.fromstring(bill_xml(BILLS["a deposit paid before"])).find(f"{CAC}LegalMonetaryTotal")
    assert sums.findtext(f"{CBC}PrepaidAmount") == "50.00"
    assert Decimal(sums.findtext(f"{CBC}PayableAmount")) == Decimal("98.31") - 50


_TAXES = st.sampled_from(
    [STANDARD, ZERO, EXEMPT, OUTSIDE, Tax("S", Decimal("19")), Tax("S", Decimal("19"), "b")]
)
_LINES = st.lists(
    st.one_of(
        st.builds(labour, st.integers(1, 5000), st.integers(0, 30000), _TAXES, st.integers(-500, 500)),
        st.builds(part, st.integers(1, 50), st.integers(-9999, 99999), _TAXES),
    ),
    min_size=1, max_size=6,
)  # fmt: skip
_CHARGES = st.lists(
    st.builds(Charge, why=st.text(max_size=9), cents=st.integers(-9999, 9999), tax=_TAXES), max_size=2
)


@settings(max_examples=25, deadline=None)
@given(_LINES, _CHARGES, st.integers(0, 20000), st.booleans(), st.text(max_size=20))
def test_whatever_is_billed_meets_the_rules(
    lines: list[BillLine], charges: list[Charge], paid: int, credit: bool, name: str
) -> None:
    named = [replace(lines[0], name=name), *lines[1:]]
    xml = bill_xml(a_bill(*named, charges=tuple(charges), paid=paid, credit=credit))
    assert schema_faults(xml) == []
    assert rule_faults(xml) == {}
