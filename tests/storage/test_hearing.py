"""Seats on a server hear each other's changes: once committed, never their own, and after an outage."""

import threading
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager

import pytest
import sqlalchemy as sa
from fixed_clock import FixedClock
from pg_cluster import Cluster
from shop_rows import SOMEBODY

from shopdesk.storage import ShopFile
from shopdesk.storage.hearing import Heard, hear, tell
from shopdesk.storage.tables.people import Party


@pytest.fixture
def pg_place(pg_cluster: Cluster, _pg_template: str) -> Iterator[str]:
    yield pg_cluster.create("heard", template=_pg_template)
    pg_cluster.drop("heard")


@contextmanager
def listening(shop: ShopFile, own: str = "another seat") -> Iterator[list[Heard]]:
    heard: list[Heard] = []
    stop = threading.Event()
    thread = threading.Thread(target=hear, args=(shop.url, stop, heard.append, own))
    thread.start()
    until(lambda: listeners(shop) == 1)
    try:
        yield heard
    finally:
        stop.set()
        thread.join(15)
    assert not thread.is_alive()


LISTENING = "FROM pg_stat_activity WHERE query LIKE 'LISTEN%' AND datname = current_database()"


def listeners(shop: ShopFile) -> int:
    with shop.engine.connect() as connection:
        return int(connection.execute(sa.text(f"SELECT count(*) {LISTENING}")).scalar() or 0)


def until(true: object) -> None:
    """Waits for what another thread brings about."""
    for _ in range(200):
        if true():  # type: ignore[operator]
            return
        time.sleep(0.05)
    pytest.fail("it never came about")


def broken_off(shop: ShopFile) -> None:
    with shop.writing(SOMEBODY, "test") as work:
        work.add(Party(name="Never"))
        work.session.flush()
        raise RuntimeError


def test_a_committed_change_is_heard_and_one_taken_back_is_not(pg_place: str, clock: FixedClock) -> None:
    with closing(ShopFile(pg_place, clock)) as shop, listening(shop) as heard:
        with pytest.raises(RuntimeError):
            broken_off(shop)
        with shop.writing(SOMEBODY, "test") as work:
            work.about(work.add(Party(name="Ruiz")))
        until(lambda: heard)
        assert heard == [Heard(frozenset({"party"}))]


def test_a_seat_does_not_hear_itself(pg_place: str, clock: FixedClock) -> None:
    from shopdesk.storage.hearing import OWN_SEAT

    with closing(ShopFile(pg_place, clock)) as shop, listening(shop, OWN_SEAT) as heard:
        with shop.writing(SOMEBODY, "test") as work:
            work.add(Party(name="Ruiz"))
        with shop.engine.begin() as connection:
            connection.execute(sa.text("NOTIFY shopdesk, 'somebody else''s words'"))
        until(lambda: heard)
        assert heard == [Heard(missed=True)]


def test_after_an_outage_it_listens_again_and_says_that_it_may_have_missed_something(
    pg_place: str, clock: FixedClock
) -> None:
    with closing(ShopFile(pg_place, clock)) as shop, listening(shop) as heard:
        with shop.engine.begin() as connection:
            connection.execute(sa.text(f"SELECT pg_terminate_backend(pid) {LISTENING}"))
        until(lambda: Heard(missed=True) in heard)
        with shop.writing(SOMEBODY, "test") as work:
            work.add(Party(name="Ruiz"))
        until(lambda: heard[-1] == Heard(frozenset({"party"})))


def test_a_file_tells_nobody(sqlite_shop: str, clock: FixedClock) -> None:
    with closing(ShopFile(sqlite_shop, clock)) as shop, shop.engine.begin() as connection:
        tell(connection, {"party"}, 1)
