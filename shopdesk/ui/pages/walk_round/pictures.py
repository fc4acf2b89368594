"""The pictures of a walk-round at the open checkpoint: brought or offered, kept in a worker, shown."""

from collections.abc import Sequence

from PySide6.QtCore import QObject, Signal

from shopdesk.domain.problem import Unavailable
from shopdesk.services.seat import Seat
from shopdesk.services.walk_pictures import WalkPicture, keep_picture, pictures_at
from shopdesk.services.walks import WalkView
from shopdesk.ui.context import Context
from shopdesk.ui.pages.walk_round.checkpoint_view import CheckpointView
from shopdesk.ui.pages.walk_round.phone_folder import PhoneFolder
from shopdesk.ui.widgets.photo_strip import Brought, Photo
from shopdesk.wording import say


class Pictures(QObject):
    """`kept` tells the walk-round and the checkpoint that has a new picture.

    `offered` carries pictures of the phone's folder that the person wants at the open checkpoint.
    """

    kept = Signal(int, str)
    offered = Signal(list)  # list[Brought]

    def __init__(self, context: Context, view: CheckpointView, parent: QObject) -> None:
        super().__init__(parent)
        self._context, self._strip, self._offer = context, view.photos, view.offer
        self.phone = PhoneFolder(context, self)
        self._offer.show_folder(self.phone.folder)
        self.phone.offered.connect(self._offer.show_offered)
        self.phone.lost.connect(context.tell_problem)
        self._offer.folderAsked.connect(self.choose_folder)
        self._offer.taken.connect(self.take_offered)
        self._offer.left.connect(self.phone.leave)
        self._codes: set[str] = set()  # checkpoints with pictures
        self._open = ""
        self.shown: list[Photo] = []  # of the open checkpoint

    def take(self, view: WalkView) -> None:
        """Another walk-round, or the same read again."""
        self._codes = {given.answer.checkpoint for given in view.given if given.photographs}

    def choose_folder(self) -> None:
        """Another folder of the phone, by a dialog."""
        folder = self._context.dialogs.open_folder(say("The phone’s folder"), self.phone.folder)
        if folder is not None:
            self.phone.choose(folder)
            self._offer.show_folder(folder)

    def take_offered(self) -> None:
        """What the phone brought belongs to the open checkpoint."""
        taken = self.phone.take()
        if taken:
            self.offered.emit([Brought(path.name, path) for path in taken])

    def watch(self, here: bool) -> None:
        """Looks into the phone's folder while a walk-round is in sight."""
        self._offer.show_folder(self.phone.folder)
        if here:
            self.phone.start()
        else:
            self.phone.rest()

    def show_again(self, view: WalkView) -> None:
        """A picture of the open checkpoint changed."""
        self.show(view, self._open)

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
            self.shown = [Photo(p.id, p.caption, p.thumbnail) for p in found]
            self._strip.show_photos(self.shown)


def _read(brought: Brought) -> bytes:
    try:
        return brought.read()
    except OSError as error:
        raise Unavailable(
            "{name} could not be read ({reason}). Look whether it is still there and add it again.",
            name=brought.name,
            reason=error.strerror or type(error).__name__,
        ) from error
