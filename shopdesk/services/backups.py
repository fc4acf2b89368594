"""Copying the open shop to another file, proved whole."""

from pathlib import Path

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action, require
from shopdesk.services.seat import Seat
from shopdesk.storage.backup import copy_shop


def back_up(seat: Seat, to: Path, *, replace: bool = False) -> int:
    """Copies the shop to `to` while it stays open; answers the copy's size in bytes.

    Records, photographs and papers are in the copy. A shop on a database server is copied there.
    """
    require(seat.acting, Action.SET_UP)
    if not seat.file.is_file:
        raise Problem(
            "{name} is on a database server. Copy it there with the server's own tools.", name=seat.file.name
        )
    shop = Path(seat.file.url.database or "")
    if to.resolve() == shop.resolve():
        raise Problem("{path} is the open shop itself. Choose another name.", path=str(to))
    copy_shop(shop, to, replace=replace)
    return to.stat().st_size
