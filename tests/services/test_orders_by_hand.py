"""A work order changed by hand, the difference shown before it is written again, and its critical path."""

import networkx as nx
import pytest
from builders import FOUR, a_range, a_shop, agreed, covered, found, owned, task_of, walked
from fixed_clock import FixedClock
from hypothesis import given, settings
from hypothesis import strategies as st

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.money import Spread, round_half_up
from shopdesk.domain.problem import Problem
from shopdesk.services import (
    agreements,
    bench,
    order_by_hand,
    own_tasks,
    quotes,
    shops,
    stores,
    walks,
    work_orders,
)
from shopdesk.services.order_difference import preview_changes
from shopdesk.services.order_timing import order_timing
from shopdesk.services.settings import CatalogueChanges
from shopdesk.storage import make_shop

PART = Spread(10, 15, 30)


def lines(shop, job):
    return work_orders.task_lines(shop.owner, job)


def names(shop, job):
    return [t.name for t in lines(shop, job)]


def in_valid_order(shop, job):
    place = {t.id: n for n, t in enumerate(lines(shop, job))}
    return all(place[a] < place[t.id] for t in lines(shop, job) for a in t.after if a in place)


def a_split(shop, job, code="free-valve"):
    task = task_of(shop.owner, job, code)
    return task, order_by_hand.split_task(shop.owner, task.id, "The two that sit fast", PART)


def test_a_split_part_stands_beside_its_task_with_its_causes_and_its_share_of_the_hours(shop):
    job = owned(shop, *FOUR).job_id
    before, key = a_split(shop, job)
    after = task_of(shop.owner, job, "free-valve")
    part = next(t for t in lines(shop, job) if t.id == key)
    assert after.minutes.likely + part.minutes.likely == before.minutes.likely
    assert (part.because, part.hazards, part.proofs) == (before.because, before.hazards, before.proofs)
    assert part.after == (before.id,)
    place = [t.id for t in lines(shop, job)]
    assert place.index(key) == place.index(before.id) + 1
    followers = {t.id for t in lines(shop, job) if before.id in t.after} - {key}
    assert followers
    assert followers == {t.id for t in lines(shop, job) if key in t.after}
    assert in_valid_order(shop, job)


def test_a_split_stays_when_the_order_is_written_again(shop):
    job = owned(shop, *FOUR).job_id
    _, key = a_split(shop, job)
    order_by_hand.split_task(shop.owner, key, "The last one", Spread(2, 5, 9))
    was = lines(shop, job)
    assert not preview_changes(shop.owner, job)
    assert work_orders.write_order(shop.owner, job) == work_orders.OrderChange((), (), ())
    assert lines(shop, job) == was
    assert in_valid_order(shop, job)


def test_a_part_takes_less_than_its_task_and_nothing_is_split_off_what_is_ticked(shop):
    job = owned(shop, *FOUR).job_id
    task = task_of(shop.owner, job, "receive-range")
    for minutes in (task.minutes.likely, 0):
        with pytest.raises(Problem, match="the part takes less than that"):
            order_by_hand.split_task(shop.owner, task.id, "Half", Spread(0, minutes, minutes))
    bench.tick(shop.technician, task.id)
    with pytest.raises(Problem, match="ticked"):
        order_by_hand.split_task(shop.owner, task.id, "Half", Spread(1, 1, 1))


def test_words_and_hours_set_by_hand_outlive_the_plan_until_it_may_speak_again(shop):
    job = owned(shop, *FOUR).job_id
    task = task_of(shop.owner, job, "free-valve")
    order_by_hand.reword_task(shop.owner, task.id, " Free valves 2 and 5 ", Spread(20, 40, 80))
    walked(shop.owner, job, "lamp-cord.frayed", "burner-valves.seized")
    work_orders.write_order(shop.owner, job)
    kept = task_of(shop.owner, job, "free-valve")
    assert (kept.name, kept.minutes) == ("Free valves 2 and 5", Spread(20, 40, 80))
    order_by_hand.let_plan_speak(shop.owner, task.id)
    (change,) = preview_changes(shop.owner, job).changed
    assert next((f.name, f.was) for f in change.fields) == ("Name", "Free valves 2 and 5")
    work_orders.write_order(shop.owner, job)
    assert task_of(shop.owner, job, "free-valve").name == task.name


def test_a_dropped_task_stays_off_until_it_is_put_back(shop):
    job = owned(shop, *FOUR).job_id
    task = task_of(shop.owner, job, "free-valve")
    with pytest.raises(Problem, match="why it is not done"):
        order_by_hand.drop_task(shop.owner, task.id, " ")
    order_by_hand.drop_task(shop.owner, task.id, "the customer brings new valves")
    assert task.name not in names(shop, job)
    assert work_orders.write_order(shop.owner, job) == work_orders.OrderChange((), (), ())
    assert task.name not in names(shop, job)
    assert not preview_changes(shop.owner, job)
    (off,) = order_by_hand.dropped_tasks(shop.owner, job)
    assert (off.id, off.by_hand, off.note) == (task.id, True, "Dropped: the customer brings new valves.")
    order_by_hand.put_task_back(shop.owner, task.id)
    assert task.name in names(shop, job)
    assert in_valid_order(shop, job)
    with pytest.raises(Problem, match="is on the work order"):
        order_by_hand.put_task_back(shop.owner, task.id)


@pytest.mark.parametrize("deed", ["hours", "tick", "part"])
def test_a_task_on_which_something_was_done_is_not_dropped(shop, deed):
    job = owned(shop, *FOUR).job_id
    if deed == "hours":
        task = task_of(shop.owner, job, "free-valve")
        bench.log_minutes(shop.technician, task.id, 5)
    elif deed == "tick":
        task = task_of(shop.owner, job, "receive-range")
        bench.tick(shop.technician, task.id, 50)
    else:
        need = stores.needs(shop.owner, job_id=job)[0]
        covered(shop, job)
        task = next(t for t in lines(shop, job) if t.name == need.task)
    with pytest.raises(Problem, match="Something was done on"):
        order_by_hand.drop_task(shop.owner, task.id, "no")


def test_what_the_customer_declined_is_not_put_back(shop):
    job = agreed(shop).job_id
    change = bench.find_more(shop.technician, job, "Flue collar rusted", PART)
    agreements.decline(shop.desk, quotes.quote_change(shop.desk, change))
    (off,) = order_by_hand.dropped_tasks(shop.owner, job)
    with pytest.raises(Problem, match="X-0001, which the customer declined"):
        order_by_hand.put_task_back(shop.owner, off.id)


def test_a_task_of_the_catalogue_comes_in_its_place_with_its_parts_and_stays(shop):
    job = owned(shop).job_id
    assert "new-bulb-clips" not in [t.code for t in lines(shop, job)]
    key = order_by_hand.add_known_task(shop.owner, job, "new-bulb-clips")
    task = task_of(shop.owner, job, "new-bulb-clips")
    assert [c.kind.value for c in task.because] == ["hand"]
    assert task_of(shop.owner, job, "strip-loose-parts").id in task.after
    assert "bulb clips, pair" in [n.name for n in stores.needs(shop.owner, job_id=job)]
    assert in_valid_order(shop, job)
    assert work_orders.write_order(shop.owner, job).gone == ()
    assert task_of(shop.owner, job, "new-bulb-clips").id == key
    with pytest.raises(Problem, match="on the work order already"):
        order_by_hand.add_known_task(shop.owner, job, "new-bulb-clips")
    with pytest.raises(Problem, match="no task polish-the-moon"):
        order_by_hand.add_known_task(shop.owner, job, "polish-the-moon")


def test_a_task_made_by_hand_joins_the_catalogue_and_is_on_the_next_order(shop):
    job = owned(shop).job_id
    key = work_orders.add_task(shop.owner, job, "Oil the fold-top's hinge!", Spread(5, 20, 40))
    code = own_tasks.join_catalogue(shop.owner, key, routine=Scope.MECHANICAL)
    assert code == "oil-the-fold-top-s-hinge"
    seat = shop.owner.refreshed()
    assert seat.catalogue.tasks[code].minutes == Spread(5, 20, 40)
    with pytest.raises(Problem, match="in the catalogue already"):
        own_tasks.join_catalogue(shop.owner, key)
    other = a_range(seat, own=True)
    walked(seat, other.job_id)
    work_orders.write_order(seat, other.job_id)
    assert code in [t.code for t in work_orders.task_lines(seat, other.job_id)]
    work_orders.write_order(seat, job)  # the row made by hand is this task, not a second one
    assert [t.id for t in work_orders.task_lines(seat, job) if t.code == code] == [key]


def test_two_tasks_of_one_name_get_codes_of_their_own(shop):
    job = owned(shop).job_id
    codes = [
        own_tasks.join_catalogue(shop.owner, work_orders.add_task(shop.owner, job, name, PART))
        for name in ("Oil it", "Oil it", "Ölen")
    ]
    assert codes == ["oil-it", "oil-it-2", "len"]
    assert len(shops.setting(shop.owner, CatalogueChanges).catalogue["add"]["task"]) == 3


def test_a_changed_scope_is_shown_as_a_difference_before_it_is_written(shop):
    job = owned(shop, *FOUR).job_id
    was = lines(shop, job)
    difference = preview_changes(shop.owner, job, Scope.SHOW)
    assert lines(shop, job) == was
    assert difference.added
    assert all(task.because for task in difference.added)
    for change in difference.changed:
        for field in change.fields:
            assert field.was != field.becomes
    written = work_orders.write_order(shop.owner, job, Scope.SHOW)
    assert written.added == tuple(t.name for t in difference.added)
    assert written.gone == tuple(t.name for t in difference.gone)
    assert not preview_changes(shop.owner, job)


def test_a_second_walk_shows_what_goes_and_what_stays_because_it_was_worked_on(shop):
    job = owned(shop, *FOUR).job_id
    bench.log_minutes(shop.technician, task_of(shop.owner, job, "free-valve").id, 30)
    walk = walked(shop.owner, job, "oven-floor.worn", finished=False)
    walks.answer(shop.owner, walk, found("broiler-screws.pulled-through"))
    difference = preview_changes(shop.owner, job)
    assert "free-valve" in {t.code for t in difference.stays}
    assert "rewire-lamp" in {t.code for t in difference.gone}
    assert "free-valve" not in {t.code for t in difference.gone}


FINDINGS = st.sets(
    st.sampled_from([*FOUR, "oven-floor.chipped", "burner-valves.stiff", "thermostat-dial.stiff"]), max_size=4
)


@settings(settings.get_profile("databases"))
@given(first=FINDINGS, second=FINDINGS, scope=st.sampled_from(list(Scope)))
def test_what_is_shown_is_what_is_written_and_writing_again_changes_nothing(
    tmp_path_factory, first, second, scope
):
    """On the file database: the two databases meet the same services elsewhere."""
    place = tmp_path_factory.mktemp("difference") / "shop.db"
    make_shop(place)
    shop = a_shop(str(place), FixedClock())
    known = shop.owner.catalogue.findings
    try:
        job = owned(shop, *sorted(f for f in first if f in known)).job_id
        walked(shop.owner, job, *sorted(f for f in second if f in known))
        difference = preview_changes(shop.owner, job, scope)
        written = work_orders.write_order(shop.owner, job, scope)
        assert set(written.added) == {t.name for t in difference.added}
        assert set(written.gone) == {t.name for t in difference.gone}
        assert not preview_changes(shop.owner, job)
        assert work_orders.write_order(shop.owner, job) == work_orders.OrderChange((), (), ())
        assert in_valid_order(shop, job)
    finally:
        shop.owner.file.close()


def test_the_critical_path_of_a_job_is_the_longest_chain_of_what_is_left(shop):
    job = owned(shop, *FOUR).job_id
    whole = order_timing(shop.owner, job)
    graph = nx.DiGraph()
    mean = {t.id: (t.minutes.low + 4 * t.minutes.likely + t.minutes.high) / 6 for t in lines(shop, job)}
    away = {r.task_id: r.length - mean[r.task_id] for r in whole.rows}
    for task in lines(shop, job):
        graph.add_edge(task.id, "end", weight=mean[task.id] + round(away[task.id] / 480) * 480)
        for earlier in task.after:
            graph.add_edge(earlier, task.id, weight=mean[earlier] + round(away[earlier] / 480) * 480)
    assert whole.length == pytest.approx(nx.dag_longest_path_length(graph), abs=1)
    critical = {r.task_id for r in whole.rows if r.critical}
    assert set(whole.path) <= critical
    assert all(r.slack > 0 for r in whole.rows if r.task_id not in critical)
    first = task_of(shop.owner, job, "receive-range")
    bench.tick(shop.technician, first.id)
    left = order_timing(shop.owner, job)
    assert left.length == whole.length - round_half_up(
        next(r.length for r in whole.rows if r.task_id == first.id)
    )
    assert order_timing(shop.owner, job, left_only=False).length == whole.length
