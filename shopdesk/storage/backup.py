"""A copy of a shop file through SQLite's online backup, proved by opening it."""

import sqlite3
from contextlib import closing
from pathlib import Path

from shopdesk.domain.problem import Problem, Unavailable


def copy_shop(shop: Path, to: Path, *, replace: bool = False) -> None:
    """Copies `shop` to `to` while it may be in use; the copy is whole or absent.

    Never a plain copy: a WAL file copied so loses what is not yet in the main file.
    """
    if not shop.is_file():
        raise Problem("There is no shop at {path}.", path=str(shop))
    if to.exists() and not replace:
        raise Problem("There is already a file at {path}. Choose another name.", path=str(to))
    building = to.with_name(to.name + ".part")
    try:
        to.parent.mkdir(parents=True, exist_ok=True)
        building.unlink(missing_ok=True)
        with (
            closing(sqlite3.connect(shop.absolute().as_uri() + "?mode=ro", uri=True)) as source,
            closing(sqlite3.connect(building)) as copy,
        ):
            source.backup(copy)  # in one step: a stepped backup beside a busy writer may never end
            copy.execute("PRAGMA journal_mode=DELETE")
            verdict = copy.execute("PRAGMA integrity_check").fetchone()[0]
        if verdict != "ok":
            raise Problem(
                "The shop {path} is damaged ({what}); no backup was made of it.",
                path=str(shop),
                what=verdict.splitlines()[0],
            )
        building.replace(to)
    except (sqlite3.Error, OSError) as error:
        raise Unavailable(
            "The copy of {path} could not be written ({why}). Choose another place.",
            path=str(shop),
            why=str(error),
        ) from None
    finally:
        building.unlink(missing_ok=True)
