"""A shop's own changes to the catalogue, laid over the tables before they are read.

A plain mapping, so that a setting can hold it:
`off` (codes of checkpoints, findings and tasks), `reword` ({code: {field: text}}),
`hours` ({task: [low, likely, high] in whole minutes}),
`order` ({zone: [checkpoint codes that come first]}), `add` ({"checkpoint": [tables], "task": [tables]}),
`figures` ({field: value}, written as in figures.toml).
The files stay as they are. Proofs and cautions cannot be switched off.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from shopdesk.domain.catalogue.entry import Complaints

OWN = "the shop's own changes"
_WORDS = {
    "checkpoint": frozenset({"name", "tell", "sound", "why"}),
    "finding": frozenset({"name", "means", "decides"}),
    "task": frozenset({"name", "advice", "supplies"}),
}
_SHAPES: dict[str, type] = {
    "off": list, "reword": dict, "hours": dict, "order": dict, "add": dict, "figures": dict,
}  # fmt: skip


@dataclass(slots=True)
class Tables:
    """The raw tables, each with the file it came from."""

    checkpoints: list[tuple[str, dict[str, Any]]] = field(default_factory=list)
    tasks: list[tuple[str, dict[str, Any]]] = field(default_factory=list)
    figures: tuple[str, dict[str, Any]] = ("figures.toml", {})
    off: set[str] = field(default_factory=set)  # kept, for old answers name them, but not asked


def apply_changes(tables: Tables, changes: Mapping[str, Any], complaints: Complaints) -> None:
    """Change `tables` in place; what cannot be done is complained about."""
    changes = _exact(changes)
    for kind, change in changes.items():
        if not isinstance(change, _SHAPES.get(kind, ())):
            fix = "Use off (a list), reword, hours, order, add or figures."
            complaints.add(OWN, kind, "is not a change of this kind.", fix)
            return
    for kind, added in changes.get("add", {}).items():
        _add(tables, kind, added, complaints)
    for code, words in changes.get("reword", {}).items():
        _reword(tables, code, words, complaints)
    for code, minutes in changes.get("hours", {}).items():
        _own_hours(tables, code, minutes, complaints)
    for code in changes.get("off", ()):
        _switch_off(tables, code, complaints)
    for zone, codes in changes.get("order", {}).items():
        _reorder(tables, zone, codes, complaints)

    if changes.get("figures"):
        tables.figures = (OWN, _overlaid(tables.figures[1], changes["figures"]))


def _exact(value: Any) -> Any:
    """A copy in which stored decimal fractions (hours, shares) are Decimal, as in the files."""
    if isinstance(value, float):
        return Decimal(str(value))
    if isinstance(value, Mapping):
        return {key: _exact(below) for key, below in value.items()}
    if isinstance(value, list | tuple):
        return [_exact(below) for below in value]
    return value


def _overlaid(below: dict[str, Any], above: Mapping[str, Any]) -> dict[str, Any]:
    """`above` over `below`; tables within are overlaid too, so that one entry may be changed alone."""
    laid = {**below, **above}
    for key in below.keys() & above.keys():
        if isinstance(below[key], dict) and isinstance(above[key], dict):
            laid[key] = {**below[key], **above[key]}
    return laid


def _add(tables: Tables, kind: str, added: Any, complaints: Complaints) -> None:
    into = {"checkpoint": tables.checkpoints, "task": tables.tasks}.get(kind)
    if into is None or not isinstance(added, list) or not all(isinstance(table, dict) for table in added):
        complaints.add(OWN, f"add {kind}", "cannot be added.", "Add a list of checkpoints or of tasks.")
        return
    into.extend((OWN, table) for table in added)


def _entries(tables: Tables) -> Iterator[tuple[str, str, dict[str, Any]]]:
    """Kind, full code and table of everything that can be reworded."""
    for _, checkpoint in tables.checkpoints:
        code = str(checkpoint.get("code"))
        yield "checkpoint", code, checkpoint
        for finding in _findings(checkpoint):
            yield "finding", f"{code}.{finding.get('code')}", finding
    for _, task in tables.tasks:
        yield "task", str(task.get("code")), task


def _findings(checkpoint: dict[str, Any]) -> list[dict[str, Any]]:
    """Its findings; whatever is not a table is left for the reading to complain about."""
    found = checkpoint.get("finding", [])
    return found if isinstance(found, list) and all(isinstance(table, dict) for table in found) else []


def _reword(tables: Tables, code: str, words: Mapping[str, str], complaints: Complaints) -> None:
    found = next((entry for entry in _entries(tables) if entry[1] == code), None)
    if found is None:
        complaints.add(OWN, f"reword {code}", "the code is not there.", "Take the change out.")
        return
    kind, _, table = found
    for name, text in words.items():
        if name in _WORDS[kind]:
            table[name] = text
        else:
            fix = f"Reword one of: {', '.join(sorted(_WORDS[kind]))}."
            complaints.add(OWN, f"reword {code}", f"{name} is not a text of a {kind}.", fix)


def _own_hours(tables: Tables, code: str, minutes: Any, complaints: Complaints) -> None:
    """Whole minutes in place of the shipped hours; the reading rounds them back to the same minutes."""
    task = next((table for _, table in tables.tasks if table.get("code") == code), None)
    if task is None:
        complaints.add(OWN, f"hours {code}", "there is no such task.", "Take the change out.")
    elif not isinstance(minutes, list) or not all(type(m) is int for m in minutes):
        complaints.add(OWN, f"hours {code}", "are not whole minutes.", "Write [20, 45, 90].")
    else:
        task["hours"] = [Decimal(m) / 60 for m in minutes]


def _switch_off(tables: Tables, code: str, complaints: Complaints) -> None:
    kind = next((kind for kind, known, _ in _entries(tables) if known == code), "")
    if not kind:
        complaints.add(OWN, f"off {code}", "the code is not there.", "Take the change out.")
    elif kind in ("checkpoint", "finding"):
        tables.off.add(code)
    else:
        _switch_task_off(tables, code)


def _switch_task_off(tables: Tables, code: str) -> None:
    """The task goes everywhere; a way that is left without work goes with it."""
    tables.tasks = [pair for pair in tables.tasks if pair[1].get("code") != code]
    for _, task in tables.tasks:
        for name in ("after", "needs", "then"):
            if code in task.get(name, ()):
                task[name] = [other for other in task[name] if other != code]
    for _, checkpoint in tables.checkpoints:
        for finding in _findings(checkpoint):
            touched = [way for way in finding.get("ways", ()) if code in way.get("tasks", ())]
            for way in touched:
                way["tasks"] = [other for other in way["tasks"] if other != code]
            if touched:
                finding["ways"] = [way for way in finding["ways"] if way.get("tasks")]


def _reorder(tables: Tables, zone: str, codes: list[str], complaints: Complaints) -> None:
    inside = {c["code"] for _, c in tables.checkpoints if c.get("zone") == zone and "code" in c}
    for code in codes:
        if code not in inside:
            complaints.add(OWN, f"order {zone}", f"“{code}” is not in this zone.", "Take it out.")
    place = {code: n for n, code in enumerate(codes)}
    tables.checkpoints.sort(
        key=lambda pair: place.get(pair[1].get("code", ""), len(codes)) if pair[1].get("zone") == zone else 0
    )
