"""One photograph of the walk-round, large, in place of the checkpoint it belongs to."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QWidget

from shopdesk.services.walks import WalkView
from shopdesk.ui.context import Context
from shopdesk.ui.pictures.board import PictureBoard
from shopdesk.ui.widgets.boxes import level, upright
from shopdesk.ui.widgets.buttons import QuietButton
from shopdesk.ui.widgets.headings import Heading
from shopdesk.ui.widgets.photo_strip import Photo
from shopdesk.wording import say


class PictureRoom(QWidget):
    """`changed`: a picture is shown differently now; `left` is the way back to the checkpoint."""

    changed = Signal()
    left = Signal()

    def __init__(
        self, context: Context, view: WalkView, photos: Sequence[Photo], *, may_mark: bool,
        parent: QWidget | None = None,
    ) -> None:  # fmt: skip
        super().__init__(parent)
        topics = [f"job {view.job_id}", f"range {view.range_id}"]
        self.board = PictureBoard(context, view.range_id, photos, topics, may_mark=may_mark)
        self.title = Heading("", "title")
        self.board.shown.connect(self.title.setText)
        self.board.changed.connect(self.changed)
        self.board.kept.connect(self.left)
        head = level(
            [QuietButton(say("Back"), self.left.emit, icon_name="back", tip=say("Escape")), self.title]
        )
        head.setStretchFactor(self.title, 1)
        box = upright([head, self.board], gap="small", margin="gap")
        box.setStretchFactor(self.board, 1)
        self.setLayout(box)

    def show_picture(self, photograph_id: int) -> None:
        """One of the checkpoint’s pictures."""
        self.board.show_picture(photograph_id)

    def focusFirst(self) -> None:
        self.board.canvas.setFocus(Qt.FocusReason.OtherFocusReason)
