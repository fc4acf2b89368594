"""Work orders follow from the findings and never lose what was done on them."""

import pytest
from builders import FOUR, Shop, a_range, a_shop, agreed, covered, found, owned, quoted, task_of, walked
from fixed_clock import FixedClock
from hypothesis import given, settings
from hypothesis import strategies as st

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.money import Spread
from shopdesk.domain.problem import Problem
from shopdesk.domain.work import CauseKind
from shopdesk.services import bench, checking, quotes, stores, walks, work_orders
from shopdesk.storage import make_shop


def test_every_task_names_what_made_it_necessary_and_stands_after_what_it_needs(shop):
    taken = owned(shop, *FOUR)
    lines = work_orders.task_lines(shop.owner, taken.job_id)
    places = {line.id: place for place, line in enumerate(lines)}
    assert all(line.because for line in lines)
    assert all(places[earlier] < places[line.id] for line in lines for earlier in line.after)
    causes = {c.code for line in lines for c in line.because if c.kind is CauseKind.FINDING}
    assert set(FOUR) <= causes


def test_a_range_that_nobody_looked_at_has_no_order(shop):
    taken = a_range(shop.owner)
    with pytest.raises(Problem, match="no walk-round yet"):
        work_orders.write_order(shop.owner, taken.job_id)
    with pytest.raises(Problem, match="no work order yet"):
        work_orders.add_task(shop.owner, taken.job_id, "Polish the badge", Spread(5, 10, 20))
    assert work_orders.task_lines(shop.owner, taken.job_id) == []


def test_a_preview_of_a_larger_scope_writes_nothing(shop):
    taken = owned(shop, "front-panels.chipped")
    before = work_orders.task_lines(shop.owner, taken.job_id)
    assert len(work_orders.preview(shop.owner, taken.job_id, Scope.SHOW)) > len(before)
    assert work_orders.task_lines(shop.owner, taken.job_id) == before


def test_writing_the_order_again_changes_nothing(shop):
    taken = owned(shop, *FOUR)
    before = work_orders.task_lines(shop.owner, taken.job_id)
    needs = stores.needs(shop.owner, job_id=taken.job_id)
    change = work_orders.write_order(shop.owner, taken.job_id)
    assert change == work_orders.OrderChange((), (), ())
    assert work_orders.task_lines(shop.owner, taken.job_id) == before
    assert stores.needs(shop.owner, job_id=taken.job_id) == needs


def test_a_finding_taken_back_takes_its_task_off_the_order_even_after_it_was_quoted(shop):
    taken, _ = quoted(shop, *FOUR)
    cause = next(
        t for t in work_orders.task_lines(shop.owner, taken.job_id)
        if any(c.code == "lamp-cord.frayed" for c in t.because)
    )  # fmt: skip
    walked(shop.owner, taken.job_id, *FOUR[1:])
    change = work_orders.write_order(shop.owner, taken.job_id)
    assert cause.name in change.gone
    assert cause.name not in {n.task for n in stores.needs(shop.owner, job_id=taken.job_id)}
    walked(shop.owner, taken.job_id, *FOUR)
    again = work_orders.write_order(shop.owner, taken.job_id)
    assert cause.name in again.added
    assert task_of(shop.owner, taken.job_id, cause.code).id == cause.id  # the same task, not a second one
    assert checking.faults(shop.owner) == []


def test_an_answer_can_be_taken_back_after_the_order_was_written_from_it(shop):
    taken = a_range(shop.owner)
    walk_id = walked(shop.owner, taken.job_id, "lamp-cord.frayed", finished=False)
    work_orders.write_order(shop.owner, taken.job_id, Scope.MECHANICAL)
    walks.take_back(shop.owner, walk_id, "lamp-cord", "lamp-cord.frayed")
    change = work_orders.write_order(shop.owner, taken.job_id)
    assert change.gone
    assert checking.faults(shop.owner) == []


def test_more_of_a_finding_changes_the_count_and_the_hours(shop):
    taken = a_range(shop.owner)
    walk_id = walked(shop.owner, taken.job_id, "burner-valves.seized", finished=False)
    work_orders.write_order(shop.owner, taken.job_id, Scope.MECHANICAL)
    before = {t.code: t for t in work_orders.task_lines(shop.owner, taken.job_id)}
    walks.answer(shop.owner, walk_id, found("burner-valves.seized", extent=3))
    change = work_orders.write_order(shop.owner, taken.job_id)
    after = {t.code: t for t in work_orders.task_lines(shop.owner, taken.job_id)}
    grown = [code for code, task in after.items() if task.count > before[code].count]
    assert grown
    assert set(change.changed) == {after[code].name for code in grown}
    assert all(after[code].minutes.likely > before[code].minutes.likely for code in grown)


def test_a_task_by_hand_stands_at_the_end_and_stays(shop):
    taken = owned(shop)
    with pytest.raises(Problem, match="needs a name"):
        work_orders.add_task(shop.owner, taken.job_id, " ", Spread(5, 10, 20))
    key = work_orders.add_task(shop.owner, taken.job_id, "Polish the badge", Spread(5, 10, 20), "asked for")
    work_orders.write_order(shop.owner, taken.job_id)
    last = work_orders.task_lines(shop.owner, taken.job_id)[-1]
    assert (last.id, last.name, last.minutes, last.note) == (
        key, "Polish the badge", Spread(5, 10, 20), "asked for",
    )  # fmt: skip
    assert [c.kind for c in last.because] == [CauseKind.HAND]


def test_what_was_called_off_is_not_priced(shop):
    taken, first = quoted(shop, *FOUR)
    need = stores.needs(shop.owner, job_id=taken.job_id)[0]
    stores.call_off(shop.owner, need.id, "the old one is good")
    second = quotes.write_quote(shop.desk, taken.job_id)
    lines = [{line.need_id for line in quotes.quote_view(shop.desk, q).lines} for q in (first, second)]
    assert need.id in lines[0]
    assert need.id not in lines[1]
    work_orders.write_order(shop.owner, taken.job_id)
    assert next(n for n in stores.needs(shop.owner, job_id=taken.job_id) if n.id == need.id).short == 0


def test_a_covered_part_keeps_its_price_when_the_order_is_written_again(shop):
    taken = agreed(shop, *FOUR)
    covered(shop, taken.job_id)
    before = stores.needs(shop.owner, job_id=taken.job_id)
    work_orders.write_order(shop.owner, taken.job_id, Scope.MECHANICAL)
    assert stores.needs(shop.owner, job_id=taken.job_id) == before


_DEEDS = st.lists(
    st.one_of(
        st.tuples(st.just("find"), st.sets(st.sampled_from(FOUR))),
        st.tuples(st.sampled_from(["tick", "clock", "note", "hand", "cover"]), st.integers(0, 40)),
    ),
    min_size=1,
    max_size=10,
)


@settings(settings.get_profile("databases"))
@given(deeds=_DEEDS)
def test_whatever_was_done_before_it_is_written_again_stays(tmp_path_factory, deeds):
    """On the file database only: the deeds are the services', which run on both elsewhere."""
    place = tmp_path_factory.mktemp("order") / "shop.db"
    make_shop(place)
    shop = a_shop(str(place), FixedClock())
    try:
        _write_again_after(shop, deeds)
    finally:
        shop.owner.file.close()


def _write_again_after(shop: Shop, deeds: list[tuple[str, object]]) -> None:
    job = owned(shop, *FOUR).job_id
    for name, what in deeds:
        shop.clock.advance(minutes=7)
        if name == "find":
            walked(shop.owner, job, *sorted(what))
        else:
            _do(shop, job, name, what)
        before = {t.id: t for t in work_orders.task_lines(shop.owner, job)}
        hours = bench.time_rows(shop.owner, job)
        work_orders.write_order(shop.owner, job)
        after = {t.id: t for t in work_orders.task_lines(shop.owner, job)}
        assert bench.time_rows(shop.owner, job) == hours
        for key, task in before.items():
            if task.done_share or task.clocked or task.note:
                kept = after[key]
                assert (kept.done_share, kept.clocked, kept.note, kept.name) == (
                    task.done_share, task.clocked, task.note, task.name,
                )  # fmt: skip
        again = work_orders.write_order(shop.owner, job)
        assert again == work_orders.OrderChange((), (), ())
        assert {t.id: t for t in work_orders.task_lines(shop.owner, job)} == after
    assert checking.faults(shop.owner) == []


def _do(shop: Shop, job: int, name: str, place: object) -> None:
    tasks = work_orders.task_lines(shop.owner, job)
    task = tasks[int(str(place)) % len(tasks)]
    if name == "tick":
        free = [t for t in bench.job_tasks(shop.technician, job) if not t.waits and t.done_share < 100]
        for doable in free[:1]:
            bench.tick(shop.technician, doable.id, 50 if int(str(place)) % 3 == 0 else 100)
    elif name == "clock":
        bench.log_minutes(shop.technician, task.id, 15)
    elif name == "note":
        bench.note(shop.technician, task.id, f"note {place}")
    elif name == "hand":
        work_orders.add_task(shop.owner, job, f"by hand {place}", Spread(5, 10, 20))
    else:
        covered(shop, job)
