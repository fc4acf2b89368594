"""An open shop in the window: the rail, the band of a sample, and the pages."""

from collections.abc import Sequence

from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QLabel, QWidget

from shopdesk.ui.context import Context
from shopdesk.ui.copy_timer import CopyTimer
from shopdesk.ui.desk import Desk
from shopdesk.ui.find_panel import FindButton, FindPanel
from shopdesk.ui.opening import Opened
from shopdesk.ui.opening_codes import open_code, tell_foreign
from shopdesk.ui.person_chooser import PersonChooser
from shopdesk.ui.places import Place
from shopdesk.ui.rail import Rail
from shopdesk.ui.scanning import Scanner
from shopdesk.ui.undo_button import UndoButton
from shopdesk.ui.view import View, ViewButton
from shopdesk.ui.widgets.band import Band
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.empty_state import EmptyState
from shopdesk.wording import say


class Workspace(QWidget):
    """Made when a shop opens, gone when it closes."""

    def __init__(self, context: Context, opened: Opened, places: Sequence[Place], view: View) -> None:
        super().__init__()
        self.context = context
        self.desk = Desk(context, places)
        shown = [place for place in places if not place.hidden]
        self.people = PersonChooser(context)
        self.busy = QLabel(say("Working…"))
        self.busy.hide()
        self.finder = FindPanel(context, places, self)
        self.undo = UndoButton(context)
        tools = level([STRETCH, FindButton(self.finder), self.undo, STRETCH])
        self.rail = Rail(shown, [self.busy, tools, self.people, ViewButton(view)])
        self.rail.placeAsked.connect(self.desk.go)
        self.desk.shown.connect(self.rail.show_open)
        self.desk.shown.connect(lambda key: context.memory.keep("window/place", key))
        bands = [Band(text) for text in _standing_facts(opened)]
        right = upright([*bands, self.desk], gap="hair")
        right.setStretchFactor(self.desk, 1)
        row = level([self.rail, right], gap="hair")
        row.setStretchFactor(right, 1)
        self.setLayout(row)
        self.copying = CopyTimer(context, self)
        self.scanner = Scanner(
            self, lambda code: open_code(context, code), lambda text: tell_foreign(context, text)
        )
        back = QShortcut(QKeySequence(QKeySequence.StandardKey.Back), self)
        back.activated.connect(self.desk.back)
        if shown:
            last = context.memory.text("window/place")
            self.desk.go(last if any(place.key == last for place in shown) else shown[0].key)
        else:
            self.desk.addWidget(EmptyState(say("This program came without its places. Install it again.")))

    def show_busy(self, busy: bool) -> None:
        """Whether work is under way in the background."""
        self.busy.setVisible(busy)


def _standing_facts(opened: Opened) -> list[str]:
    """What one must not forget while this shop is open."""
    facts = []
    if opened.sample:
        facts.append(
            say(
                "Sample shop: its calendar stands still at {day}. What you change here is not kept.",
                day=opened.stands_at,
            )
        )
    if opened.seat.file.looking:
        facts.append(say("Open to look at only: nothing can be changed here."))
    return facts
