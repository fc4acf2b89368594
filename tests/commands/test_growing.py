"""A grown shop is a shop: whole by every check, numbered without a gap, found by typing, worked on."""

import json
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from fixed_clock import FixedClock
from typer.testing import CliRunner

from shopdesk.cli import app
from shopdesk.demo.grow import grow_shop
from shopdesk.domain.problem import Problem
from shopdesk.services import bench, intake
from shopdesk.services.checking import faults
from shopdesk.services.finding import find
from shopdesk.services.floor import floor
from shopdesk.services.seat import open_shop
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
