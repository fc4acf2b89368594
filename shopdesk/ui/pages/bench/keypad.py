"""What may be done with a task, one large button each with its key."""

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QApplication, QGridLayout, QSizePolicy, QWidget

from shopdesk.ui.look import spacing
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button, MainButton
from shopdesk.wording import say

LETTERS = 18  # the width one button of the rest asks for


class _Large(Button):
    """As high as a gloved finger asks for."""

    def _dress(self) -> None:
        super()._dress()
        self.setMinimumHeight(spacing(QApplication.font()).big_target)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)


class _LargeMain(MainButton):
    """The tick."""

    def _dress(self) -> None:
        super()._dress()
        self.setMinimumHeight(spacing(QApplication.font()).big_target)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)


@dataclass(frozen=True, slots=True)
class Deeds:
    """What the keypad calls; the page fills it."""

    tick: Callable[[], object]
    clock: Callable[[], object]
    hours: Callable[[], object]
    note: Callable[[], object]
    block: Callable[[], object]
    found_more: Callable[[], object]
    photograph: Callable[[], object]
    give: Callable[[], object]
    part_done: Callable[[], object]
    answer: Callable[[], object]
    proofs: Callable[[], object]
    gas_bench: Callable[[], object]
    jacket: Callable[[], object]


class Keypad(QWidget):
    """The tick and the clock first; the rest in as many columns as there is room."""

    def __init__(self, deeds: Deeds, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.tick_button = _LargeMain(say("Tick it off (Space)"), deeds.tick, icon_name="tick")
        self.clock_button = _Large(say("Start the clock (R)"), deeds.clock, icon_name="clock-start")
        self.answer_button = _Large(say("Laboratory’s answer (L)"), deeds.answer, icon_name="proof")
        self.rest = [
            _Large(say("Hours (H)"), deeds.hours, icon_name="calendar"),
            _Large(say("Note (N)"), deeds.note, icon_name="note"),
            _Large(say("Part done (D)"), deeds.part_done, icon_name="bench"),
            _Large(say("Blocked (B)"), deeds.block, icon_name="hand"),
            _Large(say("Found more (M)"), deeds.found_more, icon_name="add"),
            _Large(say("Photograph (P)"), deeds.photograph, icon_name="photo"),
            _Large(say("Give it to (A)"), deeds.give, icon_name="person"),
            _Large(say("Proofs (V)"), deeds.proofs, icon_name="proof"),
            _Large(say("Gas bench (G)"), deeds.gas_bench, icon_name="gas"),
            _Large(say("Jacket (J)"), deeds.jacket, icon_name="jacket"),
            self.answer_button,
        ]
        self._columns = 0
        self._first, self._grid = QGridLayout(), QGridLayout()
        for grid in (self._first, self._grid):
            grid.setContentsMargins(0, 0, 0, 0)
            grid.setSpacing(spacing(self.font()).small)
        self.setLayout(upright([self._first, self._grid], gap="small"))
        self._lay(2)

    def show_state(self, *, done: bool, running: bool, laboratory: bool) -> None:
        """Names the tick and the clock by what they would do now."""
        tick = say("Take the tick back (Space)") if done else say("Tick it off (Space)")
        clock = say("Stop the clock (R)") if running else say("Start the clock (R)")
        for button, text in ((self.tick_button, tick), (self.clock_button, clock)):
            button.setText(text)
            button.setAccessibleName(text)
        self.answer_button.setVisible(laboratory)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        one = self.fontMetrics().averageCharWidth() * LETTERS
        self._lay(max(1, min(4, self.width() // one)))

    def _lay(self, columns: int) -> None:
        if columns == self._columns:
            return
        self._columns = columns
        for place, button in enumerate((self.tick_button, self.clock_button)):
            wide = 1 if columns < 2 else 2
            self._first.addWidget(button, place // wide, place % wide)
        for place, button in enumerate(self.rest):
            self._grid.addWidget(button, place // columns, place % columns)
