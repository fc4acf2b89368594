"""Copies of the shop that make themselves: when it closes, and every so often while it changes.

A copy's name tells when it was taken and how far the journal had come, so that a shop nobody changed is
not copied again. Old copies are thinned. No copy is ever made of a damaged shop, and none replaces another.
"""

import datetime as dt
import re
from dataclasses import dataclass
from pathlib import Path

import sqlalchemy as sa
from sqlalchemy import URL

from shopdesk import paths
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Role
from shopdesk.domain.thinning import superfluous
from shopdesk.services import settings
from shopdesk.services.seat import Seat, is_sample
from shopdesk.storage.backup import copy_shop
from shopdesk.storage.engine import shop_url
from shopdesk.storage.server_copy import dump_shop, restore_dump
from shopdesk.storage.tables.shop import Journal

_NAME = re.compile(r"(?P<stem>.+) (?P<at>\d{8}T\d{6}) j(?P<journal>\d+)\.(db|dump)")
_STAMP = "%Y%m%dT%H%M%S"


@dataclass(frozen=True)
class Copy:
    """One copy in a folder of copies."""

    path: Path
    at: dt.datetime  # UTC
    journal: int
    size: int


@dataclass(frozen=True)
class Copied:
    """What was done: the copies made (none when nothing changed), and what went wrong with the second."""

    made: tuple[Path, ...] = ()
    second_problem: str = ""


def folder_of(seat: Seat) -> Path:
    """Where the copies lie: as set up, or in a folder beside the shop."""
    kept = _settings(seat).folder
    if kept:
        return Path(kept).expanduser()
    shop = Path(seat.file.url.database or "")
    here = shop.parent if seat.file.is_file else paths.data_folder()
    return here / f"{shop.stem} copies"


def copies(seat: Seat, folder: Path | None = None) -> tuple[Copy, ...]:
    """The copies of this shop, newest first: by how far the journal had come, whatever a clock said."""
    place = folder or folder_of(seat)
    stem = Path(seat.file.name).stem
    found = []
    for path in place.glob("*.d*") if place.is_dir() else ():
        told = _NAME.fullmatch(path.name)
        if told and told["stem"] == stem:
            at = dt.datetime.strptime(told["at"], _STAMP).replace(tzinfo=dt.UTC)
            found.append(Copy(path, at, int(told["journal"]), path.stat().st_size))
    return tuple(sorted(found, key=lambda copy: (copy.journal, copy.at), reverse=True))


def keep_a_copy(seat: Seat) -> Copied:
    """Copies the shop if it changed since the newest copy, to a second place as well where one is set.

    Nothing is copied of a sample or while one only looks; a shop on a server is copied at its owner's seat,
    whose account may read all of it. Problem when the shop is damaged or the first place cannot be written;
    of the second only its trouble is told.
    """
    others = not seat.file.is_file and seat.acting.role is not Role.OWNER
    if others or seat.file.looking or is_sample(seat):
        return Copied()
    at = _journal_at(seat)
    made = _copy_to(seat, folder_of(seat), at)
    second = _settings(seat).second_folder
    if not second:
        return Copied(made)
    try:
        return Copied((*made, *_copy_to(seat, Path(second).expanduser(), at)))
    except Problem as problem:
        return Copied(made, str(problem))


def restore(copy: Path, to: Path) -> None:
    """Brings a copy back as a new shop file; it is proved whole on the way, and replaces nothing."""
    if copy.suffix == ".dump":
        raise Problem(
            "{path} is a copy of a shop on a server. Bring it back into a new, empty database: "
            "shopdesk restore COPY URL.", path=str(copy),
        )  # fmt: skip
    copy_shop(copy, to)


def _copy_to(seat: Seat, folder: Path, journal: int) -> tuple[Path, ...]:
    there = copies(seat, folder)
    if there and there[0].journal == journal:
        return ()
    now = seat.file.clock().astimezone(dt.UTC)
    to = folder / f"{Path(seat.file.name).stem} {now.strftime(_STAMP)} j{journal}"
    to = to.with_name(to.name + (".db" if seat.file.is_file else ".dump"))
    if not to.exists():
        copy_of(seat, to)
    _thin(copies(seat, folder), now)
    return (to,)


def copy_of(seat: Seat, to: Path, *, replace: bool = False) -> None:
    """The open shop copied to `to`: a file by SQLite, a database by its server's tools."""
    _copy(seat.file.url, to, replace=replace)


def copy_place(place: str, to: Path) -> None:
    """A shop copied by its place, open or not; the copy is proved, and replaces nothing."""
    _copy(shop_url(place), to)


def restore_to_server(copy: Path, to: str) -> int:
    """Brings a server's copy back into a new, empty database; returns how many rows stand there."""
    return sum(restore_dump(copy, shop_url(to)).values())


def _copy(url: URL, to: Path, *, replace: bool = False) -> None:
    if url.get_backend_name() == "sqlite":
        copy_shop(Path(url.database or ""), to, replace=replace)
    else:
        dump_shop(url, to, replace=replace)


def _thin(there: tuple[Copy, ...], now: dt.datetime) -> None:
    going = superfluous((copy.at for copy in there), now)
    for copy in there[1:]:  # the newest stays, even where a clock that was set back makes it look old
        if copy.at in going:
            copy.path.unlink(missing_ok=True)


def _journal_at(seat: Seat) -> int:
    with seat.file.reading() as session:
        return session.scalar(sa.select(sa.func.max(Journal.id))) or 0


def _settings(seat: Seat) -> settings.Copies:
    with seat.file.reading() as session:
        return settings.read(session, settings.Copies)
