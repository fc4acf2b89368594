"""Jumping to a checkpoint by words: type, look at what fits, press Enter."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from shopdesk.domain.catalogue.model import Catalogue, Checkpoint
from shopdesk.ui.widgets.word_picker import WordPicker
from shopdesk.wording import say

MOST = 12


class Finder(WordPicker):
    """`chosen` tells a checkpoint's code, "" when the person turned away."""

    chosen = Signal(str)

    def __init__(self, catalogue: Catalogue, parent: QWidget | None = None) -> None:
        super().__init__(say("Find a checkpoint by words"), say("Checkpoints that fit"), MOST, parent)
        self._catalogue = catalogue
        self._find: Callable[[str], Sequence[Checkpoint]] = lambda _words: ()
        self.typed.connect(self._narrow)
        self.picked.connect(self.chosen.emit)
        self.left.connect(lambda: self.chosen.emit(""))

    def ask(self, find: Callable[[str], Sequence[Checkpoint]]) -> None:
        """Shows itself with the keyboard in it."""
        self._find = find
        self.open_up()

    def _narrow(self, words: str) -> None:
        found = self._find(words)[:MOST] if words else ()
        choices = [
            (
                say(
                    "{name} ({zone})",
                    name=say(checkpoint.name),
                    zone=say(self._catalogue.zones[checkpoint.zone].name),
                ),
                checkpoint.code,
            )
            for checkpoint in found
        ]
        self.show_choices(choices, say("No checkpoint has these words.") if words else "")
