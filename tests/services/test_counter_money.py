"""Discounts, shares billed before, deposits, write-offs and credits: to the cent, whatever the order."""

import contextlib
import hashlib
from decimal import Decimal

import pytest
import sqlalchemy as sa
from builders import (
    FOUR,
    a_customer,
    a_range,
    agreed,
    billed,
    covered,
    done,
    in_days,
    owned,
    quoted,
    reopened,
    stage_of,
    walked,
)
from hypothesis import Phase, example, given, settings
from hypothesis import strategies as st

from shopdesk.domain.adjust import Change
from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.problem import NotAllowed, Problem
from shopdesk.domain.stage import Stage
from shopdesk.services import (
    agreements,
    checking,
    handovers,
    intake,
    invoice_drafts,
    invoices,
    jacket,
    payments,
    people,
    progress,
    quotes,
    sales,
    shops,
    taxes,
    work_orders,
    write_offs,
)
from shopdesk.services.settings import Margin
from shopdesk.storage.tables.counter import Invoice, Paper, Payment, PaymentShare

TENTH = Change(why="Regular customer", percent=Decimal(-10))
MOVING = Change(why="You fetch it yourself", cents=-10_001)


def whole_of(shop, job_id):
    """Billed less credited, and settled, over all issued papers of a job."""
    rows = [r for r in invoices.invoices(shop.desk, job_id=job_id) if r.number]
    return sum(r.net_cents if r.kind == "invoice" else -r.net_cents for r in rows)


class TestDiscounts:
    def test_on_a_line_and_on_the_paper_are_in_the_agreed_sum_and_on_the_invoice(self, shop):
        taken = a_range(shop.owner)
        walked(shop.owner, taken.job_id, *FOUR)
        work_orders.write_order(shop.owner, taken.job_id, Scope.MECHANICAL)
        plain = quotes.quote_view(shop.desk, quotes.write_quote(shop.desk, taken.job_id))
        first = plain.lines[0]
        on_line = Change(why="Our own fault", cents=-555, line=first.key)
        key = quotes.write_quote(shop.desk, taken.job_id, changes=[on_line, TENTH, MOVING])
        view = quotes.quote_view(shop.desk, key)
        assert (view.lines[0].adjust_cents, view.lines[0].net_cents) == (-555, first.net_cents - 555)
        assert view.totals.lines == plain.totals.lines - 555
        assert sum(a.amount_cents for a in view.adjustments if a.percent is None) == -10_001
        assert view.row.net_cents == view.totals.without_tax == view.totals.lines + view.totals.adjustments
        assert {a.tax for a in view.adjustments} == {line.tax for line in view.lines}
        agreements.agree(shop.desk, key, who="Mr Ruiz", how="signed")
        bill = invoices.invoice_view(shop.desk, billed(shop, taken.job_id))
        assert bill.row.net_cents == view.row.net_cents
        assert bill.row.gross_cents == view.row.gross_cents

    def test_an_amount_comes_off_once_however_many_bills_there_are(self, shop):
        taken = a_range(shop.owner)
        walked(shop.owner, taken.job_id, *FOUR)
        work_orders.write_order(shop.owner, taken.job_id, Scope.MECHANICAL)
        key = quotes.write_quote(shop.desk, taken.job_id, changes=[MOVING])
        agreements.agree(shop.desk, key, who="Mr Ruiz", how="signed")
        done(shop, taken.job_id, "intake", "teardown")
        invoices.issue_invoice(shop.desk, invoices.draft_invoice(shop.desk, taken.job_id))
        billed(shop, taken.job_id)
        assert whole_of(shop, taken.job_id) == quotes.quote_view(shop.desk, key).row.net_cents

    def test_may_be_given_and_taken_back_while_the_invoice_is_being_written(self, shop):
        taken = agreed(shop, *FOUR)
        covered(shop, taken.job_id)
        done(shop, taken.job_id)
        key = invoices.draft_invoice(shop.desk, taken.job_id)
        before = invoices.invoice_view(shop.desk, key)
        invoice_drafts.change_draft(shop.desk, key, [TENTH, Change(why="Scratch", cents=-1,
                                                                  line=before.lines[0].key)])  # fmt: skip
        assert invoices.invoice_view(shop.desk, key).row.net_cents < before.row.net_cents
        invoice_drafts.undo_changes(shop.desk, key, TENTH.why)
        assert invoices.invoice_view(shop.desk, key).row.net_cents == before.row.net_cents - 1
        with pytest.raises(Problem, match="pass what the customer agreed"):
            invoice_drafts.change_draft(shop.desk, key, [Change(why="Hard to reach", percent=Decimal(90))])
        invoices.issue_invoice(shop.desk, key)
        with pytest.raises(Problem, match="stays as it is"):
            invoice_drafts.change_draft(shop.desk, key, [TENTH])

    @pytest.mark.parametrize(
        ("change", "told"),
        [
            ({"why": " ", "cents": -1}, "Say why"),
            ({"why": "x"}, "one of the two"),
            ({"why": "x", "cents": -1, "percent": Decimal(-1)}, "one of the two"),
            ({"why": "x", "percent": Decimal(-101)}, "within 100 percent"),
            ({"why": "x", "cents": 0}, "of nothing"),
        ],
    )
    def test_that_cannot_be_is_a_sentence(self, change, told):
        with pytest.raises(Problem, match=told):
            Change(**change)

    def test_above_the_sum_is_refused_and_nothing_is_written(self, shop):
        taken, _ = quoted(shop, *FOUR)
        with pytest.raises(Problem, match="more than there is"):
            quotes.write_quote(shop.desk, taken.job_id, changes=[Change(why="x", cents=-(10**9))])
        assert len(quotes.quotes(shop.desk, job_id=taken.job_id)) == 1


class TestASharedBill:
    def test_by_percentage_is_taken_off_the_bill_of_the_work_to_the_cent(self, shop):
        taken = agreed(shop, *FOUR)
        whole = agreed_net(shop, taken)
        for percent in (33, 33):
            invoices.issue_invoice(shop.desk, progress.draft_share(shop.desk, taken.job_id, percent=percent))
        first = invoices.invoices(shop.desk, job_id=taken.job_id)[-1]
        assert abs(first.net_cents - whole * 33 / 100) <= 4  # rounded once for each kind and tax
        last = invoices.invoice_view(shop.desk, billed(shop, taken.job_id))
        assert whole_of(shop, taken.job_id) == whole
        assert {a.deducts for a in last.adjustments} == {1, 2}
        with pytest.raises(Problem, match="Credit I-0003 first"):
            invoices.credit_invoice(shop.desk, first.id, "too early")
        invoices.credit_invoice(shop.desk, last.row.id, "anew")
        assert invoices.invoices(shop.desk, job_id=taken.job_id, limit=1)[0].net_cents == last.row.net_cents
        invoices.issue_invoice(shop.desk, invoices.draft_invoice(shop.desk, taken.job_id))
        assert whole_of(shop, taken.job_id) == whole

    def test_is_refused_past_the_agreed_sum_and_for_nonsense(self, shop):
        taken = agreed(shop, *FOUR)
        invoices.issue_invoice(shop.desk, progress.draft_share(shop.desk, taken.job_id, percent=60))
        with pytest.raises(Problem, match="pass what the customer agreed"):
            progress.draft_share(shop.desk, taken.job_id, percent=60)
        for percent in (0, 101, None):
            with pytest.raises(Problem, match="between 1 and 100"):
                progress.draft_share(shop.desk, taken.job_id, percent=percent)
        with pytest.raises(Problem, match="no milestone"):
            progress.draft_share(shop.desk, taken.job_id, milestone="moon landing")
        other = a_range(shop.owner)
        with pytest.raises(Problem, match="Nothing is agreed"):
            progress.draft_share(shop.desk, other.job_id, percent=50)


def agreed_net(shop, taken):
    return jacket.jacket(shop.desk, taken.range_id).money.agreed_cents


class TestAWriteOff:
    def test_is_the_owner_s_ends_the_asking_and_money_that_comes_after_all_still_counts(self, shop):
        taken = agreed(shop)
        key = billed(shop, taken.job_id)
        gross = invoices.invoice_view(shop.desk, key).row.gross_cents
        payments.take_payment(shop.desk, taken.job_id, 1000, "cash")
        with pytest.raises(NotAllowed):
            write_offs.write_off(shop.desk, key, "moved away")
        assert write_offs.write_off(shop.owner, key, "moved away") == gross - 1000
        row = invoices.invoice_view(shop.desk, key).row
        assert (row.standing, row.open_cents) == ("written off", 0)
        assert invoices.invoices(shop.desk, owing=True) == []
        with pytest.raises(Problem, match="Nothing is open"):
            write_offs.write_off(shop.owner, key, "again")
        payments.take_payment(shop.desk, taken.job_id, gross - 1000, "transfer")
        assert invoices.invoice_view(shop.desk, key).row.standing == "settled"
        assert payments.payments(shop.desk, job_id=taken.job_id)[0].held_cents == 0


class TestTaxes:
    def test_follow_the_customer_s_place_the_narrowest_first(self, shop):
        day = shop.owner.today
        local = [
            taxes.LocalTaxRow("Elderfold", "part", day, "County tax", "S", Decimal("8.25")),
            taxes.LocalTaxRow("973", "part", day, "District tax", "S", Decimal("1.5")),
        ]
        taxes.keep_local_taxes(shop.owner, local)
        at = [{"region": "Elderfold"}, {"region": "ELDERFOLD", "postcode": "97 312"}, {}]
        keys = [a_customer(shop.desk, "Somebody", **where) for where in at]
        with shop.owner.look() as session:
            places = [taxes.place_of(session.get_one(people.Party, key)) for key in keys]
            rates = [taxes.tax_on(session, "part", day, place).percent for place in places]
        assert rates == [Decimal("8.25"), Decimal("1.5"), Decimal("6.5")]
        assert {row.place for row in taxes.local_taxes(shop.owner)} == {"elderfold", "973"}

    @pytest.mark.parametrize("percent", ["700", "-1"])
    def test_of_700_percent_or_below_nothing_are_a_sentence(self, shop, percent):
        day = shop.owner.today
        with pytest.raises(Problem, match="between 0 and 100"):
            taxes.keep_taxes(shop.owner, [taxes.TaxRow("part", day, "x", "S", Decimal(percent))])
        row = taxes.LocalTaxRow("97", "part", day, "x", "S", Decimal(percent))
        with pytest.raises(Problem, match="between 0 and 100"):
            taxes.keep_local_taxes(shop.owner, [row])

    def test_a_certificate_that_ran_out_between_writing_and_issuing_stops_the_invoice(self, shop):
        taken = agreed(shop, *FOUR)
        key = jacket.jacket(shop.desk, taken.range_id).customer_id
        kept = people.party_draft(shop.desk, key)
        fields = {n: getattr(kept, n) for n in people.PartyDraft.__dataclass_fields__}
        until = in_days(shop.desk, 1)
        draft = people.PartyDraft(**{**fields, "exempt_certificate": "EX 1", "exempt_until": until})
        people.keep_party(shop.desk, draft, key)
        covered(shop, taken.job_id)
        done(shop, taken.job_id)
        invoice = invoices.draft_invoice(shop.desk, taken.job_id)
        assert invoices.invoice_view(shop.desk, invoice).row.tax_cents == 0
        shop.clock.advance(days=2)
        with pytest.raises(Problem, match="no longer exempt"):
            invoices.issue_invoice(shop.desk, invoice)
        again = invoices.draft_invoice(shop.desk, taken.job_id)
        invoices.issue_invoice(shop.desk, again)
        assert invoices.invoice_view(shop.desk, again).row.tax_cents > 0


class TestAnOwnRange:
    def test_gathers_its_cost_is_sold_with_a_bill_of_sale_and_shows_its_margin(self, shop):
        taken = owned(shop, *FOUR)
        intake.buy(shop.owner, taken.job_id, 50_000)
        covered(shop, taken.job_id)
        sales.add_outlay(shop.owner, taken.job_id, "Haulage", 12_000)
        before = sales.own_range(shop.owner, taken.job_id)
        assert (before.cost.purchase, before.cost.other, before.margin_cents) == (50_000, 12_000, None)
        assert before.cost.parts > 0
        shops.keep_setting(
            shop.owner, Margin(on=True, percent="20", note="Margin scheme, second-hand goods.")
        )
        buyer = a_customer(shop.desk, "Quill")
        key = sales.draft_sale(shop.desk, taken.job_id, buyer, 320_000)
        invoices.issue_invoice(shop.desk, key)
        sold = sales.own_range(shop.owner, taken.job_id)
        assert (sold.price_cents, sold.tax_on_margin_cents) == (320_000, 45_000)  # 270 000 × 20 / 120
        assert sold.margin_cents == 320_000 - 45_000 - sold.cost.whole
        assert invoices.invoice_view(shop.desk, key).row.tax_cents == 0
        kinds = [p.kind for p in jacket.jacket(shop.desk, taken.range_id).papers]
        assert "bill of sale" in kinds
        with pytest.raises(NotAllowed):
            sales.own_range(shop.desk, taken.job_id)


STEPS = st.lists(
    st.sampled_from(["share", "work", "bill", "deposit", "pay", "refund", "credit", "write off", "discount"]),
    min_size=4,
    max_size=14,
)


@settings(settings.get_profile("databases"), phases=(Phase.explicit, Phase.reuse, Phase.generate))
@given(steps=STEPS, cents=st.integers(1, 90_000))
@example(
    steps=[
        "deposit",
        "share",
        "work",
        "discount",
        "bill",
        "credit",
        "credit",
        "bill",
        "pay",
        "refund",
        "write off",
    ],
    cents=30_710,
)
def test_no_sequence_changes_an_issued_paper_or_makes_or_loses_a_cent(set_up_file, clock, steps, cents):
    """Papers keep their bytes, a credit is its invoice to the cent, and money in equals what it settles,
    what went back and what is held."""

    shop = reopened(set_up_file, clock)
    try:
        taken = agreed(shop, "lamp-cord.frayed")
        kept: dict[str, str] = {}
        for step in steps:
            with contextlib.suppress(Problem):  # refused in a sentence: nothing may have changed
                take_step(shop, taken.job_id, step, cents)
            check_money(shop)
            now = paper_hashes(shop)
            assert {number: now[number] for number in kept} == kept
            kept = now
        assert checking.faults(shop.owner) == []
    finally:
        shop.owner.file.close()


def take_step(shop, job_id, step, cents):
    desk = shop.desk
    issued = [r for r in invoices.invoices(desk, job_id=job_id) if r.kind == "invoice" and r.number]
    if step == "share":
        invoices.issue_invoice(desk, progress.draft_share(desk, job_id, percent=1 + cents % 40))
    elif step == "work":
        covered(shop, job_id)
        done(shop, job_id, *(("intake", "teardown") if cents % 2 else ()))
    elif step == "bill":
        invoices.issue_invoice(desk, invoices.draft_invoice(desk, job_id))
    elif step == "discount":
        key = invoices.draft_invoice(desk, job_id)
        invoice_drafts.change_draft(desk, key, [Change(why="x", cents=-cents)])
    elif step in ("deposit", "pay"):
        payments.take_payment(desk, job_id, cents, "cash", deposit=step == "deposit")
    elif step == "refund":
        payments.refund(desk, job_id, cents // 3 + 1, "cash")
    elif step == "credit" and issued:
        invoices.credit_invoice(desk, issued[0].id, "wrong")
    elif step == "write off" and issued:
        write_offs.write_off(shop.owner, issued[-1].id, "gone")


def check_money(shop):
    with shop.owner.look() as session:
        taken = session.scalar(sa.select(sa.func.coalesce(sa.func.sum(Payment.amount_cents), 0)))
        settled = session.scalar(sa.select(sa.func.coalesce(sa.func.sum(PaymentShare.amount_cents), 0)))
        for bill in session.scalars(sa.select(Invoice)):
            on_it = sum(
                session.scalars(
                    sa.select(PaymentShare.amount_cents).where(PaymentShare.invoice_id == bill.id)
                )
            )
            assert 0 <= on_it <= bill.gross_cents
            lines = sum(row.net_cents for row in bill.lines)
            assert bill.net_cents == lines + sum(row.amount_cents for row in bill.adjustments)
            assert bill.gross_cents == bill.net_cents + bill.tax_cents
            if bill.corrects_id is not None:
                of = session.get_one(Invoice, bill.corrects_id)
                assert (of.net_cents, of.tax_cents, of.gross_cents) == (
                    bill.net_cents, bill.tax_cents, bill.gross_cents,
                )  # fmt: skip
    held = sum(row.held_cents for row in payments.held_money(shop.owner))
    assert taken - settled == held >= 0


def paper_hashes(shop):
    with shop.owner.look() as session:
        rows = session.execute(sa.select(Paper.number, Paper.pdf, Paper.sha256))
        found = {}
        for number, pdf, sha in rows:
            assert hashlib.sha256(pdf).hexdigest() == sha
            found[number] = sha
        return found


def test_a_job_is_settled_once_its_last_bill_is_paid_or_written_off(shop):
    taken = agreed(shop)
    key = billed(shop, taken.job_id)

    handovers.hand_over(shop.desk, taken.job_id, red_tagged=True)
    assert stage_of(shop.owner, taken) is Stage.GONE
    write_offs.write_off(shop.owner, key, "lost")
    assert stage_of(shop.owner, taken) is Stage.SETTLED
