"""The counter: quotes, consent, invoices, credits and payments, to the cent."""

import datetime as dt
from dataclasses import replace

import pytest
from builders import (
    FOUR,
    IDENTITY,
    TAX,
    a_range,
    agreed,
    billed,
    covered,
    done,
    held_of,
    in_days,
    owned,
    quoted,
    stage_of,
    walked,
)

from shopdesk.domain.adjust import Change
from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.money import Spread, marked_up, part_of, round_half_up
from shopdesk.domain.problem import NotFound, Problem
from shopdesk.domain.stage import Stage
from shopdesk.services import (
    agreements,
    bench,
    checking,
    invoice_drafts,
    invoices,
    offers,
    payments,
    people,
    quotes,
    shops,
    stores,
    work_orders,
)
from shopdesk.services.jacket import jacket
from shopdesk.services.papers.keeping import paper_bytes, papers
from shopdesk.services.planning import promises
from shopdesk.services.settings import Terms


class TestAQuote:
    def test_adds_up_and_names_why_each_line_is_there(self, shop):
        taken, key = quoted(shop, *FOUR)
        view = quotes.quote_view(shop.desk, key)
        assert view.row.net_cents == sum(line.net_cents for line in view.lines)
        taxed = sum(line.net_cents for line in view.lines if line.kind in ("part", "charge"))
        assert view.totals.tax == round_half_up(taxed * TAX / 100)
        assert view.row.gross_cents == view.row.net_cents + view.totals.tax
        assert view.row.net_cents < view.row.ceiling_cents
        assert view.row.ceiling_cents <= marked_up(view.row.net_cents, Terms().ceiling_percent)
        assert view.row.deposit_cents == part_of(view.row.gross_cents, Terms().deposit_percent)
        assert view.row.valid_until == in_days(shop.desk, Terms().quote_valid_days)
        assert all(line.because for line in view.lines)
        assert {line.kind for line in view.lines} >= {"labour", "part", "charge", "delivery"}
        assert jacket(shop.desk, taken.range_id).papers[-1].number == view.row.number == "Q-0001"
        assert paper_bytes(shop.desk, "Q-0001", "quote").startswith(b"%PDF")

    def test_of_the_teardown_holds_only_what_is_done_until_the_range_is_apart(self, shop):
        taken, whole = quoted(shop)
        teardown = quotes.write_quote(shop.desk, taken.job_id, "teardown")
        stages = {t.id: t.stage for t in work_orders.task_lines(shop.owner, taken.job_id)}
        lines = quotes.quote_view(shop.desk, teardown).lines
        assert {stages[line.task_id] for line in lines} == {"intake", "teardown"}
        rows = quotes.quotes(shop.desk, job_id=taken.job_id)
        assert [(r.id, r.step, r.deposit_cents > 0) for r in rows] == [
            (teardown, "teardown", False), (whole, "job", True),
        ]  # fmt: skip

    def test_may_leave_the_delivery_out_and_ask_for_another_deposit(self, shop):
        taken, _ = quoted(shop)
        key = quotes.write_quote(shop.desk, taken.job_id, deposit_cents=12345, delivery=False)
        view = quotes.quote_view(shop.desk, key)
        assert view.row.deposit_cents == 12345
        assert "delivery" not in {line.kind for line in view.lines}

    @pytest.mark.parametrize("deposit", [-1, 100_000_000])
    def test_asks_no_deposit_above_the_whole_sum(self, shop, deposit):
        taken, _ = quoted(shop)
        before = len(papers(shop.desk))
        with pytest.raises(Problem, match="between nothing and the whole sum"):
            quotes.write_quote(shop.desk, taken.job_id, deposit_cents=deposit)
        assert len(papers(shop.desk)) == before
        assert quotes.write_quote(shop.desk, taken.job_id)
        assert quotes.quotes(shop.desk)[0].number == "Q-0002"  # the refusal left no gap

    def test_without_an_order_or_of_another_kind_is_refused(self, shop):
        taken = a_range(shop.owner)
        with pytest.raises(Problem, match="nothing to price"):
            quotes.write_quote(shop.desk, taken.job_id)
        with pytest.raises(Problem, match="teardown or for the job"):
            quotes.write_quote(shop.desk, taken.job_id, "change")

    def test_is_free_of_tax_for_a_customer_whose_certificate_has_not_run_out(self, shop):
        taken, first = quoted(shop, *FOUR)
        key = jacket(shop.desk, taken.range_id).customer_id
        for until, taxed in ((in_days(shop.desk, 0), False), (in_days(shop.desk, -1), True), (None, False)):
            draft = people.party_draft(shop.desk, key)
            exempt = people.PartyDraft(
                name=draft.name, street=draft.street, exempt_certificate="EX 1", exempt_until=until
            )
            people.keep_party(shop.desk, exempt, key)
            again = quotes.quote_view(shop.desk, quotes.write_quote(shop.desk, taken.job_id))
            assert (again.totals.tax > 0) is taxed
        assert quotes.quote_view(shop.desk, first).totals.tax > 0  # what was sent stays as it was

    def test_takes_the_rate_of_its_day(self, shop):
        taken, first = quoted(shop)
        shops.keep_rate(shop.owner, "bench", in_days(shop.owner, 1), 12000)
        same = quotes.write_quote(shop.desk, taken.job_id)
        shop.clock.advance(days=1)
        later = quotes.write_quote(shop.desk, taken.job_id)
        rates = [quotes.quote_view(shop.desk, q).lines[0].unit_cents for q in (first, same, later)]
        assert rates == [9500, 9500, 12000]


class TestConsent:
    def test_by_telephone_needs_the_number_called(self, shop):
        _, quote = quoted(shop)
        with pytest.raises(Problem, match="number called") as told:
            agreements.agree(shop.desk, quote, who="Mr Ruiz", how="telephone")
        assert told.value.field == "number_called"
        agreements.agree(shop.desk, quote, who="Mr Ruiz", how="telephone", number_called="555 0142")

    @pytest.mark.parametrize(
        ("more", "said"),
        [
            ({"who": " "}, "who agreed"),
            ({"how": "nodded"}, "signed, by e-mail or by telephone"),
            ({"amount_cents": -1}, "zero or more"),
        ],
    )
    def test_that_says_too_little_is_refused(self, shop, more, said):
        _, quote = quoted(shop)
        with pytest.raises(Problem, match=said):
            agreements.agree(shop.desk, quote, **{"who": "Mr Ruiz", "how": "signed", **more})

    def test_is_given_once_and_not_to_what_was_declined_or_ran_out(self, shop):
        taken, quote = quoted(shop)
        agreements.agree(shop.desk, quote, who="Mr Ruiz", how="signed")
        with pytest.raises(Problem, match="Q-0001 is agreed already"):
            agreements.agree(shop.desk, quote, who="Mr Ruiz", how="signed")
        with pytest.raises(Problem, match="it cannot be declined"):
            agreements.decline(shop.desk, quote)
        second = quotes.write_quote(shop.desk, taken.job_id)
        agreements.decline(shop.desk, second)
        with pytest.raises(Problem, match="was declined"):
            agreements.agree(shop.desk, second, who="Mr Ruiz", how="signed")
        third = quotes.write_quote(shop.desk, taken.job_id)
        shop.clock.advance(days=31)
        with pytest.raises(Problem, match="was valid until"):
            agreements.agree(shop.desk, third, who="Mr Ruiz", how="signed")
        with pytest.raises(NotFound, match="no quote 4711"):
            agreements.agree(shop.desk, 4711, who="Mr Ruiz", how="signed")

    def test_to_another_amount_than_quoted_is_its_own_ceiling(self, shop):
        taken, quote = quoted(shop)
        agreements.agree(shop.desk, quote, who="Mr Ruiz", how="signed", amount_cents=100000)
        money = jacket(shop.desk, taken.range_id).money
        assert (money.agreed_cents, money.ceiling_cents) == (100000, 100000)

    def test_authorises_estimate_and_contingency_and_no_cent_above(self, shop):
        taken, key = quoted(shop, *FOUR)
        row, offer = (
            quotes.quote_view(shop.desk, key).row,
            offers.offer(shop.desk, taken.job_id, Scope.MECHANICAL),
        )
        assert row.ceiling_cents == row.net_cents + offer.contingency_cents
        agreements.agree(shop.desk, key, who="Mr Ruiz", how="signed")
        covered(shop, taken.job_id)
        for stages in ((), ("proving", "delivery")):
            done(shop, taken.job_id, *stages)
        bill = invoices.draft_invoice(shop.desk, taken.job_id)
        more = Change(why="Hours beyond the estimate", cents=offer.contingency_cents + 1)
        with pytest.raises(Problem, match="would pass what the customer agreed to"):
            invoice_drafts.change_draft(shop.desk, bill, [more])
        invoice_drafts.change_draft(shop.desk, bill, [replace(more, cents=offer.contingency_cents)])
        invoices.issue_invoice(shop.desk, bill)
        assert invoices.invoice_view(shop.desk, bill).row.net_cents == row.ceiling_cents

    def test_is_cut_to_the_share_the_shop_sets_and_to_nothing(self, shop):
        for percent in (1, 0):
            terms = shops.setting(shop.owner, Terms)
            shops.keep_setting(shop.owner, replace(terms, ceiling_percent=percent))
            _, key = quoted(shop, *FOUR)
            row = quotes.quote_view(shop.desk, key).row
            assert row.ceiling_cents == row.net_cents + part_of(row.net_cents, percent)

    def test_to_the_job_takes_the_place_of_the_teardown_and_changes_are_added(self, shop):
        taken, whole = quoted(shop)
        teardown = quotes.write_quote(shop.desk, taken.job_id, "teardown")
        agreements.agree(shop.desk, teardown, who="Mr Ruiz", how="signed")
        money = jacket(shop.desk, taken.range_id).money
        assert money.agreed_cents == quotes.quote_view(shop.desk, teardown).row.net_cents
        agreements.agree(shop.desk, whole, who="Mr Ruiz", how="signed")
        row = quotes.quote_view(shop.desk, whole).row
        change = bench.find_more(shop.technician, taken.job_id, "Cracked manifold", Spread(60, 120, 180))
        more = quotes.quote_change(shop.desk, change)
        agreements.agree(shop.desk, more, who="Mr Ruiz", how="signed")
        money = jacket(shop.desk, taken.range_id).money
        assert (money.agreed_cents, money.ceiling_cents) == (row.net_cents + 19000, row.ceiling_cents + 19000)

    def test_declined_for_good_leaves_the_range_inspected(self, shop):
        taken, quote = quoted(shop)
        agreements.decline(shop.desk, quote)
        assert (stage_of(shop.desk, taken), held_of(shop.desk, taken)) == (Stage.INSPECTED, [])
        assert quotes.quotes(shop.desk, open_only=True) == []


class TestAnInvoice:
    def test_holds_what_is_agreed_and_done_and_each_line_names_its_cause(self, shop):
        taken = agreed(shop, *FOUR)
        quote = quotes.quotes(shop.desk, job_id=taken.job_id)[0]
        view = invoices.invoice_view(shop.desk, billed(shop, taken.job_id))
        assert view.row.net_cents == quote.net_cents
        assert view.row.gross_cents == quote.gross_cents
        assert (view.row.number, view.row.standing) == ("I-0001", "issued")
        assert view.row.due_on == in_days(shop.desk, Terms().payment_days)
        assert all(line.because for line in view.lines)
        assert {line.condition for line in view.lines if line.kind == "part"} == {"new"}
        assert paper_bytes(shop.desk, "I-0001").startswith(b"%PDF")

    def test_in_parts_bills_nothing_twice_and_ends_at_the_whole(self, shop):
        taken = agreed(shop, *FOUR)
        covered(shop, taken.job_id)
        done(shop, taken.job_id, "intake", "teardown")
        first = invoices.draft_invoice(shop.desk, taken.job_id)
        invoices.issue_invoice(shop.desk, first)
        with pytest.raises(Problem, match="nothing to bill"):
            invoices.draft_invoice(shop.desk, taken.job_id)
        second = billed(shop, taken.job_id)
        both = [invoices.invoice_view(shop.desk, key) for key in (first, second)]
        assert (
            sum(v.row.net_cents for v in both) == quotes.quotes(shop.desk, job_id=taken.job_id)[0].net_cents
        )
        labour = [{line.task_id for line in v.lines if line.kind == "labour"} for v in both]
        assert not labour[0] & labour[1]
        assert [r.number for r in invoices.invoices(shop.desk, job_id=taken.job_id)] == ["I-0002", "I-0001"]

    def test_is_refused_above_what_was_agreed(self, shop):
        taken, quote = quoted(shop)
        agreements.agree(shop.desk, quote, who="Mr Ruiz", how="signed", amount_cents=50000)
        done(shop, taken.job_id)
        with pytest.raises(Problem, match="would pass what the customer agreed to"):
            invoices.draft_invoice(shop.desk, taken.job_id)
        assert invoices.invoices(shop.desk) == []

    def test_of_nothing_is_refused(self, shop):
        taken, _ = quoted(shop)
        with pytest.raises(Problem, match="nothing to bill"):
            invoices.draft_invoice(shop.desk, taken.job_id)
        with pytest.raises(Problem, match="no customer to bill"):
            invoices.draft_invoice(shop.desk, owned(shop).job_id)

    def test_is_issued_once_and_only_to_somebody_with_an_address(self, shop):
        taken = agreed(shop)
        done(shop, taken.job_id)
        key = invoices.draft_invoice(shop.desk, taken.job_id)
        assert invoices.invoice_view(shop.desk, key).row.standing == "being written"
        customer = jacket(shop.desk, taken.range_id).customer_id
        people.keep_party(shop.desk, people.PartyDraft(name="Ruiz"), customer)
        with pytest.raises(Problem, match="Ruiz has no address"):
            invoices.issue_invoice(shop.desk, key)
        people.keep_party(shop.desk, people.PartyDraft(name="Ruiz", town="Quarrel Bend"), customer)
        assert invoices.issue_invoice(shop.desk, key) == "I-0001"
        with pytest.raises(Problem, match="I-0001 is issued already"):
            invoices.issue_invoice(shop.desk, key)

    def test_written_anew_takes_the_place_of_the_one_being_written(self, shop):
        taken = agreed(shop)
        done(shop, taken.job_id, "intake")
        invoices.draft_invoice(shop.desk, taken.job_id)
        done(shop, taken.job_id)
        second = invoices.draft_invoice(shop.desk, taken.job_id)
        assert [r.id for r in invoices.invoices(shop.desk)] == [second]
        invoices.drop_invoice(shop.desk, second)
        assert invoices.invoices(shop.desk) == []

    def test_stays_as_it_was_issued_whatever_changes_later(self, shop):
        taken = agreed(shop)
        key = billed(shop, taken.job_id)
        before = (invoices.invoice_view(shop.desk, key), paper_bytes(shop.desk, "I-0001"))
        shops.keep_rate(shop.owner, "bench", shop.owner.today, 1)
        shops.keep_setting(shop.owner, type(IDENTITY)(name="Another name"))
        customer = jacket(shop.desk, taken.range_id).customer_id
        people.keep_party(shop.desk, people.PartyDraft(name="Ruiz & Søn <b>", street="Elsewhere"), customer)
        assert (invoices.invoice_view(shop.desk, key), paper_bytes(shop.desk, "I-0001")) == before

    def test_stands_past_due_the_day_after_its_day(self, shop):
        key = billed(shop, agreed(shop).job_id)
        shop.clock.advance(days=Terms().payment_days)
        assert invoices.invoice_view(shop.desk, key).row.standing == "issued"
        shop.clock.advance(days=1)
        assert invoices.invoice_view(shop.desk, key).row.standing == "past due"


class TestACredit:
    def test_with_its_invoice_comes_to_nothing_and_the_work_can_be_billed_anew(self, shop):
        taken = agreed(shop, *FOUR)
        key = billed(shop, taken.job_id)
        gross = invoices.invoice_view(shop.desk, key).row.gross_cents
        assert jacket(shop.desk, taken.range_id).money.balance_cents == gross
        with pytest.raises(Problem, match="Say why"):
            invoices.credit_invoice(shop.desk, key, " ")
        assert invoices.credit_invoice(shop.desk, key, "wrong address") == "C-0001"
        money = jacket(shop.desk, taken.range_id).money
        assert (money.billed_cents, money.balance_cents) == (0, 0)
        standing = {r.kind: r.standing for r in invoices.invoices(shop.desk)}
        assert standing == {"invoice": "credited", "credit": "issued"}
        with pytest.raises(Problem, match="I-0001 is credited already"):
            invoices.credit_invoice(shop.desk, key, "again")
        again = invoices.draft_invoice(shop.desk, taken.job_id)
        assert invoices.issue_invoice(shop.desk, again) == "I-0002"
        assert invoices.invoice_view(shop.desk, again).row.gross_cents == gross
        assert checking.faults(shop.owner) == []

    def test_gives_back_what_was_paid_to_be_held_for_the_next_invoice(self, shop):
        taken = agreed(shop)
        key = billed(shop, taken.job_id)
        gross = invoices.invoice_view(shop.desk, key).row.gross_cents
        payments.take_payment(shop.desk, taken.job_id, gross, "cash")
        invoices.credit_invoice(shop.desk, key, "wrong address")
        assert jacket(shop.desk, taken.range_id).money.held_cents == gross
        again = invoices.draft_invoice(shop.desk, taken.job_id)
        invoices.issue_invoice(shop.desk, again)
        assert invoices.invoice_view(shop.desk, again).row.standing == "settled"
        assert jacket(shop.desk, taken.range_id).money.held_cents == 0
        assert checking.faults(shop.owner) == []

    def test_is_only_for_what_was_issued(self, shop):
        taken = agreed(shop)
        done(shop, taken.job_id)
        draft = invoices.draft_invoice(shop.desk, taken.job_id)
        with pytest.raises(Problem, match="Only an issued invoice"):
            invoices.credit_invoice(shop.desk, draft, "wrong")


class TestMoney:
    def test_of_a_deposit_is_held_and_then_set_against_the_invoice(self, shop):
        taken = agreed(shop)
        assert payments.take_payment(shop.desk, taken.job_id, 30000, "card", deposit=True) == "P-0001"
        row = payments.payments(shop.desk)[0]
        assert (row.kind, row.amount_cents, row.held_cents) == ("deposit", 30000, 30000)
        view = invoices.invoice_view(shop.desk, billed(shop, taken.job_id)).row
        assert (view.open_cents, view.standing) == (view.gross_cents - 30000, "part settled")
        assert payments.payments(shop.desk)[0].held_cents == 0
        assert paper_bytes(shop.desk, "P-0001", "payment receipt").startswith(b"%PDF")

    def test_settles_the_oldest_invoice_first_and_what_is_over_is_held(self, shop):
        taken = agreed(shop, *FOUR)
        covered(shop, taken.job_id)
        done(shop, taken.job_id, "intake", "teardown")
        first = invoices.draft_invoice(shop.desk, taken.job_id)
        invoices.issue_invoice(shop.desk, first)
        second = billed(shop, taken.job_id)
        one, two = (invoices.invoice_view(shop.desk, key).row.gross_cents for key in (first, second))
        payments.take_payment(shop.desk, taken.job_id, one + 100, "cash")
        assert invoices.invoice_view(shop.desk, first).row.open_cents == 0
        assert invoices.invoice_view(shop.desk, second).row.open_cents == two - 100
        assert [r.id for r in invoices.invoices(shop.desk, owing=True)] == [second]
        payments.take_payment(shop.desk, taken.job_id, two, "cash")
        assert jacket(shop.desk, taken.range_id).money.held_cents == 100
        assert jacket(shop.desk, taken.range_id).money.balance_cents == 0
        assert checking.faults(shop.owner) == []

    def test_is_given_back_up_to_what_is_held(self, shop):
        taken = agreed(shop)
        payments.take_payment(shop.desk, taken.job_id, 30000, "card", deposit=True)
        with pytest.raises(Problem, match=r"Only \$300\.00 is held"):
            payments.refund(shop.desk, taken.job_id, 30001, "cash")
        payments.refund(shop.desk, taken.job_id, 10000, "cash")
        view = invoices.invoice_view(shop.desk, billed(shop, taken.job_id)).row
        assert view.open_cents == view.gross_cents - 20000
        with pytest.raises(Problem, match=r"Only \$0\.00 is held"):
            payments.refund(shop.desk, taken.job_id, 1, "cash")
        assert sum(p.amount_cents for p in payments.payments(shop.desk)) == 20000
        assert checking.faults(shop.owner) == []

    @pytest.mark.parametrize(
        ("amount", "method", "said"),
        [(0, "cash", "above zero"), (-5, "cash", "above zero"), (5, "beads", "cash, card, transfer")],
    )
    def test_that_is_none_is_refused(self, shop, amount, method, said):
        taken = agreed(shop)
        for deed in (payments.take_payment, payments.refund):
            with pytest.raises(Problem, match=said):
                deed(shop.desk, taken.job_id, amount, method)
        assert payments.payments(shop.desk) == []

    def test_for_a_range_nobody_bought_yet_is_refused(self, shop):
        with pytest.raises(Problem, match="not sold yet"):
            payments.take_payment(shop.desk, owned(shop).job_id, 100, "cash")


def test_every_number_of_every_series_is_there_after_a_busy_day(shop):
    for _ in range(2):
        taken = agreed(shop)
        payments.take_payment(shop.desk, taken.job_id, 1000, "cash", deposit=True)
        key = billed(shop, taken.job_id)
        invoices.credit_invoice(shop.desk, key, "wrong address")
        with pytest.raises(Problem, match="credited already"):
            invoices.credit_invoice(shop.desk, key, "again")
    for kind, prefix in (("invoice", "I"), ("credit", "C"), ("payment receipt", "P"), ("quote", "Q")):
        assert [p.number for p in papers(shop.desk, kind=kind)] == [f"{prefix}-0002", f"{prefix}-0001"]
    assert checking.faults(shop.owner) == []


def test_a_part_that_came_used_is_disclosed_as_used(shop):
    taken = agreed(shop, *FOUR)
    need = stores.needs(shop.owner, job_id=taken.job_id)[0]
    part = stores.keep_part(shop.owner, need.name, condition="used", count=9)
    stores.cover_from_stock(shop.owner, need.id, part)
    view = invoices.invoice_view(shop.desk, billed(shop, taken.job_id))
    line = next(line for line in view.lines if line.need_id == need.id)
    assert (line.condition, line.quantity) == ("used", need.quantity)


def test_a_promise_is_kept_with_the_job(shop):
    taken = agreed(shop)
    promises.promise(shop.desk, taken.job_id, dt.date(2026, 12, 24))
    assert jacket(shop.desk, taken.range_id).promised_on == dt.date(2026, 12, 24)
    promises.promise(shop.desk, taken.job_id, None, "The customer moves house.")
    assert jacket(shop.desk, taken.range_id).promised_on is None


def test_a_larger_scope_is_quoted_with_its_outwork(shop):
    taken = a_range(shop.owner)
    walked(shop.owner, taken.job_id, "front-panels.chipped")
    work_orders.write_order(shop.owner, taken.job_id, Scope.SHOW)
    view = quotes.quote_view(shop.desk, quotes.write_quote(shop.desk, taken.job_id))
    assert view.row.scope == "show"
    outwork = [line for line in view.lines if line.kind == "outwork"]
    assert outwork
