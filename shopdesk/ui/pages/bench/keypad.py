"""What may be done with a task, one large button each with its key."""

from collections.abc import Callable, Mapping

from PySide6.QtWidgets import QWidget

from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import QuietButton
from shopdesk.ui.widgets.headings import Note
from shopdesk.ui.widgets.large_buttons import ButtonGrid, LargeButton, LargeMainButton
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say

Deeds = Mapping[str, Callable[[], object]]


class Keypad(QWidget):
    """The tick and the clock first, then the deeds; what leads elsewhere is quiet, under them.

    `first` stands by itself, for the pane to keep it in sight. `deeds` are called by their names here;
    the page fills them.
    """

    def __init__(self, deeds: Deeds, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.tick_button = LargeMainButton(say("Tick it off (Space)"), deeds["tick"], icon_name="tick")
        self.clock_button = LargeButton(say("Start the clock (R)"), deeds["clock"], icon_name="clock-start")
        self.answer_button = LargeButton(say("Laboratory’s answer (L)"), deeds["answer"], icon_name="proof")
        self.card_button = LargeButton(say("Thermostat card (C)"), deeds["card"], icon_name="flame")
        self.rest = [
            LargeButton(say("Hours (H)"), deeds["hours"], icon_name="calendar"),
            LargeButton(say("Note (N)"), deeds["note"], icon_name="note"),
            LargeButton(say("Part done (D)"), deeds["part_done"], icon_name="bench"),
            LargeButton(say("Blocked (B)"), deeds["block"], icon_name="hand"),
            LargeButton(say("Found more (M)"), deeds["found_more"], icon_name="add"),
            LargeButton(say("Photograph (P)"), deeds["photograph"], icon_name="photo"),
            LargeButton(say("Took off (O)"), deeds["take_off"], icon_name="tag"),
            LargeButton(say("Give it to (A)"), deeds["give"], icon_name="person"),
            self.answer_button,
            self.card_button,
        ]
        self.first = ButtonGrid([self.tick_button, self.clock_button], most=2)
        self._grid = ButtonGrid(self.rest)
        self.ways = [
            QuietButton(say("What is where (W)"), deeds["tags"], icon_name="tag"),
            QuietButton(say("Proofs (V)"), deeds["proofs"], icon_name="proof"),
            QuietButton(say("Work order (E)"), deeds["order"], icon_name="bench"),
            QuietButton(say("Jacket (J)"), deeds["jacket"], icon_name="jacket"),
            QuietButton(say("Gas bench (G)"), deeds["gas_bench"], icon_name="gas"),
        ]
        ways = WrappedRow([Note(say("Go to")), *self.ways])
        self.setLayout(upright([self._grid, ways], gap="small"))

    def show_state(self, *, done: bool, running: bool, laboratory: bool, card: bool) -> None:
        """Names the tick and the clock by what they would do now; shows what only some tasks ask for."""
        tick = say("Take the tick back (Space)") if done else say("Tick it off (Space)")
        clock = say("Stop the clock (R)") if running else say("Start the clock (R)")
        for button, text in ((self.tick_button, tick), (self.clock_button, clock)):
            button.setText(text)
            button.setAccessibleName(text)
        self.answer_button.setVisible(laboratory)
        self.card_button.setVisible(card)
        self._grid.lay()
