"""Signing in: who sits down at the window, by passphrase where one is set.

A shop in which nobody has a passphrase asks nobody. In a shop file this keeps the deeds of one person
apart from another's; whoever may copy the file may read it, and only the file's own permissions help
against that.
"""

import datetime as dt
import math
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import sqlalchemy as sa

from shopdesk.domain.problem import NotAllowed, Problem
from shopdesk.domain.rights import Action, Role
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.shop import Staff

if TYPE_CHECKING:  # the hashing is loaded when somebody signs in
    from argon2 import PasswordHasher

    from shopdesk.storage.unit_of_work import UnitOfWork

SHORTEST = 10  # letters of a passphrase
FREE_TRIES = 3
_FIRST_WAIT = 5  # seconds after the free tries; twice as long after each further one
_LONGEST_WAIT = 300


@dataclass(frozen=True)
class Person:
    """Somebody who may sit down."""

    id: int
    name: str
    role: Role
    passphrase: bool


def people_here(seat: Seat) -> tuple[Person, ...]:
    """Everybody who works here, by name. Asked before anybody has signed in."""
    query = sa.select(Staff.id, Staff.name, Staff.role, Staff.passphrase_hash != "")
    with seat.file.asking() as connection:
        rows = connection.execute(query.where(Staff.active == True).order_by(Staff.name, Staff.id))
        return tuple(Person(key, name, Role(role), bool(has)) for key, name, role, has in rows)


def asks(seat: Seat) -> bool:
    """Whether this shop asks who is there: once anybody has a passphrase."""
    return any(person.passphrase for person in people_here(seat))


def sign_in(seat: Seat, staff_id: int, passphrase: str = "") -> Seat:
    """The shop with this person acting. A wrong passphrase is counted, journaled, and slows the next try."""
    with seat.file.reading() as session:
        row = session.get_one(Staff, staff_id)
    if not row.active:
        raise Problem("{name} no longer works here. Choose somebody else.", name=row.name)
    as_person = seat.of(row)
    if not row.passphrase_hash:
        return as_person
    _refuse_hurry(row, seat.now)
    right = _fits(row.passphrase_hash, passphrase)
    if not seat.file.looking:
        with as_person.change(Action.SIGN_IN) as work:
            _note(work, staff_id, right)
    if not right:
        raise NotAllowed("This is not {name}’s passphrase. Try again.", field="passphrase", name=row.name)
    return as_person


def set_passphrase(seat: Seat, staff_id: int, passphrase: str, old: str = "") -> None:
    """A person's own passphrase, or an owner's word for anybody. Empty: none any more.

    Whoever is not an owner gives the old one as well. The last owner with one can take it away only if
    nobody else has one: else the shop would ask everybody but its owner.
    """
    with seat.change(Action.SIGN_IN) as work:
        row = work.get(Staff, staff_id, "person")
        if seat.acting.role is not Role.OWNER:
            if staff_id != seat.acting.staff_id:
                raise NotAllowed("{name} sets this passphrase, or an owner.", name=row.name)
            if row.passphrase_hash and not _fits(row.passphrase_hash, old):
                raise NotAllowed("The passphrase before is another one.", field="old")
        if passphrase and len(passphrase) < SHORTEST:
            raise Problem(
                "A passphrase has at least {count} letters; several words are easy to keep in mind.",
                field="passphrase", count=SHORTEST,
            )  # fmt: skip
        row.passphrase_hash = _hasher().hash(passphrase) if passphrase else ""
        row.failed_count, row.failed_at = 0, None
        row.signed_in_at = work.now  # the hash is not journaled; this says that something was set, and when
        work.session.flush()
        _refuse_open_owner(work, row)
        work.about(row)


def _refuse_open_owner(work: "UnitOfWork", changed: Staff) -> None:
    owners = work.session.scalars(sa.select(Staff).where(Staff.active == True, Staff.role == "owner")).all()
    others = work.session.scalar(
        sa.select(sa.func.count()).where(Staff.active == True, Staff.passphrase_hash != "")
    )
    if others and any(not owner.passphrase_hash for owner in owners):
        raise Problem(
            "An owner without a passphrase would leave the shop open to everybody. Set {names} first.",
            field="passphrase",
            names=", ".join(owner.name for owner in owners if not owner.passphrase_hash),
            person=changed.name,
        )


def _refuse_hurry(row: Staff, now: dt.datetime) -> None:
    if row.failed_count < FREE_TRIES or row.failed_at is None:
        return
    wait = min(_LONGEST_WAIT, _FIRST_WAIT * 2 ** min(row.failed_count - FREE_TRIES, 10))
    left = wait - (now - row.failed_at).total_seconds()
    if 0 < left <= wait:  # a clock set back must not lock anybody out
        raise NotAllowed(
            "{count} tries for {name} failed. Wait {seconds} seconds.",
            field="passphrase", count=row.failed_count, name=row.name, seconds=math.ceil(left),
        )  # fmt: skip


def _note(work: "UnitOfWork", staff_id: int, right: bool) -> None:
    row = work.get(Staff, staff_id, "person")
    if right:
        row.failed_count, row.failed_at, row.signed_in_at = 0, None, work.now
    else:
        row.failed_count, row.failed_at = row.failed_count + 1, work.now
    work.about(row)


def _fits(kept: str, passphrase: str) -> bool:
    from argon2.exceptions import InvalidHashError, VerificationError

    try:
        return _hasher().verify(kept, passphrase)
    except (VerificationError, InvalidHashError):
        return False


@cache
def _hasher() -> "PasswordHasher":
    from argon2 import PasswordHasher

    return PasswordHasher()
