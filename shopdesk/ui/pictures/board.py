"""A photograph being looked at and marked: turned, cropped, arrows, circles. The original stays as it came.

One board for every place that shows pictures of a range: the walk-round's room and the window of its own.
"""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QWidget

from shopdesk.domain.problem import Problem
from shopdesk.services.photographs import AsTaken, as_taken, change_picture
from shopdesk.ui.context import Context
from shopdesk.ui.pictures.canvas import PictureCanvas
from shopdesk.ui.pictures.marking import Marking, Tool
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button, MainButton, ToolButton
from shopdesk.ui.widgets.headings import Note, ProblemText
from shopdesk.ui.widgets.photo_strip import Photo
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say, say_problem

_LETTERS = {
    Qt.Key.Key_A: "arrow", Qt.Key.Key_C: "circle", Qt.Key.Key_X: "crop", Qt.Key.Key_R: "right",
    Qt.Key.Key_L: "left", Qt.Key.Key_U: "back", Qt.Key.Key_Backspace: "back", Qt.Key.Key_Return: "keep",
    Qt.Key.Key_Enter: "keep", Qt.Key.Key_PageDown: "next", Qt.Key.Key_PageUp: "before",
}  # fmt: skip


class PictureBoard(QWidget):
    """`shown` names the picture in sight; `kept`: it is shown differently now, or nothing was to be kept.

    `topics` are what pages hear of once a picture changed.
    """

    shown = Signal(str)
    changed = Signal()
    kept = Signal()

    def __init__(
        self, context: Context, range_id: int, photos: Sequence[Photo], topics: Sequence[str], *,
        may_mark: bool, parent: QWidget | None = None,
    ) -> None:  # fmt: skip
        super().__init__(parent)
        self._context, self._range_id, self._photos = context, range_id, list(photos)
        self._topics, self._place, self._may_mark = list(topics), 0, may_mark
        self.marking: Marking | None = None
        self.canvas = PictureCanvas(lambda: self.marking)
        self.canvas.may_mark = may_mark
        self.canvas.drawn.connect(lambda one, other: self._try(lambda m: m.draw(one, other)))
        self.canvas.pressed.connect(lambda: self._try(Marking.press))
        self.canvas.moved.connect(lambda right, down: self._try(lambda m: m.move(right, down)))
        self.tools = {tool: self._tool_button(tool) for tool in Tool}
        self.keep_button = MainButton(say("Keep it (Enter)"), self.keep, icon_name="tick")
        self.note, self.problem = Note(), ProblemText()
        row = WrappedRow([*self.tools.values(), *self._other_buttons(), self.keep_button])
        box = upright([self.canvas, self.note, self.problem, row], gap="small")
        box.setStretchFactor(self.canvas, 1)
        self.setLayout(box)
        row.setVisible(may_mark)  # not before it has its place, or it would be a window of its own
        self.setFocusProxy(self.canvas)

    def show_picture(self, photograph_id: int) -> None:
        """One of the pictures it was given."""
        ids = [photo.id for photo in self._photos]
        self._place = ids.index(photograph_id) if photograph_id in ids else 0
        self._context.ask(
            lambda seat: as_taken(seat, photograph_id), self._came, key=f"marking/{id(self)}", owner=self
        )

    def keep(self) -> None:
        """The picture is shown like this from now on."""
        self._keep_then(self.kept.emit)

    def step(self, by: int) -> None:
        """Another of the pictures; what was drawn on this one is kept first."""
        place = (self._place + by) % len(self._photos)
        self._keep_then(lambda: self.show_picture(self._photos[place].id))

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        deed = _LETTERS.get(Qt.Key(event.key()), "")
        if event.matches(QKeySequence.StandardKey.Undo):
            deed = "back"
        if deed in ("next", "before"):
            self.step(1 if deed == "next" else -1)
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

    def _keep_then(self, then: Callable[[], object]) -> None:
        marking, range_id = self.marking, self._range_id
        if marking is None or not self._may_mark or not marking.changed:
            then()
            return
        place, changes = self._place, marking.changes
        as_it_was = self._photos[place].id

        def stands(shown: int) -> None:
            self._photos[place] = Photo(shown, self._photos[place].caption, b"")
            marking.kept = changes
            self.changed.emit()
            then()

        self._context.do(
            lambda seat: change_picture(seat, range_id, as_it_was, changes), stands, self._refused,
            changes=self._topics, owner=self,
        )  # fmt: skip

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
        self.canvas.setFocus(Qt.FocusReason.OtherFocusReason)

    def _try(self, deed: Callable[[Marking], object]) -> None:
        """Does it, or says why not."""
        marking = self.marking
        if marking is None:
            return
        self.problem.show_text("")
        try:
            deed(marking)
        except Problem as problem:
            self._refused(problem)
        self._show()

    def _refused(self, problem: Problem) -> None:
        self.problem.show_text(say_problem(problem))

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
        self.shown.emit(
            say("{name}, {place} of {count}", name=name, place=self._place + 1, count=len(self._photos))
        )
        for tool, button in self.tools.items():
            button.setChecked(tool is marking.tool)
        if marking.first is not None:
            words = say("Now its other end: go there with the arrow keys and press Space.")
        else:
            words = say("Draw with the mouse, or: arrow keys move the cross, Shift goes further, Space "
                        "begins and ends a mark. Page Up and Page Down go to the others. The picture as it "
                        "was taken is always kept.")  # fmt: skip
        self.note.setText(words if self._may_mark else say("Page Up and Page Down go to the others."))
        self.canvas.setAccessibleName(name)
        self.canvas.setAccessibleDescription(
            say("{count} marks. {words}", count=len(marking.changes.marks), words=words)
        )
        self.canvas.update()
