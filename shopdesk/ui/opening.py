"""Opening and making shops in a worker: the services, and SQL with them, are loaded there and not before.

Knows which services open a shop; the window knows what to show meanwhile.
"""

import shutil
import tempfile
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from shopdesk import paths
from shopdesk.domain.clock import Clock
from shopdesk.domain.problem import Problem
from shopdesk.ui.workers import Workers
from shopdesk.wording import Region

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat


@dataclass(frozen=True, slots=True)
class Opened:
    """An open shop: its seat, its name for the title, and the day a sample stands still at (or "")."""

    seat: "Seat"
    name: str
    place: str
    sample: bool
    stands_at: str
    asks: bool = False  # who is there, before it is shown
    fresh: bool = False  # made just now


@dataclass(frozen=True, slots=True)
class NewShop:
    """What the start page asks for a new shop; `rate_cents` an hour, None: as the catalogue has it."""

    name: str
    owner: str
    region: Region
    place: Path
    street: str = ""
    town: str = ""
    postcode: str = ""
    rate_cents: int | None = None


@dataclass(frozen=True, slots=True)
class Refused:
    """A shop that could not be opened; `lookable` when it may be opened to look at."""

    problem: Problem
    place: str
    lookable: bool


class Opening(QObject):
    """One shop is opened at a time; `opened` or `refused` follows."""

    opened = Signal(object)
    refused = Signal(object)
    started = Signal(str)  # a sentence to show meanwhile
    moving = Signal(str, int)  # a table of a shop that moves, and its rows at the new place
    stayed = Signal(object)  # the Problem for which a shop did not move; it is open where it was

    def __init__(self, workers: Workers, clock: Clock, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._workers, self._clock = workers, clock
        self._sample_folder: Path | None = None

    def open(self, place: str, *, looking: bool = False) -> None:
        """A shop file or a PostgreSQL URL; `looking` never writes."""
        self._start(lambda: _open(place, self._clock, looking), place)

    def make(self, wanted: NewShop) -> None:
        self._start(lambda: _make(wanted, self._clock), str(wanted.place))

    def open_sample(self) -> None:
        """A fresh copy of the sample; it lasts as long as the window."""
        self.remove_sample()
        try:
            shipped = paths.sample_shop()
        except FileNotFoundError:
            text = "The sample shop did not come with this installation. Make a new shop, or open one."
            self.refused.emit(Refused(Problem(text), "", False))
            return
        self._sample_folder = Path(tempfile.mkdtemp(prefix="shopdesk-sample-"))
        copy = self._sample_folder / shipped.name
        shutil.copyfile(shipped, copy)
        self._start(lambda: _open(str(copy), self._clock, False), str(copy))

    def move(self, place: str, to: str) -> None:
        """Moves a shop that is closed, and opens it there; where it cannot move it is opened as it was."""

        def work() -> Opened:
            from shopdesk.services.moving_places import move

            move(place, to, self.moving.emit)
            return _open(to, self._clock, False)

        def failed(error: Exception) -> None:
            def back(opened: Opened) -> None:
                self.opened.emit(opened)
                if isinstance(error, Problem):
                    self.stayed.emit(error)

            self._workers.do(
                lambda: _open(place, self._clock, False), back, lambda second: self._refuse(second, place)
            )
            if not isinstance(error, Problem):
                raise error

        self.started.emit(_short(place))
        self._workers.do(work, self.opened.emit, failed)

    def remove_sample(self) -> None:
        """Takes the copy away, once it is closed."""
        if self._sample_folder is not None:
            shutil.rmtree(self._sample_folder, ignore_errors=True)
            self._sample_folder = None

    def _start(self, work: Callable[[], Opened], place: str) -> None:
        self.started.emit(_short(place))
        self._workers.do(work, self.opened.emit, lambda error: self._refuse(error, place))

    def _refuse(self, error: Exception, place: str) -> None:
        if not isinstance(error, Problem):
            self.refused.emit(
                Refused(Problem("The shop could not be opened: the program met a fault."), place, False)
            )
            raise error
        self.refused.emit(Refused(error, place, "holder" in error.facts))


def _short(place: str) -> str:
    """The name of a file or a database; never an address with its password."""
    return Path(place).name if "://" not in place else place.rpartition("/")[2]


def _open(place: str, clock: Clock, looking: bool) -> Opened:
    from shopdesk.services.seat import open_shop

    return _described(open_shop(place, clock, looking=looking))


def _make(wanted: NewShop, clock: Clock) -> Opened:
    from shopdesk.services.settings import ShopIdentity
    from shopdesk.services.shops import new_shop

    wanted.place.parent.mkdir(parents=True, exist_ok=True)
    identity = ShopIdentity(
        name=wanted.name, street=wanted.street, town=wanted.town, postcode=wanted.postcode
    )
    made = new_shop(wanted.place, clock, identity, wanted.region, wanted.owner, rate_cents=wanted.rate_cents)
    return replace(_described(made), fresh=True)


def _described(seat: "Seat") -> Opened:
    from shopdesk.services.seat import is_sample, known_to_server
    from shopdesk.services.settings import ShopIdentity
    from shopdesk.services.shops import setting
    from shopdesk.services.signing_in import asks

    sample = is_sample(seat)
    url = seat.file.url
    place = (url.database or "") if seat.file.is_file else url.render_as_string(hide_password=True)
    name = setting(seat, ShopIdentity).name or seat.file.name
    stands_at = seat.region.day(seat.today) if sample else ""
    return Opened(seat, name, place, sample, stands_at, asks(seat) and not known_to_server(seat))
