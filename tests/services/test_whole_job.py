"""The whole job by its stages, on both databases, through the services alone."""

import pytest
from builders import (
    FOUR,
    Shop,
    a_customer,
    a_range,
    agreed,
    covered,
    done,
    held_of,
    in_days,
    owned,
    prove,
    proved,
    quoted,
    released,
    stage_of,
    task_of,
    walked,
)

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Role
from shopdesk.domain.stage import Stage
from shopdesk.services import (
    agreements,
    bench,
    checking,
    handovers,
    intake,
    invoices,
    payments,
    proofs,
    quotes,
    sales,
    shops,
    work_orders,
)
from shopdesk.services.intake import Taken
from shopdesk.services.jacket import jacket
from shopdesk.services.planning import promises


def test_a_range_goes_from_looked_at_to_settled_and_every_stage_follows_from_what_was_done(shop):
    desk = shop.desk
    taken = a_range(desk, booked_in=False)
    _until_agreed(shop, taken)
    deposit = quotes.quotes(desk, job_id=taken.job_id)[0].deposit_cents
    payments.take_payment(desk, taken.job_id, deposit, "card", deposit=True)
    _until_ready(shop, taken)

    _tick_in_order(shop, taken.job_id, "delivery")
    invoice = invoices.draft_invoice(desk, taken.job_id)
    invoices.issue_invoice(desk, invoice)
    handovers.hand_over(desk, taken.job_id)
    assert (stage_of(desk, taken), held_of(desk, taken)) == (Stage.GONE, ["proof"])
    owing = invoices.invoice_view(desk, invoice).row
    assert owing.open_cents == owing.gross_cents - deposit
    payments.take_payment(desk, taken.job_id, owing.open_cents, "transfer")
    assert stage_of(desk, taken) is Stage.GONE  # paid, but nobody proved it at home yet
    prove(shop, taken.job_id, "at-home", signed_by="Demo licensed fitter")
    assert (stage_of(desk, taken), held_of(desk, taken)) == (Stage.SETTLED, [])
    assert jacket(desk, taken.range_id).money.balance_cents == 0
    assert checking.faults(shop.owner) == []


def _until_agreed(shop: Shop, taken: Taken) -> None:
    desk, job = shop.desk, taken.job_id
    assert (stage_of(desk, taken), held_of(desk, taken)) == (Stage.LOOKED_AT, [])
    intake.book_in(desk, job)
    assert stage_of(desk, taken) is Stage.BOOKED_IN
    walked(shop.technician, job, *FOUR)
    assert stage_of(desk, taken) is Stage.INSPECTED
    work_orders.write_order(shop.owner, job, Scope.MECHANICAL)
    quote = quotes.write_quote(desk, job)
    assert (stage_of(desk, taken), held_of(desk, taken)) == (Stage.QUOTED, ["answer"])
    agreements.agree(desk, quote, who="Mr Ruiz", how="telephone", number_called="555 0142")
    assert stage_of(desk, taken) is Stage.AGREED
    assert held_of(desk, taken)[:2] == ["deposit", "part"]


def _until_ready(shop: Shop, taken: Taken) -> None:
    desk, job = shop.desk, taken.job_id
    assert held_of(desk, taken)[0] == "part"
    covered(shop, job)
    assert held_of(desk, taken) == []
    _tick_in_order(shop, job, "intake")
    assert stage_of(desk, taken) is Stage.AGREED  # what is done on arrival starts nothing yet
    _tick_in_order(shop, job, "teardown")
    assert stage_of(desk, taken) is Stage.ON_THE_BENCH
    _tick_in_order(shop, job, "repair")
    _tick_in_order(shop, job, "refit")
    assert (stage_of(desk, taken), held_of(desk, taken)) == (Stage.PROVING, ["proof"])
    _tick_in_order(shop, job, "proving")
    proved(shop, job)
    assert (stage_of(desk, taken), held_of(desk, taken)) == (Stage.PROVING, [])
    proofs.release(shop.owner, job)
    assert stage_of(desk, taken) is Stage.READY


def _tick_in_order(shop: Shop, job_id: int, stage: str) -> None:
    for task in work_orders.task_lines(shop.technician, job_id):
        if task.stage == stage:
            bench.tick(shop.technician, task.id)
            if task.code == "leak-test-assembled":  # nothing is lit before it is on record
                shop.clock.advance(minutes=1)
                prove(shop, job_id, "tightness-assembled")


def test_a_range_of_the_shop_s_own_is_bought_restored_and_sold_without_quote_or_agreement(shop):
    taken = a_range(shop.owner, own=True, booked_in=False)
    assert stage_of(shop.owner, taken) is Stage.LOOKED_AT
    intake.buy(shop.owner, taken.job_id, 45000)
    assert stage_of(shop.owner, taken) is Stage.BOOKED_IN
    walked(shop.owner, taken.job_id)
    work_orders.write_order(shop.owner, taken.job_id, Scope.MECHANICAL)
    assert stage_of(shop.owner, taken) is Stage.INSPECTED
    with pytest.raises(Problem, match="shop's own; it needs no quote"):
        quotes.write_quote(shop.desk, taken.job_id)
    bench.tick(shop.technician, task_of(shop.owner, taken.job_id, "receive-range").id)
    bench.tick(shop.technician, task_of(shop.owner, taken.job_id, "isolate-and-cap").id)
    bench.tick(shop.technician, task_of(shop.owner, taken.job_id, "strip-loose-parts").id)
    assert stage_of(shop.owner, taken) is Stage.ON_THE_BENCH
    covered(shop, taken.job_id)
    done(shop, taken.job_id)
    done(shop, taken.job_id, "proving", "delivery")
    proved(shop, taken.job_id)
    proofs.release(shop.owner, taken.job_id)
    assert stage_of(shop.owner, taken) is Stage.READY

    with pytest.raises(Problem, match="no customer to bill"):
        invoices.draft_invoice(shop.desk, taken.job_id)
    buyer = a_customer(shop.desk, "Vane")
    sale = sales.draft_sale(shop.desk, taken.job_id, buyer, 320000)
    invoices.issue_invoice(shop.desk, sale)
    with pytest.raises(Problem, match="sold already"):
        sales.draft_sale(shop.desk, taken.job_id, buyer, 320000)
    view = invoices.invoice_view(shop.desk, sale)
    assert (view.row.net_cents, view.row.tax_cents, view.row.customer) == (320000, 20800, "Vane")
    payments.take_payment(shop.desk, taken.job_id, view.row.gross_cents, "cheque")
    handovers.hand_over(shop.desk, taken.job_id)
    prove(shop, taken.job_id, "at-home", signed_by="Demo licensed fitter")
    assert stage_of(shop.owner, taken) is Stage.SETTLED
    assert checking.faults(shop.owner) == []


def test_a_sale_that_is_credited_gives_the_range_back_to_the_shop(shop):
    taken = released(shop, own=True)
    buyer = a_customer(shop.desk, "Vane")
    sale = sales.draft_sale(shop.desk, taken.job_id, buyer, 320000)
    invoices.issue_invoice(shop.desk, sale)
    invoices.credit_invoice(shop.desk, sale, "the buyer's kitchen is too small")
    again = sales.draft_sale(shop.desk, taken.job_id, a_customer(shop.desk, "Quill"), 300000)
    assert invoices.issue_invoice(shop.desk, again) == "I-0002"


@pytest.mark.parametrize("end", [Stage.DONOR, Stage.NOT_TAKEN, Stage.WITHDRAWN])
def test_a_job_may_end_before_it_is_finished_and_nothing_more_is_done_on_it(shop, end):
    taken = agreed(shop)
    intake.end_job(shop.desk, taken.job_id, end, "the seller changed his mind")
    assert (stage_of(shop.desk, taken), held_of(shop.desk, taken)) == (end, [])
    with pytest.raises(Problem, match=f"has ended \\({end}\\)"):
        bench.tick(shop.technician, task_of(shop.owner, taken.job_id, "receive-range").id)
    assert bench.tasks_today(shop.technician) == []
    assert checking.faults(shop.owner) == []


def test_a_job_ends_only_in_one_of_three_ways_and_not_after_the_range_has_left(shop):
    taken = released(shop)
    with pytest.raises(Problem, match="donor, not taken or withdrawn"):
        intake.end_job(shop.desk, taken.job_id, Stage.SETTLED, "")
    handovers.hand_over(shop.desk, taken.job_id)
    with pytest.raises(Problem, match="has left already"):
        intake.end_job(shop.desk, taken.job_id, Stage.WITHDRAWN, "")


def test_a_comeback_is_a_new_job_on_the_same_range(shop):
    taken = released(shop)
    customer = jacket(shop.desk, taken.range_id).customer_id
    with pytest.raises(Problem, match="still has an open job"):
        intake.comeback(shop.desk, taken.range_id, intake.JobDraft(customer_id=customer))
    handovers.hand_over(shop.desk, taken.job_id)
    again = intake.comeback(shop.desk, taken.range_id, intake.JobDraft(customer_id=customer))
    assert (again.range_id, again.number) == (taken.range_id, taken.number)
    assert stage_of(shop.desk, again) is Stage.BOOKED_IN
    assert [line.stage for line in jacket(shop.desk, taken.range_id).jobs] == [Stage.GONE, Stage.BOOKED_IN]


def test_a_range_bought_off_its_owner_is_not_held_for_his_answer_any_more(shop):
    taken, _ = quoted(shop)
    assert held_of(shop.desk, taken) == ["answer"]
    intake.buy(shop.owner, taken.job_id, 20000)
    assert (stage_of(shop.desk, taken), held_of(shop.desk, taken)) == (Stage.INSPECTED, ["part"])
    assert checking.faults(shop.owner) == []


def test_a_range_leaves_only_released_or_disconnected_and_red_tagged(shop):
    taken = agreed(shop)
    with pytest.raises(Problem, match="no release that stands"):
        handovers.hand_over(shop.desk, taken.job_id)
    handovers.hand_over(shop.desk, taken.job_id, red_tagged=True)
    assert jacket(shop.desk, taken.range_id).red_tagged
    assert (stage_of(shop.desk, taken), held_of(shop.desk, taken)) == (Stage.GONE, [])
    with pytest.raises(Problem, match="has left already"):
        handovers.hand_over(shop.desk, taken.job_id, red_tagged=True)


def test_what_a_range_is_held_for_is_known_with_its_day(shop):
    taken = agreed(shop)
    told = jacket(shop.desk, taken.range_id).held[0]
    assert (told.hold.value, told.since) == ("deposit", shop.desk.today)
    shop.clock.advance(days=3)
    promises.promise(shop.desk, taken.job_id, in_days(shop.desk, 30))
    assert jacket(shop.desk, taken.range_id).held[0].since == in_days(shop.desk, -3)


def test_an_own_range_waits_for_a_person_when_nobody_here_has_the_skill(shop):
    taken = owned(shop)
    covered(shop, taken.job_id)
    assert held_of(shop.owner, taken) == []
    for row in shops.staff(shop.owner):
        shops.keep_staff(shop.owner, shops.StaffDraft(row.name, Role(row.role), skills=("desk",)), row.id)
    assert held_of(shop.owner, taken)[0] == "person"
    assert checking.faults(shop.owner) == []  # the stored hold moved with the people
