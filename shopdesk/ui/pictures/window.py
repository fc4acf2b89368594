"""Photographs of a range large in a window of their own, for every page that shows them."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QWidget

from shopdesk.ui.context import Context
from shopdesk.ui.pictures.board import PictureBoard
from shopdesk.ui.widgets.boxes import level, upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.headings import Words
from shopdesk.ui.widgets.photo_strip import Photo
from shopdesk.wording import say


class PhotoWindow(QWidget):
    """One photograph as large as the window; Page Up and Page Down go to the others, Escape closes.

    `range_id` lets the picture be marked, turned and cropped; without it the arrow keys go to the others.
    """

    def __init__(
        self, parent: QWidget, context: Context, rows: Sequence[Photo], range_id: int | None = None
    ) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._context = context
        may_mark = range_id is not None and not context.seat.file.looking
        topics = [f"range {range_id}"] if may_mark else []
        self.board = PictureBoard(context, range_id or 0, rows, topics, may_mark=may_mark)
        self.caption = Words()
        self.board.shown.connect(self.setWindowTitle)
        self.board.shown.connect(self.caption.setText)
        self.board.kept.connect(lambda: context.tell(say("The picture is shown like this from now on.")))
        back = Button(say("&Back"), lambda: self.board.step(-1), icon_name="back")
        on = Button(say("&Next"), lambda: self.board.step(1), icon_name="next")
        foot = level([self.caption, back, on])
        foot.setStretchFactor(self.caption, 1)
        box = upright([self.board, foot], margin="gap")
        box.setStretchFactor(self.board, 1)
        self.setLayout(box)
        for key, step in () if may_mark else (("Left", -1), ("Right", 1)):
            QShortcut(QKeySequence(key), self).activated.connect(lambda step=step: self.board.step(step))
        QShortcut(QKeySequence("Esc"), self).activated.connect(self.close)
        if not context.memory.shape("photograph", self):
            self.resize(960, 760)

    def show_picture(self, photograph_id: int) -> None:
        """Shows one of the pictures it was given."""
        self.board.show_picture(photograph_id)
        self.show()
        self.board.canvas.setFocus(Qt.FocusReason.OtherFocusReason)

    def closeEvent(self, event: object) -> None:
        self._context.memory.keep_shape("photograph", self)
        super().closeEvent(event)  # type: ignore[arg-type]
