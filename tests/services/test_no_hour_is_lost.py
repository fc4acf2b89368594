"""Whatever is done at the bench and to the order, every hour that was clocked stays where it was."""

import contextlib
import datetime as dt

import pytest
from builders import FOUR, Shop, a_shop, agreed, owned, walked
from fixed_clock import FixedClock
from hypothesis import given, settings
from hypothesis import strategies as st

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.money import Spread
from shopdesk.domain.problem import Problem
from shopdesk.domain.stage import Stage
from shopdesk.services import (
    agreed_hours,
    agreements,
    bench,
    checking,
    consent,
    intake,
    order_by_hand,
    quotes,
    tags,
    work_orders,
)
from shopdesk.services.change_orders import change_orders
from shopdesk.storage import make_shop

DEEDS = st.lists(
    st.tuples(
        st.sampled_from(
            [
                "clock on", "clock off", "write down", "tick", "untick", "drop", "put back", "split",
                "reword", "write order", "walk again", "find more", "decline", "agree", "tag", "add known",
                "ask for added", "night", "off at",
            ]
        ),
        st.integers(0, 60),
    ),
    min_size=1,
    max_size=14,
)  # fmt: skip


class Ledger:
    """What was clocked, kept beside the shop: entry -> task, person, start and minutes."""

    def __init__(self) -> None:
        self.entries: dict[int, tuple[int, str, dt.datetime, int | None]] = {}

    def clocked_on(self, shop: Shop, seat, entry_id: int, task_id: int) -> None:
        self._stopped(shop, seat.acting.name)
        self.entries[entry_id] = (task_id, seat.acting.name, shop.clock(), None)

    def clocked_off(self, shop: Shop, seat, minutes: int | None = None) -> None:
        self._stopped(shop, seat.acting.name, minutes)

    def written_down(self, shop: Shop, seat, entry_id: int, task_id: int, minutes: int) -> None:
        self.entries[entry_id] = (task_id, seat.acting.name, shop.clock(), minutes)

    def _stopped(self, shop: Shop, name: str, minutes_said: int | None = None) -> None:
        for key, (task_id, who, start, minutes) in self.entries.items():
            if who == name and minutes is None:
                gone = minutes_said or int((shop.clock() - start).total_seconds()) // 60
                self.entries[key] = (task_id, who, start, max(1, gone))


def play(shop: Shop, job: int, deeds: list[tuple[str, int]]) -> None:
    ledger = Ledger()
    for name, n in deeds:
        shop.clock.advance(minutes=1 + n)
        with contextlib.suppress(Problem):  # refused: then nothing may have happened
            do(shop, job, ledger, name, n)
        rows = {r.id: (r.task_id, r.who, r.started_at, r.minutes) for r in bench.time_rows(shop.owner, job)}
        assert rows == ledger.entries
    whole = sum(minutes for *_, minutes in ledger.entries.values() if minutes)
    listed = agreed_hours.beyond_agreed(shop.owner, job).hours
    assert sum(h.minutes for h in listed if ledger.entries[h.entry_id][3] is not None) == whole
    assert {h.entry_id for h in listed} == set(ledger.entries)
    assert checking.faults(shop.owner) == []


def do(shop: Shop, job: int, ledger: Ledger, name: str, n: int) -> None:
    seat = shop.technician if n % 3 else shop.owner
    tasks = [t for t in work_orders.task_lines(shop.owner, job) if t.station != "office"]
    task = tasks[n % len(tasks)]
    if name == "clock on":
        ledger.clocked_on(shop, seat, bench.clock_on(seat, task.id), task.id)
    elif name == "clock off":
        bench.clock_off(seat)
        ledger.clocked_off(shop, seat)
    elif name == "night":
        shop.clock.advance(hours=14)
    elif name == "off at":
        clock = bench.running_clock(seat)
        bench.clock_off(seat, until=(clock.started_at if clock else shop.clock()) + dt.timedelta(minutes=1))
        ledger.clocked_off(shop, seat, 1)
    elif name == "write down":
        ledger.written_down(shop, seat, bench.log_minutes(seat, task.id, 5 + n), task.id, 5 + n)
    elif name == "tick":
        free = [t for t in bench.job_tasks(seat, job) if not t.waits and t.done_share < 100]
        bench.tick(seat, (free or tasks)[0].id, 100 if n % 2 else 40)
    elif name == "untick":
        bench.tick(seat, task.id, 0)
    else:
        change_order(shop, job, task, name, n)


def change_order(shop: Shop, job: int, task: work_orders.TaskLine, name: str, n: int) -> None:
    if name in ("decline", "agree"):
        answer_change(shop, job, agree=name == "agree")
    elif name == "put back":
        off = order_by_hand.dropped_tasks(shop.owner, job)
        order_by_hand.put_task_back(shop.owner, off[n % len(off)].id if off else task.id)
    elif name == "walk again":
        walked(shop.owner, job, *FOUR[: n % 5])
        work_orders.write_order(shop.owner, job)
    else:
        DEED[name](shop, job, task.id, n)


DEED = {
    "drop": lambda shop, _job, task, _n: order_by_hand.drop_task(shop.owner, task, "not wanted"),
    "split": lambda shop, _job, task, n: order_by_hand.split_task(
        shop.owner, task, f"part {n}", Spread(1, 2, 3)
    ),
    "reword": lambda shop, _job, task, n: order_by_hand.reword_task(shop.owner, task, f"other words {n}"),
    "write order": lambda shop, job, _task, n: work_orders.write_order(shop.owner, job, list(Scope)[n % 3]),
    "find more": lambda shop, job, _task, n: bench.find_more(
        shop.technician, job, f"found {n}", Spread(5, 10, 20)
    ),
    "tag": lambda shop, job, task, _n: tags.tag_off(
        shop.technician, job, tags.TagDraft(what="screws", goes_back="oven", task_id=task)
    ),
    "ask for added": lambda shop, job, _task, _n: consent.ask_for_added(shop.technician, job),
    "add known": lambda shop, job, _task, n: order_by_hand.add_known_task(
        shop.owner, job, ("new-bulb-clips", "re-route-capillary")[n % 2]
    ),
}


def answer_change(shop: Shop, job: int, *, agree: bool) -> None:
    waiting = change_orders(shop.desk, job_id=job, waiting=True)
    for row in waiting[:1]:
        quote_id = row.quote_id or quotes.quote_change(shop.desk, row.id)
        if agree:
            agreements.agree(shop.desk, quote_id, who="Mr Ruiz", how="signed")
        else:
            agreements.decline(shop.desk, quote_id)


@settings(settings.get_profile("databases"))
@given(deeds=DEEDS, own=st.booleans())
def test_no_sequence_of_deeds_loses_an_hour(tmp_path_factory, deeds, own):
    """On the file database; a long sequence runs on both below."""
    place = tmp_path_factory.mktemp("hours") / "shop.db"
    make_shop(place)
    shop = a_shop(str(place), FixedClock())
    try:
        play(shop, (owned if own else agreed)(shop, *FOUR).job_id, deeds)
    finally:
        shop.owner.file.close()


LONG = [
    ("clock on", 1), ("tick", 1), ("clock on", 2), ("write down", 7), ("split", 12), ("find more", 3),
    ("clock on", 60), ("decline", 0), ("write order", 2), ("walk again", 1), ("drop", 9), ("put back", 0),
    ("clock off", 1), ("reword", 5), ("tag", 4), ("ask for added", 0), ("clock on", 1), ("night", 0),
    ("clock on", 7), ("off at", 1), ("add known", 0), ("write order", 0), ("find more", 8),
    ("agree", 0), ("write down", 3), ("untick", 0), ("walk again", 4), ("clock off", 3),
]  # fmt: skip


def test_a_long_day_loses_no_hour_on_either_database(shop):
    job = agreed(shop, *FOUR).job_id
    play(shop, job, LONG)
    assert len(bench.time_rows(shop.owner, job)) == 6  # and the deeds were not all refused
    assert len(order_by_hand.dropped_tasks(shop.owner, job)) >= 1
    assert any(t.name.startswith("part") for t in work_orders.task_lines(shop.owner, job))


def test_a_job_that_ends_keeps_its_hours(shop):
    job = agreed(shop, *FOUR).job_id
    task = work_orders.task_lines(shop.owner, job)[0]
    bench.log_minutes(shop.technician, task.id, 30)
    before = bench.time_rows(shop.owner, job)
    intake.end_job(shop.owner, job, Stage.WITHDRAWN, "moved away")
    with pytest.raises(Problem):
        order_by_hand.drop_task(shop.owner, task.id, "ended")
    assert bench.time_rows(shop.owner, job) == before
