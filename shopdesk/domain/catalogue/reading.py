"""Makes the catalogue from the TOML files of a folder and a shop's own changes.

All that is wrong is collected first, then raised as one `Problem` whose text names file,
entry and fix on each line. Money stands in the files as texts ("95.00"), hours as decimal
hours; both are read exactly. This room must not know where the folder lies.
"""

import tomllib
from collections.abc import Callable, Mapping
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any, TypeVar

from shopdesk.domain.catalogue.changes import Tables, apply_changes
from shopdesk.domain.catalogue.entry import Complaints, Entry
from shopdesk.domain.catalogue.model import Catalogue
from shopdesk.domain.catalogue.references import check_references
from shopdesk.domain.catalogue.tables import (
    read_accessory,
    read_caution,
    read_checkpoint,
    read_figures,
    read_proof,
    read_task,
    read_zone,
)
from shopdesk.domain.problem import Problem

Coded = TypeVar("Coded")
Pairs = list[tuple[str, dict[str, Any]]]  # file and table


def read_catalogue(folder: Path, overrides: Mapping[str, Any] | None = None) -> Catalogue:
    """The whole catalogue, checked; a Problem lists everything that has to be mended."""
    complaints = Complaints()
    files = _Files(folder, complaints)
    figures = ("figures.toml", files.one("figures.toml"))
    tables = Tables(files.checkpoints(), files.many("tasks", "task"), figures)
    apply_changes(tables, overrides or {}, complaints)
    catalogue = _assemble(files, tables, complaints)
    where = {f"checkpoint {table.get('code')}": file for file, table in tables.checkpoints}
    where |= {f"task {table.get('code')}": file for file, table in tables.tasks}
    check_references(catalogue, where, complaints)
    if complaints.lines:
        raise Problem("The catalogue has to be mended first.\n{list}", list="\n".join(complaints.lines))
    return catalogue


def _assemble(files: "_Files", tables: Tables, complaints: Complaints) -> Catalogue:
    """The values from the tables; the checkpoints in the order of the walk, the proofs of proving."""

    def gather(kind: str, pairs: Pairs, read: Callable[[Entry], Coded]) -> dict[str, Coded]:
        gathered: dict[str, Coded] = {}
        for file, table in pairs:
            code = str(table.get("code"))
            entry = Entry(table, file, f"{kind} {code}", complaints)
            if code in gathered:
                entry.refuse("the code is there twice.", f"Give one {kind} another code.")
            gathered[code] = read(entry)
            entry.done()
        return gathered

    zones = {
        code: replace(zone, order=order)
        for order, (code, zone) in enumerate(
            gather("zone", files.of("zones.toml", "zone"), read_zone).items(), 1
        )
    }
    checkpoints = gather("checkpoint", tables.checkpoints, read_checkpoint)
    walk = sorted(checkpoints.values(), key=lambda c: zones[c.zone].order if c.zone in zones else 0)
    proofs = gather("proof", files.of("proofs.toml", "proof"), read_proof)
    return Catalogue(
        version=Entry(files.one("zones.toml"), "zones.toml", "version", complaints).text("version"),
        zones=zones,
        checkpoints={checkpoint.code: checkpoint for checkpoint in walk},
        findings={finding.code: finding for checkpoint in walk for finding in checkpoint.findings},
        tasks=gather("task", tables.tasks, read_task),
        cautions=gather("caution", files.of("cautions.toml", "caution"), read_caution),
        proofs=dict(sorted(proofs.items(), key=lambda pair: pair[1].order)),
        accessories=gather("accessory", files.of("accessories.toml", "accessory"), read_accessory),
        figures=read_figures(Entry(tables.figures[1], tables.figures[0], "figures", complaints)),
        phrases=Entry(files.one("phrases.toml"), "phrases.toml", "phrases", complaints).words("phrases"),
        off=frozenset(tables.off),
    )


class _Files:
    """The TOML files of the folder; a file that is missing or broken leaves a complaint."""

    def __init__(self, folder: Path, complaints: Complaints) -> None:
        self.folder = folder
        self.complaints = complaints

        self._read: dict[str, dict[str, Any]] = {}

    def one(self, name: str) -> dict[str, Any]:
        """The content of one file, read once."""
        if name not in self._read:
            self._read[name] = self._load(name)
        return self._read[name]

    def _load(self, name: str) -> dict[str, Any]:
        try:
            return tomllib.loads((self.folder / name).read_text(encoding="utf-8"), parse_float=Decimal)
        except FileNotFoundError:
            self.complaints.add(name, "file", "is missing.", "Put it back from the installation.")
        except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
            self.complaints.add(name, "file", f"cannot be read: {error}.", "Mend that line.")
        return {}

    def of(self, name: str, key: str) -> Pairs:
        """The tables `[[key]]` of a file; complains about anything else that stands in it."""
        content = self.one(name)
        listed = content.get(key, [])
        for other in content.keys() - {key, "version", "zone"}:
            self.complaints.add(name, other, "is not known here.", f"This file holds [[{key}]] only.")
        if not isinstance(listed, list) or not all(isinstance(table, dict) for table in listed):
            self.complaints.add(name, key, "is not a list of tables.", f"Head each with [[{key}]].")
            return []
        return [(name, table) for table in listed]

    def many(self, folder: str, key: str) -> Pairs:
        """The tables of all files of a folder, by the names of the files."""
        names = sorted(path.name for path in (self.folder / folder).glob("*.toml"))
        if not names:
            self.complaints.add(folder, "folder", "holds no files.", "Put it back from the installation.")
        return [pair for name in names for pair in self.of(f"{folder}/{name}", key)]

    def checkpoints(self) -> Pairs:
        """The checkpoints of all files, each given the zone its file names."""
        pairs = self.many("checkpoints", "checkpoint")
        return [(name, {"zone": self.one(name).get("zone"), **table}) for name, table in pairs]
