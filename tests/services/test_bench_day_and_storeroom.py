"""What the Bench and the Stores ask beside the older services, on both databases."""

from io import BytesIO

import pytest
from builders import Shop, a_firm, agreed, in_days
from PIL import Image

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.money import Spread
from shopdesk.domain.problem import NotAllowed, NotFound, Problem
from shopdesk.services import bench, bench_day, bench_pictures, outwork, storeroom, stores

SHOWN = ("trim-strips.worn", "burner-valves.seized")


def a_picture() -> bytes:
    buffer = BytesIO()
    Image.new("RGB", (40, 30), "grey").save(buffer, "PNG")
    return buffer.getvalue()


def test_a_day_names_its_ranges_tasks_people_and_clock(shop: Shop) -> None:
    taken = agreed(shop, *SHOWN)
    day = bench_day.bench_day(shop.technician)
    assert [r.job_id for r in day.ranges] == [taken.job_id]
    assert set(day.ranges[0].findings) == set(SHOWN)
    assert {name for _, name in day.people} == {"Odile Fennimarsh", "Bram Tollgate"}
    assert day.clock is None
    bench.clock_on(shop.technician, day.tasks[0].id)
    assert bench_day.bench_day(shop.technician).clock.task_id == day.tasks[0].id
    assert bench_day.bench_day(shop.owner).clock is None


def test_a_tick_stands_under_done_today_until_the_day_is_over(shop: Shop) -> None:
    agreed(shop, *SHOWN)
    task = bench.tasks_today(shop.technician)[0]
    bench.tick(shop.technician, task.id)
    staff_id = shop.technician.acting.staff_id
    assert [t.id for t in bench_day.done_today(shop.technician, staff_id)] == [task.id]
    assert bench_day.done_today(shop.technician, shop.owner.acting.staff_id) == []
    shop.clock.advance(days=1)
    assert bench_day.done_today(shop.technician) == []


def test_a_task_sheet_tells_why_how_with_what_and_how_long(shop: Shop) -> None:
    taken = agreed(shop, *SHOWN)
    tasks = bench.job_tasks(shop.owner, taken.job_id)
    valve = next(t for t in tasks if t.code == "free-valve")
    bench.log_minutes(shop.technician, valve.id, 90, note="soaked")
    sheet = bench_day.task_sheet(shop.owner, valve.id)
    assert sheet.because
    assert [(row.minutes, row.note) for row in sheet.hours] == [(90, "soaked")]
    need = stores.needs(shop.owner, job_id=taken.job_id)[0]
    with_parts = next(t for t in tasks if t.name == need.task)
    assert (need.name, need.quantity, 0, 0) in [
        (p.name, p.quantity, p.here, p.called_off)
        for p in bench_day.task_sheet(shop.owner, with_parts.id).parts
    ]


def test_pictures_hang_on_their_task_and_on_what_was_found_more(shop: Shop) -> None:
    taken = agreed(shop, *SHOWN)
    task = bench.tasks_today(shop.technician)[0]
    bench_pictures.photograph_task(shop.technician, task.id, a_picture(), "tag.png", caption="the tag")
    assert [p.caption for p in bench_day.task_sheet(shop.owner, task.id).photographs] == ["the tag"]
    change_id = bench.find_more(shop.technician, taken.job_id, "Manifold cracked", Spread(30, 60, 90))
    bench_pictures.photograph_found(shop.technician, change_id, [("crack.png", a_picture())], "crack")
    found = bench_day.found_more_task(shop.owner, change_id)
    (kept,) = bench_day.task_sheet(shop.owner, found).photographs
    assert kept.thumbnail.startswith(b"\xff\xd8")


def test_several_suppliers_get_an_order_each_and_are_remembered_by_part(shop: Shop) -> None:
    agreed(shop, *SHOWN, scope=Scope.SHOW)
    one, two = a_firm(shop.owner, supplies=True), a_firm(shop.owner, "Cobble Lane Fittings", supplies=True)
    needs = stores.needs(shop.owner, short_only=True)[:2]
    assert len(needs) == 2
    lines = [
        (firm, stores.OrderLine(need.name, need.short, 500, need_id=need.id))
        for firm, need in zip((one, two), needs, strict=True)
    ]
    made = storeroom.order_from_several(shop.desk, lines, expected_on=in_days(shop.owner, 9))
    assert len(made) == 2
    usual = storeroom.usual_suppliers(shop.owner, [need.name for need in needs])
    assert usual == {needs[0].name: one, needs[1].name: two}
    assert storeroom.usual_suppliers(shop.owner, []) == {}
    with pytest.raises(Problem):
        storeroom.order_from_several(shop.desk, [], expected_on=None)
    with pytest.raises(NotAllowed):
        storeroom.order_from_several(shop.technician, lines, expected_on=None)


def test_outwork_is_to_be_sent_until_it_went_out(shop: Shop) -> None:
    taken = agreed(shop, *SHOWN, scope=Scope.SHOW)
    plater = a_firm(shop.owner, "Lustrewick Platers", trade="plater")
    due = storeroom.outwork_tasks(shop.owner)
    piece = next(task for task in due if task.trade == "plater")
    assert piece.range_number == taken.number
    assert piece.waits
    outwork.send_out(shop.desk, plater, [outwork.PieceDraft(task_id=piece.task_id, name="Trim")])
    assert piece.task_id not in {task.task_id for task in storeroom.outwork_tasks(shop.owner)}


def test_a_part_is_laid_elsewhere_and_a_range_found_by_its_number(shop: Shop) -> None:
    taken = agreed(shop, *SHOWN)
    part = stores.keep_part(shop.owner, "knob, black", lies_at="box 12", count=2)
    storeroom.lay_part(shop.technician, part, " drawer 1 ")
    assert stores.parts(shop.owner)[0].lies_at == "drawer 1"
    with pytest.raises(NotFound):
        storeroom.lay_part(shop.owner, 999, "nowhere")
    assert storeroom.range_of(shop.owner, taken.number) == taken.range_id
    assert storeroom.range_of(shop.owner, "R-9999") is None
