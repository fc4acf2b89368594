"""Facts of the papers of the counter and the stores."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from parties_facts import DAY, a_customer, a_range, a_shop
from proving_facts import a_standing

from shopdesk.documents.facts import (
    Consent,
    InvoiceFacts,
    LineFacts,
    OrderLineFacts,
    Paid,
    PartyFacts,
    PaymentReceiptFacts,
    PurchaseOrderFacts,
    QuoteFacts,
    Settled,
)
from shopdesk.domain.money import for_minutes
from shopdesk.domain.totals import Amount, Tax, Totals, total

TAX = Tax("S", Decimal("8.25"), "Sales tax")
FREE = Tax("O", Decimal(0))


def lines() -> tuple[LineFacts, ...]:
    def work(what: str, minutes: int, because: str) -> LineFacts:
        net = for_minutes(minutes, 9500)
        return LineFacts(
            kind="labour", what=what, quantity=minutes, unit_cents=9500, net_cents=net, because=because
        )

    return (
        work("Rewire the lamp", 75, "lamp cord frayed"),
        work("Free and grease the left front burner valve, lap the plug", 100, "burner valve seized"),
        work("Bracket the broiler screw", 50, "broiler screw rusted through its hole"),
        LineFacts(
            kind="part",
            what="Two-conductor cord with plug, 6 ft",
            quantity=1,
            unit_cents=1850,
            net_cents=1850,
            because="lamp cord frayed",
            condition="new",
            tax_name="taxed",
        ),
        LineFacts(
            kind="part",
            what="Valve spring",
            quantity=2,
            unit_cents=640,
            net_cents=1280,
            because="burner valve seized",
            condition="used",
            tax_name="taxed",
        ),
        LineFacts(
            kind="outwork",
            what="Nickel plating, 4 handles",
            quantity=4,
            unit_cents=8500,
            net_cents=34000,
            because="brightwork worn through to the base",
        ),
        LineFacts(
            kind="delivery",
            what="Delivery to your door, two people",
            quantity=1,
            unit_cents=18000,
            net_cents=18000,
        ),
    )


def totals_of(of: tuple[LineFacts, ...], paid: int = 0) -> Totals:
    return total([Amount(line.net_cents, TAX if line.kind == "part" else FREE) for line in of], paid=paid)


def an_invoice(**changes: Any) -> InvoiceFacts:
    of = changes.pop("lines", lines())
    base = InvoiceFacts(
        shop=a_shop(),
        number="I-1042",
        day=DAY,
        customer=a_customer(),
        range=a_range(),
        lines=of,
        totals=totals_of(of, 40000),
        due_on=date(2026, 12, 24),
        received_on=date(2026, 9, 3),
        trouble="The lamp went out with a snap. One burner will not turn.",
        payments=(Paid(label="Deposit, card", day=date(2026, 9, 20), cents=40000),),
        consents=(
            Consent(amount_cents=80000, at="Sep 20, 2026", who="A. Ruiz", how="signed paper"),
            Consent(
                amount_cents=91463,
                at="Oct 12, 2026, 3:10 PM",
                who="A. Ruiz",
                how="by telephone",
                number_called="555-0199",
                taken_by="June Okafor",
                what="Bracket for the broiler screw, 50 min added",
            ),
        ),
        standing=a_standing(),
        how_to_pay=(
            "By check to the shop, by card at the counter, or by transfer naming the invoice number.",
        ),
        terms=("Parts taken off are kept 30 days for you to collect.",),
    )
    return replace(base, **changes)


def a_quote(**changes: Any) -> QuoteFacts:
    of = changes.pop("lines", lines())
    base = QuoteFacts(
        shop=a_shop(),
        number="Q-311",
        day=date(2026, 9, 15),
        customer=a_customer(),
        range=a_range(),
        scope="mechanical only",
        scope_means="Gas, heat and wiring are put in order; enamel and plating stay as they are.",
        lines=of,
        totals=totals_of(of),
        valid_until=date(2026, 10, 15),
        received_on=date(2026, 9, 3),
        trouble="The lamp went out with a snap. One burner will not turn.",
        deposit_cents=40000,
        ceiling_cents=110000,
        promise="Between Nov 16 and Dec 4, as things stand today. We tell you when that changes, and why.",
        not_included=("New porcelain.", "The gas connection in your kitchen."),
        terms=("Parts taken off stay yours.",),
    )
    return replace(base, **changes)


def a_payment(**changes: Any) -> PaymentReceiptFacts:
    base = PaymentReceiptFacts(
        shop=a_shop(),
        number="M-77",
        day=DAY,
        customer=a_customer(),
        amount_cents=60000,
        method="transfer",
        range=a_range(),
        reference="TX 4471",
        taken_by="June Okafor",
        settled=(Settled(invoice="I-1042", cents=51682, open_cents=0),),
        held_cents=8318,
    )
    return replace(base, **changes)


def an_order(**changes: Any) -> PurchaseOrderFacts:
    of = (
        OrderLineFacts(
            what="Valve spring, brass, 3/8 in", quantity=6, unit_cents=480, theirs="VS-38", for_range="R-17"
        ),
        OrderLineFacts(
            what="Oven safety valve, standing pilot, rebuilt",
            quantity=1,
            unit_cents=21900,
            theirs="OSV-2R",
            for_range="R-12",
            note="core goes back to you",
        ),
        OrderLineFacts(what="Two-conductor cord, cloth covered, by the foot", quantity=24, unit_cents=185),
    )
    base = PurchaseOrderFacts(
        shop=a_shop(),
        number="P-58",
        day=DAY,
        lines=of,
        total_cents=sum(line.quantity * (line.unit_cents or 0) for line in of),
        supplier=PartyFacts(
            name="Copperfield Parts & Castings", address_lines=("PO Box 9", "Eastmere, OH 40000")
        ),
        our_account="EL-220",
        wanted_by=date(2026, 12, 8),
        deliver_to=("Ember & Latch Range Works", "14 Foundry Lane, rear door"),
        ship_by="parcel post",
        ordered_by="June Okafor",
        notes=("Please tell us before you send anything in place of these.",),
    )
    return replace(base, **changes)
