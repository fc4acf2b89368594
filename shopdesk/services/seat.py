"""One person's place at an open shop: who acts, on which shop, with which catalogue."""

import datetime as dt
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk import paths
from shopdesk.domain.catalogue.model import Catalogue
from shopdesk.domain.catalogue.reading import read_catalogue
from shopdesk.domain.changed import Seen
from shopdesk.domain.clock import Clock, day_at, standing_still
from shopdesk.domain.problem import Problem, Unavailable
from shopdesk.domain.rights import Acting, Action, Role, require
from shopdesk.services import settings
from shopdesk.storage import ShopFile
from shopdesk.storage.tables.shop import Staff
from shopdesk.wording.region import Region

if TYPE_CHECKING:
    from shopdesk.storage.unit_of_work import UnitOfWork


@dataclass(frozen=True)
class Seat:
    """Handed to every service; made by `open_shop` or `Seat.taken_by`."""

    file: ShopFile
    acting: Acting
    catalogue: Catalogue
    region: Region
    seen: Seen | None = None  # what the screen had read from which this person changes something

    @contextmanager
    def change(self, action: Action) -> "Iterator[UnitOfWork]":
        """One unit of work on this person's account; stages of its jobs follow at the end."""
        from shopdesk.services import stage_facts  # most of the services come with it, and looking needs none

        require(self.acting, action)
        with self.file.writing(self.acting, action.value, self.seen) as work:
            yield work
            for job_id in sorted(work.jobs):
                stage_facts.refresh(work.session, self.catalogue, job_id, self.today, work.now)

    @contextmanager
    def look(self, action: Action = Action.LOOK) -> Iterator[Session]:
        """A session to read with, on this person's account."""
        require(self.acting, action)
        with self.file.reading() as session:
            yield session

    @contextmanager
    def glance(self, action: Action = Action.LOOK) -> Iterator[sa.Connection]:
        """A connection to read with, where whole records are not wanted: the tables need not be mapped."""
        require(self.acting, action)
        with self.file.asking() as connection:
            yield connection

    @property
    def now(self) -> dt.datetime:
        return self.file.clock()

    @property
    def today(self) -> dt.date:
        """The shop's business day."""
        return day_at(self.file.clock, self.region.timezone)

    def taken_by(self, staff_id: int) -> "Seat":
        """The same shop with another person acting, one who signs in without a passphrase."""
        with self.file.reading() as session:
            row = session.get_one(Staff, staff_id)
        if not row.active:
            raise Problem("{name} no longer works here. Choose somebody else.", name=row.name)
        if row.passphrase_hash:
            raise Problem("{name} signs in with a passphrase.", name=row.name)
        return self.of(row)

    def of(self, row: Staff) -> "Seat":
        """The same shop with this person acting; who may sit down is asked before (see `signing_in`)."""
        return Seat(self.file, Acting(row.id, row.name, Role(row.role)), self.catalogue, self.region)

    def having_seen(self, seen: Seen | None) -> "Seat":
        """The same seat for a change made on a screen that was read then.

        Whoever overwrites text gives it: the change is refused with `Changed` where somebody else wrote
        something else meanwhile. Ticks, clocks, movements and other deeds of one key do without: they
        add rows or set what they name, and two of them do not undo each other.
        """
        return replace(self, seen=seen)

    def refreshed(self) -> "Seat":
        """The same seat after settings changed (catalogue, region)."""
        return _seat(self.file, self.acting)


def open_shop(place: str | Path, clock: Clock, *, looking: bool = False) -> Seat:
    """Opens a shop for its first active owner; on a server for the person whose account it is.

    Close it with `seat.file.close()`. A sample shop stands still at its own date, whatever `clock` says.
    """
    file = ShopFile(place, clock, looking=looking)
    try:
        with file.asking() as connection:
            sample = settings.glance(connection, settings.Sample)
            person = (
                _at_the_server(file, connection)
                or connection.execute(
                    sa.select(Staff.id, Staff.name, Staff.role)
                    .where(Staff.role == Role.OWNER.value, Staff.active == True)
                    .order_by(Staff.id)
                    .limit(1)
                ).first()
            )
        if sample.stands_at:
            file.clock = standing_still(dt.datetime.fromisoformat(sample.stands_at))
        acting = Acting(0, "set-up", Role.OWNER)
        if person is not None:
            acting = Acting(person.id, person.name, Role(person.role))
        return _seat(file, acting)
    except (ValueError, TypeError, LookupError) as error:
        file.close()
        raise Unavailable(
            "The shop {name} holds something that cannot be read ({why}). Set the file aside and bring back "
            "a copy.", name=file.name, why=str(error),
        ) from error  # fmt: skip
    except BaseException:
        file.close()
        raise


def known_to_server(seat: Seat) -> bool:
    """Whether the account at the server says who is there, so that nobody is asked."""
    with seat.file.asking() as connection:
        return _at_the_server(seat.file, connection) is not None


def _at_the_server(file: ShopFile, connection: sa.Connection) -> "sa.Row[int, str, str] | None":
    """The person whose account opened the shop; None on a file, and for an account of nobody's own."""
    if file.is_file or not file.url.username:
        return None
    query = sa.select(Staff.id, Staff.name, Staff.role)
    return connection.execute(
        query.where(Staff.login == file.url.username, Staff.active == True).limit(1)
    ).first()


def is_sample(seat: Seat) -> bool:
    """Whether the shop is a sample whose calendar stands still."""
    with seat.glance() as connection:
        return bool(settings.glance(connection, settings.Sample).stands_at)


def _seat(file: ShopFile, acting: Acting) -> Seat:
    with file.asking() as connection:
        changes = settings.glance(connection, settings.CatalogueChanges)
        region = settings.glance(connection, Region)
    return Seat(file, acting, changed_catalogue(changes), region)


def changed_catalogue(changes: settings.CatalogueChanges) -> Catalogue:
    """The shipped catalogue with a shop's own changes; a Problem lists what cannot stand."""
    overrides = {**changes.catalogue, **({"figures": changes.figures} if changes.figures else {})}
    read = read_catalogue(paths.resource("catalogue"), overrides) if overrides else _shipped()
    return replace(read, version=f"{read.version}.{changes.edition}") if changes.edition else read


@cache
def _shipped() -> Catalogue:
    """The catalogue as shipped; read and checked once in a program's life, and never changed."""
    return read_catalogue(paths.resource("catalogue"))
