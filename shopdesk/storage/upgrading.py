"""Making a shop and bringing it to the newest migration, with a backup first."""

import io
import shutil
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING

import sqlalchemy as sa

from shopdesk import paths
from shopdesk.domain.problem import Problem, Unavailable
from shopdesk.storage.backup import copy_shop
from shopdesk.storage.engine import APPLICATION_ID, make_engine, shop_url
from shopdesk.storage.file import checked_file
from shopdesk.storage.lock import WriteLock

if TYPE_CHECKING:  # alembic is loaded where something is migrated; a shop opens sooner without it
    from alembic.config import Config

_ONE_UPGRADE = 1397244997  # a lock of the server's, freed when the connection closes


def migrations() -> "Config":
    """alembic's configuration without any file of its own."""
    from alembic.config import Config

    config = Config(stdout=io.StringIO())  # else the stream of whoever imported alembic first
    config.set_main_option("script_location", str(paths.shipped("migrations")).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    return config


def newest() -> str:
    """The newest migration this program has."""
    return _revisions()[-1]


def known(revision: str | None) -> bool:
    """Whether this program has ever heard of the migration."""
    return revision is None or revision in _revisions()


def _revisions() -> list[str]:
    """By the names of the files, which begin with the revision: a shop opens without alembic."""
    return sorted(path.name.split("_")[0] for path in paths.shipped("migrations").glob("versions/[0-9]*.py"))


def revision_of(engine: sa.Engine) -> str | None:
    """The migration a database stands at; None for an empty one."""
    with engine.connect() as connection:
        if not sa.inspect(connection).has_table("alembic_version"):
            return None
        return connection.execute(sa.text("SELECT version_num FROM alembic_version")).scalar()


def make_shop(place: str | Path) -> None:
    """A new, empty shop; refuses to touch what is there already."""
    url = shop_url(place)
    if url.get_backend_name() == "sqlite":
        path = Path(url.database or "")
        if path.exists():
            raise Problem(
                "There is already a file at {path}. Choose another name for the new shop.", path=str(path)
            )
        _make_file(path)
        return
    engine = make_engine(url)
    try:
        if sa.inspect(engine).get_table_names():
            raise Problem(
                "The database {name} is not empty. Give an empty one for the new shop.", name=url.database
            )
        _migrate(engine)
    except sa.exc.OperationalError as error:
        raise Unavailable(
            "The database {name} cannot be reached ({why}).", name=url.database, why=str(error.orig).strip()
        ) from None
    finally:
        engine.dispose()


def _make_file(path: Path) -> None:
    """Builds the shop beside its place and moves it there whole, so that none is ever half made."""
    building = path.with_name(path.name + ".new")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        building.unlink(missing_ok=True)
    except OSError as error:
        raise Unavailable(
            "The new shop {path} cannot be written ({why}). Choose another folder.",
            path=str(path),
            why=error.strerror,
        ) from None
    engine = make_engine(shop_url(building))
    try:
        with closing(engine.raw_connection()) as connection:
            connection.cursor().execute(f"PRAGMA application_id={APPLICATION_ID}")
        _migrate(engine)
    except sa.exc.OperationalError as error:
        raise Unavailable(
            "The new shop {path} cannot be written ({why}). Choose another folder.",
            path=str(path),
            why=str(error.orig),
        ) from None
    finally:
        engine.dispose()  # closing the last connection folds the write-ahead log into the file
    shutil.move(building, path)


def upgrade(place: str | Path, *, to: str = "head") -> Path | None:
    """Brings a shop to the newest migration; a file is copied first. Returns the copy, if any.

    Refused while another program has the file open for writing.
    """
    url = shop_url(place)
    if url.get_backend_name() != "sqlite":
        return _upgrade(url, to, None)
    path = checked_file(Path(url.database or ""))
    lock = WriteLock(path)
    lock.take()
    try:
        return _upgrade(url, to, path)
    finally:
        lock.give_back()


def _upgrade(url: sa.URL, to: str, path: Path | None) -> Path | None:
    engine = make_engine(url)
    try:
        at = revision_of(engine)
        if at is None:
            raise Problem("The database {name} holds no shop yet. Make a new shop first.", name=url.database)
        if not known(at):
            raise Problem(
                "The shop {name} was written by a newer program. Install that version to open it.",
                name=url.database,
            )
        if at == newest():
            return None
        kept = None
        if path is not None:
            kept = path.with_name(f"{path.stem}.before-{newest()}{path.suffix}")
            copy_shop(path, kept, replace=True)
        _migrate(engine, to)
        return kept
    except sa.exc.OperationalError as error:
        raise Unavailable(
            "The shop {name} cannot be brought up to date ({why}); it is as it was.",
            name=url.database,
            why=str(error.orig).strip(),
        ) from None
    finally:
        engine.dispose()


def _migrate(engine: sa.Engine, to: str = "head") -> None:
    from alembic import command

    config = migrations()
    with engine.connect() as connection:
        if engine.dialect.name == "postgresql":  # a second one waits here, and then finds nothing to do
            connection.exec_driver_sql(f"SELECT pg_advisory_lock({_ONE_UPGRADE})")
            connection.commit()
        config.attributes["connection"] = connection
        command.upgrade(config, to)


def step_by_step(path: Path) -> Iterator[str]:
    """A new file brought up one migration at a time; yields each migration's name once it stands."""
    from alembic.script import ScriptDirectory

    engine = make_engine(shop_url(path))
    script = ScriptDirectory.from_config(migrations())
    try:
        for step in reversed(list(script.walk_revisions())):
            _migrate(engine, step.revision)
            engine.dispose()  # what was written stands in the file
            yield step.revision
    finally:
        engine.dispose()
