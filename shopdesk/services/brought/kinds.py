"""The tables of older books a shop may bring in, by their kind."""

from collections.abc import Callable, Mapping
from pathlib import Path

from shopdesk.services import tables_in
from shopdesk.services.brought.customers import Customers
from shopdesk.services.brought.open_jobs import OpenJobs
from shopdesk.services.brought.parts import Parts
from shopdesk.services.seat import Seat
from shopdesk.services.tables_in import Table, Target

KINDS: Mapping[str, Callable[[Seat], Target]] = {
    Customers.kind: Customers,
    Parts.kind: Parts,
    OpenJobs.kind: OpenJobs,
}


def opened(seat: Seat, kind: str, path: Path) -> tuple[Target, Table, dict[str, int]]:
    """A file as a table of a kind, with its columns matched as far as they say what they are."""
    target, table = KINDS[kind](seat), tables_in.open_table(path)
    return target, table, tables_in.known_matching(seat, target, table)
