"""The rest of a job's life: choices, consent to a part, letters, withdrawal, comeback, customers."""

import datetime as dt
from dataclasses import replace

import pytest
from builders import (
    FOUR,
    a_customer,
    a_range,
    agreed,
    billed,
    covered,
    done,
    quoted,
    released,
    stage_of,
    walked,
)

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.finishes import Grade
from shopdesk.domain.letters import Course
from shopdesk.domain.money import Spread
from shopdesk.domain.problem import NotAllowed, Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.stage import Stage
from shopdesk.services import (
    accounts,
    agreements,
    bench,
    change_orders,
    counter,
    erasing,
    finishes,
    handovers,
    intake,
    invoices,
    letters,
    offers,
    party_merging,
    payments,
    people,
    questions,
    quote_versions,
    quotes,
    shops,
    statements,
    storage_clock,
    warranty,
    warranty_clock,
    withdrawals,
    work_orders,
)
from shopdesk.services.jacket import jacket
from shopdesk.services.papers.keeping import paper_bytes
from shopdesk.services.settings import Clocks, Letters
from shopdesk.services.waiting import agreed_jobs
from shopdesk.storage.tables.work import Task


class TestConsent:
    def test_to_a_part_leaves_whole_tasks_out_of_the_sum_the_order_and_the_bill(self, shop):
        taken, key = quoted(shop, *FOUR)
        view = quotes.quote_view(shop.desk, key)
        at = next(i for i, line in enumerate(view.lines) if line.kind == "part")
        task = view.lines[at].task_id
        gone = sum(line.net_cents for line in view.lines if line.task_id == task)
        agreements.agree(shop.desk, key, who="Mr Ruiz", how="e-mail", left_out=[view.line_ids[at]],
                         kept_text="Please leave the lamp as it is.")  # fmt: skip
        assert agreements.agreements(shop.desk, taken.job_id)[0].amount_cents == view.row.net_cents - gone
        assert task not in {row.id for row in work_orders.task_lines(shop.owner, taken.job_id)}
        bill = invoices.invoice_view(shop.desk, billed(shop, taken.job_id))
        assert task not in {line.task_id for line in bill.lines}
        assert bill.row.net_cents == view.row.net_cents - gone

    def test_to_nothing_or_to_a_strange_line_is_refused(self, shop):
        _, key = quoted(shop, *FOUR)
        ids = quotes.quote_view(shop.desk, key).line_ids
        with pytest.raises(Problem, match="record it as declined"):
            agreements.agree(shop.desk, key, who="x", how="signed", left_out=ids)
        with pytest.raises(Problem, match="no such line"):
            agreements.agree(shop.desk, key, who="x", how="signed", left_out=[9999])


class TestQuotes:
    def test_show_what_changed_since_the_version_before(self, shop):
        taken, first = quoted(shop, *FOUR)
        second = quotes.write_quote(shop.desk, taken.job_id, delivery=False)
        views = tuple(quotes.quote_view(shop.desk, key) for key in (first, second))
        before = quote_versions.earlier_version(views, views[1])
        assert before is not None
        told = quote_versions.difference(before, views[1])
        assert (told.earlier, [line.kind for line in told.gone], told.added) == ("Q-0001", ["delivery"], ())
        assert told.net_before - told.net_after == told.gone[0].net_cents
        assert quote_versions.earlier_version(views, views[0]) is None

    def test_name_a_finish_for_every_surface_and_list_what_is_left_as_it_is(self, shop):
        taken, _ = quoted(shop, *FOUR)
        proposed, settled = finishes.finishes(shop.desk, taken.job_id)
        assert not settled
        chosen = [replace(each, grade=Grade.RE_PLATED) if each.surface == "plated trim" else each
                  for each in proposed]  # fmt: skip
        finishes.keep_finishes(shop.desk, taken.job_id, chosen)
        assert finishes.finishes(shop.desk, taken.job_id) == (tuple(chosen), True)
        quotes.write_quote(shop.desk, taken.job_id)
        with pytest.raises(Problem, match="stands there twice"):
            finishes.keep_finishes(shop.desk, taken.job_id, [*chosen, chosen[0]])

    def test_refuse_milestones_that_cannot_be(self, shop):
        taken, _ = quoted(shop, *FOUR)
        for wanted, told in (
            ([("a", 60), ("b", 50)], "100 percent at most"),
            ([("a", 1), ("a", 1)], "same name"),
            ([(" ", 5)], "Name what"),
        ):
            with pytest.raises(Problem, match=told):
                quotes.write_quote(shop.desk, taken.job_id, milestones=wanted)

    def test_of_all_scopes_stand_side_by_side_on_one_paper(self, shop):
        taken = a_range(shop.owner)
        walked(shop.owner, taken.job_id, "front-panels.chipped")
        pdf = offers.choices_pdf(shop.desk, taken.job_id)
        assert pdf.startswith(b"%PDF")
        found = [offers.offer(shop.desk, taken.job_id, scope) for scope in Scope]
        assert all(each.contingency_cents > 0 for each in found)
        assert len({each.finishes for each in found}) == 3

    def test_a_declined_change_order_is_priced_anew_with_its_tasks(self, shop):
        taken = agreed(shop)
        bench.find_more(shop.technician, taken.job_id, "A second crack", Spread(30, 60, 90))
        row = change_orders.change_orders(shop.desk, job_id=taken.job_id)[0]
        agreements.decline(shop.desk, quotes.quote_change(shop.desk, row.id))
        declined = change_orders.change_orders(shop.desk, job_id=taken.job_id)[0]
        assert (declined.standing, declined.anew) == ("declined", True)
        again = quotes.quote_change(shop.desk, row.id)
        assert quotes.quote_view(shop.desk, again).row.number == f"{row.number}-2"
        agreements.agree(shop.desk, again, who="Mr Ruiz", how="telephone", number_called="555 0142")
        with pytest.raises(Problem, match="priced already"):
            quotes.quote_change(shop.desk, row.id)
        assert change_orders.change_orders(shop.desk, job_id=taken.job_id)[0].standing == "agreed"


class TestLetters:
    def test_go_in_their_order_not_while_a_question_is_open_and_storage_waits_for_the_first(self, shop):
        shops.keep_setting(shop.owner, Clocks(storage_free_days=10, storage_cents=500))
        taken = released(shop)
        due = letters.due_letters(shop.desk)
        assert [(each.course, each.step, each.job_id) for each in due] == [(Course.READY, 1, taken.job_id)]
        shop.clock.advance(days=20)
        assert storage_clock.storage(shop.desk, taken.job_id).days == 0  # nobody told them yet
        number = letters.write_letter(shop.desk, due[0])
        assert paper_bytes(shop.desk, number, "letter").startswith(b"%PDF")
        with pytest.raises(Problem, match="not the next one"):
            letters.write_letter(shop.desk, due[0])
        assert letters.due_letters(shop.desk) == []
        mail = letters.mail_of(shop.desk, number)
        assert (mail.subject, mail.paper) == ("Your range is ready", number)
        assert taken.number in mail.text
        shop.clock.advance(days=15)
        assert storage_clock.storage(shop.desk, taken.job_id).cents == 5 * 500
        second = letters.due_letters(shop.desk)[0]
        question = questions.raise_question(shop.desk, taken.job_id, "The lamp was brighter before")
        assert letters.due_letters(shop.desk) == []
        with pytest.raises(Problem, match="questions"):
            letters.write_letter(shop.desk, second)
        shop.clock.advance(days=3)
        questions.close_question(shop.desk, question, "Bulb renewed")
        shop.clock.advance(days=1)
        assert storage_clock.storage(shop.desk, taken.job_id).days == 5  # the question's days do not count
        assert letters.due_letters(shop.desk)[0].step == 2
        key = storage_clock.draft_storage(shop.desk, taken.job_id)
        invoices.issue_invoice(shop.desk, key)
        assert storage_clock.storage(shop.desk, taken.job_id).days == 0
        with pytest.raises(Problem, match="No storage"):
            storage_clock.draft_storage(shop.desk, taken.job_id)

    def test_remind_of_a_bill_after_its_day_and_stop_when_it_is_paid(self, shop):
        taken = agreed(shop)
        key = billed(shop, taken.job_id)
        shop.clock.advance(days=14 + 7)
        due = letters.due_letters(shop.desk)
        assert [(each.course, each.step, each.invoice_id) for each in due] == [(Course.REMINDER, 1, key)]
        letters.write_letter(shop.desk, due[0])
        shop.clock.advance(days=14)
        assert letters.due_letters(shop.desk)[0].step == 2
        gross = invoices.invoice_view(shop.desk, key).row.gross_cents
        payments.take_payment(shop.desk, taken.job_id, gross, "cash")
        assert letters.due_letters(shop.desk) == []

    def test_a_shop_s_own_text_stands_in_its_place_and_a_strange_name_in_it_is_a_sentence(self, shop):
        own = Letters(texts={"ready 1": "Come and fetch {range}, {name}."})
        shops.keep_setting(shop.owner, own)
        taken = released(shop)
        number = letters.write_letter(shop.desk, letters.due_letters(shop.desk)[0])
        assert letters.mail_of(shop.desk, number).text.startswith(f"Come and fetch {taken.number}, Ruiz")
        with pytest.raises(Problem, match="in braces"):
            shops.keep_setting(shop.owner, Letters(texts={"ready 1": "{moon}"}))


class TestAWithdrawal:
    def test_owes_what_was_done_gives_the_rest_of_the_deposit_back_and_lists_the_pieces(self, shop):
        taken = agreed(shop, *FOUR)
        payments.take_payment(shop.desk, taken.job_id, 90_000, "card", deposit=True)
        done(shop, taken.job_id, "intake", "teardown")
        half = next(
            task for task in work_orders.task_lines(shop.owner, taken.job_id) if task.stage == "repair"
        )
        with shop.technician.change(Action.WORK) as work:
            work.get(Task, half.id, "task").done_share = 50
        account = withdrawals.reckon(shop.desk, taken.job_id)
        assert account.owed_cents > 0
        assert account.to_give_back == 90_000 - account.owed_cents
        key = withdrawals.withdraw(shop.desk, taken.job_id, "moving abroad")
        invoices.issue_invoice(shop.desk, key)
        bill = invoices.invoice_view(shop.desk, key)
        assert (bill.row.gross_cents, bill.row.standing) == (account.owed_cents, "settled")
        assert any("50 %" in line.because for line in bill.lines)
        payments.refund(shop.desk, taken.job_id, account.to_give_back, "card")
        assert jacket(shop.desk, taken.range_id).money.held_cents == 0
        assert stage_of(shop.owner, taken) is Stage.WITHDRAWN
        with pytest.raises(Problem, match="ended already"):
            withdrawals.withdraw(shop.desk, taken.job_id, "again")

    def test_before_anything_was_done_owes_nothing(self, shop):
        taken = agreed(shop)
        assert withdrawals.withdraw(shop.desk, taken.job_id, "too dear") is None


class TestAComeback:
    def test_within_the_warranty_is_free_goes_to_the_bench_at_once_and_settles_without_a_bill(self, shop):
        taken = released(shop)
        handovers.hand_over(shop.desk, taken.job_id)
        standing = warranty_clock.warranty(shop.desk, taken.range_id)
        assert (standing.standing, standing.until) == (True, shop.desk.today + dt.timedelta(days=90))
        customer = jacket(shop.desk, taken.range_id).customer_id
        shop.clock.advance(days=30)
        back = warranty.come_back(
            shop.desk, taken.range_id, intake.JobDraft(customer_id=customer, complaint="Lamp flickers")
        )
        walked(shop.owner, back.job_id, "lamp-cord.frayed")
        work_orders.write_order(shop.owner, back.job_id, Scope.MECHANICAL)
        with shop.owner.look() as session:
            assert agreed_jobs(session, {back.job_id}) == {back.job_id}
        covered(shop, back.job_id)
        done(shop, back.job_id)
        key = warranty.draft_free_invoice(shop.desk, back.job_id)
        view = invoices.invoice_view(shop.desk, key)
        assert view.row.gross_cents == 0
        assert all(line.net_cents == 0 < line.full_cents for line in view.lines)
        invoices.drop_invoice(shop.desk, key)
        handovers.hand_over(shop.desk, back.job_id, red_tagged=True)
        assert jacket(shop.desk, back.range_id, back.job_id).stage is Stage.SETTLED

    def test_after_it_has_run_out_is_the_owner_s_to_give_with_a_reason(self, shop):
        taken = released(shop)
        handovers.hand_over(shop.desk, taken.job_id)
        shop.clock.advance(days=91)
        draft = intake.JobDraft(customer_id=jacket(shop.desk, taken.range_id).customer_id)
        with pytest.raises(Problem, match="run out"):
            warranty.come_back(shop.owner, taken.range_id, draft, free=True)
        with pytest.raises(NotAllowed):
            warranty.come_back(shop.desk, taken.range_id, draft, free=True, why="kindness")
        back = warranty.come_back(shop.desk, taken.range_id, draft)
        with pytest.raises(Problem, match="not done at no charge"):
            warranty.draft_free_invoice(shop.desk, back.job_id)


class TestCustomers:
    def test_two_records_become_one_and_issued_papers_keep_the_old(self, shop):
        taken = agreed(shop)
        key = billed(shop, taken.job_id)
        gone = jacket(shop.desk, taken.range_id).customer_id
        before = paper_bytes(shop.desk, "I-0001")
        keep = a_customer(shop.desk, "Ruiz, A.", email="ruiz@example.org")
        assert (gone, keep) == (invoices.invoice_view(shop.desk, key).row.customer_id, keep)
        assert gone in {other for other, _ in party_merging.alike(shop.desk, keep)}
        party_merging.merge(shop.desk, keep, gone)
        assert jacket(shop.desk, taken.range_id).customer_id == keep
        assert [row.id for row in people.parties(shop.desk, kind="customer")] == [keep]
        owed = accounts.account(shop.desk, keep).owed_cents
        assert owed == invoices.invoice_view(shop.desk, key).row.gross_cents
        assert paper_bytes(shop.desk, "I-0001") == before
        with pytest.raises(Problem, match="one with another"):
            party_merging.merge(shop.desk, keep, gone)

    def test_are_erased_only_once_nothing_is_open_and_papers_stand(self, shop):
        taken = agreed(shop)
        key = billed(shop, taken.job_id)
        customer = jacket(shop.desk, taken.range_id).customer_id
        with pytest.raises(Problem, match="Finish or end"):
            erasing.erase(shop.owner, customer)
        handovers.hand_over(shop.desk, taken.job_id, red_tagged=True)
        gross = invoices.invoice_view(shop.desk, key).row.gross_cents
        payments.take_payment(shop.desk, taken.job_id, gross + 500, "cash")
        with pytest.raises(Problem, match="held for them"):
            erasing.erase(shop.owner, customer)
        payments.refund(shop.desk, taken.job_id, 500, "cash")
        before = paper_bytes(shop.desk, "I-0001")
        with pytest.raises(NotAllowed):
            erasing.erase(shop.desk, customer)
        erasing.erase(shop.owner, customer)
        kept = people.party_draft(shop.owner, customer)
        assert (kept.name, kept.phone, kept.street) == ("erased", "", "")
        assert counter.find_jobs(shop.owner, "ruiz") == []
        assert paper_bytes(shop.desk, "I-0001") == before

    def test_pay_several_bills_at_once_keep_what_is_over_and_use_it_later(self, shop):
        customer = a_customer(shop.desk, "Quill")
        keys, jobs = [], []
        for _ in range(2):
            taken = agreed(shop)
            jobs.append(taken.job_id)
            keys.append(billed(shop, taken.job_id))
        for taken_by in (jacket(shop.desk, row.range_id).customer_id for row in counter.find_jobs(shop.desk)):
            party_merging.merge(shop.desk, customer, taken_by)
        gross = [invoices.invoice_view(shop.desk, key).row.gross_cents for key in keys]
        accounts.pay(shop.desk, customer, sum(gross) - 1000, "transfer")
        assert [invoices.invoice_view(shop.desk, key).row.open_cents for key in keys] == [0, 1000]
        accounts.pay(shop.desk, customer, 5000, "cash", shares={keys[1]: 400})
        assert accounts.account(shop.desk, customer).held_cents == 4600
        assert accounts.use_credit(shop.desk, keys[1]) == 600
        with pytest.raises(Problem, match="Nothing is open"):
            accounts.use_credit(shop.desk, keys[1])
        with pytest.raises(Problem, match="no open bill"):
            accounts.pay(shop.desk, customer, 5000, "cash", shares={999: 1})
        with pytest.raises(Problem, match="Only"):
            accounts.give_back(shop.desk, customer, 4001, "cash")
        accounts.give_back(shop.desk, customer, 4000, "cash")
        number = statements.print_statement(
            shop.desk, customer, shop.desk.today - dt.timedelta(days=30), shop.desk.today
        )
        assert number == "A-0001"
        assert statements.owed_by_age(shop.desk) == []

    def test_owe_by_age(self, shop):
        taken = agreed(shop)
        key = billed(shop, taken.job_id)
        gross = invoices.invoice_view(shop.desk, key).row.gross_cents
        for days, place in ((0, 0), (14, 0), (1, 1), (29, 1), (1, 2), (59, 3), (1, 4)):
            shop.clock.advance(days=days)
            row = statements.owed_by_age(shop.desk)[0]
            assert (row.owed_cents, row.ages[place]) == (gross, gross), (days, place)
        with pytest.raises(Problem, match="ends on or after"):
            statements.preview_statement(
                shop.desk, row.party_id, shop.desk.today, shop.desk.today - dt.timedelta(days=1)
            )


def test_a_whole_number_finds_its_job_and_no_other(shop):
    first, second = a_range(shop.owner), a_range(shop.owner)
    people.keep_party(shop.desk, people.PartyDraft(name="Other", phone="555 0002"))
    kept = people.party_draft(shop.desk, jacket(shop.desk, first.range_id).customer_id)
    people.keep_party(
        shop.desk, replace(kept, phone="555 0002"), jacket(shop.desk, first.range_id).customer_id
    )
    assert [row.number for row in counter.find_jobs(shop.desk, "R-0002")] == [second.number]
    assert [row.number for row in counter.find_jobs(shop.desk, "0002")] == [second.number, first.number]
