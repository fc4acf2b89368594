"""Two texts for each of several fields, beside each other as long as the letters leave room for it."""

from collections.abc import Sequence

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QWidget

from shopdesk.ui.look import spacing
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.headings import Note, Words
from shopdesk.wording import say

_WIDE_LETTERS = 70  # from this width the texts stand side by side


class SideBySide(QWidget):
    """Rows of a label and two texts: side by side, or one under the other where the letters need the room."""

    def __init__(self, who: str, rows: Sequence[tuple[QWidget, QWidget, QWidget]]) -> None:
        super().__init__()
        self._heads = [Words(say("Theirs: {who}", who=who), "strong"), Words(say("Mine"), "strong")]
        self._names = [(Note(say("theirs")), Note(say("mine"))) for _row in rows]
        self._rows = [
            (label, _under(names[0], theirs), _under(names[1], mine))
            for names, (label, theirs, mine) in zip(self._names, rows, strict=True)
        ]
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(spacing(self.font()).gap)
        self._grid.setVerticalSpacing(spacing(self.font()).small)
        self._wide: bool | None = None
        self._lay(wide=True)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._lay(wide=self.width() >= self.fontMetrics().averageCharWidth() * _WIDE_LETTERS)

    def _lay(self, *, wide: bool) -> None:
        if wide is self._wide:
            return
        self._wide = wide
        while self._grid.takeAt(0) is not None:
            pass
        for column, share in enumerate((2, 3, 3)):
            self._grid.setColumnStretch(column, share if wide else 1 - min(column, 1))
        place = 0
        for column, head in enumerate(self._heads, start=1):
            self._grid.addWidget(head, *((0, column) if wide else (column, 0)))
            place = 1 if wide else 3
        for row in self._rows:
            for column, widget in enumerate(row):
                self._grid.addWidget(widget, *((place, column) if wide else (place + column, 0)))
            place += 1 if wide else 3
        self._heads[1].setVisible(wide)
        for name in (each for names in self._names for each in names):
            name.setVisible(not wide)


def _under(name: Note, text: QWidget) -> QWidget:
    """A text under whose it is."""
    holder = QWidget()
    holder.setLayout(upright([name, text], gap="hair"))
    return holder
