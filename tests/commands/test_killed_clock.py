"""A clock that runs when the program is killed: there when the shop is opened again, and its hours right."""

import datetime as dt
import json
import signal
import subprocess
import sys

import pytest
from fixed_clock import FixedClock

from shopdesk.demo import steps
from shopdesk.demo.workshop import customer, make_workshop
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Purpose, Scope
from shopdesk.domain.problem import Problem
from shopdesk.services import bench, intake, work_orders
from shopdesk.services.clocks import StillRunning
from shopdesk.services.seat import open_shop
from shopdesk.services.work_orders import task_lines

NINE = dt.datetime(2026, 3, 3, 17, 0, tzinfo=dt.UTC)  # 9:00 in the shop
PROGRAM = """
import sys, time, datetime as dt
from shopdesk.domain.clock import standing_still
from shopdesk.services import bench
from shopdesk.services.seat import open_shop
place, staff, task, at = sys.argv[1:]
seat = open_shop(place, standing_still(dt.datetime.fromisoformat(at))).taken_by(int(staff))
bench.clock_on(seat, int(task))
print("runs", flush=True)
time.sleep(120)
"""


@pytest.fixture(scope="module")
def worked_on(tmp_path_factory):
    """A shop file with a range of its own on the bench; its place, technician and first task."""
    place = tmp_path_factory.mktemp("killed") / "shop.db"
    shop = make_workshop(place, NINE - dt.timedelta(hours=2))
    key = customer(shop.seat, "Ruiz & Søn", "12 Larder Lane", "555 0142")
    draft = intake.RangeDraft(maker="Corvane", model="No. 40", build=Build(lamp=True))
    course = steps.take_on(shop, draft, intake.JobDraft(customer_id=key, purpose=Purpose.FULL))
    steps.bring_in(course, receipt=False)
    steps.walk_round(course, {"lamp-cord.frayed": ""}, report=False)
    work_orders.write_order(shop.seat, course.job_id, Scope.MECHANICAL)
    tasks = task_lines(shop.seat, course.job_id)
    shop.seat.file.close()
    return str(place), shop.technicians[0], tasks[0].id, tasks[1].id


def killed_with_a_running_clock(place, staff, task):
    program = subprocess.Popen(
        [sys.executable, "-c", PROGRAM, place, str(staff), str(task), NINE.isoformat()],
        stdout=subprocess.PIPE,
        text=True,
    )
    assert program.stdout is not None
    assert program.stdout.readline() == "runs\n"
    program.send_signal(signal.SIGKILL)
    assert program.wait(timeout=30) == -signal.SIGKILL
    program.stdout.close()


def checked(place):
    command = [sys.executable, "-m", "shopdesk", "check", place, "--json"]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
    return json.loads(done.stdout)


def reopened(place, staff, at):
    return open_shop(place, FixedClock(at)).taken_by(staff)


def test_kill_9_leaves_the_clock_running_and_every_minute_of_it_counts(worked_on):
    place, staff, task, other = worked_on
    killed_with_a_running_clock(place, staff, task)
    assert checked(place) == {"whole": True, "faults": []}

    seat = reopened(place, staff, NINE - dt.timedelta(hours=3))  # the computer's clock was put back
    try:
        assert bench.running_clock(seat).started_at == NINE
        for deed in (lambda: bench.clock_on(seat, other), lambda: bench.clock_off(seat)):
            with pytest.raises(StillRunning, match=r"this computer now shows .*, which is before"):
                deed()
        with pytest.raises(Problem, match="stops after that"):
            bench.clock_off(seat, until=NINE - dt.timedelta(minutes=1))
        assert bench.running_clock(seat).started_at == NINE
    finally:
        seat.file.close()

    seat = reopened(place, staff, NINE + dt.timedelta(minutes=95))
    try:
        clock = bench.running_clock(seat)
        assert (clock.task_id, clock.started_at) == (task, NINE)
        assert bench.clock_off(seat) == 95
        assert bench.running_clock(seat) is None
        assert [(r.minutes, r.started_at) for r in bench.time_rows(seat, clock.job_id)] == [(95, NINE)]
    finally:
        seat.file.close()


def test_after_a_night_the_next_clock_asks_until_when_and_an_earlier_end_may_be_said(worked_on):
    place, staff, task, other = worked_on
    killed_with_a_running_clock(place, staff, task)
    seat = reopened(place, staff, NINE + dt.timedelta(hours=23))
    try:
        with pytest.raises(StillRunning, match=r"still running since .*Say until when"):
            bench.clock_on(seat, other)
        assert bench.running_clock(seat).task_id == task
        assert bench.clock_off(seat, until=NINE + dt.timedelta(minutes=70)) == 70
        bench.clock_on(seat, other)
        assert bench.running_clock(seat).task_id == other
    finally:
        seat.file.close()


def test_a_clock_the_computer_cannot_bear_out_stops_when_it_is_said_to(worked_on):
    place, staff, task, _ = worked_on
    seat = reopened(place, staff, NINE + dt.timedelta(days=2))
    try:
        if bench.running_clock(seat):
            bench.clock_off(seat)
        bench.clock_on(seat, task)
    finally:
        seat.file.close()
    seat = reopened(place, staff, NINE)
    try:
        start = bench.running_clock(seat).started_at
        with pytest.raises(Problem, match="stops after that"):
            bench.clock_off(seat, until=start + dt.timedelta(hours=25))
        assert bench.clock_off(seat, until=start + dt.timedelta(minutes=50)) == 50
    finally:
        seat.file.close()
