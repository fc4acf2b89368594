"""The program is killed (kill -9) while it writes: what was confirmed stands, and the shop is whole."""

import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from fixed_clock import FixedClock
from whole_state import last_deed

from shopdesk.demo.workshop import make_workshop
from shopdesk.services.checking import faults
from shopdesk.services.seat import open_shop

BUSY = Path(__file__).with_name("busy_shop.py")


@pytest.mark.timeout(240)
def test_kill_9_at_any_moment_of_a_working_day_loses_nothing_that_was_confirmed(tmp_path: Path) -> None:
    place = tmp_path / "shop.db"
    make_workshop(place, FixedClock()()).seat.file.close()
    chance = random.Random(20261125)
    amid = 0
    for attempt in range(3):
        program = subprocess.Popen(
            [sys.executable, str(BUSY), str(place), str(attempt)], stdout=subprocess.PIPE, text=True
        )
        assert program.stdout is not None
        assert program.stdout.readline() == "ready\n"
        said = [int(program.stdout.readline()) for _ in range(chance.randrange(1, 6))]
        time.sleep(chance.uniform(0, 0.12))
        program.send_signal(signal.SIGKILL)
        rest = [int(line) for line in program.stdout.read().split()]
        assert program.wait(timeout=30) == -signal.SIGKILL
        program.stdout.close()
        confirmed = [*said, *rest][-1]
        assert last_deed(place) >= confirmed
        amid += last_deed(place) > confirmed
        seat = open_shop(place, FixedClock())  # the lock of the one that was killed is free again
        assert faults(seat) == []
        seat.file.close()
    assert amid >= 1  # at least once it was killed between two confirmed deeds
