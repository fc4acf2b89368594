"""Tasks a shop made by hand join its catalogue, so that findings and scopes to come may use them."""

import re
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

import sqlalchemy as sa

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import settings
from shopdesk.services.seat import Seat, changed_catalogue
from shopdesk.storage.tables.stores import Need
from shopdesk.storage.tables.work import Task

OWN_GROUP = "The shop's own"


def join_catalogue(seat: Seat, task_id: int, *, routine: Scope | None = None) -> str:
    """A task made by hand joins the shop's catalogue; returns its code there.

    `routine`: from which scope on it is part of every order. Ask for the seat `refreshed`.
    """
    with seat.change(Action.SET_UP) as work:
        task = work.get(Task, task_id, "task")
        if task.code:
            raise Problem("“{name}” is in the catalogue already.", name=task.name)
        changes = settings.read(work.session, settings.CatalogueChanges)
        code = _free_code(task.name, changed_catalogue(changes).tasks)
        parts = work.session.scalars(sa.select(Need).where(Need.task_id == task.id).order_by(Need.id))
        added = changes.catalogue.get("add", {})
        table = _table(task, code, list(parts), routine)
        more = {**added, "task": [*added.get("task", []), table]}
        changes = replace(changes, catalogue={**changes.catalogue, "add": more})
        changed_catalogue(changes)  # a Problem says what cannot stand, before anything is kept
        settings.write(work, changes)
        task.code = code
        work.about(task, task.work_order.job_id)
        return code


def _table(task: Task, code: str, parts: list[Need], routine: Scope | None) -> dict[str, Any]:
    """The task as a catalogue file would write it; hours in decimals, money as texts."""
    table: dict[str, Any] = {
        "code": code,
        "name": task.name,
        "group": OWN_GROUP,
        "hours": [round(m / 60, 6) for m in (task.minutes_low, task.minutes_likely, task.minutes_high)],
        "skills": list(task.skills),
        "station": task.station,
        "stage": task.stage,
        "hazards": list(task.hazards),
        "proofs": list(task.proofs),
    }
    if parts:
        table["parts"] = [
            {"name": n.name, "each": [_amount(n.cost_cents)] * 3, "count": n.quantity, "per_extent": False}
            for n in parts
        ]
    if routine is not None:
        table["routine"] = routine.value
    return table


def _amount(cents: int) -> str:
    return f"{cents // 100}.{cents % 100:02d}"


def _free_code(name: str, taken: Iterable[str]) -> str:
    plain = re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:40].strip("-") or "own-task"
    codes, code, number = set(taken), plain, 1
    while code in codes:
        number += 1
        code = f"{plain}-{number}"
    return code
