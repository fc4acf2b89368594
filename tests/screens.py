"""Pictures of every page, from the real window on the sample: `python -m tests.screens FOLDER [--all]`.

Without `--all` one picture a page, light, at 100 %; with it light and dark, at 100 % and 200 %. Needs a
display (or QT_QPA_PLATFORM=offscreen). The README's pictures are made by it.
"""

import os
import sys
import tempfile
from pathlib import Path

SIZE = (1320, 840)
SETTLE_MS = 2500


def main(folder: Path, *, all_looks: bool) -> None:
    home = tempfile.mkdtemp(prefix="screens-")
    os.environ |= {"XDG_CONFIG_HOME": home, "XDG_DATA_HOME": home}
    from PySide6.QtCore import QEventLoop, QTimer
    from PySide6.QtWidgets import QApplication

    from shopdesk.app import open_window
    from shopdesk.domain.clock import now

    app = QApplication.instance() or QApplication(["shopdesk"])
    window = open_window(app, now, sample=True)
    window.resize(*SIZE)

    def settle(ms: int = SETTLE_MS) -> None:
        loop = QEventLoop()
        QTimer.singleShot(ms, loop.quit)
        loop.exec()

    settle(5000)
    context = window.workspace.context
    folder.mkdir(parents=True, exist_ok=True)
    for scheme in ("light", "dark") if all_looks else ("light",):
        for scale in (1.0, 2.0) if all_looks else (1.0,):
            context.view.choose_scheme(scheme)
            context.view.choose_scale(scale)
            for name, show in _pages(context):
                show()
                settle()
                look = f"-{scheme}-{int(scale * 100)}" if all_looks else ""
                window.grab().save(str(folder / f"{name}{look}.png"))
    window.close()
    settle(500)


def _pages(context):
    from shopdesk.services.floor import floor

    rows = {row.stage.value: row for row in reversed(floor(context.seat))}
    bench, inspected, gone = rows["on the bench"], rows["inspected"], rows["gone"]
    return (
        ("floor", lambda: context.go("floor")),
        ("walk-round", lambda: context.go("walk-round", job_id=inspected.job_id)),
        ("bench", lambda: context.go("bench")),
        ("stores", lambda: context.go("stores")),
        ("plan", lambda: context.go("plan")),
        ("counter", lambda: context.go("counter", job_id=gone.job_id)),
        ("set-up", lambda: context.go("set-up")),
        ("jacket", lambda: context.open_jacket(bench.range_id)),
        ("proofs", lambda: context.go("proving", job_id=bench.job_id)),
        ("gas-bench", lambda: context.go("gas-bench")),
    )


if __name__ == "__main__":
    main(Path(sys.argv[1]), all_looks="--all" in sys.argv[2:])
