"""Cautions: read by each person for each kind of task before it is ticked."""

import pytest
from builders import Shop, agreed, owned, task_of

from shopdesk.domain.money import Spread
from shopdesk.domain.problem import NotAllowed
from shopdesk.domain.rights import Role
from shopdesk.services import bench, cautions, order_by_hand, shops, work_orders
from shopdesk.services.cautions import Unread
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.bench import CautionSeen


@pytest.fixture
def newcomer(shop: Shop) -> Seat:
    """Somebody who has read nothing yet."""
    return shop.owner.taken_by(shops.keep_staff(shop.owner, shops.StaffDraft("Wilf Orrery", Role.TECHNICIAN)))


def rows(seat: Seat) -> int:
    with seat.look() as session:
        return session.query(CautionSeen).filter(CautionSeen.staff_id == seat.acting.staff_id).count()


def test_a_tick_waits_until_this_person_has_read_and_the_sentence_names_the_cautions(shop, newcomer):
    task = task_of(shop.owner, agreed(shop).job_id, "receive-range")
    with pytest.raises(Unread, match=r"“Receive.*” has cautions that Wilf Orrery has not read yet: Weight"):
        bench.tick(newcomer, task.id)
    with pytest.raises(Unread):
        bench.tick(newcomer, task.id, 25)
    cautions.acknowledge(newcomer, task.id)
    bench.tick(newcomer, task.id)
    bench.tick(newcomer, task.id, 0)


def test_the_clock_does_not_wait_for_reading(shop, newcomer):
    task = task_of(shop.owner, agreed(shop).job_id, "receive-range")
    bench.clock_on(newcomer, task.id)
    assert bench.running_clock(newcomer).task_id == task.id


def test_cautions_are_shown_every_time_and_are_new_only_once(shop, newcomer):
    one, other = agreed(shop).job_id, owned(shop).job_id
    shown = cautions.cautions_for(newcomer, task_of(shop.owner, one, "isolate-and-cap").id)
    assert shown.read_at is None
    assert shown.kind == "isolate-and-cap"
    assert "gas" in {c.code for c in shown.new}
    assert all(c.text and c.defer_to for c in shown.cautions)
    cautions.acknowledge(newcomer, shown.task_id)
    again = cautions.cautions_for(newcomer, task_of(shop.owner, other, "isolate-and-cap").id)
    assert again.cautions == shown.cautions
    assert (again.new, again.read_at) == ((), shop.clock())
    elsewhere = cautions.cautions_for(newcomer, task_of(shop.owner, other, "take-out-manifold").id)
    assert elsewhere.new  # another kind of task is read for itself


def test_reading_again_writes_nothing(shop, newcomer):
    task = task_of(shop.owner, agreed(shop).job_id, "isolate-and-cap")
    cautions.acknowledge(newcomer, task.id)
    cautions.acknowledge(newcomer, task.id)
    assert rows(newcomer) == 1


def test_what_one_person_read_counts_for_nobody_else(shop, newcomer):
    task = task_of(shop.owner, agreed(shop).job_id, "receive-range")
    other = shop.owner.taken_by(
        shops.keep_staff(shop.owner, shops.StaffDraft("Ansel Crook", Role.TECHNICIAN))
    )
    cautions.acknowledge(newcomer, task.id)
    with pytest.raises(Unread, match="Ansel Crook"):
        bench.tick(other, task.id)


def test_a_part_split_off_is_of_the_kind_of_its_task(shop, newcomer):
    task = task_of(shop.owner, agreed(shop).job_id, "isolate-and-cap")
    part = order_by_hand.split_task(shop.owner, task.id, "Cap the inlet", Spread(1, 2, 4))
    assert cautions.cautions_for(newcomer, part).kind == "isolate-and-cap"
    cautions.acknowledge(newcomer, task.id)
    assert cautions.cautions_for(newcomer, part).new == ()


def test_a_task_without_cautions_needs_no_reading(shop, newcomer):
    job = owned(shop).job_id
    key = work_orders.add_task(shop.owner, job, "Sweep bay 2", Spread(5, 10, 20))
    bench.tick(newcomer, key)
    assert rows(newcomer) == 0


def test_the_desk_reads_no_cautions_in_another_s_place(shop):
    task = task_of(shop.owner, agreed(shop).job_id, "receive-range")
    with pytest.raises(NotAllowed):
        cautions.acknowledge(shop.desk, task.id)
