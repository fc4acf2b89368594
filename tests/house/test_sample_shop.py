"""The shipped sample: at the newest migration, whole, and showing what a sample should show."""

import collections
from pathlib import Path

import pytest

from shopdesk import paths
from shopdesk.domain.clock import now
from shopdesk.domain.stage import Stage
from shopdesk.services import checking, invoices, outwork, stores
from shopdesk.services.floor import FloorOrder, floor
from shopdesk.services.seat import Seat, is_sample, open_shop
from shopdesk.storage.backup import copy_shop


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory):
    copy = tmp_path_factory.mktemp("sample") / "sample.db"
    copy_shop(Path(paths.sample_shop()), copy)
    seat = open_shop(copy, now, looking=True)
    yield seat
    seat.file.close()


def test_the_sample_opens_with_this_program_and_is_whole(sample: Seat) -> None:
    assert checking.faults(sample) == []


def test_the_samples_calendar_stands_still(sample: Seat) -> None:
    assert is_sample(sample)
    assert sample.now == sample.now
    assert sample.today.isoformat() == "2026-03-17"


def test_the_sample_has_ranges_at_every_stage(sample: Seat) -> None:
    rows = floor(sample, order=FloorOrder.NUMBER)
    counted = collections.Counter(row.stage for row in rows)
    assert len(rows) >= 16
    assert set(counted) == set(Stage)


def test_the_sample_has_late_orders_outwork_out_and_invoices_of_every_kind(sample: Seat) -> None:
    assert any(order.standing == "late" for order in stores.orders(sample))
    assert outwork.consignments(sample, out_only=True)
    standings = {row.standing for row in invoices.invoices(sample)}
    assert {"settled", "past due"} <= standings
    assert any(0 < row.open_cents < row.gross_cents for row in invoices.invoices(sample))
