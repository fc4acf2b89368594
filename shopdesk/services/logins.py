"""Accounts at the database server for people who work here; the server then keeps them to their rights.

An account belongs to a person: whoever opens the shop by it acts as that person. Passwords are shown once
and kept nowhere, the journal among it.
"""

from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.folding import fold
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action, Role
from shopdesk.services.seat import Seat
from shopdesk.storage import grants
from shopdesk.storage.tables.shop import Staff


@dataclass(frozen=True)
class Account:
    """What a person needs to open the shop from another machine; `password` is shown this once."""

    name: str
    password: str
    address: str


def give_login(seat: Seat, staff_id: int) -> Account:
    """An account at the server for somebody who works here, or a new password for the one there is."""
    if seat.file.is_file:
        raise Problem("This shop lies in a file. Accounts are for a shop on a server.")
    with seat.change(Action.SET_UP) as work:
        row = work.get(Staff, staff_id, "person")
        if not row.active:
            raise Problem("{name} no longer works here.", name=row.name)
        name = row.login or _free_name(work.session, row.name)
        made = grants.make_login(work.session.connection(), name, Role(row.role))
        row.login = made.name
        work.about(row)
    address = seat.file.url.set(drivername="postgresql", username=made.name, password=None)
    return Account(made.name, made.password, address.render_as_string())


def follow(session: Session, row: Staff) -> None:
    """The account of a person whose role changed, or who no longer works here, follows in the same
    transaction."""
    if row.login and session.get_bind().dialect.name == "postgresql":
        grants.put_in_group(session.connection(), row.login, Role(row.role), active=row.active)


def _free_name(session: Session, name: str) -> str:
    """The shop and the person in plain letters; roles belong to the whole server."""
    plain = "".join(letter if letter.isascii() and letter.isalnum() else "_" for letter in fold(name))
    shop = session.scalar(sa.select(sa.func.current_database()))
    wished = f"{shop}_{plain.strip('_') or 'person'}"[:58]
    taken = set(session.scalars(sa.text("SELECT rolname FROM pg_roles")))
    return next(each for each in (wished, *(f"{wished}_{n}" for n in range(2, 99))) if each not in taken)
