"""The usual cautions of a task, shown beside it each time: what to mind, and whose word counts."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QLabel, QWidget

from shopdesk.domain.catalogue.model import Caution
from shopdesk.ui.look import icon_pixmap, spacing
from shopdesk.ui.widgets.boxes import level, upright
from shopdesk.ui.widgets.headings import Note, Words
from shopdesk.ui.widgets.large_buttons import LargeButton
from shopdesk.wording import say


class CautionText(QFrame):
    """One caution: its sign and name, its text, whom to defer to."""

    def __init__(self, caution: Caution, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        sign = QLabel()
        colour = self.palette().color(self.foregroundRole()).name()
        sign.setPixmap(icon_pixmap("warning", spacing(self.font()).icon, colour))
        name = Words(caution.name, "strong")
        head = level([sign, name])
        head.setStretchFactor(name, 1)
        head.setAlignment(sign, Qt.AlignmentFlag.AlignTop)
        defer = Note(say("Whose word counts: {who}", who=caution.defer_to))
        self.setLayout(upright([head, Words(caution.text), defer], gap="hair"))
        self.setAccessibleName(say("Caution. {name}: {text}", name=caution.name, text=caution.text))


class Cautions(QWidget):
    """All cautions of the current task; hidden where there are none."""

    def __init__(self, read: Callable[[], object], parent: QWidget | None = None) -> None:
        """`read` is called when the person says that they have read them."""
        super().__init__(parent)
        self._codes: tuple[str, ...] = ()
        self._box = upright(gap="small")
        self.read = Words("", "strong")
        self.read_button = LargeButton(say("I have read them (K)"), read, icon_name="warning")
        self.setLayout(upright([self._box, self.read, self.read_button], gap="small"))
        self.hide()

    def show_cautions(self, cautions: Sequence[Caution]) -> None:
        codes = tuple(c.code for c in cautions)
        if codes == self._codes:
            return
        self._codes = codes
        self.show_read("", new=False)
        while (item := self._box.takeAt(0)) is not None:
            if (shown := item.widget()) is not None:
                shown.deleteLater()
        for caution in cautions:
            self._box.addWidget(CautionText(caution))
        self.setVisible(bool(cautions))

    def show_read(self, text: str, *, new: bool) -> None:
        """Whether this person has read them for this kind of task, and when; `new` asks for it."""
        self.read.setText(text)
        self.read.setVisible(bool(text))
        self.read_button.setVisible(new)
