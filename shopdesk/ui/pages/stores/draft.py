"""What the forms of the Stores check before a service is called. Knows no widgets."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from shopdesk.domain.problem import Problem
from shopdesk.services.outwork import PieceDraft
from shopdesk.services.people import PartyDraft
from shopdesk.services.storeroom import OutworkTask
from shopdesk.services.stores import NeedRow, OrderLine


class LineProblem(Problem):
    """A Problem of one line: `key` names the line, `field` its field."""

    def __init__(self, key: Any, text: str, field: str, **facts: object) -> None:
        super().__init__(text, field=field, **facts)
        self.key = key


def order_lines(
    needs: Sequence[NeedRow], said: Mapping[int, Mapping[str, Any]]
) -> list[tuple[int, OrderLine]]:
    """Each needed part with its supplier's key, as the lines say it; by need key."""
    lines = []
    for need in needs:
        line = said[need.id]
        if line["supplier_id"] is None:
            raise LineProblem(need.id, "Choose who to order {name} from.", "supplier_id", name=need.name)
        if line["cost"] is None:
            raise LineProblem(need.id, "Write what one of {name} costs, or 0.", "cost", name=need.name)
        made = OrderLine(need.name, line["count"], line["cost"], need_id=need.id)
        lines.append((line["supplier_id"], made))
    return lines


def pieces(tasks: Sequence[OutworkTask], said: Mapping[int, Mapping[str, Any]]) -> list[PieceDraft]:
    """The pieces that go out, as the lines say it; by task key."""
    drafts = []
    for task in tasks:
        line = said[task.task_id]
        if not line["name"]:
            raise LineProblem(task.task_id, "Say which piece goes out.", "name")
        drafts.append(
            PieceDraft(
                task_id=task.task_id,
                name=line["name"],
                count=line["count"],
                base_metal=line["base_metal"],
                finish=line["finish"],
                cost_cents=line["cost"] or 0,
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
