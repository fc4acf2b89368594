"""Customers of older books, as the target of a table."""

from collections.abc import Sequence
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.folding import fold
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.exchange.tables_in import Line, Wanted
from shopdesk.exchange.tables_in.columns import read_text
from shopdesk.services.brought.known_lines import (
    given,
    note_known,
    number_of,
    read_known,
    refuse_twice,
    verdict,
    write_on,
)
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.people import Party
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say

_KEPT = ("name", "phone", "email", "street", "town", "region", "postcode", "country", "note")


class Customers:
    """A customer is known by the number of the older books, else by name and telephone or e-mail."""

    kind = "customers"
    action = Action.KEEP_PEOPLE
    party_id: int | None = None

    def __init__(self, _seat: Seat) -> None:
        self._known: dict[str, int] = {}
        self._people = People()
        self._seen: dict[str, int] = {}

    @property
    def wanted(self) -> tuple[Wanted, ...]:
        return (
            Wanted("name", say("Name"), ("customer", "last name", "surname", "full name", "company"),
                   read_text(200), required=True),
            Wanted("given", say("First name"), ("given name", "forename"), read_text(100)),
            Wanted("phone", say("Telephone"), ("phone", "tel", "mobile", "cell"), read_text(60)),
            Wanted("email", say("E-mail"), ("email", "mail"), read_email),
            Wanted("street", say("Street"), ("address", "address line 1"), read_text(200)),
            Wanted("town", say("Town"), ("city", "place"), read_text(120)),
            Wanted("region", say("State or county"), ("state", "county", "province"), read_text(60)),
            Wanted("postcode", say("Postcode"), ("zip", "zip code", "postal code"), read_text(20)),
            Wanted("country", say("Country"), (), read_text(60)),
            Wanted("note", say("Note"), ("notes", "remark", "remarks", "comment"), read_text(2000)),
            Wanted("theirs", say("Number in the older books"), ("customer number", "customer no", "number",
                   "id"), read_text(60)),
        )  # fmt: skip

    def begin(self, session: Session) -> None:
        self._known = read_known(session, self.kind)
        self._people = People.of(session)
        self._seen = {}

    def judge(self, line: Line) -> str:
        values = line.values
        values["name"] = " ".join(part for part in (values.get("given"), values["name"]) if part)
        refuse_twice(self._seen, line, ("name", "phone", "email"), values["name"])
        known = self._people.by_id.get(self._known.get(number_of(line), 0))
        party = known or self._people.found(values["name"], values.get("phone"), values.get("email"))
        values["record"] = party.id if party else None
        return verdict(party, given(line, _KEPT))

    def keep(self, work: UnitOfWork, lines: Sequence[Line]) -> None:
        """Each line in the journal, as if it had been typed; what it leaves empty stays as it was."""
        for line in lines:
            record = line.values["record"]
            party = (
                work.get(Party, record, "customer") if record else work.add(Party(name=line.values["name"]))
            )
            write_on(party, given(line, _KEPT))
            work.session.flush()
            note_known(work, self.kind, self._known, line, party.id)


class People:
    """Everybody the shop knows, to find one by name, and by telephone or e-mail where a name is common."""

    def __init__(self, parties: Sequence[Party] = ()) -> None:
        self.by_id: dict[int, Any] = {party.id: party for party in parties}
        self._named: dict[str, list[Any]] = {}
        for party in parties:
            self._named.setdefault(fold(party.name), []).append(party)

    @classmethod
    def of(cls, session: Session) -> "People":
        query = sa.select(Party).where(Party.merged_into_id.is_(None), Party.erased_at.is_(None))
        return cls(session.scalars(query.order_by(Party.id)).all())

    def found(self, name: str, phone: str | None, email: str | None) -> Any:
        """The one person of that name whose telephone or e-mail does not speak against it, or None.

        Problem where several would do.
        """
        fitting = [p for p in self._named.get(fold(name), []) if _may_be(p, phone, email)]
        told = [p for p in fitting if _same_number(p.phone, phone) or _same_mail(p.email, email)]
        fitting = told or fitting
        if len(fitting) > 1:
            raise Problem(
                "{count} people are called {name}. Write a telephone number or e-mail that tells them apart.",
                field="name", count=len(fitting), name=name,
            )  # fmt: skip
        return fitting[0] if fitting else None


def read_email(cell: str) -> str:
    if "@" not in cell or len(cell) > 200:
        raise Problem(
            "{email} is not an e-mail address. Correct it or leave it empty.", field="email", email=cell[:60]
        )
    return cell


def _may_be(party: Party, phone: str | None, email: str | None) -> bool:
    """Nothing was told of the person that is otherwise in both ways of reaching them."""
    told = [(_digits(party.phone), _digits(phone or "")), (fold(party.email), fold(email or ""))]
    both = [(there, here) for there, here in told if there and here]
    return not both or any(there == here for there, here in both)


def _same_number(there: str, here: str | None) -> bool:
    return bool(here) and _digits(there) == _digits(here or "")


def _same_mail(there: str, here: str | None) -> bool:
    return bool(here) and fold(there) == fold(here or "")


def _digits(phone: str) -> str:
    """The last seven digits, so that a country's or a town's prefix makes no other number of it."""
    return "".join(c for c in phone if c.isdigit())[-7:]
