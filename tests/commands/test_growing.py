"""A grown shop is a shop: whole by every check, numbered without a gap, found by typing, worked on."""

import json
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from fixed_clock import FixedClock
from typer.testing import CliRunner

from shopdesk.cli import app
from shopdesk.demo.grow import grow_shop
from shopdesk.domain.problem import Problem
from shopdesk.domain.stage import Stage
from shopdesk.services import bench, intake
from shopdesk.services.checking import faults
from shopdesk.services.finding import find
from shopdesk.services.floor import HELD, FloorOrder, FloorRow, floor
from shopdesk.services.invoices import invoices
from shopdesk.services.seat import open_shop
from shopdesk.services.statements import owed_by_age
from shopdesk.services.year_figures import year_figures
from shopdesk.storage import make_shop


@pytest.fixture(scope="module")
def grown(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("grown") / "shop.db"
    told = CliRunner().invoke(app, ["grow", str(place), "--years", "0.02", "--seed", "3", "--json"])
    assert told.exit_code == 0, told.output
    rows = json.loads(told.stdout)["rows"]
    assert rows["job"] == rows["gas_range"] == 60
    return place


def test_a_grown_shop_is_whole_and_goes_on_being_worked_in(grown: Path) -> None:
    seat = open_shop(grown, FixedClock())
    try:
        assert faults(seat) == []
        task = next(t for t in bench.tasks_today(seat) if not t.waits)
        bench.clock_on(seat, task.id)
        taken = intake.take_on(
            seat, intake.RangeDraft(maker="Corvane", model="No. 52"), intake.JobDraft(), booked_in=False
        )
        assert taken.number == "R-0061"
        assert faults(seat) == []
    finally:
        seat.file.close()


def test_a_grown_shop_is_found_by_typing_and_stands_on_the_floor_at_every_stage(grown: Path) -> None:
    seat = open_shop(grown, FixedClock(), looking=True)
    try:
        rows = floor(seat)
        assert {"looked at", "quoted", "on the bench", "ready", "settled"} <= {
            row.stage.value for row in rows
        }
        row = next(row for row in rows if row.customer)
        assert row.range_id in {one.record_id for one in find(seat, row.number) if one.kind == "range"}
        assert row.number in {one.title.split()[0] for one in find(seat, row.customer)}
    finally:
        seat.file.close()


@pytest.mark.parametrize("order", FloorOrder)
@pytest.mark.parametrize("chosen", [{}, {"held": HELD}, {"words": "corvane"}, {"stages": (Stage.SETTLED,)}])
def test_the_floor_in_pages_is_the_beginning_of_the_whole_floor_in_that_order(
    grown: Path, order: FloorOrder, chosen: dict[str, Any]
) -> None:
    seat = open_shop(grown, FixedClock(), looking=True)
    try:
        whole = floor(seat, order=order, limit=10_000, **chosen)
        assert len(whole) > 3
        assert [_sorted_by(row)[order] for row in whole] == sorted(_sorted_by(row)[order] for row in whole)
        assert floor(seat, order=order, limit=3, **chosen) == whole[:3]
    finally:
        seat.file.close()


def _sorted_by(row: FloorRow) -> dict[FloorOrder, tuple[Any, ...]]:
    return {
        FloorOrder.NUMBER: (-int(row.number.removeprefix("R-")),),
        FloorOrder.PROMISED: (row.promised_on is None, row.promised_on or 0, row.job_id),
        FloorOrder.STAGE: (list(Stage).index(row.stage), row.job_id),
        FloorOrder.HELD_SINCE: (row.held_since is None, row.held_since or 0, row.job_id),
        FloorOrder.CUSTOMER: (row.customer == "", row.customer, row.job_id),
    }


def test_the_figures_of_a_year_are_the_sums_of_its_jobs(grown: Path) -> None:
    seat = open_shop(grown, FixedClock(), looking=True)
    try:
        rows = floor(seat, limit=10_000)
        figures = year_figures(seat, 2026)
        worked = [hours for row in rows for hours in bench.time_rows(seat, row.job_id)]
        assert figures.minutes == sum(
            hours.minutes or 0 for hours in worked if seat.region.local_day(hours.started_at).year == 2026
        )
        issued = [bill for row in rows for bill in invoices(seat, job_id=row.job_id)]
        assert figures.bills == sum(bill.kind == "invoice" for bill in issued if bill.on_day.year == 2026)
        assert figures.parts_cents > 0
        assert figures.margin_cents == (
            figures.billed_cents - figures.hours_cents - figures.parts_cents - figures.outwork_cents
        )
        assert sum(figures.ages) == sum(owing.owed_cents for owing in owed_by_age(seat)) > 0
    finally:
        seat.file.close()


def test_a_grown_shop_has_the_schema_of_a_new_one(grown: Path, tmp_path: Path) -> None:
    make_shop(tmp_path / "new.db")
    assert _schema(grown) == _schema(tmp_path / "new.db")


def test_a_shop_is_not_grown_over_a_file_that_is_there(grown: Path) -> None:
    before = grown.read_bytes()
    with pytest.raises(Problem, match="already a file"):
        grow_shop(grown, years=1)
    assert grown.read_bytes() == before


def _schema(place: Path) -> set[tuple[str, str, str]]:
    with closing(sqlite3.connect(place)) as connection:
        return set(connection.execute("SELECT type, name, coalesce(sql, '') FROM sqlite_master"))
