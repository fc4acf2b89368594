"""Whether a file is a shop, told without ever opening it behind SQLite's back.

Closing a plain file handle would drop the locks that this process holds on an open shop.
"""

import sqlite3
from contextlib import closing
from pathlib import Path

from shopdesk.domain.problem import Problem, Unavailable
from shopdesk.storage.engine import APPLICATION_ID
from shopdesk.storage.likeness import refuse_strange


def checked_file(path: Path) -> Path:
    """The path of a shop file, or a sentence that there is none, or that it is something else."""
    if not path.is_file():
        raise Problem("There is no shop at {path}. Check the name, or make a new shop.", path=str(path))
    try:
        with closing(sqlite3.connect(path.absolute().as_uri() + "?mode=ro", uri=True)) as connection:
            mark = connection.execute("PRAGMA application_id").fetchone()[0]
    except sqlite3.OperationalError as error:
        raise Unavailable("The shop {path} cannot be read ({why}).", path=str(path), why=str(error)) from None
    except sqlite3.DatabaseError:
        mark = None
    if mark != APPLICATION_ID:
        raise Problem("The file {path} is not a shop. Choose another file.", path=str(path))
    refuse_strange(path)
    return path
