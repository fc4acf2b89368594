"""Work off the GUI thread: questions side by side, changes one after another.

Results come back by signal in the GUI thread. Knows Qt's threads; no services and no widgets.
"""

import itertools
import sys
import threading
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QCoreApplication, QEvent, QObject, QRunnable, QThreadPool, Signal, Slot

Work = Callable[[], Any]
Then = Callable[[Any], None]
Failed = Callable[[Exception], None]


class _Answers(QObject):
    """Lives in the GUI thread, so that what is connected to it runs there."""

    done = Signal(int, object)
    failed = Signal(int, object)


@dataclass(slots=True)
class _Waiting:
    question: bool
    key: str
    then: Then
    failed: Failed
    dropped: threading.Event


class _Job(QRunnable):
    def __init__(self, number: int, work: Work, answers: _Answers, dropped: threading.Event) -> None:
        super().__init__()
        self._number, self._work, self._answers, self._dropped = number, work, answers, dropped

    def run(self) -> None:
        trace = threading.gettrace()
        if trace is not None:
            sys.settrace(trace)  # Qt made this thread: without this a coverage tool sees none of it
        self._answer()

    def _answer(self) -> None:
        if self._dropped.is_set():
            self._answers.done.emit(self._number, None)
            return
        try:
            result = self._work()
        except Exception as error:
            self._answers.failed.emit(self._number, error)
        else:
            self._answers.done.emit(self._number, result)


class Workers(QObject):
    """Two threads for questions, one for changes; `busyChanged` says how many are under way."""

    busyChanged = Signal(int)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._questions, self._changes = QThreadPool(self), QThreadPool(self)
        self._questions.setMaxThreadCount(2)
        self._changes.setMaxThreadCount(1)
        self._numbers = itertools.count(1)
        self._waiting: dict[int, _Waiting] = {}
        self._closing = False
        self._answers = _Answers(self)
        self._answers.done.connect(self._on_done)
        self._answers.failed.connect(self._on_failed)

    @property
    def busy(self) -> int:
        """How much work is waited for."""
        return len(self._waiting)

    def ask(self, work: Work, then: Then, failed: Failed, key: str = "") -> None:
        """A question; a newer one of the same key makes an older answer be dropped."""
        if key:
            for waiting in self._waiting.values():
                if waiting.key == key:
                    waiting.dropped.set()
        if not self._closing:
            self._start(self._questions, work, then, failed, key)

    def do(self, work: Work, then: Then, failed: Failed) -> None:
        """A change; changes are made in the order they were asked for and never dropped."""
        self._start(self._changes, work, then, failed, "")

    def finish(self, ms: int = 30_000) -> bool:
        """Drops open questions, waits for every change and hands its answer over; False: still working."""
        self._closing = True
        for waiting in self._waiting.values():
            if waiting.question:
                waiting.dropped.set()
        done = self._changes.waitForDone(ms) and self._questions.waitForDone(ms)
        QCoreApplication.sendPostedEvents(self, QEvent.Type.MetaCall)
        self._closing = False
        return done

    def _start(self, pool: QThreadPool, work: Work, then: Then, failed: Failed, key: str) -> None:
        number = next(self._numbers)
        dropped = threading.Event()
        self._waiting[number] = _Waiting(pool is self._questions, key, then, failed, dropped)
        pool.start(_Job(number, work, self._answers, dropped))
        self.busyChanged.emit(self.busy)

    def _take(self, number: int) -> _Waiting | None:
        waiting = self._waiting.pop(number)
        self.busyChanged.emit(self.busy)
        return None if waiting.dropped.is_set() else waiting

    @Slot(int, object)
    def _on_done(self, number: int, result: object) -> None:
        waiting = self._take(number)
        if waiting is not None:
            waiting.then(result)

    @Slot(int, object)
    def _on_failed(self, number: int, error: Exception) -> None:
        waiting = self._take(number)
        if waiting is not None:
            waiting.failed(error)
