"""What a page is: one place of the window, or a range's jacket, made when it is first shown.

A page builds its widgets in its constructor, asks for its rows in `refresh`, and never blocks.
"""

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any, ClassVar, TypeVar

from PySide6.QtWidgets import QWidget

from shopdesk.domain.changed import Seen
from shopdesk.domain.problem import Problem
from shopdesk.ui.context import Context, Topics

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat
    from shopdesk.ui.widgets.form import Form

T = TypeVar("T")


class Page(QWidget):
    """Derive from this, build the widgets in `__init__` (call super first), and fill `refresh`."""

    place: ClassVar[str] = ""  # key in `places`, and the first part of remembered names
    everything: ClassVar[Topics] = frozenset({"everything"})  # handed to `refresh` on first showing

    def __init__(self, context: Context) -> None:
        super().__init__()
        self.context = context

    # What a page fills in

    def refresh(self, topics: Topics) -> None:
        """Asks anew for what it shows of these topics; keeps selection, scroll and typed text.

        Called with `Page.everything` when the page is first shown or another person acts, later
        with what changed. A hidden page is told once, when it is shown again.
        """

    def focusFirst(self) -> None:
        """Puts the keyboard where work on this page begins."""
        self.setFocus()

    def open_on(self, **what: Any) -> None:
        """Shows one thing on the page, as `context.go(place, **what)` names it."""

    def keep_draft(self) -> None:
        """Called before the page is left or the window closes: keep what was typed."""

    # What a page leans on

    def ask(
        self, question: Callable[["Seat"], T], then: Callable[[T], None],
        failed: Callable[[Problem], None] | None = None, key: str = "",
    ) -> None:  # fmt: skip
        """`context.ask` for this page: keys are its own, and nothing is called once it is gone."""
        own_key = f"{self.place}/{id(self)}/{key}" if key else ""
        self.context.ask(question, then, failed, own_key, owner=self)

    def do(
        self, action: Callable[["Seat"], T], then: Callable[[T], None] | None = None,
        failed: Callable[[Problem], None] | None = None, *,
        changes: Iterable[str] | Callable[[T], Iterable[str]] = (), form: "Form | None" = None,
        seen: Seen | None = None,
    ) -> None:  # fmt: skip
        """`context.do` for this page."""
        self.context.do(action, then, failed, changes=changes, owner=self, form=form, seen=seen)
