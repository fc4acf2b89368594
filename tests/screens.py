"""Pictures of every page, from the real window on a sample: `python -m tests.screens FOLDER [--all]`.

Without `--all` one picture a page, light, at 100 %; with it light, dark and high contrast, at 100 % and
200 %, the larger in a window of 1024 by 768. `--shop` takes a copy of that shop file instead of the shipped
sample; `--only NAME` one page. At the end it says what a page does not show whole. Needs a display (or
QT_QPA_PLATFORM=offscreen). The README's pictures are made by it.
"""

import argparse
import os
import shutil
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

SIZE, SMALL = (1320, 840), (1024, 768)
LEAST_MS, MOST_MS = 500, 20_000
LOOKS = [(scheme, scale) for scheme in ("light", "dark", "contrast") for scale in (1.0, 2.0)]


def main(asked: argparse.Namespace) -> None:
    home = tempfile.mkdtemp(prefix="screens-")
    os.environ |= {"XDG_CONFIG_HOME": home, "XDG_DATA_HOME": home}
    from PySide6.QtCore import QEventLoop, QTimer
    from PySide6.QtWidgets import QApplication

    from shopdesk.app import open_window
    from shopdesk.domain.clock import now

    app = QApplication.instance() or QApplication(["shopdesk"])
    place = str(shutil.copyfile(asked.shop, Path(home) / "shop.db")) if asked.shop else None
    window = open_window(app, now, place, sample=place is None)
    window.resize(*SIZE)

    def settle(ready: Callable[[], bool] = lambda: True) -> None:
        """Until nothing is under way any more, and what came last has found its place."""
        begun, quiet = time.monotonic(), 0
        while time.monotonic() - begun < MOST_MS / 1000 and quiet < 2:
            loop = QEventLoop()
            QTimer.singleShot(LEAST_MS, loop.quit)
            loop.exec()
            quiet = quiet + 1 if ready() and not window._workers.busy else 0

    settle(lambda: window.workspace is not None)
    context = window.workspace.context
    asked.folder.mkdir(parents=True, exist_ok=True)
    for scheme, scale in _looks(asked):
        context.view.choose_scheme(scheme)
        context.view.choose_scale(scale)
        window.resize(*(SIZE if scale == 1 else SMALL))
        for name, show in _pages(context):
            if asked.only and asked.only not in name:
                continue
            show()
            settle()
            look = f"{name}-{scheme}-{round(scale * 100)}" if asked.all or asked.look else name
            window.grab().save(str(asked.folder / f"{look}.png"))
            for what in _not_whole(window):
                sys.stdout.write(f"{look}: {what}\n")
    window.close()
    settle()
    shutil.rmtree(home, ignore_errors=True)


def _looks(asked: argparse.Namespace) -> list[tuple[Any, float]]:
    """All looks, one that is named, or the first."""
    if asked.look:
        return [look for look in LOOKS if asked.look == f"{look[0]}-{round(look[1] * 100)}"]
    return LOOKS if asked.all else LOOKS[:1]


def _not_whole(window: Any) -> Iterator[str]:
    """Pages wider than the window, and buttons and one-line words that are cut."""
    from PySide6.QtWidgets import QAbstractButton, QLabel, QScrollArea, QToolButton, QWidget

    if window.minimumSizeHint().width() > window.width() or window.centralWidget().width() > window.width():
        yield f"wider than the window: {window.minimumSizeHint().width()}"
    for area in window.findChildren(QScrollArea):
        if area.isVisible() and area.horizontalScrollBar().maximum() > 0:
            yield f"scrolls sideways: {area.objectName() or type(area).__name__}"
    for widget in window.findChildren(QWidget):
        if widget.isVisible() and not widget.visibleRegion().isEmpty():
            if isinstance(widget, QAbstractButton) and not isinstance(widget, QToolButton):
                if widget.text() and widget.width() + 1 < widget.minimumSizeHint().width():
                    yield f"cut: button “{widget.text()}”"
            elif isinstance(widget, QLabel) and _cut(widget):
                yield f"cut: “{widget.text()[:60]}”"


def _cut(label: Any) -> bool:
    """Whether a label has less room than its words need."""
    if not label.text() or not label.pixmap().isNull():
        return False
    if label.wordWrap():
        return bool(label.height() + 1 < label.heightForWidth(label.width()))
    widest = max(
        label.fontMetrics().horizontalAdvance(line) for line in label.text().replace("&", "").split("\n")
    )
    return bool(label.contentsRect().width() + 1 < widest)


def _pages(context: Any) -> list[tuple[str, Callable[[], object]]]:
    from shopdesk.services.floor import floor
    from shopdesk.ui.pages.set_up.page import known_sections

    rows = {row.stage.value: row for row in reversed(floor(context.seat))}
    bench, inspected, gone = rows["on the bench"], rows["inspected"], rows["gone"]
    go = context.go

    def of(place: str, section: str) -> tuple[str, Callable[[], object]]:
        return f"{place}-{section}", lambda: go(place, section=section)

    return [
        ("floor", lambda: go("floor", words="")),
        ("floor-book-in", lambda: go("floor", book_in=True)),
        ("walk-round", lambda: go("walk-round", job_id=inspected.job_id)),
        ("bench", lambda: go("bench")),
        ("bench-task", lambda: go("bench", job_id=bench.job_id)),
        *(of("stores", n) for n in ("needs", "orders", "shelf", "donors", "wants", "outwork", "firms")),
        *(of("plan", n) for n in ("calendar", "promises", "what-if", "appointments", "hours")),
        ("counter", lambda: go("counter", job_id=gone.job_id)),
        *(
            (f"reckoning-{part}", lambda part=part: go("reckoning", part=part))
            for part in ("ranges", "findings", "hours", "year", "owed", "cash", "stores", "promises")
        ),
        ("standing", lambda: go("standing", range_id=bench.range_id)),
        ("standing-letter", lambda: go("standing", range_id=bench.range_id, deed="letter")),
        ("standing-pair", lambda: go("standing", range_id=gone.range_id, deed="pair")),
        ("reckoning", lambda: go("reckoning")),
        *(of("set-up", known.key) for known in known_sections()),
        ("jacket", lambda: context.open_jacket(bench.range_id)),
        ("proofs", lambda: go("proving", job_id=bench.job_id)),
        ("gas-bench", lambda: go("gas-bench")),
        ("tags", lambda: go("tags", job_id=bench.job_id)),
        ("thermostat-card", lambda: go("thermostat-card", job_id=bench.job_id)),
        ("first-hour", lambda: go("first-hour")),
    ]


if __name__ == "__main__":
    told = argparse.ArgumentParser(description="Pictures of every page.")
    told.add_argument("folder", type=Path)
    told.add_argument("--all", action="store_true", help="light, dark and high contrast, at 100 and 200 %%")
    told.add_argument("--look", default="", help="one of them, such as contrast-200")
    told.add_argument("--shop", type=Path, help="a shop file to copy, instead of the shipped sample")
    told.add_argument("--only", default="", help="only pages with this in their name")
    main(told.parse_args())
