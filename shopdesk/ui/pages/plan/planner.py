"""Planning beside the window: the best plan so far as it comes, stopped when wanted, kept at the end."""

import threading
import time
from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services.planning import making, plans
from shopdesk.services.planning.making import Made
from shopdesk.services.planning.picture import picture_of
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat
    from shopdesk.ui.pages.page import Page

_SHOWN_EVERY = 0.4  # seconds between two pictures of a plan that is being made


class Planner(QObject):
    """One planning at a time; `better` comes from the worker and arrives in the GUI thread."""

    better = Signal(object)  # Picture of the best plan so far
    planningChanged = Signal(bool)
    refused = Signal(object)  # Problem

    def __init__(self, page: "Page") -> None:
        super().__init__(page)
        self._page = page
        self._stop = threading.Event()
        self.planning = False

    def again(self) -> None:
        """Close to the plan in force: what is still possible stays where it is."""
        self._plan(
            lambda seat, told: making.plan_close(seat, stop=self._stop.is_set, progress=told),
            say("planned again"),
        )

    def anew(self) -> None:
        """The best plan found in twenty seconds, whatever moves."""
        self._plan(
            lambda seat, told: making.make_plan(seat, stop=self._stop.is_set, progress=told),
            say("planned from scratch"),
        )

    def stop(self) -> None:
        """The best plan so far is kept."""
        self._stop.set()

    def _plan(self, search: "Callable[[Seat, Callable[[Made], None]], Made]", why: str) -> None:
        if self.planning or not self._page.context.may(Action.PLAN_BENCH):
            return
        self._stop.clear()
        self._now(True)
        shown = [0.0]

        def told(made: Made) -> None:
            """In the worker: a picture of the best so far, not too often."""
            if time.monotonic() - shown[0] >= _SHOWN_EVERY:
                shown[0] = time.monotonic()
                self.better.emit(picture_of(made))

        self._page.ask(lambda seat: search(seat, told), lambda made: self._keep(made, why), self._fail)

    def _keep(self, made: Made, why: str) -> None:
        def kept(_key: int) -> None:
            self._now(False)
            late = made.plan.cost.lateness
            words = say("some promises are not kept") if late else say("every promise is kept")
            self._page.context.tell(say("The bench is {why}: {late}.", why=why, late=words))

        self._page.do(
            lambda seat: plans.keep_plan(seat, made, why), kept, self._fail, changes=["plan"]
        )  # fmt: skip

    def _fail(self, problem: Problem) -> None:
        self._now(False)
        self.refused.emit(problem)

    def _now(self, planning: bool) -> None:
        self.planning = planning
        self.planningChanged.emit(planning)
