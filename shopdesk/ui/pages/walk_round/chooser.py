"""Which range is walked round: those looked at and booked in, with how far each walk-round is."""

from collections.abc import Callable

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from shopdesk.domain.stage import Stage
from shopdesk.services.inspection import WalkRow
from shopdesk.ui.look import colours_of, spacing
from shopdesk.ui.memory import Memory
from shopdesk.ui.range_picture import paint_range
from shopdesk.ui.range_words import name_of, owner_of
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.buttons import MainButton
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.ui.widgets.list_table import ListTable
from shopdesk.ui.widgets.rows import ROW, Column
from shopdesk.wording import Region, say


def standing_of(region: Region, row: WalkRow) -> str:
    """How far the newest walk-round of a range is."""
    if row.walk_id is None or row.begun_on is None:
        return say("not walked round yet")
    day = region.day(row.begun_on)
    if row.finished:
        return say("finished, {day}, {count} answered", day=day, count=row.answered)
    return say("under way since {day}, {count} answered", day=day, count=row.answered)


class _Picture(QStyledItemDelegate):
    """The small drawing of the range."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: object) -> None:
        row: WalkRow = index.data(ROW)  # type: ignore[attr-defined]
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(option.rect, option.palette.highlight())
        box = option.rect.adjusted(2, 2, -2, -2)
        paint_range(painter, box.toRectF(), row.build, (), colours_of(option.palette))

    def sizeHint(self, option: QStyleOptionViewItem, index: object) -> QSize:
        side = spacing(option.font).picture_row
        return QSize(side, side)


class Chooser(QWidget):
    """`chosen` tells the job of the range; `newAsked` that a range not written down yet is to be."""

    chosen = Signal(int)
    newAsked = Signal()

    def __init__(
        self, region: Region, memory: Memory, *, may_add: bool, first: Callable[[], object]
    ) -> None:  # fmt: skip
        super().__init__()
        self.new_button = MainButton(
            say("Look another range over"), self.newAsked.emit, icon_name="add", shortcut="Ctrl+N"
        )
        self.new_button.setVisible(may_add)
        self.list = ListTable(
            say("Ranges to walk round"), _columns(region), key=lambda row: row.job_id,
            empty=say("Ranges you look over or book in will stand here until their work is quoted."),
            first=(say("Look a range over"), first) if may_add else None,
            memory=memory, remembered="walk-round/ranges", pictures=True,
        )  # fmt: skip
        self.list.draw("picture", _Picture())
        self.list.opened.connect(lambda job_id: self.chosen.emit(int(job_id)))
        head = level([Heading(say("Walk-round"), "head"), STRETCH, self.new_button])
        guide = say("Choose a range and press Enter. Its walk-round goes on where it was left.")
        words = Words(guide, "body", "muted")
        box = upright([head, words, self.list], margin="wide")
        box.setStretchFactor(self.list, 1)
        self.setLayout(box)

    def focusFirst(self) -> None:
        self.list.focusFirst()


def _stage(stage: Stage) -> str:
    return say(stage.value)


def _columns(region: Region) -> list[Column]:
    return [
        Column("picture", "", lambda _row: "", width=8, spoken=lambda row: row.number),
        Column("number", say("Number"), lambda row: row.number, width=10, strong=True,
               sort=lambda row: row.number),
        Column("range", say("Range"), lambda row: name_of(row.maker, row.model, row.colour), width=28,
               sort=lambda row: name_of(row.maker, row.model, row.colour)),
        Column("owner", say("Whose"), _whose, width=18, sort=lambda row: row.customer),
        Column("stage", say("Stage"), lambda row: _stage(row.stage), width=12,
               sort=lambda row: row.stage.value),
        Column("walk", say("Walk-round"), lambda row: standing_of(region, row), width=34, stretch=True),
    ]  # fmt: skip


def _whose(row: WalkRow) -> str:
    if not row.customer and row.stage is Stage.LOOKED_AT and not row.bought:
        return say("the seller’s")
    return owner_of(row.customer)
