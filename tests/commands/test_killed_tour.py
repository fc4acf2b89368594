"""A program that is killed while it writes leaves a shop that is whole."""

import json
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

SHOP = "tour_shop.db"


def start(folder: Path) -> subprocess.Popen[bytes]:
    command = [sys.executable, "-m", "shopdesk", "tour", str(folder)]
    return subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def check(shop: Path) -> dict[str, object]:
    command = [sys.executable, "-m", "shopdesk", "check", str(shop), "--json"]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
    assert done.stdout, done.stderr
    return json.loads(done.stdout)


def grown(shop: Path, least: int, tour: subprocess.Popen[bytes]) -> bool:
    """Waits until so many bytes are written to the log of the shop; False when the tour ended before."""
    log = shop.with_name(shop.name + "-wal")
    while tour.poll() is None:
        if log.exists() and log.stat().st_size >= least:
            return True
        time.sleep(0.002)
    return False


@pytest.mark.timeout(300)
def test_kill_9_while_the_tour_writes_leaves_a_whole_shop(tmp_path):
    chance = random.Random(20260915)
    killed = 0
    for attempt in range(4):
        folder = tmp_path / f"tour-{attempt}"
        tour = start(folder)
        writing = grown(folder / SHOP, chance.randrange(20_000, 1_500_000), tour)
        time.sleep(chance.uniform(0, 0.3))
        tour.send_signal(signal.SIGKILL)
        killed += writing and tour.wait(timeout=30) == -signal.SIGKILL
        tour.wait(timeout=30)
        assert check(folder / SHOP) == {"whole": True, "faults": []}
    assert killed >= 2  # while they wrote, not before or after
