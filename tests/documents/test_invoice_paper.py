"""Invoices, credits, quotes and receipts: lines, sums, causes and the duties of written estimates.

The duties are those of one state, 16 CCR 2721-2725 (California), as an example.
"""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import paper_facts as make
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reading import in_order, pages, text

from shopdesk.documents import choices, intake_receipt, invoice, payment_receipt, purchase_order, quote
from shopdesk.documents.facts import AdjustmentFacts, LineFacts
from shopdesk.domain.totals import Amount, total


def test_lines_stand_by_kind_with_their_causes_and_multiply_out() -> None:
    told = text(invoice.render(make.an_invoice()))
    in_order(
        told,
        "Labor, 95.00 an hour",
        "356.25",
        "Rewire the lamp",
        "because: lamp cord frayed",
        "1 h 15 min",
        "118.75",
        "Parts",
        "31.30",
        "Two-conductor cord",
        "Outwork",
        "Delivery",
        "Without tax",
        "$907.55",
        "Sales tax 8.25% on $31.30",
        "$2.58",
        "With tax",
        "$910.13",
        "Deposit, card",
        "-$400.00",
        "Due",
        "$510.13",
    )


def test_four_hundred_lines_break_over_pages_with_repeated_heads_and_right_sums() -> None:
    of = tuple(
        replace(make.lines()[i % 7], what=f"Piece of work {i:03}", because=f"cause {i:03}")
        for i in range(400)
    )
    facts = make.an_invoice(lines=of, totals=make.totals_of(of), payments=())
    told = pages(invoice.render(facts))
    whole = " ".join(told)
    for i in range(400):
        assert whole.count(f"Piece of work {i:03}") == 1
        assert whole.count(f"cause {i:03}") == 1
    for page in told:
        if "Piece of work" in page:
            in_order(page, "What", "Quantity", "Price", "Amount (USD)", "Piece of work")
    assert facts.shop.region.money(facts.totals.due) in whole
    assert facts.shop.region.amount(sum(line.net_cents for line in of if line.kind == "labour")) in whole


def test_a_group_heading_never_stands_alone_at_the_foot_of_a_page() -> None:
    for count in range(9, 31):
        of = (*[replace(make.lines()[0], what=f"Work {i}") for i in range(count)], make.lines()[3])
        for page in pages(invoice.render(make.an_invoice(lines=of, terms=()))):
            if " Parts " in page:
                in_order(page, " Parts ", "Two-conductor cord")


@settings(max_examples=12, deadline=None)
@given(st.text(min_size=1, max_size=3000), st.integers(min_value=1, max_value=900))
def test_any_text_of_any_length_prints(words: str, times: int) -> None:
    line = replace(make.lines()[0], what=words, because="Unbroken" * times)
    pdf = invoice.render(make.an_invoice(lines=(line,), trouble=words, customer=make.a_customer(name=words)))
    assert f"Page 1 of {len(pages(pdf))}" in text(pdf)


def test_long_unbroken_words_wrap_within_their_column() -> None:
    line = replace(make.lines()[0], what="Wort" * 60)
    told = text(invoice.render(make.an_invoice(lines=(line,))))
    assert "Wort" * 60 in told.replace(" ", "")
    assert "Wort" * 60 not in told


def test_a_red_tagged_range_says_so_on_its_invoice() -> None:
    told = text(invoice.render(make.an_invoice(standing=make.red_tagged())))
    in_order(
        told,
        "This range leaves disconnected and red-tagged.",
        "must not be connected or lit",
        "Carbon monoxide, oven and broiler",
        "Safety pilot shut-off",
    )


def test_a_release_without_a_lesser_proof_prints_reason_and_name() -> None:
    told = text(invoice.render(make.an_invoice()))
    in_order(
        told,
        "Released without: Doors, springs, handles.",
        "Reason: The owner keeps the loose handle as it is.",
        "Signed for by Maren Holt",
    )


def test_a_credit_names_the_invoice_it_corrects() -> None:
    of = make.lines()[5:6]
    facts = make.an_invoice(
        lines=of,
        totals=make.totals_of(of),
        payments=(),
        credit_of="I-1040",
        credit_why="The plating was billed twice.",
    )
    told = text(invoice.render(facts))
    in_order(
        told,
        "Credit",
        "This credit corrects invoice I-1040. The plating was billed twice.",
        "Credited to you",
        "$340.00",
    )
    assert "How to pay" not in told


@pytest.mark.parametrize(
    "duty",
    [
        "Ember & Latch Range Works",
        "14 Foundry Lane",
        "555-0142",
        "Registration A-000123",
        "November 24, 2026",
        "Ruiz & Søn <b>",
        "Maker Halvorsen",
        "Model Meadow 40",
        "Serial number 48-20931",
        "(new part",
        "(used part",
        "1 h 40 min",
        "Delivery",
        "With tax $910.13",
        "Received by Ruiz & Søn <b>, date",
        "number called 555-0199, taken by June Okafor",
        "Bracket for the broiler screw, 50 min added",
    ],
)
def test_the_invoice_meets_the_duties_of_a_written_invoice(duty: str) -> None:
    assert duty in text(invoice.render(make.an_invoice()))


@pytest.mark.parametrize(
    "duty",
    [
        "Estimate, parts and labor, without tax $907.55",
        "We will not charge more than $1,100.00 before tax without asking you first",
        "Range received September 3, 2026",
        "The lamp went out with a snap",
        "Serial number 48-20931",
        "Holds until October 15, 2026",
        "$400.00 has been paid as a deposit",
        "I agree to the work above for $907.55",
    ],
)
def test_the_quote_meets_the_duties_of_a_written_estimate(duty: str) -> None:
    assert duty in text(quote.render(make.a_quote()))


@pytest.mark.parametrize(
    "duty",
    [
        "Ember & Latch Range Works 14 Foundry Lane",
        "Received on September 3, 2026",
        "Serial number 48-20931",
        "The lamp went out with a snap",
        "Ruiz & Søn <b> 7 Larkspur Way",
        "(owner or on the owner's behalf), date",
        "Griddle cover missing",
        "Estimate by September 17, 2026",
        "No work is charged above it",
    ],
)
def test_the_intake_receipt_meets_the_duties_of_a_receipt(duty: str) -> None:
    assert duty in text(intake_receipt.render(make.an_intake()))


def test_what_nobody_could_read_says_so() -> None:
    told = text(intake_receipt.render(make.an_intake(range=make.a_range(serial="", maker=""))))
    in_order(told, "Maker not known", "Serial number not known")


def test_without_a_ceiling_the_estimate_itself_is_not_passed_unasked() -> None:
    assert "more than $907.55 before tax" in text(quote.render(make.a_quote(ceiling_cents=0)))


def test_a_change_order_names_the_quote_it_adds_to() -> None:
    told = text(quote.render(make.a_quote(change_to="Q-311", number="K-12")))
    in_order(told, "Change order", "K-12", "This adds to quote Q-311.")


def test_several_tax_rates_discounts_and_rounding_stand_line_by_line() -> None:
    other = replace(make.TAX, percent=make.TAX.percent + 1, name="County tax")
    totals = total(
        [Amount(10000, make.TAX), Amount(20000, other)], [Amount(-1000, make.TAX)], paid=5000, rounding=3
    )
    told = text(invoice.render(make.an_invoice(totals=totals, payments=())))
    in_order(
        told,
        "Lines $300.00",
        "Discounts and surcharges -$10.00",
        "Without tax $290.00",
        "Sales tax 8.25% on $90.00 $7.43",
        "County tax 9.25% on $200.00 $18.50",
        "With tax $315.93",
        "Paid -$50.00",
        "Rounding $0.03",
        "Due $265.96",
    )


def test_receipts_for_payment_deposit_and_refund_say_what_they_are() -> None:
    paid = text(payment_receipt.render(make.a_payment()))
    in_order(
        paid,
        "Payment receipt",
        "We have received $600.00",
        "I-1042",
        "516.82",
        "0.00",
        "Kept for you",
        "$83.18",
    )
    assert "as a deposit" in text(
        payment_receipt.render(make.a_payment(kind="deposit", settled=(), held_cents=0))
    )
    back = text(
        payment_receipt.render(make.a_payment(kind="refund", amount_cents=-5000, settled=(), held_cents=0))
    )
    in_order(back, "Refund receipt", "We have paid $50.00 back", "Paid back $50.00")


def test_an_order_lists_pieces_with_the_suppliers_numbers_and_who_waits() -> None:
    told = text(purchase_order.render(make.an_order()))
    in_order(
        told,
        "To Copperfield Parts & Castings",
        "Wanted by December 8, 2026",
        "1 VS-38 Valve spring",
        "for range R-17 6 4.80 28.80",
        "core goes back to you, for range R-12",
        "Total as agreed $292.20",
    )


def test_an_order_without_prices_shows_none_and_another_currency_is_named() -> None:
    bare = replace(make.an_order().lines[0], unit_cents=None)
    told = text(purchase_order.render(make.an_order(lines=(bare,), total_cents=None)))
    assert "Total" not in told
    assert "€292.20" in text(purchase_order.render(make.an_order(currency="EUR")))


def test_amounts_are_written_in_the_shops_region() -> None:
    shop = make.a_shop(region=make.Region("de_DE", "EUR", "metric", "a4", "Europe/Berlin"))
    of = (LineFacts(kind="charge", what="Anfahrt", quantity=1, unit_cents=123450, net_cents=123450),)
    told = text(invoice.render(make.an_invoice(shop=shop, lines=of, totals=make.totals_of(of), payments=())))
    in_order(told, "24. November 2026", "Amount (EUR)", "1.234,50", "1.234,50 €")
    assert date(2026, 11, 24) == make.DAY


def test_a_discount_prints_so_that_every_line_multiplies_out_and_the_sums_name_it() -> None:
    line = LineFacts(kind="labour", what="Rewire the lamp", quantity=50, unit_cents=9000, net_cents=7000,
                     adjust_cents=-500, adjust_why="our own fault")  # fmt: skip
    totals = total([Amount(7000)], [Amount(-700)])
    given = (AdjustmentFacts(why="Regular customer", cents=-700, percent=Decimal(10)),)
    told = text(invoice.render(make.an_invoice(lines=(line,), totals=totals, payments=(), adjustments=given)))
    in_order(told, "50 min", "90.00 an hour", "70.00")
    in_order(told, "75.00 less 5.00: our own fault")
    in_order(told, "Lines", "$70.00", "Regular customer, 10", "-$7.00", "Without tax", "$63.00")


def test_choices_stand_side_by_side_without_a_number() -> None:
    told = text(choices.render(make.choices()))
    in_order(told, "Your choices", "Mechanical-only", "Everyday finish", "Show finish", "Labor", "400.00")
    assert "two steps" in told
    assert "Prices hold until" in told
