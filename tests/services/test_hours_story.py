"""Hours billed, clocked and estimated: each line of them explained, and their sums those of the papers."""

from dataclasses import replace

import pytest
from builders import FOUR, agreed, covered, owned, task_of

from shopdesk.domain.adjust import Change
from shopdesk.domain.money import Spread
from shopdesk.services import agreements, bench, invoice_drafts, invoices, order_by_hand, quotes
from shopdesk.services.billable import ready_to_bill
from shopdesk.services.hours_story import hours_story
from shopdesk.storage.tables.stores import Need
from shopdesk.storage.tables.work import Task

PART = Spread(5, 10, 20)


def ticked(shop, *keys):
    """Tasks ticked as far as the rows go."""
    with shop.technician.change(bench.Action.WORK) as work:
        for key in keys:
            task = work.get(Task, key, "task")
            task.done_share, task.done_at = 100, work.now
        work.about(task, task.work_order.job_id)


def row(shop, job, key):
    return next(r for r in hours_story(shop.desk, job).rows if r.task_id == key)


def billed(shop, job):
    invoice = invoices.draft_invoice(shop.desk, job)
    invoices.issue_invoice(shop.desk, invoice)
    return invoice


def labour_of(shop, job):
    return [line for line in ready_to_bill(shop.desk, job).lines if line.kind == "labour"]


def test_each_line_tells_estimate_agreement_clock_and_bill_and_why_they_differ(shop):
    job = agreed(shop, *FOUR).job_id
    task = task_of(shop.owner, job, "receive-range")
    assert row(shop, job, task.id).why == ("It is billed when it is ticked.",)
    bench.log_minutes(shop.technician, task.id, task.minutes.likely + 25, note="heavy")
    ticked(shop, task.id)
    told = row(shop, job, task.id)
    assert (told.agreed, told.agreed_on, told.clocked) == (
        task.minutes.likely,
        ("Q-0001",),
        task.minutes.likely + 25,
    )
    assert [(c.who, c.note, c.running) for c in told.clocks] == [("Bram Tollgate", "heavy", False)]
    assert told.why == (
        "It took 25 min more than agreed; the agreed price stands.",
        f"{task.minutes.likely} min can be billed now.",
    )
    invoice = billed(shop, job)
    (line,) = row(shop, job, task.id).billed_on
    shown = invoices.invoice_view(shop.desk, invoice)
    paper = shown.lines[line.line - 1]
    assert (line.invoice, line.minutes, line.cents) == (shown.row.number, paper.quantity, paper.net_cents)
    assert paper.task_id == task.id
    assert row(shop, job, task.id).billable == 0
    invoices.credit_invoice(shop.desk, invoice, "wrong address")
    again = row(shop, job, task.id)
    assert (again.billed, again.billable) == (0, task.minutes.likely)
    assert f"{line.invoice} held it and was credited." in again.why


def test_the_sums_are_those_of_the_order_the_quote_the_clock_and_the_invoice(shop):
    job = agreed(shop, *FOUR).job_id
    covered(shop, job)
    for minutes, task in enumerate(bench.job_tasks(shop.technician, job)[:6], start=20):
        bench.log_minutes(shop.technician, task.id, minutes)
        ticked(shop, task.id)
    invoice = billed(shop, job)
    story = hours_story(shop.desk, job)
    quote = quotes.quote_view(shop.desk, quotes.quotes(shop.desk, job_id=job)[0].id)
    labour = [line.quantity for line in quote.lines if line.kind == "labour"]
    on_paper = [li.quantity for li in invoices.invoice_view(shop.desk, invoice).lines if li.kind == "labour"]
    assert story.agreed == sum(labour)
    assert story.billed == sum(on_paper) > 0
    assert story.clocked == sum(e.minutes for e in bench.time_rows(shop.owner, job))
    assert story.estimated.likely == sum(t.minutes.likely for t in bench.job_tasks(shop.owner, job))


def test_a_running_clock_unasked_work_and_the_shop_s_own_paperwork_are_told_apart(shop):
    job = agreed(shop, *FOUR).job_id
    bench.find_more(shop.technician, job, "Flue collar rusted", PART)
    more = next(t for t in bench.job_tasks(shop.technician, job) if t.name == "Flue collar rusted")
    bench.clock_on(shop.technician, more.id)
    shop.clock.advance(minutes=12)
    told = row(shop, job, more.id)
    assert (told.clocked, told.beyond, told.agreed, told.clocks[0].running) == (12, 12, 0, True)
    assert told.why[0] == "X-0001 has no consent: these hours are kept, and not billable until it stands."
    office = next(t for t in bench.job_tasks(shop.technician, job) if t.station == "office")
    assert row(shop, job, office.id).why == (
        "The shop's own paperwork is in its rates: it is neither agreed nor billed.",
    )
    own = owned(shop).job_id
    firsts = {r.why[0] for r in hours_story(shop.desk, own).rows}
    assert "The range is the shop's own: nobody agrees to its hours, and the sale is billed." in firsts
    assert len(firsts) == 2


@pytest.mark.parametrize("first", ["task", "part"])
def test_an_agreed_line_is_billed_over_the_parts_of_a_split_task_and_comes_to_what_was_agreed(shop, first):
    job = agreed(shop, *FOUR).job_id
    task = task_of(shop.owner, job, "free-valve")
    (line,) = [
        li for li in quotes.quote_view(shop.desk, 1).lines if li.task_id == task.id and li.kind == "labour"
    ]
    part = order_by_hand.split_task(shop.owner, task.id, "The two that sit fast", Spread(3, 7, 20))
    keys = [task.id, part] if first == "task" else [part, task.id]
    shares = []
    for key in keys:
        ticked(shop, key)
        (due,) = labour_of(shop, job)
        assert due.task_id == key
        shares.append(due)
        billed(shop, job)
        assert not labour_of(shop, job)
    assert sum(s.quantity for s in shares) == line.quantity
    assert sum(s.net_cents for s in shares) == line.net_cents
    assert {s.task_id: s.quantity for s in shares}[part] == 7
    assert (
        row(shop, job, part).why[0]
        == "Split from “Free the valve”: 7 min of its agreed hours are for this part."
    )


@pytest.mark.parametrize(
    "given", [Change(why="Scratched at the bench", cents=-150), Change(why="More", cents=9)]
)
def test_what_is_given_or_added_on_one_part_s_bill_is_not_charged_on_the_other_s(shop, given):
    job = agreed(shop, *FOUR).job_id
    task = task_of(shop.owner, job, "free-valve")
    part = order_by_hand.split_task(shop.owner, task.id, "The two that sit fast", Spread(3, 7, 20))
    due = {}
    for key in (task.id, part):
        ticked(shop, key)
        (due[key],) = labour_of(shop, job)
        draft = invoices.draft_invoice(shop.desk, job)
        if key == task.id:
            invoice_drafts.change_draft(shop.desk, draft, [replace(given, line=due[key].key)])
        invoices.issue_invoice(shop.desk, draft)
    bills = [invoices.invoice_view(shop.desk, row.id) for row in invoices.invoices(shop.desk, job_id=job)]
    billed_labour = {li.task_id: li.net_cents for bill in bills for li in bill.lines if li.kind == "labour"}
    agreed_line = next(
        li for li in quotes.quote_view(shop.desk, 1).lines if li.task_id == task.id and li.kind == "labour"
    )
    assert billed_labour[part] == due[part].net_cents
    assert sum(billed_labour.values()) == agreed_line.net_cents + given.cents


def test_what_was_split_off_and_dropped_is_not_billed(shop):
    job = agreed(shop, *FOUR).job_id
    task = task_of(shop.owner, job, "free-valve")
    part = order_by_hand.split_task(shop.owner, task.id, "The two that sit fast", Spread(3, 7, 20))
    order_by_hand.drop_task(shop.owner, part, "they turn after all")
    ticked(shop, task.id)
    assert [li.quantity for li in labour_of(shop, job)] == [task.minutes.likely - 7]
    assert row(shop, job, part).why[-1] == "Its agreed hours are not billed: it was not done."


def test_a_part_is_billed_as_often_as_agreed_however_many_were_used(shop):
    job = agreed(shop, *FOUR).job_id
    covered(shop, job)
    line = next(li for li in quotes.quote_view(shop.desk, 1).lines if li.kind == "part")
    with shop.owner.change(bench.Action.ORDER) as work:
        need = work.get(Need, line.need_id, "need")
        need.quantity = need.covered = line.quantity + 2
        work.about(need, job)
    ticked(shop, line.task_id)
    (due,) = [li for li in ready_to_bill(shop.desk, job).lines if li.need_id == line.need_id]
    assert due.quantity == line.quantity


def test_agreed_change_orders_are_agreed_hours_of_their_own(shop):
    job = agreed(shop, *FOUR).job_id
    before = hours_story(shop.desk, job).agreed
    change = bench.find_more(shop.technician, job, "Flue collar rusted", PART)
    agreements.agree(shop.desk, quotes.quote_change(shop.desk, change), who="Mr Ruiz", how="signed")
    assert hours_story(shop.desk, job).agreed == before + PART.likely
