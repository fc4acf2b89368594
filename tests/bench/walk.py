"""How long a whole walk-round with fifteen findings takes a practised person, played on the real page.

`python -m tests.bench.walk [--json]`. The person's pace is stated below and added up, not waited for; the
program's own time, from each key until the page stands and is painted again, is measured and added to it.
Needs a display (or QT_QPA_PLATFORM=offscreen); it wants idle cores.

A key is 0.28 s and making up one's mind 1.35 s (Card, Moran and Newell, 1980, the keystroke-level model,
an average typist). Looking, walking on and photographing are judgement, no source: somebody who knows the
checkpoints and only looks and feels.
"""

import argparse
import datetime as dt
import json
import os
import statistics
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

KEY, MIND = 0.28, 1.35
LOOK = 1.6  # at a place that turns out sound
LOOK_CLOSER = 5.0  # at one that does not
WALK_ON = 4.0  # to the next zone: a door opened, a lid lifted, the torch moved
PICTURE = 4.0  # taken with the phone; the program offers it by itself
NOTE = "left front, from below"
FINDINGS, NOTES, PICTURES = 15, 3, 5
LIMIT_S = 8 * 60


@dataclass
class Played:
    """Seconds of the person by what they went into, and of the program by key."""

    person: dict[str, float] = field(default_factory=dict)
    program: list[float] = field(default_factory=list)
    keys: int = 0

    def spend(self, on: str, seconds: float) -> None:
        self.person[on] = self.person.get(on, 0.0) + seconds


def main(*, as_json: bool) -> None:
    home = tempfile.mkdtemp(prefix="walk-")
    os.environ |= {"XDG_CONFIG_HOME": home, "XDG_DATA_HOME": home}
    from PySide6.QtWidgets import QApplication

    app = QApplication.instance() or QApplication(["shopdesk"])
    page, close = _open_page(app, Path(home))
    played, answered = Played(), 0
    try:
        answered = _play(app, page, played)
    finally:
        close()
    _tell(played, answered, as_json=as_json)


def _open_page(app: Any, home: Path) -> tuple[Any, Any]:
    """A walk-round just begun, in the real window on a shop of its own."""
    from shopdesk.app import open_window
    from shopdesk.demo.workshop import make_workshop
    from shopdesk.domain.build import Build
    from shopdesk.domain.catalogue.model import Purpose
    from shopdesk.domain.clock import now
    from shopdesk.services import intake, walks
    from shopdesk.ui.pages.walk_round.page import WalkRoundPage

    shop = make_workshop(home / "shop.db", dt.datetime(2026, 3, 2, 9, 0, tzinfo=dt.UTC))
    build = Build(griddle=True, lamp=True, clock=True, shelf=True)
    draft = intake.RangeDraft(maker="Corvane", model="No. 40", build=build)
    job = intake.JobDraft(purpose=Purpose.RESALE, asking_cents=45_000)
    taken = intake.take_on(shop.seat, draft, job, booked_in=False)
    walks.open_walk(shop.seat, taken.job_id, place="Seller's garage")
    shop.seat.file.close()
    window = open_window(app, now, str(home / "shop.db"))
    window.resize(1320, 840)
    _until(app, lambda: window.workspace is not None)
    window.workspace.context.go("walk-round", job_id=taken.job_id)
    _until(app, lambda: window.workspace.findChild(WalkRoundPage) is not None)
    page = window.workspace.findChild(WalkRoundPage)
    _until(app, lambda: page.room.walk is not None and not window._workers.busy)
    page.room.focusFirst()

    def close() -> None:
        _until(app, lambda: not window._workers.busy)
        window.close()

    return page, close


def _until(app: Any, ready: Any, most_s: float = 60.0) -> None:
    begun = time.monotonic()
    while not ready():
        app.processEvents()
        if time.monotonic() - begun > most_s:
            raise TimeoutError("the window did not come to rest")
        time.sleep(0.005)


def _play(app: Any, page: Any, played: Played) -> int:
    """Answers what the page opens, one after the other, until nothing is left; returns how many."""
    room = page.room
    order = [c.code for c in room.walk.checkpoints if not c.flame]
    wrong = set(order[:: len(order) // FINDINGS][:FINDINGS])
    found, zone = 0, ""
    while room.walk.left():
        before, checkpoint = room.walk.open, room.walk.checkpoint
        if checkpoint.zone != zone:
            zone = checkpoint.zone
            played.spend("walking on", WALK_ON)
        if checkpoint.flame:
            played.spend("passing over", KEY)
            _press(app, page, played, "n")
        elif before in wrong:
            found += 1
            _one_finding(app, page, played, found)
        else:
            played.spend("looking", LOOK + KEY)
            _press(app, page, played, "s")
        if room.walk.answers(before) == ():
            raise RuntimeError(f"{before} was left without an answer")
    if len(room.walk.found()) != FINDINGS:
        raise RuntimeError(f"{len(room.walk.found())} findings stand instead of {FINDINGS}")
    return len(room.walk.checkpoints)


def _one_finding(app: Any, page: Any, played: Played, number: int) -> None:
    """Every fifth finding with a note, every third with a picture of the phone."""
    from PySide6.QtCore import Qt

    played.spend("findings", LOOK_CLOSER + 2 * MIND + KEY)
    if number % (FINDINGS // PICTURES) == 0:
        played.spend("pictures", PICTURE + KEY)
        _press(app, page, played, "o")
    if number % (FINDINGS // NOTES) == 0:
        played.spend("notes", MIND + KEY * (len(NOTE) + 2))
        _press(app, page, played, Qt.Key.Key_Return)
        _press(app, page, played, *NOTE, on=page.room.checkpoint.note)
        _press(app, page, played, Qt.Key.Key_Return, on=page.room.checkpoint.note)
    _press(app, page, played, "1")


def _press(app: Any, page: Any, played: Played, *keys: Any, on: Any = None) -> None:
    """Each key, until what it brings is on the screen."""
    from PySide6.QtTest import QTest

    widget = on or page.room.checkpoint
    for key in keys:
        begun = time.perf_counter()
        (QTest.keyClicks if isinstance(key, str) else QTest.keyClick)(widget, key)
        app.processEvents()
        played.program.append(time.perf_counter() - begun)
        played.keys += 1


def _tell(played: Played, answered: int, *, as_json: bool) -> None:
    person, program = sum(played.person.values()), sum(played.program)
    whole = person + program
    told = {
        "checkpoints": answered,
        "findings": FINDINGS,
        "keys": played.keys,
        "person_s": {name: round(seconds, 1) for name, seconds in played.person.items()},
        "program_s": round(program, 2),
        "key_median_ms": round(statistics.median(played.program) * 1000, 1),
        "key_slowest_ms": round(max(played.program) * 1000, 1),
        "whole_s": round(whole, 1),
        "under_eight_minutes": whole < LIMIT_S,
    }
    if as_json:
        sys.stdout.write(json.dumps(told, indent=2) + "\n")
        return
    lines = [f"{answered} checkpoints, {FINDINGS} findings, {played.keys} keys"]
    lines += [f"  {name:14} {seconds:7.1f} s" for name, seconds in played.person.items()]
    lines += [
        f"  the program    {program:7.1f} s  (a key {told['key_median_ms']} ms, slowest "
        f"{told['key_slowest_ms']} ms)",
        f"  the whole walk {whole:7.1f} s  = {int(whole // 60)}:{int(whole % 60):02d}",
    ]
    sys.stdout.write("\n".join(lines) + "\n")


if __name__ == "__main__":
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("--json", action="store_true")
    main(as_json=arguments.parse_args().json)
