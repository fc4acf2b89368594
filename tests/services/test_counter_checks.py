"""The counter against the outside and against what nobody should type.

EN 16931: the totals of the committee's example invoices (by their category bases), now with discounts and
surcharges on lines and papers. Duties of estimate and invoice: 16 CCR 2721-2725 (California) as an
example of one state's law, read in source.
"""

import datetime as dt
import io
import re
import threading
from decimal import ROUND_HALF_UP, Decimal

import pypdf
import pytest
from builders import FOUR, a_customer, a_range, agreed, billed, covered, done, quoted, reopened
from fixed_clock import FixedClock
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.domain.adjust import Adjustment, Change, bases_of, on_paper
from shopdesk.domain.money import Spread
from shopdesk.domain.problem import Problem, Unavailable
from shopdesk.domain.rights import Action
from shopdesk.domain.totals import Amount, Tax, total
from shopdesk.services import (
    agreements,
    bench,
    change_orders,
    handovers,
    invoices,
    payments,
    people,
    quotes,
    taxes,
)
from shopdesk.services.invoice_drafts import keep_draft
from shopdesk.services.jacket import jacket
from shopdesk.services.lines import Line, totals_of
from shopdesk.services.papers.keeping import paper_bytes, papers
from shopdesk.services.seat import open_shop
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job

_SIX, _TEN = Tax("S", Decimal(6)), Tax("S", Decimal(10))
_TWENTY_ONE, _TWENTY_FIVE = Tax("S", Decimal(21)), Tax("S", Decimal(25))


def told(pdf: bytes) -> str:
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in pages))


class TestTheStandardsExamples:
    def test_example_three_has_its_charge_of_100_on_the_paper(self):
        """EN 16931 example 3: lines 1600.00, charges 100.00, 1700.00 without tax, tax 305.00, 2005.00."""
        lines = [Amount(80_000, _TWENTY_FIVE), Amount(80_000, _TEN)]
        freight = Adjustment(why="Freight", amount_cents=10_000, tax=_TWENTY_FIVE)
        sums = total(lines, [freight.as_amount()])
        assert (sums.lines, sums.adjustments, sums.without_tax) == (160_000, 10_000, 170_000)
        assert ([g.tax for g in sums.groups], sums.tax, sums.with_tax) == ([8_000, 22_500], 30_500, 200_500)

    def test_a_discount_over_several_taxes_keeps_every_rule(self):
        """EN 16931 BR-CO-13 and BR-CO-17 on example 1's bases, 10 % off: each base bears its own part."""
        bases = {_SIX: 18_323, _TWENTY_ONE: 4_637}
        given_ = on_paper(Change(why="x", percent=Decimal(-10)), bases)
        assert [(a.tax, a.amount_cents) for a in given_] == [(_SIX, -1_832), (_TWENTY_ONE, -464)]
        sums = total([Amount(net, tax) for tax, net in bases.items()], [a.as_amount() for a in given_])
        assert (sums.without_tax, [g.tax for g in sums.groups]) == (20_664, [989, 876])


@given(
    st.lists(
        st.tuples(st.integers(1, 10**7), st.sampled_from([_SIX, _TEN, _TWENTY_ONE])), min_size=1, max_size=8
    ),
    st.integers(1, 10**6),
    st.randoms(use_true_random=False),
)  # fmt: skip
def test_the_parts_of_a_paper_sum_to_its_total_whatever_the_order(lines, less, order):
    amounts = [Amount(net, tax) for net, tax in lines]
    whole = sum(a.net for a in amounts)
    parts = on_paper(Change(why="x", cents=-min(less, whole)), bases_of(amounts))
    assert sum(p.amount_cents for p in parts) == -min(less, whole)
    sums = total(amounts, [p.as_amount() for p in parts])
    order.shuffle(amounts)
    assert total(amounts, [p.as_amount() for p in reversed(parts)]) == sums
    assert sums.with_tax == sum(g.base + g.tax for g in sums.groups)
    for group in sums.groups:
        exact = Decimal(group.base) * group.tax_kind.percent / 100
        assert group.tax == int(exact.quantize(Decimal(1), ROUND_HALF_UP))


@given(st.integers(0, 10**7), st.decimals(-100, 100, places=2).filter(bool))
def test_a_percentage_of_a_line_is_rounded_like_decimal_does(net, percent):
    exact = (Decimal(net) * percent / 100).quantize(Decimal(1), ROUND_HALF_UP)
    assert Change(why="x", percent=percent).on(net) == int(exact)


def four_hundred(shop, job_id):
    """A draft of 400 lines with names of every length, priced in odd cents."""
    tax = Tax("S", Decimal("6.5"), "Sales tax")
    lines = [
        Line(kind="part", what=f"Screw {n} " + "of the back panel, " * (n % 9), quantity=1 + n % 7,
             unit_cents=101 + n, because="wanted", tax=tax)
        for n in range(400)
    ]  # fmt: skip
    with shop.desk.change(Action.INVOICE) as work:
        job = work.get(Job, job_id, "job")
        return lines, keep_draft(shop.desk, work, job, job.customer, lines)


def test_400_lines_make_a_right_paper(shop):
    taken = agreed(shop)
    lines, key = four_hundred(shop, taken.job_id)
    number = invoices.issue_invoice(shop.desk, key)
    text = told(paper_bytes(shop.desk, number))
    sums = totals_of(lines)
    assert shop.desk.region.money(sums.with_tax) in text
    assert all(f"Screw {n} " in text for n in (0, 199, 399))
    assert len(pypdf.PdfReader(io.BytesIO(paper_bytes(shop.desk, number))).pages) > 10


def test_a_customer_without_an_address_is_asked_for_one_and_the_number_is_not_used_up(shop):
    taken = agreed(shop)
    key = jacket(shop.desk, taken.range_id).customer_id
    kept = people.party_draft(shop.desk, key)
    fields = {n: getattr(kept, n) for n in people.PartyDraft.__dataclass_fields__}
    people.keep_party(shop.desk, people.PartyDraft(**{**fields, "street": "", "town": ""}), key)
    covered(shop, taken.job_id)
    done(shop, taken.job_id)
    draft = invoices.draft_invoice(shop.desk, taken.job_id)
    with pytest.raises(Problem, match="has no address"):
        invoices.issue_invoice(shop.desk, draft)
    people.keep_party(shop.desk, people.PartyDraft(**fields), key)
    assert invoices.issue_invoice(shop.desk, draft) == "I-0001"


@pytest.mark.parametrize("typed", ["1.2.3", "-0.01", "1,2,3", "12,34.5", "ten", ""])
def test_amounts_nobody_means_are_a_sentence(shop, typed):
    with pytest.raises(Problem, match=r"not an amount|below zero"):
        shop.desk.region.parse_money(typed)
    assert shop.desk.region.parse_money("1,234.50") == 123_450


def test_days_of_1899_are_refused_wherever_they_are_written(shop):
    long_ago = dt.date(1899, 12, 31)
    taken = agreed(shop)
    with pytest.raises(Problem, match="cannot be right"):
        payments.take_payment(shop.desk, taken.job_id, 100, "cash", on=long_ago)
    with pytest.raises(Problem, match="not come yet"):
        payments.take_payment(shop.desk, taken.job_id, 100, "cash", on=dt.date(2190, 1, 1))
    with pytest.raises(Problem, match="cannot be right"):
        taxes.keep_taxes(shop.owner, [taxes.TaxRow("part", long_ago, "x", "S", Decimal(1))])
    with pytest.raises(Problem, match="cannot be right"):
        a_customer(shop.desk, "x", exempt_certificate="1", exempt_until=long_ago)


class TestDutiesOfOneState:
    """16 CCR 2721 (receipt), 2722 (estimate and consent by word of mouth), 2723 (invoice)."""

    def test_of_the_receipt_for_a_range_taken_in(self, shop):
        taken = a_range(shop.owner)
        text = told(paper_bytes(shop.desk, handovers.print_intake_receipt(shop.desk, taken.job_id)))
        for duty in (
            "Emberlow Range Works", "4 Kiln Row",  # the dealer and the address
            "Received on", "Corvane", "No. 40", "CV 118-204",  # the day, make, model, serial
            "Your account of the trouble", "Ruiz", "12 Larder Lane",
            "owner or on the owner's behalf",  # a place to sign
        ):  # fmt: skip
            assert duty in text.replace("’", "'"), duty

    def test_of_the_written_estimate(self, shop):
        _, key = quoted(shop, *FOUR)
        view = quotes.quote_view(shop.desk, key)
        text = told(paper_bytes(shop.desk, view.row.number))
        assert "Estimate, parts and labor, without tax" in text  # tax is no part of the estimate
        assert shop.desk.region.money(view.row.net_cents) in text
        assert "without asking you first" in text  # nothing above it without consent
        for line in view.lines:
            assert line.what.split("(")[0].strip() in text

    def test_of_consent_by_word_of_mouth_and_of_the_invoice(self, shop):
        taken = agreed(shop, *FOUR)
        bench.find_more(shop.technician, taken.job_id, "A second crack", Spread(30, 60, 90))
        change = change_orders.change_orders(shop.desk, job_id=taken.job_id)[0]
        priced = quotes.quote_change(shop.desk, change.id)
        agreements.agree(shop.desk, priced, who="Anna Ruiz", how="telephone", number_called="555 0199")
        key = billed(shop, taken.job_id)
        view = invoices.invoice_view(shop.desk, key)
        text = told(paper_bytes(shop.desk, view.row.number))
        consent = agreements.agreements(shop.desk, taken.job_id)[1]
        for duty in (
            "Anna Ruiz", "by telephone", "555 0199", "Ysolde Marchbank",  # who, number called, who took it
            shop.desk.region.instant(consent.at),  # day and hour
            "A second crack",  # what was added
            shop.desk.region.amount(consent.amount_cents),  # for how much
            "Emberlow Range Works", "4 Kiln Row", "Corvane", "No. 40", "CV 118-204",
            "Labor", "Parts", "new part", "Without tax", "Due", "Received by",
        ):  # fmt: skip
            assert re.sub(r"\s+", " ", duty) in text, duty
        assert all(line.what.split("(")[0].strip() in text for line in view.lines)


def test_two_desks_at_once_number_their_invoices_without_gap_or_double(set_up_database):
    """PostgreSQL: each desk is a program of its own with its own connections."""
    each = 5
    first = reopened(set_up_database, FixedClock())
    drafts = [_small_draft(first) for _ in range(2 * each)]
    second = reopened(set_up_database, FixedClock())
    failed: list[BaseException] = []

    def issue(desk, keys):
        try:
            for key in keys:
                invoices.issue_invoice(desk, key)
        except BaseException as error:  # told to the test
            failed.append(error)

    desks = [(first.desk, drafts[:each]), (second.desk, drafts[each:])]
    threads = [threading.Thread(target=issue, args=work) for work in desks]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failed == []
    numbers = sorted(row.number for row in papers(first.desk, kind="invoice"))
    assert numbers == [f"I-{n:04d}" for n in range(1, 2 * each + 1)]
    first.owner.file.close()
    second.owner.file.close()


def _small_draft(shop):
    taken = a_range(shop.owner)
    line = Line(kind="charge", what="Visit", quantity=1, unit_cents=9_900, because="asked for",
                tax=Tax("S", Decimal("6.5"), "Sales tax"))  # fmt: skip
    with shop.desk.change(Action.INVOICE) as work:
        job = work.get(Job, taken.job_id, "job")
        assert isinstance(job.customer, Party)
        return keep_draft(shop.desk, work, job, job.customer, [line])


def test_a_second_program_on_a_shop_file_is_told_and_may_look_but_not_write(set_up_file):
    first = reopened(set_up_file, FixedClock())
    with pytest.raises(Unavailable) as refused:
        open_shop(set_up_file, FixedClock())
    assert "open" in str(refused.value)
    looking = open_shop(set_up_file, FixedClock(), looking=True)
    assert people.parties(looking) == []
    with pytest.raises(Problem):
        a_customer(looking, "Somebody")
    looking.file.close()
    first.owner.file.close()
