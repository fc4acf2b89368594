"""The photographs of a range: a strip of small ones; one opens large in a window of its own."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QByteArray, QSize, Qt
from PySide6.QtGui import QKeySequence, QPainter, QPaintEvent, QPixmap, QShortcut
from PySide6.QtWidgets import QWidget

from shopdesk.domain.problem import Unavailable
from shopdesk.services import intake
from shopdesk.services.photographs import PhotographRow, add_photograph
from shopdesk.services.seat import Seat
from shopdesk.ui.context import Context
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.ui.widgets.photo_strip import Brought, Photo, PhotoStrip
from shopdesk.wording import say


class PhotographsSection(QWidget):
    """The strip under its heading; `do` is the jacket's way of changing things."""

    def __init__(self, context: Context, do: Callable[..., None], range_id: int) -> None:
        super().__init__()
        self._context, self._do, self._range_id = context, do, range_id
        self._rows: list[PhotographRow] = []
        self.strip = PhotoStrip(context.dialogs, may_add=not context.seat.file.looking)
        self.strip.opened.connect(self.open)
        self.strip.brought.connect(self._keep)
        self.setLayout(upright([Heading(say("Photographs")), self.strip]))

    def show_rows(self, rows: Sequence[PhotographRow]) -> None:
        self._rows = list(rows)
        self.strip.show_photos([Photo(r.id, r.caption, r.thumbnail) for r in rows])

    def open(self, photograph_id: int) -> None:
        """One picture, large; the others are an arrow key away."""
        window = PhotoWindow(self, self._context, self._rows)
        window.show_picture(photograph_id)

    def _keep(self, brought: list[Brought]) -> None:
        for one in brought:
            self._do(
                lambda seat, one=one: add_photograph(seat, self._range_id, _read(one), one.name),
                lambda _id: None,
            )


def _read(one: Brought) -> bytes:
    try:
        return one.read()
    except OSError as error:
        raise Unavailable(
            "{name} could not be read ({why}). Look whether it is still there and add it again.",
            name=one.name,
            why=error.strerror or str(error),
        ) from error


class PhotoWindow(QWidget):
    """One photograph as large as the window; arrows go to the others, Escape closes."""

    def __init__(self, parent: QWidget, context: Context, rows: Sequence[PhotographRow]) -> None:
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
        """Shows one of the range's pictures."""
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
