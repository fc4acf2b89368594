"""One photograph as large as its window, for every page that shows pictures of a range."""

from collections.abc import Sequence

from PySide6.QtCore import QByteArray, QSize, Qt
from PySide6.QtGui import QKeySequence, QPainter, QPaintEvent, QPixmap, QShortcut
from PySide6.QtWidgets import QWidget

from shopdesk.services import intake
from shopdesk.services.seat import Seat
from shopdesk.ui.context import Context
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.headings import Words
from shopdesk.ui.widgets.photo_strip import Photo
from shopdesk.wording import say


class PhotoWindow(QWidget):
    """One photograph as large as the window; arrows go to the others, Escape closes."""

    def __init__(self, parent: QWidget, context: Context, rows: Sequence[Photo]) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._context = context
        self._rows = list(rows)
        self._place = 0
        self.picture = _Picture()
        self.caption = Words()
        back = Button(say("&Back"), lambda: self._step(-1), icon_name="back")
        on = Button(say("&Next"), lambda: self._step(1), icon_name="next")
        box = upright([self.picture, level([self.caption, STRETCH, back, on])], margin="gap")
        box.setStretchFactor(self.picture, 1)
        self.setLayout(box)
        keys = (("Left", -1), ("Right", 1))
        for key, step in keys:
            QShortcut(QKeySequence(key), self).activated.connect(lambda step=step: self._step(step))
        QShortcut(QKeySequence("Esc"), self).activated.connect(self.close)
        if not context.memory.shape("photograph", self):
            self.resize(960, 760)

    def show_picture(self, photograph_id: int) -> None:
        """Shows one of the pictures it was given."""
        places = [place for place, row in enumerate(self._rows) if row.id == photograph_id]
        self._place = places[0] if places else 0
        row = self._rows[self._place]
        name = row.caption or say("Photograph {number}", number=self._place + 1)
        self.setWindowTitle(name)
        self.caption.setText(
            say("{name}, {place} of {count}", name=name, place=self._place + 1, count=len(self._rows))
        )
        self.picture.setAccessibleName(name)

        def question(seat: Seat) -> bytes:
            return intake.photograph(seat, row.id)

        self._context.ask(question, self.picture.show_data, key=f"photograph/{id(self)}", owner=self)
        self.show()

    def closeEvent(self, event: object) -> None:
        self._context.memory.keep_shape("photograph", self)
        super().closeEvent(event)  # type: ignore[arg-type]

    def _step(self, by: int) -> None:
        self.show_picture(self._rows[(self._place + by) % len(self._rows)].id)


class _Picture(QWidget):
    def __init__(self) -> None:
        super().__init__()
        self._whole = QPixmap()

    def show_data(self, data: bytes) -> None:
        self._whole.loadFromData(QByteArray(data))
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(900, 675)

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._whole.isNull():
            return
        painter = QPainter(self)
        ratio = self.devicePixelRatioF()
        ways = (Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation)
        shown = self._whole.scaled(self.size() * ratio, *ways)
        shown.setDevicePixelRatio(ratio)
        wide, high = shown.width() / ratio, shown.height() / ratio
        painter.drawPixmap(round((self.width() - wide) / 2), round((self.height() - high) / 2), shown)
        painter.end()
