"""An open shop: reads, and writes one unit of work at a time."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.changed import Seen
from shopdesk.domain.clock import Clock
from shopdesk.domain.problem import NotFound, Problem, Unavailable
from shopdesk.domain.rights import Acting
from shopdesk.storage.engine import make_engine, shop_url
from shopdesk.storage.file import checked_file
from shopdesk.storage.lock import WriteLock
from shopdesk.storage.moved_mark import where_it_went
from shopdesk.storage.seen import journal_length
from shopdesk.storage.share import refuse_other_log, refuse_share
from shopdesk.storage.trouble import in_words
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.storage.upgrading import known, newest, revision_of


class ShopFile:
    """A shop on SQLite or PostgreSQL. Close it when done; `looking` refuses every write."""

    def __init__(self, place: str | Path, clock: Clock, *, looking: bool = False) -> None:
        self.url = shop_url(place)
        self.clock = clock
        self.looking = looking
        self._one_writer = threading.Lock()
        self._lock: WriteLock | None = None
        if self.is_file:
            path = checked_file(Path(self.url.database or ""))
            if not looking:
                refuse_share(path)
                self._lock = WriteLock(path)
                self._lock.take()
        try:
            self.engine = make_engine(self.url, looking=looking)
            self._reading = self.engine.execution_options(sqlite_read=True)
            self._check_revision()
            if self.is_file and not looking:
                self._check_log()
            if not looking:
                self._check_moved()
        except (sa.exc.DBAPIError, UnicodeDecodeError) as error:  # damage may show in a name's letters
            self.close()
            why = str(getattr(error, "orig", error)).strip()
            raise Unavailable("The shop {name} cannot be opened ({why}).", name=self.name, why=why) from None
        except BaseException:
            self.close()
            raise

    @property
    def is_file(self) -> bool:
        return self.url.get_backend_name() == "sqlite"

    @property
    def name(self) -> str:
        """What the shop is called in messages: the file's or the database's name."""
        return Path(self.url.database or "").name

    @contextmanager
    def asking(self) -> Iterator[sa.Connection]:
        """A connection that only reads, for questions that need no mapped rows."""
        try:
            with self._reading.connect() as connection:
                yield connection
        except sa.exc.DBAPIError as error:
            raise in_words(error, self.name, None, on_server=not self.is_file) from error

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """A session that only reads; always closed, never committed."""
        _map_all()
        with Session(self._reading, expire_on_commit=False) as session:
            try:
                yield session
            except sa.exc.NoResultFound:
                raise NotFound("This record is not in the shop {name} any more.", name=self.name) from None
            except sa.exc.DBAPIError as error:
                raise in_words(error, self.name, None, on_server=not self.is_file) from error

    def seen(self) -> Seen | None:
        """How far the journal is now; asked before a screen reads what it will show.

        None where that cannot be read: what is read next says why in its own words.
        """
        try:
            with self.asking() as connection:
                return Seen(journal_length(connection))
        except (sa.exc.SQLAlchemyError, Problem):
            return None

    @contextmanager
    def writing(self, acting: Acting, action: str, seen: Seen | None = None) -> Iterator[UnitOfWork]:
        """One unit of work: commits once at the end, or leaves no trace.

        With `seen` it overwrites nothing that others wrote after the screen was read (`Changed`).
        """
        if self.looking:
            raise Problem("The shop {name} is open to look at only; nothing was changed.", name=self.name)
        _map_all()
        with self._one_writer, Session(self.engine, expire_on_commit=False) as session:
            work = UnitOfWork(session, self.clock, acting, action, seen)
            try:
                yield work
                work.commit()
            except BaseException as error:
                session.rollback()
                raise in_words(error, self.name, work, on_server=not self.is_file) from error

    def close(self) -> None:
        if hasattr(self, "engine"):
            self.engine.dispose()
        if self._lock is not None:
            self._lock.give_back()

    def _check_log(self) -> None:
        with self._reading.connect() as connection:
            log = str(connection.exec_driver_sql("PRAGMA journal_mode").scalar())
        refuse_other_log(Path(self.url.database or ""), log)

    def _check_moved(self) -> None:
        with self.engine.connect() as connection:
            went = where_it_went(connection)
        if went:
            raise Problem(
                "The shop {name} moved to {place}. Open it there; here it can be looked at only.",
                name=self.name,
                place=went,
            )

    def _check_revision(self) -> None:
        at = revision_of(self.engine)
        if at is None:
            raise Problem(
                "The database {name} holds no shop yet. Make a new shop in it first.", name=self.name
            )
        if not known(at):
            raise Problem(
                "The shop {name} was written by a newer program. Install that version to open it.",
                name=self.name,
            )
        if at != newest():
            raise Problem(
                "The shop {name} is from an older program. "
                "Run `shopdesk upgrade` on it; a backup is made first.",
                name=self.name,
            )


def _map_all() -> None:
    """Every table mapped, and the listeners that keep the folded words, before there is a session."""
    from shopdesk.storage import searching  # noqa: F401 - it brings all the tables with it
    from shopdesk.storage.tables import every  # noqa: F401
