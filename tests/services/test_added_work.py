"""Work that comes onto an order beside what is agreed: kept, waiting for consent, billed once it stands."""

import pytest
from builders import FOUR, agreed, covered, done, held_of, owned, task_of, walked
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.money import for_minutes
from shopdesk.domain.problem import Problem
from shopdesk.services import agreements, bench, consent, order_by_hand, quotes, work_orders
from shopdesk.services.agreed_hours import agreed_hours, beyond_agreed
from shopdesk.services.agreed_lines import _shared
from shopdesk.services.billable import ready_to_bill
from shopdesk.services.change_orders import change_orders
from shopdesk.services.hours_story import hours_story

ADDED = "fit-regulator"


@pytest.fixture
def set_up_place(set_up_file):
    """On the file database: a long day with added work runs on both in `test_no_hour_is_lost`."""
    return set_up_file


@pytest.fixture
def grown(shop):
    """An agreed job whose second walk-round found more: the task, its hours and its part."""
    taken = agreed(shop, *FOUR)
    walked(shop.owner, taken.job_id, *FOUR, "regulator.none")
    work_orders.write_order(shop.owner, taken.job_id)
    return taken


def kinds(shop, job, code):
    return {w.kind for t in bench.job_tasks(shop.technician, job) if t.code == code for w in t.waits}


def billed_tasks(shop, job):
    return {line.task_id for line in ready_to_bill(shop.desk, job).lines}


def test_what_a_second_walk_adds_waits_and_its_hours_and_parts_are_kept_and_not_billable(shop, grown):
    job = grown.job_id
    added = consent.added_unasked(shop.technician, job)
    task = task_of(shop.owner, job, ADDED)
    assert task.id in [key for key, _ in added]
    assert "unasked" in kinds(shop, job, ADDED)
    assert "answer" in held_of(shop.desk, grown)
    before = agreed_hours(shop.technician, job)
    bench.clock_on(shop.technician, task.id)  # the clock always runs
    shop.clock.advance(minutes=25)
    bench.clock_off(shop.technician)
    with pytest.raises(Problem, match="came onto the order beside what is agreed"):
        bench.tick(shop.technician, task.id)
    beyond = beyond_agreed(shop.technician, job)
    assert [(h.minutes, h.beyond, h.unasked) for h in beyond.hours] == [(25, 25, True)]
    assert "appliance regulator" in [p.name for p in beyond.parts if p.unasked]
    after = agreed_hours(shop.technician, job)
    assert (after.agreed, after.clocked, after.unasked) == (before.agreed, before.clocked, 25)
    covered(shop, job)
    done(shop, job)
    assert task.id not in billed_tasks(shop, job)


def test_it_is_asked_for_by_one_change_order_and_billed_once_that_is_agreed(shop, grown):
    job = grown.job_id
    keys = {key for key, _ in consent.added_unasked(shop.technician, job)}
    change = consent.ask_for_added(shop.technician, job)
    with pytest.raises(Problem, match="Nothing was added"):
        consent.ask_for_added(shop.technician, job)
    assert kinds(shop, job, ADDED) >= {"agreement"}
    quote_id = quotes.quote_change(shop.desk, change)
    view = quotes.quote_view(shop.desk, quote_id)
    assert {line.task_id for line in view.lines} <= keys
    agreements.agree(shop.desk, quote_id, who="Mr Ruiz", how="signed")
    assert not {"agreement", "unasked"} & kinds(shop, job, ADDED)
    assert beyond_agreed(shop.technician, job).parts == ()
    covered(shop, job)
    done(shop, job)
    key = task_of(shop.owner, job, ADDED).id
    lines = [li for li in ready_to_bill(shop.desk, job).lines if li.task_id == key]
    assert sorted(li.kind for li in lines) == ["labour", "part"]
    assert ready_to_bill(shop.desk, job).refusal is None


def test_declined_it_is_off_the_order_and_writing_the_order_again_does_not_bring_it_back(shop, grown):
    job = grown.job_id
    change = consent.ask_for_added(shop.technician, job)
    agreements.decline(shop.desk, quotes.quote_change(shop.desk, change))
    codes = [t.code for t in work_orders.task_lines(shop.owner, job)]
    assert ADDED not in codes
    work_orders.write_order(shop.owner, job)
    assert [t.code for t in work_orders.task_lines(shop.owner, job)] == codes
    assert consent.added_unasked(shop.owner, job) == []


def test_a_new_quote_for_the_job_that_holds_it_is_consent_too(shop, grown):
    job = grown.job_id
    agreements.agree(shop.desk, quotes.write_quote(shop.desk, job), who="Mr Ruiz", how="signed")
    assert consent.added_unasked(shop.owner, job) == []
    assert "unasked" not in kinds(shop, job, ADDED)


def test_tasks_added_by_a_person_or_a_larger_scope_wait_too_and_split_parts_of_agreed_ones_do_not(shop):
    job = agreed(shop, *FOUR).job_id
    root = task_of(shop.owner, job, "free-valve")
    order_by_hand.split_task(shop.owner, root.id, "The two that sit fast", bench.Spread(1, 5, 9))
    assert consent.added_unasked(shop.owner, job) == []
    by_hand = work_orders.add_task(shop.owner, job, "Oil the fold-top's hinge", bench.Spread(5, 20, 40))
    assert consent.added_unasked(shop.owner, job) == [(by_hand, "Oil the fold-top's hinge")]
    work_orders.write_order(shop.owner, job, Scope.EVERYDAY)
    assert len(consent.added_unasked(shop.owner, job)) > 5
    consent.ask_for_added(shop.owner, job)
    (row,) = change_orders(shop.desk, job_id=job)
    assert "more" in row.what
    own = owned(shop, *FOUR).job_id
    work_orders.add_task(shop.owner, own, "Oil the fold-top's hinge", bench.Spread(5, 20, 40))
    assert consent.added_unasked(shop.owner, own) == []


class Piece:
    def __init__(self, key: int, minutes: int) -> None:
        self.id, self.minutes_likely = key, minutes
        self.quantity, self.net_cents = minutes, minutes


@given(
    weights=st.lists(st.integers(0, 400), min_size=1, max_size=6),
    minutes=st.integers(0, 2000),
    rate=st.integers(1, 20000),
    data=st.data(),
)
def test_however_the_parts_are_billed_they_come_to_the_agreed_line(weights, minutes, rate, data):
    """Parts ticked and billed in any order, some together: minutes and cents sum to the line's."""
    line = Piece(0, minutes)
    line.net_cents = for_minutes(minutes, rate)
    tasks = [Piece(key, weight) for key, weight in enumerate(weights)]
    billed: dict[int, tuple[int, int]] = {}
    for key in data.draw(st.permutations(range(len(tasks)))):
        shares = _shared(line, tasks, billed)
        assert sum(s.minutes for s in shares) == line.quantity
        assert sum(s.cents for s in shares) == line.net_cents
        if data.draw(st.booleans()):
            tasks[key].minutes_likely += data.draw(st.integers(0, 50))
        due = next(s for s in shares if s.task.id == key)
        assert abs(due.cents - for_minutes(due.minutes, rate)) <= 1 + len(billed)
        billed[key] = (due.minutes, due.cents)
    assert sum(m for m, _ in billed.values()) == line.quantity
    assert sum(c for _, c in billed.values()) == line.net_cents


def test_the_story_says_of_added_work_that_nobody_was_asked(shop, grown):
    key = task_of(shop.owner, grown.job_id, ADDED).id
    row = next(r for r in hours_story(shop.desk, grown.job_id).rows if r.task_id == key)
    assert row.why[0].startswith("It came onto the order beside what is agreed")
