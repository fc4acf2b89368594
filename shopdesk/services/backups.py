"""Copying the open shop to another file, proved whole."""

from pathlib import Path

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action, require
from shopdesk.services.keeping_copies import copy_of
from shopdesk.services.seat import Seat


def back_up(seat: Seat, to: Path, *, replace: bool = False) -> int:
    """Copies the shop to `to` while it stays open; answers the copy's size in bytes.

    Records, photographs and papers are in the copy. A shop on a server is copied by the
    server's own tools.
    """
    require(seat.acting, Action.SET_UP)
    if seat.file.is_file and to.resolve() == Path(seat.file.url.database or "").resolve():
        raise Problem("{path} is the open shop itself. Choose another name.", path=str(to))
    copy_of(seat, to, replace=replace)
    return to.stat().st_size
