"""What the forms of the Stores check before a service is called. Knows no widgets."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

from shopdesk.domain.problem import Problem
from shopdesk.domain.stock import Fit
from shopdesk.services.goods_in import Arrived
from shopdesk.services.needs import NeedRow
from shopdesk.services.outwork import PieceDraft
from shopdesk.services.people import PartyDraft
from shopdesk.services.price_lists import Proposal
from shopdesk.services.purchasing import OrderLine, OrderLineRow
from shopdesk.services.reordering import LowRow
from shopdesk.services.storeroom import OutworkTask
from shopdesk.wording import Region, say


class LineProblem(Problem):
    """A Problem of one line: `key` names the line, `field` its field."""

    def __init__(self, key: Any, text: str, field: str, **facts: object) -> None:
        super().__init__(text, field=field, **facts)
        self.key = key


@dataclass(frozen=True, slots=True)
class Wish:
    """Something to be ordered, for a need or for the shelf; `note` says who waits for it."""

    id: int
    name: str
    count: int
    cost_cents: int
    note: str
    need_id: int | None = None
    part_id: int | None = None


def wish_of_need(need: NeedRow) -> Wish:
    note = say("{number}, {task}", number=need.range_number, task=need.task)
    return Wish(need.id, need.name, max(1, need.short), need.cost_cents, note, need_id=need.id)


def wish_of_low(low: LowRow) -> Wish:
    note = say("{count} there, {coming} coming", count=low.in_stock, coming=low.coming)
    return Wish(low.part_id, low.name, low.suggested, low.price_in_cents, note, part_id=low.part_id)


def order_lines(
    wishes: Sequence[Wish], said: Mapping[int, Mapping[str, Any]], proposals: Mapping[str, Proposal]
) -> list[tuple[int, OrderLine]]:
    """Each wish with its supplier's key, as the lines say it; the number is the proposed supplier's own."""
    lines = []
    for wish in wishes:
        line = said[wish.id]
        if line["supplier_id"] is None:
            raise LineProblem(wish.id, "Choose who to order {name} from.", "supplier_id", name=wish.name)
        if line["cost"] is None:
            raise LineProblem(wish.id, "Write what one of {name} costs, or 0.", "cost", name=wish.name)
        known = proposals.get(wish.name)
        theirs = known.theirs if known and known.supplier_id == line["supplier_id"] else ""
        made = OrderLine(wish.name, line["count"], line["cost"], wish.need_id, wish.part_id, theirs)
        lines.append((line["supplier_id"], made))
    return lines


def fits(text: str) -> tuple[Fit, ...]:
    """Fits as people write them, a range to a line: maker, model, features in brackets; ? for may fit.

    `Corvane No. 40 (griddle, lamp)` or `Corvane ?`. The first word is the maker; "any" is every maker.
    """
    found = []
    for line in text.splitlines():
        words = re.fullmatch(r"\s*([^(?]*?)\s*(?:\(([^)]*)\))?\s*(\??)\s*", line)
        if words is None:
            raise Problem("“{line}” cannot be read. Write it like: Corvane No. 40 (griddle) ?", field="fits",
                          line=line.strip())  # fmt: skip
        maker, _, model = words[1].partition(" ")
        build = tuple(word.strip().lower() for word in (words[2] or "").split(",") if word.strip())
        if not (maker or build):
            continue
        maker = "" if maker.lower() == "any" else maker
        found.append(Fit(maker=maker, model=model.strip(), build=build, certain=not words[3]))
    return tuple(found)


def fits_text(known: Sequence[Fit]) -> str:
    """Fits as `fits` reads them."""
    lines = []
    for fit in known:
        name = " ".join(word for word in (fit.maker or "any", fit.model) if word)
        build = f" ({', '.join(fit.build)})" if fit.build else ""
        lines.append(name + build + ("" if fit.certain else " ?"))
    return "\n".join(lines)


def pieces(tasks: Sequence[OutworkTask], said: Mapping[int, Mapping[str, Any]]) -> list[PieceDraft]:
    """The pieces that go out, as the lines say it; by task key."""
    drafts = []
    for task in tasks:
        line = said[task.task_id]
        if not line["name"]:
            raise LineProblem(task.task_id, "Say which piece goes out.", "name")
        by_area = line["area"] is not None
        drafts.append(
            PieceDraft(
                task_id=task.task_id,
                name=line["name"],
                count=line["count"],
                base_metal=line["base_metal"],
                finish=line["finish"],
                unit_price_cents=line["price"] or 0,
                priced_by="area" if by_area else "piece",
                area=line["area"],
                insured_cents=line["insured"] or 0,
            )
        )
    return drafts


def party(values: Mapping[str, Any], known: PartyDraft | None) -> PartyDraft:
    """A firm as the form says it, with what the form does not ask kept as it was."""
    if not values["name"]:
        raise Problem("The firm needs a name.", field="name")
    if not values["supplies"] and not values["trade"]:
        raise Problem(
            "Say what {name} does: tick that it sells parts, or write its trade.",
            field="trade",
            name=values["name"],
        )
    return replace(known or PartyDraft(name="", is_firm=True), **values)


def arrived(lines: Sequence[OrderLineRow], said: Mapping[int, Mapping[str, Any]]) -> list[Arrived]:
    """What came of an order; lines of which nothing came are left out."""
    came = [
        Arrived(
            line_id=line.id, quantity=said[line.id]["count"], unit_cost_cents=said[line.id]["cost"],
            lies_at=said[line.id]["lies_at"],
        )
        for line in lines
        if said[line.id]["count"]
    ]  # fmt: skip
    if not came:
        raise Problem("Count what came of at least one line.")
    return came


def exact_area(region: Region, typed: str) -> Decimal:
    """An area as an exact decimal, however the shop writes its point."""
    value = Decimal(str(region.parse_number(typed)))
    if value <= 0:
        raise Problem("An area is more than nothing.")
    return value
