"""What a customer is told of a range, and what goes with it to the next owner."""

import datetime as dt
import io
import re
from collections.abc import Iterator

import pytest
from builders import FOUR, Shop, a_customer, agreed, billed, covered, done, owned, proved, reopened
from fixed_clock import FixedClock
from PIL import Image
from pypdf import PdfReader

from shopdesk.domain.problem import NotAllowed, Problem
from shopdesk.domain.rights import Action
from shopdesk.exchange.pictures import take_in
from shopdesk.services import (
    before_and_after,
    intake,
    invoices,
    log_books,
    payments,
    progress_letters,
    proofs,
    sales,
    shops,
    stock,
    stores,
    where_it_stands,
)
from shopdesk.services.letters import letters
from shopdesk.services.papers.keeping import paper_bytes, papers
from shopdesk.services.papers.mail import paper_mail
from shopdesk.services.planning import promises
from shopdesk.services.reckoning import findings, hours, kept_promises, months, ranges, standing
from shopdesk.services.reckoning.chosen import Chosen
from shopdesk.services.settings import Margin
from shopdesk.services.year_figures import year_figures
from shopdesk.storage.tables.plan import MorningOdds
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.walk import Observation, WalkRound
from shopdesk.storage.tables.work import Task, TaskCause, WorkOrder


@pytest.fixture
def here(set_up_file: str, clock: FixedClock) -> Iterator[Shop]:
    made = reopened(set_up_file, clock)
    yield made
    made.owner.file.close()


def a_shot(shop: Shop, range_id: int, shade: int, **where: object) -> int:
    """A grey picture of its own, kept with a range."""
    kept = io.BytesIO()
    Image.new("L", (80, 60), shade).convert("RGB").save(kept, "PNG")
    return intake.attach_photograph(shop.technician, range_id, take_in(kept.getvalue(), "shot.png"), **where)


def text_of(shop: Shop, number: str) -> str:
    pages = PdfReader(io.BytesIO(paper_bytes(shop.owner, number))).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)


def under_way(shop: Shop):
    """Agreed, with one task done and pictures of before and during."""
    taken = agreed(shop, *FOUR[:2])
    a_shot(shop, taken.range_id, 10)
    shop.clock.advance(days=1)
    covered(shop, taken.job_id)
    done(shop, taken.job_id, "intake")
    with shop.technician.change(Action.WORK) as work:
        task = work.session.query(Task).filter(Task.stage == "repair").order_by(Task.place).first()
        task.done_share, task.done_at, task.done_by_id = 100, work.now, shop.technician.acting.staff_id
        work.about(task, taken.job_id)
        name, key = task.name, task.id
    a_shot(shop, taken.range_id, 120, task_id=key)
    return taken, name


class TestWhereItStands:
    def test_says_what_was_done_the_day_with_its_odds_and_what_is_owed(self, here) -> None:
        taken, mended = under_way(here)
        day = here.owner.today + dt.timedelta(days=20)
        promises.promise(here.desk, taken.job_id, day)
        with here.owner.change(Action.PLAN_BENCH) as work:
            work.add(MorningOdds(job_id=taken.job_id, on_day=here.owner.today, promised_on=day,
                                 odds_percent=82, ready_50=day - dt.timedelta(days=4),
                                 ready_95=day + dt.timedelta(days=3)))  # fmt: skip
        payments.take_payment(here.desk, taken.job_id, 20_000, "cash", deposit=True)
        told = where_it_stands.where_it_stands(here.desk, taken.range_id)
        whole = " ".join(told.sentences)
        region = here.owner.region
        assert mended in whole
        assert region.day_long(day) in whole
        assert "about 8" in whole
        assert region.day_long(day + dt.timedelta(days=3)) in whole
        assert region.money(20_000) in whole
        assert told.promise.odds_percent == 82
        assert [p.when for p in told.pictures] == ["during", "before"]
        assert told.done[0] == mended

    def test_the_technician_may_answer_the_telephone_too(self, here) -> None:
        taken, _ = under_way(here)
        assert where_it_stands.where_it_stands(here.technician, taken.range_id).sentences


class TestTheProgressLetter:
    def test_is_drawn_from_the_thread_changed_kept_and_ready_for_the_mail(self, here) -> None:
        taken, mended = under_way(here)
        draft = progress_letters.draft_progress(here.desk, taken.job_id)
        assert mended in draft.text
        assert "Ruiz & Søn <b>" in draft.text
        assert len(draft.chosen) == len(draft.pictures) == 2
        number = progress_letters.write_progress(
            here.desk, taken.job_id, draft.text + "\n\nThe cat says hello.", draft.chosen
        )
        assert number == "G-0001"
        assert "The cat says hello." in text_of(here, number)
        assert len(PdfReader(io.BytesIO(paper_bytes(here.desk, number))).pages[0].images) >= 1
        mail = paper_mail(here.desk, number)
        assert b"The cat says hello." in mail
        [row] = [letter for letter in letters(here.desk, job_id=taken.job_id) if letter.kind == "progress"]
        assert row.paper == number

    def test_the_next_one_tells_only_what_came_since(self, here) -> None:
        taken, mended = under_way(here)
        first = progress_letters.draft_progress(here.desk, taken.job_id)
        progress_letters.write_progress(here.desk, taken.job_id, first.text, first.chosen)
        here.clock.advance(days=2)
        again = progress_letters.draft_progress(here.desk, taken.job_id)
        assert mended not in again.text
        assert again.pictures == ()
        done(here, taken.job_id, "teardown")
        shot = a_shot(here, taken.range_id, 200)
        third = progress_letters.draft_progress(here.desk, taken.job_id)
        assert [picture.id for picture in third.pictures] == [shot]
        assert "Done since" in third.text

    def test_an_empty_one_and_one_for_nobody_are_refused(self, here) -> None:
        taken, _ = under_way(here)
        with pytest.raises(Problem, match="empty"):
            progress_letters.write_progress(here.desk, taken.job_id, " \n\n ", ())
        with pytest.raises(NotAllowed):
            progress_letters.draft_progress(here.technician, taken.job_id)


class TestBeforeAndAfter:
    def test_the_best_pair_is_a_finding_and_the_work_it_led_to(self, here) -> None:
        taken = agreed(here, *FOUR[:2])
        job = where_it_stands.where_it_stands(here.owner, taken.range_id)
        assert job.job_id == taken.job_id
        seen = _observation(here, taken.job_id, FOUR[1])
        before = a_shot(here, taken.range_id, 30, observation_id=seen)
        a_shot(here, taken.range_id, 60)
        task = _task_for(here, taken.job_id, FOUR[1])
        after = a_shot(here, taken.range_id, 90, task_id=task)
        pair = before_and_after.best_pair(here.owner, taken.range_id)
        assert (pair.before, pair.after) == (before, after)
        number = before_and_after.print_pair(here.owner, taken.range_id, before, after, "Home again")
        assert "Home again" in text_of(here, number)
        assert len(PdfReader(io.BytesIO(paper_bytes(here.owner, number))).pages) == 1

    def test_one_picture_is_no_pair_and_twice_the_same_is_explained(self, here) -> None:
        taken = agreed(here, *FOUR[:2])
        only = a_shot(here, taken.range_id, 30)
        with pytest.raises(Problem, match="fewer than two"):
            before_and_after.best_pair(here.owner, taken.range_id)
        a_shot(here, taken.range_id, 31)
        with pytest.raises(Problem, match="same one") as refused:
            before_and_after.print_pair(here.owner, taken.range_id, only, only, "")
        assert refused.value.field == "after"


def _observation(shop: Shop, job_id: int, code: str) -> int:
    with shop.owner.look() as session:
        query = session.query(Observation.id).join(WalkRound).filter(WalkRound.job_id == job_id)
        return int(query.filter(Observation.finding == code).one()[0])


def _task_for(shop: Shop, job_id: int, code: str) -> int:
    with shop.owner.look() as session:
        query = session.query(Task.id).join(WorkOrder).join(TaskCause, TaskCause.task_id == Task.id)
        return int(query.filter(WorkOrder.job_id == job_id, TaskCause.code == code).first()[0])


class TestTheLogBook:
    def test_holds_the_work_the_parts_and_the_proofs_and_nobody_who_owned_it(self, here) -> None:
        taken = agreed(here, *FOUR)
        secret = (
            "Ruiz",
            "Larder Lane",
            "555 0142",
            "Quarrel Bend",
            "mother",
            "Zeltner",
            "Fitterby",
            "Hidden note",
        )
        with here.owner.change(Action.BOOK_IN) as work:
            work.get(Job, taken.job_id, "job").complaint = "Smelled of gas at my mother's"
            row = work.get(Range, taken.range_id, "range")
            row.house_gas, row.note, row.spuds_found = "Zeltner supply", "Hidden note", "natural"
            work.about(row, taken.job_id)
        a_shot(here, taken.range_id, 50, caption="Kitchen of Ruiz")
        covered(here, taken.job_id)
        done(here, taken.job_id)
        done(here, taken.job_id, "proving")
        proved(here, taken.job_id)
        proofs.release(here.owner, taken.job_id)
        number = log_books.print_log_book(here.owner, taken.range_id)
        told = text_of(here, number)
        for word in secret:
            assert word not in told.replace("Emberlow Range Works 4 Kiln Row · Quarrel Bend", "")
        assert not re.search(r"[$€£]|\d\.\d\d\b(?! in)", told.split("Proofs")[0])
        assert "Free the valve" in told
        assert "Released by Odile Fennimarsh" in told
        assert "natural" in told
        assert "new" in told.split("where they came from")[1]
        assert "not made" not in told
        assert papers(here.owner, job_id=taken.job_id)[0].kind == "log book"

    def test_a_part_from_a_donor_says_so_and_an_unreleased_range_is_not_to_be_lit(self, here) -> None:
        donor = agreed(here, FOUR[0])
        taken = agreed(here, *FOUR[:2])
        need = stores.needs(here.owner, job_id=taken.job_id)[0]
        part = stock.keep_part(here.owner, need.name, condition="used", from_range_id=donor.range_id, count=9)
        stores.cover_from_stock(here.owner, need.id, part)
        told = text_of(here, log_books.print_log_book(here.owner, taken.range_id))
        number = where_it_stands.where_it_stands(here.owner, donor.range_id).number
        assert f"used, from range {number}" in told
        assert "not released" in told


def test_reckoning_answers_alike_on_both_databases(shop: Shop) -> None:
    """The questions themselves, once on each; what they answer is compared over the sample elsewhere."""
    owner = shop.owner
    taken = agreed(shop, *FOUR)
    day = owner.today + dt.timedelta(days=3)
    promises.promise(owner, taken.job_id, day)
    key = billed(shop, taken.job_id)
    assert key
    proved(shop, taken.job_id)
    proofs.release(owner, taken.job_id)
    sales.add_outlay(owner, taken.job_id, "Haulage", 1234)
    [row] = ranges.range_figures(owner, Chosen())
    year = owner.today.year
    whole = year_figures(owner, year)
    assert (
        row.billed_cents == whole.billed_cents == sum(m.billed_cents for m in months.months(owner, year)) > 0
    )
    assert row.cost.parts == whole.parts_cents > 0
    groups = findings.finding_figures(owner, Chosen())
    assert sum(group.sum("cost_cents") for group in groups) == row.cost.whole
    assert (
        sum(group.sum("quoted_cents") for group in groups if group.key != findings.REST) <= row.agreed_cents
    )
    assert sum(bill.asked_cents for bill in standing.owed_bills(owner)) == sum(whole.ages) > 0
    assert [part.value_cents for part in standing.on_shelf(owner)] == []
    assert hours.hours_against_estimate(owner, year) == []
    [band] = kept_promises.bands(kept_promises.given_days(owner, year))
    assert (band.kept, len(band.days)) == (1, 1)
    assert months.papers_of(owner, year, owner.today.month)[0].cents == row.billed_cents
    assert where_it_stands.where_it_stands(shop.desk, taken.range_id).owed_cents == sum(whole.ages)
    assert log_books.preview_log_book(owner, taken.range_id).startswith(b"%PDF")


def test_a_credited_sale_under_the_margin_scheme_leaves_nothing_billed(here) -> None:
    shops.keep_setting(here.owner, Margin(on=True, percent="20", note="Margin scheme, second-hand goods."))
    taken = owned(here, *FOUR[:2])
    intake.buy(here.owner, taken.job_id, 50_000)
    sale = sales.draft_sale(here.desk, taken.job_id, a_customer(here.desk, "Quill"), 320_000)
    invoices.issue_invoice(here.desk, sale)
    year = here.owner.today.year
    assert year_figures(here.owner, year).billed_cents == 320_000 - 45_000  # 270 000 × 20 / 120 lies within
    invoices.credit_invoice(here.desk, sale, "The buyer stepped back.")
    assert year_figures(here.owner, year).billed_cents == 0
    assert sum(month.billed_cents for month in months.months(here.owner, year)) == 0
    [row] = ranges.range_figures(here.owner, Chosen())
    assert (row.billed_cents, row.cost.purchase) == (0, 50_000)
