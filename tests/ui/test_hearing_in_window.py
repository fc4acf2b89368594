"""A window on a server's shop refreshes what other seats changed and leaves alone what is being typed."""

import json
from collections.abc import Callable, Iterator
from pathlib import Path

import few_pages
import pytest
import sqlalchemy as sa
from conftest import CannedDialogs  # type: ignore[import-not-found]
from fixed_clock import FixedClock
from pg_cluster import Cluster
from pytestqt.qtbot import QtBot

from shopdesk.domain.rights import Role
from shopdesk.services.hearing import Heard
from shopdesk.services.settings import ShopIdentity
from shopdesk.services.shops import StaffDraft, keep_staff, set_up
from shopdesk.ui.hearing import topics_of
from shopdesk.ui.memory import Memory
from shopdesk.ui.opening import Opening
from shopdesk.ui.view import View
from shopdesk.ui.window import MainWindow
from shopdesk.ui.workers import Workers
from shopdesk.wording import Region


@pytest.mark.parametrize(
    ("heard", "topics"),
    [
        (Heard(frozenset({"party"})), {"jobs", "ranges", "papers", "people"}),
        (Heard(frozenset({"task", "need"}), 7), {"jobs", "ranges", "papers", "stores", "job 7"}),
        (Heard(frozenset({"staff"})), {"jobs", "ranges", "papers", "staff"}),
        (Heard(missed=True), {"everything", "settings"}),
    ],
)
def test_what_was_touched_becomes_what_pages_listen_for(heard: Heard, topics: set[str]) -> None:
    assert topics_of(heard) == topics


@pytest.fixture
def window(
    qtbot: QtBot, workers: Workers, clock: FixedClock, dialogs: CannedDialogs, memory: Memory, view: View,
    tmp_path: Path, pg_cluster: Cluster, _pg_template: str,
) -> Iterator[MainWindow]:  # fmt: skip
    from shopdesk.services.seat import open_shop

    place = pg_cluster.create("window", template=_pg_template)
    seat = open_shop(place, clock)
    owner = set_up(seat, ShopIdentity(name="Hearth and Damper"), Region(), "Ida Kessler")
    keep_staff(owner, StaffDraft("Bo Lind", Role.TECHNICIAN))
    seat.file.close()
    opening = Opening(workers, clock)
    made = MainWindow(
        workers, opening, dialogs, memory, view, folder=tmp_path, sample_here=False,
        with_places=few_pages.few_places,
    )  # fmt: skip
    made.show()
    with qtbot.waitSignal(opening.opened, timeout=10_000):
        opening.open(place)
    yield made
    made.close()
    made.deleteLater()
    pg_cluster.drop("window")


def test_a_name_from_another_seat_shows_beside_a_half_typed_one(
    window: MainWindow, qtbot: QtBot, settled: Callable[[], None]
) -> None:
    settled()
    space = window.workspace
    assert space is not None
    people = space.desk.page("people")
    people.form["name"].setText("Half ty")  # type: ignore[union-attr]
    words = json.dumps({"seat": "another", "tables": ["staff"], "job": None})
    engine = space.context.seat.file.engine

    def listens() -> bool:
        query = "SELECT 1 FROM pg_stat_activity WHERE query LIKE 'LISTEN%' AND datname = current_database()"
        with engine.connect() as connection:
            return bool(connection.execute(sa.text(query)).scalar())

    qtbot.waitUntil(listens, timeout=10_000)
    with engine.begin() as connection:  # as another program at the same shop does it
        connection.execute(sa.text("UPDATE staff SET name = 'Una Dahl' WHERE name = 'Bo Lind'"))
        connection.execute(sa.select(sa.func.pg_notify("shopdesk", words)))
    qtbot.waitUntil(
        lambda: [row.name for row in people.list.model._rows] == ["Ida Kessler", "Una Dahl"],  # type: ignore[union-attr]
        timeout=10_000,
    )
    assert people.form["name"].text() == "Half ty"  # type: ignore[union-attr]
