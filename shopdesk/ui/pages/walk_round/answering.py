"""What a key or a button answers on a walk-round, and the two rules that stand before any answer.

Nothing is lit by this program's asking, and a smell of gas stops the walk. Knows the walk and the dialogs,
no widgets of the page and no shop.
"""

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from shopdesk.domain.catalogue.model import Evidence
from shopdesk.ui.dialogs import Dialogs
from shopdesk.ui.pages.walk_round.draft import SMELL, Change, Walk
from shopdesk.wording import say

_LOOKED = ("sound", "found", "find and stay")


class Answering(QObject):
    """`settled` carries the Change, or None, and which checkpoint was open; `stopped`: leave the house."""

    settled = Signal(object, str)
    stopped = Signal()

    def __init__(self, dialogs: Dialogs, parent: QObject) -> None:
        super().__init__(parent)
        self._dialogs = dialogs

    def answer(self, walk: Walk, deed: str, place: int) -> None:
        """Does what the deed means at the open checkpoint; `place` is that of a finding."""
        before = walk.open
        if deed in _LOOKED and not self._may_say_lit(walk):
            deed = "pass"
        change = self._deeds(walk, place)[deed]()
        if deed == "gas" or self._smells(change):
            self.stopped.emit()
        self.settled.emit(change, before)

    def _deeds(self, walk: Walk, place: int) -> dict[str, Callable[[], Change | None]]:
        how = {e.value: lambda e=e: walk.choose_evidence(e) for e in Evidence if e is not Evidence.NOT_SEEN}
        return {
            **how,
            "sound": walk.sound,
            "found": lambda: walk.find(place),
            "find and stay": lambda: walk.find(place, stay=True),
            "pass": walk.pass_over,
            "more": lambda: walk.add(1),
            "fewer": lambda: walk.add(-1),
            "take back": walk.take_back,
            "undo": walk.undo,
            "gas": walk.raise_smell,
        }

    def _smells(self, change: Change | None) -> bool:
        return (
            change is not None
            and change.checkpoint == SMELL
            and any(answer.finding is not None for answer in change.after)
        )

    def _may_say_lit(self, walk: Walk) -> bool:
        """Without the tightness steps and a competent person before it, what needs a flame was not seen."""
        if not walk.needs_lighting():
            return True
        walk.lit = self._dialogs.confirm(
            say("Nothing is lit on a walk-round"),
            say("“{name}” is seen or tested only with something lit. Were the tightness steps gone through "
                "first, and was it lit by a person competent with gas, as the local code asks?",
                name=say(walk.checkpoint.name)),
            say("Yes, both"), say("No, leave it as not seen"),
        )  # fmt: skip
        return walk.lit
