"""Hours the shop's own work proposes: taken or left by the owner, with the shipped ones kept beside them."""

import pytest
from builders import owned, task_of

from shopdesk.domain.money import Spread
from shopdesk.domain.problem import NotAllowed, Problem
from shopdesk.services import bench, learning, order_by_hand, work_orders
from shopdesk.services.settings import CatalogueChanges
from shopdesk.services.shops import setting

CODE = "receive-range"


def done_job(shop, factor, *, by=None, split=False):
    """A job whose first task took `factor` times what the catalogue says."""
    job = owned(shop).job_id
    task = task_of(shop.owner, job, CODE)
    minutes = shop.owner.catalogue.tasks[CODE].minutes.likely * factor
    parts = [task.id]
    if split:
        parts.append(order_by_hand.split_task(shop.owner, task.id, "The crate", Spread(1, 2, 3)))
    for part in parts:
        bench.log_minutes(by or shop.technician, part, int(minutes) // len(parts))
        bench.tick(by or shop.technician, part)
    return job


def proposal(shop):
    return next((p for p in learning.proposals(shop.owner.refreshed()) if p.task_code == CODE), None)


def test_hours_are_proposed_after_enough_jobs_and_not_after_few(shop):
    for _ in range(2):
        done_job(shop, 3)
    assert proposal(shop) is None
    for _ in range(4):
        done_job(shop, 3)
    found = proposal(shop)
    assert found.jobs == 6
    assert 1 < found.ratio < found.plain == pytest.approx(3, rel=0.05)
    assert found.shipped == shop.owner.catalogue.tasks[CODE].minutes
    assert found.own is None
    assert found.shipped.likely < found.proposed.likely < 3 * found.shipped.likely
    assert found.proposed.low <= found.proposed.likely <= found.proposed.high


def test_taken_hours_are_the_shop_s_own_for_orders_to_come_and_can_be_given_back(shop):
    for _ in range(6):
        done_job(shop, 3)
    wanted = proposal(shop).proposed
    learning.take_proposal(shop.owner, CODE)
    seat = shop.owner.refreshed()
    assert seat.catalogue.tasks[CODE].minutes == wanted
    (row,) = learning.own_hours(seat)
    assert (row.own, row.shipped, row.by) == (
        wanted,
        shop.owner.catalogue.tasks[CODE].minutes,
        "Odile Fennimarsh",
    )
    assert proposal(shop) is None  # nothing more to say about it
    job = owned(shop).job_id
    work_orders.write_order(seat, job)
    assert task_of(seat, job, CODE).minutes == wanted
    learning.back_to_shipped(seat, CODE)
    assert seat.refreshed().catalogue.tasks[CODE].minutes == row.shipped
    assert learning.own_hours(seat) == []


def test_a_proposal_that_was_left_comes_again_only_with_more_jobs(shop):
    for _ in range(5):
        done_job(shop, 3)
    learning.leave_proposal(shop.owner, CODE)
    assert proposal(shop) is None
    with pytest.raises(Problem, match="Nothing is proposed"):
        learning.take_proposal(shop.owner, CODE)
    for _ in range(2):
        done_job(shop, 3)
    assert proposal(shop) is None
    done_job(shop, 3)
    assert proposal(shop).jobs == 8
    assert setting(shop.owner, CatalogueChanges).catalogue == {}


def test_jobs_that_took_what_was_estimated_propose_nothing(shop):
    for _ in range(5):
        done_job(shop, 1)
    assert learning.proposals(shop.owner) == []


def test_a_split_task_is_learned_from_as_one_and_an_open_one_not_yet(shop):
    job = done_job(shop, 2, split=True)
    with shop.owner.look() as session:
        (done,) = learning.done_tasks(session, shop.owner.catalogue.tasks)
    likely = shop.owner.catalogue.tasks[CODE].minutes.likely
    assert (done.kind, done.person, done.estimate) == (CODE, "Bram Tollgate", likely)
    assert done.actual == pytest.approx(2 * likely, abs=2)
    part = next(t for t in work_orders.task_lines(shop.owner, job) if t.name == "The crate")
    bench.tick(shop.technician, part.id, 50)
    with shop.owner.look() as session:
        assert learning.done_tasks(session, shop.owner.catalogue.tasks) == []


def test_people_are_compared_on_the_same_kind_of_task(shop):
    for _ in range(6):
        done_job(shop, 2)
        done_job(shop, 1, by=shop.owner)
    pace = {p.name: p for p in learning.people_pace(shop.owner)}
    assert pace["Bram Tollgate"].ratio > 1 > pace["Odile Fennimarsh"].ratio
    assert pace["Bram Tollgate"].jobs == 6


def test_the_technician_neither_sees_nor_decides(shop):
    with pytest.raises(NotAllowed):
        learning.proposals(shop.technician)
    with pytest.raises(NotAllowed):
        learning.take_proposal(shop.technician, CODE)
