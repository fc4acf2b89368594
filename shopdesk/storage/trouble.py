"""What the database complains of, as a sentence people can act on; whatever else it says is a bug."""

from typing import TYPE_CHECKING

import sqlalchemy as sa
from sqlalchemy.orm.exc import StaleDataError

from shopdesk.domain.problem import ChangedMeanwhile, NotAllowed, Unavailable

if TYPE_CHECKING:
    from shopdesk.storage.unit_of_work import UnitOfWork

_REFUSED = "42501"  # SQLSTATE: insufficient privilege
_GONE = ("08", "57P")  # SQLSTATE: connection exception; shut down by an operator or a crash


def in_words(error: BaseException, shop: str, work: "UnitOfWork | None", *, on_server: bool) -> BaseException:
    """The sentence, or the error itself where it is a bug; `work` is what was being written, if anything."""
    if isinstance(error, StaleDataError):
        return ChangedMeanwhile(
            "Somebody else saved this record first. Your text is still here: look at theirs, then save again."
        )
    if getattr(getattr(error, "orig", None), "sqlstate", "") == _REFUSED:
        return NotAllowed("Your account at the server may not do this; nothing was changed.")
    # SQLite calls a wrong statement operational too; that is a bug and stays one
    wrong = getattr(getattr(error, "orig", None), "sqlite_errorname", "") == "SQLITE_ERROR"
    damaged = type(error) is sa.exc.DatabaseError  # SQLite's word for a broken file; others have a class each
    if not (damaged or isinstance(error, sa.exc.OperationalError)) or wrong:
        return error
    assert isinstance(error, sa.exc.DatabaseError)
    return _lost(error, shop, work) if on_server and _is_gone(error) else _failed(error, shop, work)


def _lost(error: sa.exc.DatabaseError, shop: str, work: "UnitOfWork | None") -> Unavailable:
    if work is not None and work.committing:
        return Unavailable(
            "The server went away while this was being written ({why}). It may stand or not: "
            "look at the record before you save again.",
            why=first_line(error),
        )
    return Unavailable(
        "The server of the shop {name} does not answer ({why}). What you typed stays here; "
        "save again in a moment.",
        name=shop,
        why=first_line(error),
    )


def _failed(error: sa.exc.DatabaseError, shop: str, work: "UnitOfWork | None") -> Unavailable:
    if work is None:
        return Unavailable(
            "The shop {name} cannot be read ({why}). Try again.", name=shop, why=first_line(error)
        )
    return Unavailable(
        "The shop {name} could not be written to ({why}); nothing was changed. Try again.",
        name=shop,
        why=first_line(error),
    )


def _is_gone(error: sa.exc.DatabaseError) -> bool:
    """Whether nobody is at the other end: no connection came about, or it broke."""
    state = getattr(error.orig, "sqlstate", None)
    return state is None or state.startswith(_GONE)


def first_line(error: sa.exc.DBAPIError) -> str:
    """The first line of what the database said; drivers repeat it for every address they tried."""
    return (str(error.orig).strip().splitlines() or [""])[0].strip()
