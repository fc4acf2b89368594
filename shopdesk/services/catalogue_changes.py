"""A shop's own changes to the catalogue: one at a time, read whole before it is kept.

What is switched off stays known, because old walk-rounds name it; it is only not asked any more.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from shopdesk.domain.catalogue.model import Catalogue, Purpose
from shopdesk.domain.problem import Problem
from shopdesk.services import shops
from shopdesk.services.seat import Seat, changed_catalogue
from shopdesk.services.settings import CatalogueChanges


@dataclass(frozen=True, slots=True)
class OwnCheckpoint:
    """A checkpoint the shop adds; `task` is the code of the work its findings bring, or empty."""

    zone: str
    name: str
    tell: str
    sound: str
    why: str
    findings: tuple[str, ...]
    severity: str
    task: str = ""


def shipped_catalogue() -> Catalogue:
    """The catalogue as it came, without anybody's changes."""
    return changed_catalogue(CatalogueChanges())


def changes(seat: Seat) -> CatalogueChanges:
    return shops.setting(seat, CatalogueChanges)


def change_figures(seat: Seat, figures: Mapping[str, Any]) -> None:
    """The shop's own trade figures, written as in figures.toml; those left out are the shipped ones."""
    kept = changes(seat)
    shops.keep_setting(seat, CatalogueChanges(kept.catalogue, dict(figures), kept.edition))


def change_checkpoint(seat: Seat, code: str, *, asked: bool, words: Mapping[str, str]) -> None:
    """Switches a checkpoint on or off and rewords it; empty words are the shipped ones."""
    _change_entry(seat, code, asked=asked, words=words)


def change_finding(seat: Seat, code: str, *, asked: bool, words: Mapping[str, str]) -> None:
    """The same for a finding."""
    _change_entry(seat, code, asked=asked, words=words)


def add_checkpoint(seat: Seat, draft: OwnCheckpoint) -> str:
    """A checkpoint of the shop's own, at the end of its zone; returns its code."""
    if not draft.name.strip():
        raise Problem("A checkpoint needs a name.", field="name")
    if not draft.findings:
        raise Problem("Write at least one finding, one a line.", field="findings")
    kept = changes(seat)
    known = changed_catalogue(kept).checkpoints
    code = _free(_code(draft.name, "own"), known)
    table = {
        "code": code, "zone": draft.zone, "name": draft.name.strip(), "tell": draft.tell.strip() or "Look.",
        "sound": draft.sound.strip() or "Nothing found.", "why": draft.why.strip() or draft.name.strip(),
        "safety": 0, "finding": _finding_tables(draft),
    }  # fmt: skip
    added = dict(kept.catalogue.get("add", {}))
    added["checkpoint"] = [*added.get("checkpoint", ()), table]
    _keep(seat, kept, {**kept.catalogue, "add": added})
    return code


def move_checkpoint(seat: Seat, code: str, by: int) -> None:
    """Earlier (negative) or later among those of its zone."""
    kept = changes(seat)
    catalogue = changed_catalogue(kept)
    zone = catalogue.checkpoints[code].zone
    order = [c.code for c in catalogue.checkpoints.values() if c.zone == zone]
    place = order.index(code)
    order.insert(min(max(place + by, 0), len(order) - 1), order.pop(place))
    _keep(seat, kept, {**kept.catalogue, "order": {**kept.catalogue.get("order", {}), zone: order}})


def _change_entry(seat: Seat, code: str, *, asked: bool, words: Mapping[str, str]) -> None:
    kept = changes(seat)
    off = [other for other in kept.catalogue.get("off", ()) if other != code]
    reword = {key: value for key, value in kept.catalogue.get("reword", {}).items() if key != code}
    own = {name: text.strip() for name, text in words.items() if text.strip()}
    if not asked:
        off.append(code)
    if own:
        reword[code] = own
    rest = {key: value for key, value in kept.catalogue.items() if key not in ("off", "reword")}
    _keep(
        seat, kept, {**rest, **({"off": off} if off else {}), **({"reword": reword} if reword else {})}
    )  # fmt: skip


def _keep(seat: Seat, kept: CatalogueChanges, catalogue: dict[str, Any]) -> None:
    """Another list of checkpoints is another edition of it."""
    shops.keep_setting(seat, CatalogueChanges(catalogue, kept.figures, kept.edition + 1))


def _finding_tables(draft: OwnCheckpoint) -> list[dict[str, Any]]:
    tables: list[dict[str, Any]] = []
    for name in draft.findings:
        code = _free(_code(name, "finding"), {table["code"] for table in tables})
        table: dict[str, Any] = {
            "code": code, "name": name, "severity": {purpose.value: draft.severity for purpose in Purpose},
        }  # fmt: skip
        if draft.task:
            table["ways"] = [{"key": "repair", "scope": "mechanical", "tasks": [draft.task]}]
        tables.append(table)
    return tables


def _code(name: str, otherwise: str) -> str:
    """Words joined by hyphens, as codes are; letters of other scripts are left out."""
    words = re.findall(r"[a-z]+", name.casefold())[:5]
    return "-".join(words) or otherwise


def _free(code: str, taken: Any) -> str:
    """The code, or with another word behind it where it is taken."""
    for suffix in ("", "-own", "-again", *(f"-more-{'x' * n}" for n in range(1, 99))):
        if code + suffix not in taken:
            return code + suffix
    raise Problem("There are too many of that name. Give it another.", field="name")
