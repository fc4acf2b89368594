"""Where the figures of a route or a scope come from: cause, part, price and share, each to be followed."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QWidget

from shopdesk.domain.worth.origin import Group, Line
from shopdesk.services.papers.words import in_words
from shopdesk.ui.pages.walk_round.worth_words import span_words
from shopdesk.ui.widgets.boxes import level, upright
from shopdesk.ui.widgets.buttons import QuietButton
from shopdesk.ui.widgets.headings import Heading, Note
from shopdesk.ui.widgets.strip_list import Strip, StripList
from shopdesk.wording import Region, say


class WhereFrom(QWidget):
    """The lines as a list; what a line leads to is told by one of three signals."""

    left = Signal()
    checkpointAsked = Signal(str)
    jobAsked = Signal(int)
    figureAsked = Signal(str)

    def __init__(
        self, region: Region, title: str, lines: tuple[Line, ...], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._lines = lines
        self.list = StripList(say("Where it comes from"), empty=say("Nothing stands behind it."))
        self.list.show_rows([_strip(region, place, line) for place, line in enumerate(lines)])
        self.list.opened.connect(self._open)
        note = Note(
            say(
                "Spans are 10 to 90 of 100 cases; they do not add up, for seldom everything goes dear at "
                "once. Enter follows a line to its checkpoint, its sale or its figure in Set-up."
            )
        )
        back = QuietButton(say("Back"), self.left.emit, icon_name="back", tip=say("Escape"))
        heading = Heading(title, "head")
        heading.setWordWrap(True)
        head = level([back, heading])
        head.setStretchFactor(heading, 1)
        box = upright([head, note, self.list], margin="wide")
        box.setStretchFactor(self.list, 1)
        self.setLayout(box)

    def focusFirst(self) -> None:
        self.list.focusFirst()
        self.list.setFocus(Qt.FocusReason.OtherFocusReason)

    def _open(self, key: object) -> None:
        line = self._lines[int(str(key))]
        if line.checkpoint:
            self.checkpointAsked.emit(line.checkpoint)
        elif line.job_id:
            self.jobAsked.emit(line.job_id)
        elif line.settled_in:
            self.figureAsked.emit(line.settled_in)


def _group_word(group: Group) -> str:
    return {
        Group.VALUE: say("what it brings"),
        Group.COST: say("what it costs"),
        Group.PRICE: say("the price"),
    }[group]


def _strip(region: Region, place: int, line: Line) -> Strip:
    leads = ""
    if line.checkpoint:
        leads = say("to its checkpoint")
    elif line.job_id:
        leads = say("to its jacket")
    elif line.settled_in:
        leads = say("to its figure in Set-up")
    figure = "" if line.figure is None else span_words(region, line.figure)
    return Strip(place, in_words(line.told, region), _group_word(line.group), figure, leads)
