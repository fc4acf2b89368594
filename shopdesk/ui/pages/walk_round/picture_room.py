"""One photograph of the walk-round, large: turned, cropped, marked. The original stays as it came."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QWidget

from shopdesk.domain.problem import Problem
from shopdesk.services.photographs import AsTaken, as_taken, change_picture
from shopdesk.services.walks import WalkView
from shopdesk.ui.context import Context
from shopdesk.ui.pages.walk_round.marking import Marking, Tool
from shopdesk.ui.pages.walk_round.picture_canvas import PictureCanvas
from shopdesk.ui.widgets.boxes import level, upright
from shopdesk.ui.widgets.buttons import Button, MainButton, QuietButton, ToolButton
from shopdesk.ui.widgets.headings import Heading, Note
from shopdesk.ui.widgets.photo_strip import Photo
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say

_LETTERS = {
    Qt.Key.Key_A: "arrow", Qt.Key.Key_C: "circle", Qt.Key.Key_X: "crop", Qt.Key.Key_R: "right",
    Qt.Key.Key_L: "left", Qt.Key.Key_U: "back", Qt.Key.Key_Backspace: "back", Qt.Key.Key_Return: "keep",
    Qt.Key.Key_Enter: "keep", Qt.Key.Key_PageDown: "next", Qt.Key.Key_PageUp: "before",
}  # fmt: skip


class PictureRoom(QWidget):
    """`changed`: a picture is shown differently now; `left` is the way back to the checkpoint."""

    changed = Signal()
    left = Signal()

    def __init__(
        self, context: Context, view: WalkView, photos: Sequence[Photo], *, may_mark: bool,
        parent: QWidget | None = None,
    ) -> None:  # fmt: skip
        super().__init__(parent)
        self._context, self._view, self._photos = context, view, list(photos)
        self._place, self._may_mark = 0, may_mark
        self.marking: Marking | None = None
        self.title = Heading("", "title")
        self.canvas = PictureCanvas(lambda: self.marking)
        self.canvas.may_mark = may_mark
        self.canvas.drawn.connect(lambda one, other: self._try(lambda m: m.draw(one, other)))
        self.canvas.pressed.connect(lambda: self._try(Marking.press))
        self.canvas.moved.connect(lambda right, down: self._try(lambda m: m.move(right, down)))
        self.tools = {tool: self._tool_button(tool) for tool in Tool}
        self.keep_button = MainButton(say("Keep it (Enter)"), self.keep, icon_name="tick")
        self.note = Note()
        row = WrappedRow([*self.tools.values(), *self._other_buttons(), self.keep_button])
        row.setVisible(may_mark)
        head = level(
            [QuietButton(say("Back"), self.left.emit, icon_name="back", tip=say("Escape")), self.title]
        )
        head.setStretchFactor(self.title, 1)
        box = upright([head, self.canvas, self.note, row], gap="small", margin="gap")
        box.setStretchFactor(self.canvas, 1)
        self.setLayout(box)

    def show_picture(self, photograph_id: int) -> None:
        """One of the checkpoint’s pictures."""
        ids = [photo.id for photo in self._photos]
        self._place = ids.index(photograph_id) if photograph_id in ids else 0
        self._context.ask(
            lambda seat: as_taken(seat, photograph_id), self._came, key=f"marking/{id(self)}", owner=self
        )

    def focusFirst(self) -> None:
        self.canvas.setFocus(Qt.FocusReason.OtherFocusReason)

    def keep(self) -> None:
        """The picture is shown like this from now on."""
        marking, view = self.marking, self._view
        if marking is None or not self._may_mark:
            return
        if not marking.changed:
            self.left.emit()
            return
        shown, changes = self._photos[self._place].id, marking.changes
        self._context.do(
            lambda seat: change_picture(seat, view.range_id, shown, changes), self._kept,
            changes=[f"job {view.job_id}", f"range {view.range_id}"], owner=self,
        )  # fmt: skip

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        deed = _LETTERS.get(Qt.Key(event.key()), "")
        if event.matches(QKeySequence.StandardKey.Undo):
            deed = "back"
        if deed in ("next", "before"):
            self._step(1 if deed == "next" else -1)
        elif deed and self._may_mark:
            self._do(deed)
        else:
            super().keyPressEvent(event)

    def _do(self, deed: str) -> None:
        if deed == "keep":
            self.keep()
        elif deed in {tool.value for tool in Tool}:
            self._choose(Tool(deed))
        elif deed == "back":
            self._try(Marking.take_back)
        else:
            self._try(lambda m: m.turn(1 if deed == "right" else -1))

    # Inside

    def _tool_button(self, tool: Tool) -> ToolButton:
        texts = {
            Tool.ARROW: say("Arrow (A)"), Tool.CIRCLE: say("Circle (C)"), Tool.CROP: say("Crop (X)"),
        }  # fmt: skip
        return ToolButton(texts[tool], lambda: self._choose(tool))

    def _other_buttons(self) -> list[QWidget]:
        return [
            Button(say("Turn left (L)"), lambda: self._try(lambda m: m.turn(-1))),
            Button(say("Turn right (R)"), lambda: self._try(lambda m: m.turn(1))),
            Button(say("Take back (U)"), lambda: self._try(Marking.take_back)),
            Button(say("As it was taken"), lambda: self._try(Marking.as_taken)),
        ]

    def _choose(self, tool: Tool) -> None:
        def choose(marking: Marking) -> None:
            marking.tool, marking.first = tool, None

        self._try(choose)
        self.focusFirst()

    def _try(self, deed: Callable[[Marking], object]) -> None:
        """Does it, or says why not."""
        marking = self.marking
        if marking is None:
            return
        try:
            deed(marking)
        except Problem as problem:
            self._context.tell_problem(problem)
        self._show()

    def _came(self, found: AsTaken) -> None:
        self.marking = Marking(found.changes)
        self.canvas.show_picture(found.data)
        self._show()

    def _show(self) -> None:
        marking = self.marking
        if marking is None:
            return
        photo = self._photos[self._place]
        name = photo.caption or say("Photograph {number}", number=self._place + 1)
        self.title.setText(
            say("{name}, {place} of {count}", name=name, place=self._place + 1, count=len(self._photos))
        )
        for tool, button in self.tools.items():
            button.setChecked(tool is marking.tool)
        if marking.first is not None:
            words = say("Now its other end: go there with the arrow keys and press Space.")
        else:
            words = say("Draw with the mouse, or: arrow keys move the cross, Shift goes further, Space "
                        "begins and ends a mark. The picture as it was taken is always kept.")  # fmt: skip
        self.note.setText(words if self._may_mark else say("Page Up and Page Down go to the others."))
        self.canvas.setAccessibleName(name)
        self.canvas.setAccessibleDescription(
            say("{count} marks. {words}", count=len(marking.changes.marks), words=words)
        )
        self.canvas.update()

    def _kept(self, shown: int) -> None:
        self._photos[self._place] = Photo(shown, self._photos[self._place].caption, b"")
        self.changed.emit()
        self.left.emit()

    def _step(self, by: int) -> None:
        if self._photos:
            self.show_picture(self._photos[(self._place + by) % len(self._photos)].id)
