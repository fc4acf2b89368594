"""A copy of a shop file through SQLite's online backup, proved by opening it."""

import sqlite3
from contextlib import closing
from pathlib import Path

from shopdesk.domain.problem import Problem, Unavailable
from shopdesk.storage.file import checked_file


def copy_shop(shop: Path, to: Path, *, replace: bool = False) -> None:
    """Copies `shop` to `to` while it may be in use; the copy is whole or absent.

    Never a plain copy: a WAL file copied so loses what is not yet in the main file.
    """
    checked_file(shop)
    if to.exists() and not replace:
        raise Problem("There is already a file at {path}. Choose another name.", path=str(to))
    building = to.with_name(to.name + ".part")
    try:
        to.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise _unwritable(shop, error) from None
    try:
        building.unlink(missing_ok=True)
        with (
            closing(sqlite3.connect(shop.absolute().as_uri() + "?mode=ro", uri=True)) as source,
            closing(sqlite3.connect(building)) as copy,
        ):
            source.backup(copy)  # in one step: a stepped backup beside a busy writer may never end
            copy.execute("PRAGMA journal_mode=DELETE")
            _refuse_damaged(shop, copy)
        building.replace(to)
    except (sqlite3.OperationalError, OSError) as error:
        raise _unwritable(shop, error) from None
    except sqlite3.DatabaseError as error:
        raise _damaged(shop, str(error)) from None
    finally:
        building.unlink(missing_ok=True)


def _refuse_damaged(shop: Path, copy: sqlite3.Connection) -> None:
    verdict = copy.execute("PRAGMA integrity_check").fetchone()[0]
    if verdict != "ok":
        raise _damaged(shop, verdict.splitlines()[0])
    lost = copy.execute("PRAGMA foreign_key_check").fetchone()
    if lost is not None:
        raise _damaged(shop, f"a row of {lost[0]} points to a row of {lost[2]} that is not there")


def _damaged(shop: Path, what: str) -> Problem:
    return Problem(
        "The shop {path} is damaged ({what}); no backup was made of it.", path=str(shop), what=what
    )


def _unwritable(shop: Path, why: Exception) -> Unavailable:
    return Unavailable(
        "The copy of {path} could not be written ({why}). Choose another place.",
        path=str(shop),
        why=str(why),
    )
