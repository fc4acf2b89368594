"""The pictures of a walk-round in the strip of the open checkpoint: brought, kept in a worker, shown."""

from collections.abc import Sequence

from PySide6.QtCore import QObject, Signal

from shopdesk.domain.problem import Unavailable
from shopdesk.services.seat import Seat
from shopdesk.services.walk_pictures import WalkPicture, keep_picture, pictures_at
from shopdesk.services.walks import WalkView
from shopdesk.ui.context import Context
from shopdesk.ui.widgets.photo_strip import Brought, Photo, PhotoStrip


class Pictures(QObject):
    """`kept` tells the walk-round and the checkpoint that has a new picture."""

    kept = Signal(int, str)

    def __init__(self, context: Context, strip: PhotoStrip, parent: QObject) -> None:
        super().__init__(parent)
        self._context, self._strip = context, strip
        self._codes: set[str] = set()  # checkpoints with pictures
        self._open = ""

    def take(self, view: WalkView) -> None:
        """Another walk-round, or the same read again."""
        self._codes = {given.answer.checkpoint for given in view.given if given.photographs}

    def bring(self, view: WalkView, code: str, pictures: Sequence[Brought]) -> None:
        """Keeps each in turn with that checkpoint; one that cannot be read is told and the rest kept."""
        self._codes.add(code)
        for brought in pictures:
            self._bring_one(view, code, brought)

    def show(self, view: WalkView, code: str) -> None:
        """The pictures of a checkpoint, once they are read."""
        self._open = code
        if code not in self._codes:
            self._strip.show_photos([])
            return
        self._context.ask(
            lambda seat: pictures_at(seat, view.id, code), lambda found: self._came(code, found),
            key=f"walk pictures/{id(self)}", owner=self,
        )  # fmt: skip

    def _bring_one(self, view: WalkView, code: str, brought: Brought) -> None:
        def keep_one(seat: Seat) -> int:
            return keep_picture(seat, view.id, code, _read(brought), brought.name)

        self._context.do(
            keep_one, lambda _id: self.kept.emit(view.id, code),
            changes=[f"job {view.job_id}", f"range {view.range_id}"], owner=self,
        )  # fmt: skip

    def _came(self, code: str, found: list[WalkPicture]) -> None:
        if code == self._open:
            self._strip.show_photos([Photo(p.id, p.caption, p.thumbnail) for p in found])


def _read(brought: Brought) -> bytes:
    try:
        return brought.read()
    except OSError as error:
        raise Unavailable(
            "{name} could not be read ({reason}). Look whether it is still there and add it again.",
            name=brought.name,
            reason=error.strerror or type(error).__name__,
        ) from error
