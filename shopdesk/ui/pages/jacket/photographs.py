"""The photographs of a range: a strip of small ones; one opens large in a window of its own."""

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QWidget

from shopdesk.domain.problem import Unavailable
from shopdesk.services.photographs import PhotographRow, add_photograph
from shopdesk.ui.context import Context
from shopdesk.ui.pictures.window import PhotoWindow
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.headings import Heading
from shopdesk.ui.widgets.photo_strip import Brought, Photo, PhotoStrip
from shopdesk.wording import say


class PhotographsSection(QWidget):
    """The strip under its heading; `do` is the jacket's way of changing things."""

    def __init__(self, context: Context, do: Callable[..., None], range_id: int) -> None:
        super().__init__()
        self._context, self._do, self._range_id = context, do, range_id
        self._photos: list[Photo] = []
        self.strip = PhotoStrip(context.dialogs, may_add=not context.seat.file.looking)
        self.strip.opened.connect(self.open)
        self.strip.brought.connect(self._keep)
        self.setLayout(upright([Heading(say("Photographs")), self.strip]))

    def show_rows(self, rows: Sequence[PhotographRow]) -> None:
        self._photos = [Photo(r.id, r.caption, r.thumbnail) for r in rows]
        self.strip.show_photos(self._photos)

    def open(self, photograph_id: int) -> None:
        """One picture, large, to be looked at and marked."""
        window = PhotoWindow(self, self._context, self._photos, self._range_id)
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
