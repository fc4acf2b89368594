"""A copy of a shop on a PostgreSQL server by the server's own tools, proved by restoring it.

`pg_dump` writes its custom format; `pg_restore` fills a new database, whose every row can be compared with
the shop's (`different_tables`). The password goes by the environment, never by the command line.
"""

import os
import re
import shutil
import subprocess
from contextlib import suppress
from itertools import zip_longest
from pathlib import Path

import sqlalchemy as sa

from shopdesk.domain.problem import Problem, Unavailable
from shopdesk.storage.engine import make_engine
from shopdesk.storage.tables import Base
from shopdesk.storage.upgrading import known, revision_of

_AT_ONCE = 500


def dump_shop(url: sa.URL, to: Path, *, replace: bool = False) -> None:
    """Writes the whole database to `to` in `pg_dump`'s custom format; whole or absent."""
    if to.exists() and not replace:
        raise Problem("There is already a file at {path}. Choose another name.", path=str(to))
    tool = _tool("pg_dump", _major_of(url))
    building = to.with_name(to.name + ".part")
    try:
        to.parent.mkdir(parents=True, exist_ok=True)
        _run(url, [tool, "--format=custom", "--no-owner", f"--file={building}", "--dbname", _name(url)])
        _run(url, [_tool("pg_restore", 0), "--list", str(building)])  # its table of contents can be read
        building.replace(to)
    except OSError as error:
        raise Unavailable(
            "The copy of {name} could not be written ({why}). Choose another place.",
            name=url.database, why=error.strerror or str(error),
        ) from None  # fmt: skip
    finally:
        with suppress(OSError):
            building.unlink(missing_ok=True)


def restore_dump(copy: Path, to: sa.URL) -> dict[str, int]:
    """Brings a copy back into the empty database `to`, checked; returns how many rows stand in each table.

    Nothing that stands in a database is replaced. What was half restored goes again.
    """
    if not copy.is_file():
        raise Problem("There is no copy at {path}. Check the name.", path=str(copy))
    engine = make_engine(to)
    try:
        with engine.connect() as connection:
            if sa.inspect(connection).get_table_names():
                raise Problem(
                    "The database {name} is not empty. Give a new, empty one to bring a copy back into.",
                    name=to.database,
                )
        tool = _tool("pg_restore", _major_of(to))
        _run(
            to,
            [tool, "--no-owner", "--exit-on-error", "--single-transaction", "--dbname", _name(to), str(copy)],
        )
        at = revision_of(engine)
        if at is None or not known(at):
            raise Problem(
                "The copy {path} is no shop of this program. Nothing was taken over.", path=str(copy)
            )
        return _rows(engine)
    except sa.exc.OperationalError as error:
        raise Unavailable("The database {name} cannot be reached ({why}).", name=to.database,
                          why=str(error.orig).strip()) from None  # fmt: skip
    finally:
        engine.dispose()


def different_tables(one: sa.URL, other: sa.URL) -> list[str]:
    """Tables in which two databases are not the same, row by row; empty when the copy is the shop."""
    engines = make_engine(one), make_engine(other)
    try:
        with engines[0].connect() as here, engines[1].connect() as there:
            return [table.name for table in Base.metadata.sorted_tables if not _same(here, there, table)]
    finally:
        for engine in engines:
            engine.dispose()


def _same(here: sa.Connection, there: sa.Connection, table: sa.Table) -> bool:
    query = sa.select(table).order_by(*table.primary_key.columns).execution_options(yield_per=_AT_ONCE)
    with here.execute(query) as ones, there.execute(query) as others:
        return all(
            one is not None and other is not None and tuple(one) == tuple(other)
            for one, other in zip_longest(ones, others)
        )


def _rows(engine: sa.Engine) -> dict[str, int]:
    with engine.connect() as connection:
        return {
            table.name: connection.scalar(sa.select(sa.func.count()).select_from(table)) or 0
            for table in Base.metadata.sorted_tables
            if sa.inspect(connection).has_table(table.name)
        }


def _major_of(url: sa.URL) -> int:
    engine = make_engine(url)
    try:
        with engine.connect() as connection:
            return int(connection.exec_driver_sql("SHOW server_version_num").scalar_one()) // 10_000
    except sa.exc.OperationalError as error:
        raise Unavailable("The database {name} cannot be reached ({why}).", name=url.database,
                          why=str(error.orig).strip()) from None  # fmt: skip
    finally:
        engine.dispose()


def _tool(name: str, at_least: int) -> str:
    """The newest tool of that name; a sentence where there is none, or only one older than the server."""
    there = [*Path("/usr/lib/postgresql").glob(f"*/bin/{name}")]
    found = max(there, key=lambda path: _number(path.parent.parent.name), default=None) or shutil.which(name)
    if found is None:
        raise Unavailable(
            "{tool} is not on this machine. Install PostgreSQL's client programs, version {version} or "
            "newer.",
            tool=name,
            version=max(at_least, 15),
        )
    said = subprocess.run([str(found), "--version"], capture_output=True, text=True, check=False).stdout
    told = re.search(r"(\d+)", said)
    if told is not None and int(told[1]) < at_least:
        raise Unavailable(
            "{tool} here is version {have}, and the server is {want}. Install PostgreSQL's client programs, "
            "version {want} or newer.",
            tool=name, have=told[1], want=at_least,
        )  # fmt: skip
    return str(found)


def _number(text: str) -> int:
    return int(text) if text.isdigit() else 0


def _name(url: sa.URL) -> str:
    """The address for the server's tools, without its password."""
    plain = url.set(drivername="postgresql", password=None)
    return plain.render_as_string(hide_password=False)


def _run(url: sa.URL, command: list[str]) -> None:
    surroundings = os.environ | ({"PGPASSWORD": str(url.password)} if url.password else {})
    try:
        done = subprocess.run(command, capture_output=True, text=True, check=False, env=surroundings)
    except OSError as error:
        raise Unavailable("{tool} could not be run ({why}).", tool=Path(command[0]).name,
                          why=error.strerror) from None  # fmt: skip
    if done.returncode:
        raise Unavailable(
            "The server's tool {tool} refused: {why}",
            tool=Path(command[0]).name,
            why=(done.stderr.strip() or "it said nothing").splitlines()[-1],
        )
