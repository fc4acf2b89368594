"""How fast the program answers, each question against a bare baseline in the same run.

`python -m tests.bench.speed SHOP [--json] [--times 5]`, the shop made by `shopdesk grow`. Medians; beside
each ratio the milliseconds of both. The shop is opened to look only. It wants idle cores.
"""

import argparse
import json
import os
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

from shopdesk.documents.papers import render
from shopdesk.domain.clock import now
from shopdesk.domain.stage import Stage
from shopdesk.services.finding import find, terms
from shopdesk.services.floor import HELD, HERE, FloorOrder, floor
from shopdesk.services.jacket import jacket
from shopdesk.services.papers.invoice import invoice_facts
from shopdesk.services.seat import Seat, open_shop
from shopdesk.services.year_figures import year_figures
from shopdesk.storage.tables.counter import Invoice
from tests.bench.speed_bare import books, drawn_again, floor_sql, jacket_selects

_PAINTED = """
def painted():
    import os, time
    held = open("/proc/self/status").read().split("VmHWM:")[1].split()[0]
    print(time.monotonic(), held, flush=True)
    os._exit(0)
"""
_EMPTY = (
    _PAINTED
    + """
import sqlalchemy.orm
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QWidget
app = QApplication([])
class Empty(QWidget):
    def paintEvent(self, event):
        QTimer.singleShot(0, painted)
window = Empty(); window.resize(1200, 800); window.show(); app.exec()
"""
)
_FLOOR = (
    _PAINTED
    + """
import sys
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
app = QApplication(["shopdesk"])
from shopdesk.app import open_window
from shopdesk.domain.clock import now
window = open_window(app, now, sys.argv[1], looking=True)
def look():
    module = sys.modules.get("shopdesk.ui.pages.floor.page")
    page = window.findChild(module.FloorPage) if hasattr(module, "FloorPage") else None
    if page is not None and page.isVisible() and page.list.rows():
        window.repaint()
        painted()
timer = QTimer(); timer.timeout.connect(look); timer.start(5); app.exec()
"""
)


def ratio(ours: Callable[[], Any], bare: Callable[[], Any], times: int) -> dict[str, float]:
    """Ours against the baseline, turn about so that both meet the same machine."""
    ours(), bare()
    mine, theirs = [], []
    for _ in range(times):
        for act, took in ((ours, mine), (bare, theirs)):
            begun = time.perf_counter()
            act()
            took.append((time.perf_counter() - begun) * 1000)
    one, other = statistics.median(mine), statistics.median(theirs)
    return {"ratio": round(one / other, 2), "ms": round(one, 2), "bare_ms": round(other, 2)}


def measure(place: str, times: int) -> dict[str, Any]:
    seat = open_shop(place, now, looking=True)
    told: dict[str, Any] = {}
    try:
        with closing(sqlite3.connect(Path(place).absolute().as_uri() + "?mode=ro", uri=True)) as bare:
            told["floor"] = _floor(seat, bare, times)
            told["search"] = _search(seat, bare, times)
            told["jacket"] = _jacket(seat, bare, times)
            told["books"] = _books(seat, bare, times)
            told["invoice"] = _invoice(seat, bare, times)
    finally:
        seat.file.close()
    told |= _started(place, times)
    return {f"{name}_ratio": one["ratio"] for name, one in told.items()} | {"measured": told}


def _worst(found: dict[str, dict[str, float]]) -> dict[str, Any]:
    """The worst of several; the others beside it."""
    name = max(found, key=lambda key: found[key]["ratio"])
    slowest = max(one["ms"] for one in found.values())
    return {**found[name], "worst": name, "slowest_ms": slowest, "each": found}


def _floor(seat: Seat, bare: sqlite3.Connection, times: int) -> dict[str, Any]:
    found = {}
    filters: dict[str, dict[str, Any]] = {
        "all": {}, "here": {"stages": HERE}, "settled": {"stages": (Stage.SETTLED,)}, "held": {"held": HELD},
        "name": {"words": "penny"}, "number": {"words": "R-0042"}, "nothing": {"words": "zzzq"},
    }  # fmt: skip
    for name, chosen in filters.items():
        for order in FloorOrder:
            sql, values = floor_sql(order, chosen)
            ours = floor(seat, order=order, **chosen)
            theirs = bare.execute(sql, values).fetchall()
            assert [row.job_id for row in ours] == [row[0] for row in theirs], (name, order)
            found[f"{name} by {order}"] = ratio(
                lambda o=order, c=chosen: floor(seat, order=o, **c),
                lambda s=sql, v=values: bare.execute(s, v).fetchall(),
                times,
            )
    return _worst(found)


def _search(seat: Seat, bare: sqlite3.Connection, times: int) -> dict[str, Any]:
    """Typed key by key from the third on; milliseconds of all keys together, the slowest of one."""
    row = bare.execute("SELECT p.name, p.phone FROM party p JOIN job j ON j.customer_id = p.id "
                       "WHERE p.phone <> '' ORDER BY j.id DESC LIMIT 1").fetchone()  # fmt: skip
    found = {}
    for whole in (row[0], row[1], "R-0042", "corvane", "I-0007", "valve"):
        steps = [whole[:n] for n in range(3, len(whole) + 1) if any(len(t) >= 3 for t in terms(whole[:n]))]
        found[whole] = ratio(
            lambda s=steps: [find(seat, typed) for typed in s],
            lambda s=steps: [_pieces(bare, typed) for typed in s],
            times,
        ) | {"keys": len(steps)}
    slowest = max(one["ms"] / one["keys"] for one in found.values())
    return {**_worst(found), "slowest_ms": round(slowest, 2)}


def _pieces(bare: sqlite3.Connection, typed: str) -> list[Any]:
    """The bare question to the index of pieces; words too short for it are left out."""
    match = " AND ".join('"' + word + '"' for word in terms(typed) if len(word) >= 3)
    return bare.execute(
        "SELECT kind, record_id, job_id, title, line FROM findable WHERE id IN "
        "(SELECT rowid FROM ft_findable WHERE words MATCH ?) ORDER BY id DESC LIMIT 50",
        (match,),
    ).fetchall()


def _jacket(seat: Seat, bare: sqlite3.Connection, times: int) -> dict[str, Any]:
    range_id, job_id = bare.execute(
        "SELECT j.range_id, j.id FROM job j JOIN work_order w ON w.job_id = j.id "
        "JOIN task t ON t.work_order_id = w.id GROUP BY j.id ORDER BY count(*) DESC, j.id DESC LIMIT 1"
    ).fetchone()
    opened = jacket(seat, range_id)
    assert len(opened.tasks) >= 60
    assert len(opened.photographs) >= 30
    return ratio(lambda: jacket(seat, range_id), lambda: jacket_selects(bare, range_id, job_id), times)


def _books(seat: Seat, bare: sqlite3.Connection, times: int) -> dict[str, Any]:
    year = seat.today.year - 1
    told = year_figures(seat, year)
    theirs = books(bare, year, seat.today, seat.region.timezone)
    assert (
        told.minutes,
        told.hours_cents,
        told.billed_cents,
        told.parts_cents,
        told.outwork_cents,
        told.ages,
    ) == theirs
    return ratio(
        lambda: year_figures(seat, year), lambda: books(bare, year, seat.today, seat.region.timezone), times
    )


def _invoice(seat: Seat, bare: sqlite3.Connection, times: int) -> dict[str, Any]:
    key = bare.execute(
        "SELECT invoice_id FROM invoice_line GROUP BY invoice_id "
        "ORDER BY count(*) DESC, invoice_id DESC LIMIT 1"
    ).fetchone()[0]
    with seat.look() as session:
        facts = invoice_facts(seat, session, session.get_one(Invoice, key))
    return ratio(lambda: render(facts), lambda: drawn_again(facts), times) | {"lines": len(facts.lines)}


def _started(place: str, times: int) -> dict[str, Any]:
    """Whole processes, offscreen: milliseconds until painted, and the most memory (MiB) each came to hold."""
    took: dict[str, list[float]] = {"empty": [], "floor": []}
    held: dict[str, list[float]] = {"empty": [], "floor": []}
    with tempfile.TemporaryDirectory() as folder:
        quiet = {"QT_QPA_PLATFORM": "offscreen", "XDG_CONFIG_HOME": folder, "XDG_DATA_HOME": folder}
        for _ in range(times + 1):
            for name, code in (("empty", _EMPTY), ("floor", _FLOOR)):
                begun = time.monotonic()
                done = subprocess.run(
                    [sys.executable, "-c", code, place], capture_output=True, text=True, check=True,
                    env={**os.environ, **quiet}, timeout=120,
                )  # fmt: skip
                at, most = done.stdout.split()[-2:]
                took[name].append((float(at) - begun) * 1000)
                held[name].append(int(most) / 1024)
    return {"start": _of(took, "ms"), "memory": _of(held, "mib")}


def _of(measured: dict[str, list[float]], unit: str) -> dict[str, float]:
    ours, bare = (statistics.median(measured[name][1:]) for name in ("floor", "empty"))
    return {"ratio": round(ours / bare, 2), unit: round(ours, 1), f"bare_{unit}": round(bare, 1)}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("shop")
    parser.add_argument("--json", action="store_true")
    parser.add_argument("--times", type=int, default=5)
    chosen = parser.parse_args()
    told = measure(chosen.shop, max(5, chosen.times))
    if chosen.json:
        sys.stdout.write(json.dumps(told, indent=2) + "\n")
        return
    for name, one in told["measured"].items():
        sys.stdout.write(f"{name} { ({key: value for key, value in one.items() if key != 'each'}) }\n")


if __name__ == "__main__":
    main()
