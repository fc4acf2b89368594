"""What other seats change in a shop on a server, heard by LISTEN and NOTIFY.

Each unit of work sends which tables and which job it touched, in its own transaction: a change that was
rolled back is never heard. A listener that lost the server comes back by itself and says that it may
have missed something.
"""

import json
import time
import uuid
from collections.abc import Callable
from dataclasses import dataclass
from threading import Event
from typing import TYPE_CHECKING

import sqlalchemy as sa

if TYPE_CHECKING:
    import psycopg

CHANNEL = "shopdesk"
OWN_SEAT = uuid.uuid4().hex[:12]  # this program's own changes are known here already
_LOOK_ROUND = 1.0  # seconds between looks at whether to stop
_FIRST_PAUSE, _LONGEST_PAUSE = 1.0, 30.0  # seconds before the server is tried again


@dataclass(frozen=True)
class Heard:
    """Tables another seat changed, and the job it was about; `missed` when anything may have changed."""

    tables: frozenset[str] = frozenset()
    job_id: int | None = None
    missed: bool = False


def tell(connection: sa.Connection, tables: set[str], job_id: int | None) -> None:
    """Sends what a unit of work touched, to be heard once it is committed. Nothing on a file."""
    if connection.dialect.name != "postgresql":
        return
    words = json.dumps({"seat": OWN_SEAT, "tables": sorted(tables), "job": job_id})
    if len(words) > 7000:  # a notification carries less than 8000 bytes
        words = json.dumps({"seat": OWN_SEAT, "missed": True})
    connection.execute(sa.select(sa.func.pg_notify(CHANNEL, words)))


def hear(url: sa.URL, stop: Event, told: Callable[[Heard], None], own: str = OWN_SEAT) -> None:
    """Hands over what other seats change until `stop` is set; runs in a thread of its own."""
    import psycopg  # only where there is a server; a shop on a file opens sooner without it

    address = url.set(drivername="postgresql").render_as_string(hide_password=False)
    pause, before = _FIRST_PAUSE, False
    while not stop.is_set():
        try:
            with psycopg.connect(address, autocommit=True, connect_timeout=10) as connection:
                connection.execute(f"LISTEN {CHANNEL}")
                if before:
                    told(Heard(missed=True))
                before, pause = True, _FIRST_PAUSE
                _listen(connection, stop, told, own)
        except psycopg.OperationalError:
            until = time.monotonic() + pause
            while time.monotonic() < until and not stop.wait(0.1):
                pass
            pause = min(_LONGEST_PAUSE, pause * 2)


def _listen(connection: "psycopg.Connection", stop: Event, told: Callable[[Heard], None], own: str) -> None:
    while not stop.is_set():
        for notification in connection.notifies(timeout=_LOOK_ROUND):
            heard = _read(notification.payload, own)
            if heard is not None:
                told(heard)
            if stop.is_set():
                return


def _read(payload: str, own: str) -> Heard | None:
    try:
        words = json.loads(payload)
        if words["seat"] == own:
            return None
        return Heard(frozenset(words.get("tables", ())), words.get("job"), bool(words.get("missed")))
    except (ValueError, KeyError, TypeError):
        return Heard(missed=True)  # somebody else's words on our channel
