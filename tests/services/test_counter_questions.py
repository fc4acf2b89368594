"""What the counter asks: jobs by any scrap, a job whole, offers by scope, what waits, money held."""

import pytest
from builders import FOUR, a_customer, a_range, agreed, billed, done, owned, quoted, walked

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.money import Spread
from shopdesk.domain.problem import Problem
from shopdesk.domain.stage import Stage
from shopdesk.services import (
    agreements,
    bench,
    billable,
    change_orders,
    counter,
    intake,
    invoices,
    offers,
    payments,
    people,
    quotes,
    sales,
    work_orders,
)


def _numbers(seat, words: str) -> list[str]:
    return [job.number for job in counter.find_jobs(seat, words)]


def test_a_job_is_found_by_any_scrap_of_number_name_telephone_or_paper(shop):
    taken, _ = quoted(shop, *FOUR)
    other = a_customer(shop.desk, "Hesper Dunmarrow", phone="(555) 01-99")
    second = intake.take_on(shop.desk, intake.RangeDraft(maker="Tilmont"), intake.JobDraft(customer_id=other))
    assert _numbers(shop.desk, "") == [second.number, taken.number]
    for words in ("ruiz", "CORVANE ru", "0142", "5550142", "q-0001", taken.number.lower()):
        assert _numbers(shop.desk, words) == [taken.number], words
    for words in ("dunmarrow", "0199", "5550199", "tilmont hesp"):
        assert _numbers(shop.desk, words) == [second.number], words
    assert _numbers(shop.desk, "nobody") == []
    assert _numbers(shop.desk, "100%") == []


def test_open_jobs_stand_before_those_that_ended(shop):
    going, ended = a_range(shop.desk), a_range(shop.desk)
    intake.end_job(shop.desk, ended.job_id, Stage.WITHDRAWN, "changed their mind")
    assert _numbers(shop.desk, "") == [going.number, ended.number]


@pytest.mark.parametrize("scope", list(Scope))
def test_an_offer_holds_exactly_what_the_quote_then_says(shop, scope):
    taken = a_range(shop.owner, griddle=True)
    walked(shop.owner, taken.job_id, *FOUR)
    offer = offers.offer(shop.desk, taken.job_id, scope)
    assert not offer.as_ordered
    work_orders.write_order(shop.owner, taken.job_id, scope)
    again = offers.offer(shop.desk, taken.job_id, scope)
    assert again.as_ordered
    view = quotes.quote_view(shop.desk, quotes.write_quote(shop.desk, taken.job_id))

    def told(lines):
        return [(line.kind, line.what, line.quantity, line.unit_cents, line.because) for line in lines]

    assert told(offer.lines) == told(again.lines) == told(view.lines)
    assert offer.totals == view.totals
    assert (offer.deposit_cents, offer.ceiling_cents) == (view.row.deposit_cents, view.row.ceiling_cents)
    assert offer.valid_until == view.row.valid_until


def test_an_offer_writes_nothing_and_says_when_there_is_nothing_to_price(shop):
    taken = a_range(shop.owner)
    with pytest.raises(Problem, match="Walk round it first"):
        offers.offer(shop.desk, taken.job_id, Scope.SHOW)
    walked(shop.owner, taken.job_id, *FOUR)
    pdf = offers.offer_pdf(shop.desk, taken.job_id, Scope.EVERYDAY, deposit_cents=0)
    assert pdf.startswith(b"%PDF")
    assert quotes.quotes(shop.desk) == []
    assert counter.at_counter(shop.desk, taken.job_id).papers == ()
    own = owned(shop, *FOUR)
    with pytest.raises(Problem, match="needs no quote"):
        offers.offer_pdf(shop.desk, own.job_id, Scope.MECHANICAL)


def test_an_answered_or_replaced_quote_no_longer_waits(shop):
    taken, first = quoted(shop, *FOUR)
    second = quotes.write_quote(shop.desk, taken.job_id)
    assert [row.id for row in counter.unanswered(shop.desk)] == [second]
    agreements.agree(shop.desk, second, who="Mr Ruiz", how="signed")
    assert counter.unanswered(shop.desk) == []
    assert next(q for q in quotes.quotes(shop.desk) if q.id == first).answer == "open"


def test_a_change_order_goes_from_the_bench_over_its_price_to_its_answer(shop):
    taken = agreed(shop, *FOUR)
    change = bench.find_more(shop.technician, taken.job_id, "Flue collar rusted", Spread(40, 75, 150))
    row = change_orders.change_orders(shop.desk, waiting=True)[0]
    assert (row.id, row.standing, row.minutes, row.net_cents) == (
        change,
        "to be priced",
        Spread(40, 75, 150),
        0,
    )
    assert row.found_by == shop.technician.acting.name
    key = quotes.quote_change(shop.desk, change)
    row = change_orders.change_orders(shop.desk, job_id=taken.job_id)[0]
    assert (row.standing, row.quote_id, row.priced_on) == ("open", key, shop.desk.today)
    assert row.net_cents > 0
    agreements.agree(shop.desk, key, who="Mr Ruiz", how="telephone", number_called="555 0142")
    assert change_orders.change_orders(shop.desk, waiting=True) == []
    told = agreements.agreements(shop.desk, taken.job_id)[-1]
    assert (told.number, told.how, told.number_called, told.taken_by) == (
        row.number, "telephone", "555 0142", shop.desk.acting.name,
    )  # fmt: skip


def test_what_is_ready_to_bill_is_what_the_invoice_then_holds(shop):
    taken = a_range(shop.owner)
    assert "nothing is agreed" in str(billable.ready_to_bill(shop.desk, taken.job_id).refusal)
    second = agreed(shop, *FOUR)
    assert "no agreed task is ticked" in str(billable.ready_to_bill(shop.desk, second.job_id).refusal)
    done(shop, second.job_id, "intake")
    ready = billable.ready_to_bill(shop.desk, second.job_id)
    assert ready.refusal is None
    key = invoices.draft_invoice(shop.desk, second.job_id)
    assert invoices.invoice_view(shop.desk, key).lines == ready.lines
    assert invoices.preview_invoice(shop.desk, key).startswith(b"%PDF")
    invoices.drop_invoice(shop.desk, key)
    assert invoices.invoices(shop.desk, job_id=second.job_id) == []
    third = owned(shop, *FOUR)
    assert "sell it" in str(billable.ready_to_bill(shop.desk, third.job_id).refusal)


def test_an_issued_invoice_cannot_be_thrown_away(shop):
    taken = agreed(shop, *FOUR)
    key = billed(shop, taken.job_id)
    with pytest.raises(Problem, match="credit it instead"):
        invoices.drop_invoice(shop.desk, key)


def test_money_held_is_told_by_job_and_goes_with_the_invoice(shop):
    taken = agreed(shop, *FOUR)
    assert payments.held_money(shop.desk) == []
    payments.take_payment(shop.desk, taken.job_id, 50_000, "card", deposit=True)
    held = payments.held_money(shop.desk)
    assert [(row.job_id, row.held_cents, row.since) for row in held] == [
        (taken.job_id, 50_000, shop.desk.today)
    ]
    billed(shop, taken.job_id)
    assert payments.held_money(shop.desk) == []
    owing = invoices.invoices(shop.desk, owing=True)
    assert [row.open_cents for row in owing] == [owing[0].gross_cents - 50_000]
    payments.take_payment(shop.desk, taken.job_id, owing[0].open_cents, "cash")
    assert invoices.invoices(shop.desk, owing=True) == []


def test_a_job_at_the_counter_is_whole(shop):
    taken = agreed(shop, *FOUR)
    payments.take_payment(shop.desk, taken.job_id, 50_000, "card", deposit=True)
    billed(shop, taken.job_id)
    job = counter.at_counter(shop.desk, taken.job_id)
    assert job.head.found.number == taken.number
    assert job.head.walked
    assert job.head.ordered
    assert not job.head.released
    assert job.head.proofs_missing
    assert job.head.money.taken_cents == 50_000
    assert job.head.money.balance_cents == job.invoices[0].row.open_cents > 0
    assert [row.kind for row in job.payments] == ["deposit"]
    assert {paper.kind for paper in job.papers} >= {"quote", "invoice", "payment receipt"}


def test_a_customer_is_shown_what_stands_here_and_what_was_bought(shop):
    buyer = a_customer(shop.desk, "Noor Castellane")
    own = owned(shop, *FOUR)
    invoices.issue_invoice(shop.desk, sales.draft_sale(shop.desk, own.job_id, buyer, 320_000))
    brought = intake.take_on(
        shop.desk, intake.RangeDraft(maker="Tilmont"), intake.JobDraft(customer_id=buyer)
    )
    rows = people.jobs_of(shop.desk, buyer)
    assert [row.job_id for row in rows] == [brought.job_id, own.job_id]
    assert [row.owed_cents > 0 for row in rows] == [False, True]
    assert "sold" in str(billable.ready_to_bill(shop.desk, own.job_id).refusal)
