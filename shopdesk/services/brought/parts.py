"""Parts of an older stock list, as the target of a table."""

from collections.abc import Sequence
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.folding import fold
from shopdesk.domain.money import marked_up
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.exchange.tables_in import Line, Wanted
from shopdesk.exchange.tables_in.columns import read_amount, read_text, read_whole
from shopdesk.services import settings, stock
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
from shopdesk.storage.tables.stores import Part
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say

_KEPT = ("name", "condition", "lies_at", "price_in_cents", "price_out_cents", "note")


class Parts:
    """A part is known by its number of the older books, else by name and source.

    A count is only taken of a part that is new here: what moved since is the ledger's matter, and a
    difference is counted, not brought in.
    """

    kind = "parts"
    action = Action.KEEP_STORES
    party_id: int | None = None

    def __init__(self, seat: Seat) -> None:
        self._seat = seat
        self._known: dict[str, int] = {}
        self._by_id: dict[int, Part] = {}
        self._named: dict[tuple[str, str], Part] = {}
        self._seen: dict[str, int] = {}

    @property
    def wanted(self) -> tuple[Wanted, ...]:
        money = self._seat.region.currency
        return (
            Wanted("name", say("Part"), ("name", "description", "item", "designation"), read_text(200),
                   required=True),
            Wanted("count", say("How many"), ("count", "quantity", "qty", "on hand", "in stock", "stock"),
                   read_whole()),
            Wanted("lies_at", say("Shelf or bin"), ("bin", "shelf", "location", "place"), read_text(80)),
            Wanted("condition", say("Source"), ("condition",), read_source),
            Wanted("price_in_cents", say("Cost each"), ("cost", "unit cost", "purchase price"),
                   read_amount(money)),
            Wanted("price_out_cents", say("Charged each"), ("price", "sale price", "retail"),
                   read_amount(money)),
            Wanted("note", say("Note"), ("notes", "remark", "remarks", "comment"), read_text(2000)),
            Wanted("theirs", say("Number in the older books"), ("part number", "part no", "item no", "number",
                   "sku", "id"), read_text(80)),
        )  # fmt: skip

    def begin(self, session: Session) -> None:
        parts = session.scalars(sa.select(Part).order_by(Part.id.desc())).all()
        self._known = read_known(session, self.kind)
        self._by_id = {part.id: part for part in parts}
        self._named = {(fold(part.name), part.condition): part for part in parts}
        self._seen = {}

    def judge(self, line: Line) -> str:
        values = line.values
        values["condition"] = values.get("condition") or "new"
        refuse_twice(self._seen, line, ("name", "condition"), values["name"])
        known = self._by_id.get(self._known.get(number_of(line), 0))
        part = known or self._named.get((fold(values["name"]), values["condition"]))
        values["record"] = part.id if part else None
        return verdict(part, given(line, _KEPT))

    def keep(self, work: UnitOfWork, lines: Sequence[Line]) -> None:
        """New parts with their numbers and counts; known ones with what the line says of them."""
        reason = say("counted in from the older books")
        for line in lines:
            record: Any = line.values["record"]
            part = work.get(Part, record, "part") if record else self._made(work, line)
            write_on(part, given(line, _KEPT))
            work.session.flush()
            if record is None and line.values.get("count"):
                stock.move(work, self._seat, part, line.values["count"], reason, kind="counted in")
            note_known(work, self.kind, self._known, line, part.id)

    def _made(self, work: UnitOfWork, line: Line) -> Part:
        """At the shop's usual markup, unless the line says what it is charged at."""
        markup = settings.read(work.session, settings.Terms).part_markup_percent
        charged = marked_up(line.values.get("price_in_cents") or 0, markup)
        return work.add(
            Part(number=work.take_number("part"), name=line.values["name"], price_out_cents=charged)
        )


def read_source(cell: str) -> str:
    """New, used, exchanged or made, in English or as this shop's language has it."""
    words = {fold(said): code for code in stock.CONDITIONS for said in (code, say(code))}
    if fold(cell) not in words:
        raise Problem(
            "“{cell}” is no source of a part. Write new, used, exchanged or made.",
            field="condition", cell=cell[:30],
        )  # fmt: skip
    return words[fold(cell)]
