"""Builders of facts for letters, statements, bills of sale and choices."""

from dataclasses import replace
from datetime import date
from typing import Any

from counter_facts import lines, totals_of
from parties_facts import DAY, a_customer, a_range, a_shop
from proving_facts import a_standing

from shopdesk.documents.facts import (
    AccountLine,
    BillOfSaleFacts,
    ChoiceFacts,
    ChoicesFacts,
    FinishFacts,
    LetterFacts,
    OpenBill,
    StatementFacts,
    StatementRow,
)

OPEN = (
    OpenBill(number="I-1042", day=date(2026, 10, 1), due_on=date(2026, 10, 15), gross_cents=91682,
             open_cents=51682),
    OpenBill(number="I-1051", day=date(2026, 11, 2), due_on=date(2026, 11, 16), gross_cents=12000,
             open_cents=12000),
)  # fmt: skip


def a_letter(**changes: Any) -> LetterFacts:
    base = LetterFacts(
        shop=a_shop(),
        number="L-12",
        day=DAY,
        customer=a_customer(),
        subject="Your range is ready",
        paragraphs=("Your range R-0018 is ready.", "It stands here free until December 25, 2026."),
        range=a_range(),
        bills=OPEN,
        reckoning=(
            AccountLine(label="Held for you", cents=-40000),
            AccountLine(label="Left to pay", cents=23682),
        ),
        listed=("B-4 lamp bracket, taken off",),
        terms=("Parts taken off stay yours.",),
    )
    return replace(base, **changes)


def a_statement(**changes: Any) -> StatementFacts:
    rows = tuple(
        StatementRow(
            day=date(2026, 10, day), what=f"Invoice I-{1000 + day}", cents=1000, balance_cents=1000 * day
        )
        for day in range(1, 31)
    )
    base = StatementFacts(
        shop=a_shop(),
        number="A-3",
        day=DAY,
        customer=a_customer(),
        from_day=date(2026, 10, 1),
        to_day=date(2026, 11, 25),
        before_cents=0,
        rows=(*rows, StatementRow(day=DAY, what="Payment P-9, card", cents=-10000, balance_cents=20000)),
        closing_cents=20000,
        bills=OPEN,
        ages=(("Past due up to 30 days", 51682),),
        held_cents=500,
        how_to_pay=("By transfer, naming the invoice number.",),
    )
    return replace(base, **changes)


def a_bill_of_sale(**changes: Any) -> BillOfSaleFacts:
    base = BillOfSaleFacts(
        shop=a_shop(),
        number="D-5",
        day=DAY,
        buyer=a_customer(),
        range=a_range(),
        price_cents=420000,
        invoice="I-1060",
        standing=a_standing(),
        warranty_until=date(2027, 2, 23),
        terms=("Finishes are not part of the warranty.",),
    )
    return replace(base, **changes)


def choices(**changes: Any) -> ChoicesFacts:
    of = lines()
    each = [
        ChoiceFacts(
            scope=scope,
            means="Gas, heat and wiring are put in order.",
            kinds=(("labour", 40000 * n), ("part", 9000), ("outwork", 120000 * (n - 1))),
            totals=totals_of(of),
            deposit_cents=40000,
            ceiling_cents=110000,
            contingency_cents=9000 * n,
            finishes=(FinishFacts(surface="plated trim", grade="polished"),),
        )
        for n, scope in enumerate(("Mechanical-only", "Everyday finish", "Show finish"), start=1)
    ]
    base = ChoicesFacts(
        shop=a_shop(),
        day=DAY,
        customer=a_customer(),
        range=a_range(),
        choices=tuple(each),
        teardown_cents=21000,
        valid_until=date(2026, 12, 25),
        terms=("Parts taken off stay yours.",),
    )
    return replace(base, **changes)
