"""Issued invoices and credits as XML: the same sums as their papers, and by the published rules."""

from dataclasses import replace
from decimal import Decimal

import pytest
import sqlalchemy as sa
from builders import FOUR, IDENTITY, Shop, agreed, billed
from lxml import etree
from published_rules import rule_faults, schema_faults

from shopdesk.domain.problem import NotFound, Problem
from shopdesk.services import invoices, payments, shops
from shopdesk.services.papers.electronic import invoice_xml
from shopdesk.storage.tables.counter import Paper

CBC = "{urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2}"


def told(xml: bytes, name: str) -> int:
    """The first amount of that name, minor units."""
    return int(Decimal(str(etree.fromstring(xml).findtext(f".//{CBC}{name}"))).scaleb(2))


def test_an_invoice_with_a_deposit_and_its_credit_say_what_their_papers_say(shop: Shop) -> None:
    shops.keep_setting(shop.owner, replace(IDENTITY, country="USA", tax_number="00-000"))
    taken = agreed(shop, *FOUR)
    payments.take_payment(shop.desk, taken.job_id, 25_000, "card", deposit=True)
    key = billed(shop, taken.job_id)
    invoices.credit_invoice(shop.desk, key, "Billed twice")
    with shop.owner.look() as session:
        facts = {
            number: facts["totals"] for number, facts in session.execute(sa.select(Paper.number, Paper.facts))
            if number in ("I-0001", "C-0001")
        }  # fmt: skip
    for number, totals in facts.items():
        xml = invoice_xml(shop.desk, number)
        assert schema_faults(xml) == []
        assert rule_faults(xml) == {}
        assert told(xml, "TaxExclusiveAmount") == totals["without_tax"]
        assert told(xml, "TaxInclusiveAmount") == totals["with_tax"]
        assert told(xml, "PayableAmount") == totals["due"]
        assert invoice_xml(shop.desk, number) == xml
    assert told(invoice_xml(shop.desk, "I-0001"), "PrepaidAmount") == 25_000
    assert b"<cbc:ID>I-0001</cbc:ID>" in invoice_xml(shop.desk, "C-0001")


def test_what_the_standard_asks_for_is_asked_in_a_sentence(shop: Shop) -> None:
    with pytest.raises(NotFound, match="no issued invoice or credit I-0009"):
        invoice_xml(shop.desk, "I-0009")
    taken = agreed(shop, *FOUR[:1])
    billed(shop, taken.job_id)
    with pytest.raises(Problem, match="tax number") as told_why:
        invoice_xml(shop.desk, "I-0001")
    assert told_why.value.field == "tax_number"
    shops.keep_setting(shop.owner, replace(IDENTITY, tax_number="00-000"))
    assert rule_faults(invoice_xml(shop.desk, "I-0001")) == {}
