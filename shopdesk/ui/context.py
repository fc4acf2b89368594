"""What every page is handed: the seat, work off the GUI thread, and the ways to the rest of the window.

Made once for each open shop and passed to constructors; nothing in the window is global. Services are
named here for their types only, so that the window shows before they are loaded.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, TypeVar

from PySide6.QtCore import QObject, Signal
from shiboken6 import isValid

from shopdesk.domain.changed import Changed, Path, Seen
from shopdesk.domain.problem import ChangedMeanwhile, Problem
from shopdesk.domain.rights import Action, may
from shopdesk.ui.dialogs import Dialogs
from shopdesk.ui.drafts import Drafts
from shopdesk.ui.memory import Memory
from shopdesk.ui.view import View
from shopdesk.ui.workers import Workers
from shopdesk.wording import Region, say_problem

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat
    from shopdesk.ui.widgets.form import Form

T = TypeVar("T")
Topics = frozenset[str]
SETTINGS = frozenset({"settings", "catalogue"})  # after these the seat itself is read anew

LOOKING = frozenset({Action.LOOK, Action.SEE_COSTS})  # what a shop that is open to look at allows


@dataclass(frozen=True, slots=True)
class Message:
    """A sentence for the strip; `step` is one thing the person may do about it, such as undo."""

    text: str
    problem: bool = False
    step_name: str = ""
    step: Callable[[], None] | None = None


@dataclass(frozen=True, slots=True)
class Conflict:
    """Two texts for the same fields: what somebody else saved, and what was typed here.

    `answer` saves again with their text wherever it was chosen; `labels` are the form's own words.
    """

    changed: Changed
    answer: Callable[[frozenset[tuple[str, Path]]], None]
    labels: Mapping[str, str] = field(default_factory=dict)


class Context(QObject):
    """One open shop, as the pages see it."""

    seatChanged = Signal()  # another person acts, or region or catalogue changed
    changed = Signal(object)  # Topics: what a change touched, e.g. "job 12", "people", "stores"
    stood = Signal()  # a change was made, whether or not a page has to be told of it
    told = Signal(object)  # Message
    placeAsked = Signal(str, object)  # key of a place, what to show there
    moveAsked = Signal(str)  # close this shop, move it there, and open it again
    leaveAsked = Signal()  # close this shop, to open another
    firstRangeAsked = Signal()  # be led through a first range
    paperAsked = Signal(object, str, str)  # bytes, title, file name
    conflicted = Signal(object)  # Conflict

    def __init__(
        self, seat: "Seat", workers: Workers, dialogs: Dialogs, memory: Memory, drafts: Drafts,
        view: View,
        parent: QObject | None = None,
    ) -> None:  # fmt: skip
        super().__init__(parent)
        self._seat = seat
        self._workers = workers
        self.dialogs = dialogs
        self.memory = memory
        self.drafts = drafts
        self.view = view
        self._reading: Seen | None = None

    @property
    def seat(self) -> "Seat":
        return self._seat

    @property
    def region(self) -> Region:
        """How this shop writes money, hours, days and measures."""
        return self._seat.region

    def may(self, action: Action) -> bool:
        """Whether the acting person may do this in this shop (to hide or explain a control)."""
        if self._seat.file.looking and action not in LOOKING:
            return False
        return may(self._seat.acting.role, action)

    def take_seat(self, seat: "Seat") -> None:
        """The same shop with another person acting, or with new settings."""
        self._seat = seat
        self.seatChanged.emit()

    # Work

    @property
    def reading(self) -> Seen | None:
        """From which state of the shop the answer was read that is being handed over now.

        A form that shows it keeps this beside its fields (`form.seen`) and gives it back with the change.
        """
        return self._reading

    def ask(
        self, question: Callable[["Seat"], T], then: Callable[[T], None],
        failed: Callable[[Problem], None] | None = None, key: str = "", owner: QObject | None = None,
    ) -> None:  # fmt: skip
        """Runs a service that only reads, in a worker; `then` gets the answer in the GUI thread.

        A newer question of the same `key` makes the older answer be dropped. Nothing is called once
        `owner` is gone. Without `failed` a Problem shows in the message strip.
        """
        seat = self._seat

        def answered(read: tuple[Seen | None, T]) -> None:
            if not _alive(owner):
                return
            self._reading, answer = read
            try:
                then(answer)
            finally:
                self._reading = None

        def refused(error: Exception) -> None:
            if _alive(owner):
                self._fail(error, failed)

        self._workers.ask(lambda: (seat.file.seen(), question(seat)), answered, refused, key)

    def do(
        self, action: Callable[["Seat"], T], then: Callable[[T], None] | None = None,
        failed: Callable[[Problem], None] | None = None, *,
        changes: Iterable[str] | Callable[[T], Iterable[str]] = (), owner: QObject | None = None,
        form: "Form | None" = None, seen: Seen | None = None,
    ) -> None:  # fmt: skip
        """Runs a service that changes the shop; changes are made one after another.

        After it stands: `then` with its result, then `changed` with the topics of `changes`. With the
        `form` (or `seen`) from which something is overwritten, nobody's text is: where another seat saved
        something else meanwhile, `failed` hears it, both texts are shown, and the choice is saved.
        """
        read = form.seen if form is not None and seen is None else seen
        seat = self._seat if read is None else self._seat.having_seen(read)

        def stands(result: T) -> None:
            if form is not None and read is not None and _alive(form):
                form.show_put_back(read.put_back)
            try:
                if then is not None and _alive(owner):
                    then(result)
            finally:
                self.announce(*(changes(result) if callable(changes) else changes))
                self.stood.emit()

        def refused(error: Exception) -> None:
            self._fail(error, failed, owner)
            if isinstance(error, Changed):
                labels = form.labels() if form is not None and _alive(form) else {}
                self.conflicted.emit(Conflict(error, lambda theirs: again(error.length, theirs), labels))

        def again(length: int, theirs: frozenset[tuple[str, Path]]) -> None:
            newer = Seen(length, theirs=theirs)
            if read is not None:  # a page that goes on with it has seen both texts now
                read.length, newer.own = length, read.own
            if form is not None and _alive(form):
                form.seen = newer
            self.do(action, then, failed, changes=changes, owner=owner, form=form, seen=newer)

        self._workers.do(lambda: _tried(action, seat), stands, refused)

    def announce(self, *topics: str) -> None:
        """Says what changed; open pages refresh what they show of it."""
        if not topics:
            return
        if SETTINGS.isdisjoint(topics):
            self.changed.emit(frozenset(topics))
        else:
            self.ask(lambda seat: seat.refreshed(), lambda seat: self._renewed(seat, frozenset(topics)))

    def _renewed(self, seat: "Seat", topics: Topics) -> None:
        self.take_seat(seat)
        self.changed.emit(topics)

    def _fail(
        self, error: Exception, failed: Callable[[Problem], None] | None, owner: QObject | None = None
    ) -> None:
        """A Problem goes to the page or the strip; anything else is a bug and goes to the excepthook."""
        if not isinstance(error, Problem):
            raise error
        if failed is not None and _alive(owner):
            failed(error)
        else:
            self.tell_problem(error)

    # The rest of the window

    def tell(self, text: str, step_name: str = "", step: Callable[[], None] | None = None) -> None:
        """What happened, to which record; `step_name` and `step` offer one thing to do, such as undo."""
        self.told.emit(Message(text, False, step_name, step))

    def tell_problem(self, problem: Problem | str) -> None:
        """A sentence of refusal, where no field of the page can carry it."""
        self.told.emit(Message(say_problem(problem) if isinstance(problem, Problem) else problem, True))

    def go(self, place: str, **what: Any) -> None:
        """Shows a place and, with `what`, something in it (see `Page.open_on`)."""
        self.placeAsked.emit(place, what)

    def leave_shop(self) -> None:
        """Closes this shop and shows the page on which another is opened."""
        self.leaveAsked.emit()

    def open_jacket(self, range_id: int) -> None:
        """Everything about one range."""
        self.go("jacket", range_id=range_id)

    def show_paper(self, paper: str | bytes, title: str, kind: str = "") -> None:
        """Shows an issued paper by its number (and kind), or PDF bytes that are not issued yet."""
        if isinstance(paper, bytes):
            self.paperAsked.emit(paper, title, title)
            return
        number = paper
        self.ask(
            lambda seat: _paper(seat, number, kind),
            lambda pdf: self.paperAsked.emit(pdf, title, f"{kind or 'paper'} {number}"),
        )


def _paper(seat: "Seat", number: str, kind: str) -> bytes:
    from shopdesk.services.papers.keeping import paper_bytes

    return paper_bytes(seat, number, kind)


def _tried(action: "Callable[[Seat], T]", seat: "Seat") -> T:
    """A change that lost to another at the very same moment wrote nothing. From a screen that knows what
    it has read it is tried once more: then the other stands in the journal, and is told by name."""
    try:
        return action(seat)
    except Changed:
        raise
    except ChangedMeanwhile:
        if seat.seen is None:
            raise
        return action(seat)


def _alive(owner: QObject | None) -> bool:
    return owner is None or isValid(owner)
