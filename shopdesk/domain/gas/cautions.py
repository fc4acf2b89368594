"""Reads the cautions and the conversion list that are printed with every answer."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, fields
from pathlib import Path

from shopdesk.domain.catalogue.model import Caution
from shopdesk.domain.problem import Problem


@dataclass(frozen=True, slots=True)
class AlsoChanges:
    """What changes with the gas beside the spuds, a sentence each."""

    regulator: str
    pilots: str
    bypass: str
    safety_shutoff: str
    air_shutters: str
    label: str


def read_gas_cautions(path: Path) -> Mapping[str, Caution]:
    """Cautions by subject (bench, convert, clock, supply, tightness, co, thermostat, electrical)."""
    return {
        code: Caution(code, *_texts(path.name, code, table, ("name", "text", "defer_to")))
        for code, table in _tables(path).items()
    }


def read_also_changes(path: Path) -> Mapping[str, AlsoChanges]:
    """What else changes, by the family of gas converted to (piped, lp)."""
    names = tuple(f.name for f in fields(AlsoChanges))
    return {
        family: AlsoChanges(*_texts(path.name, family, table, names))
        for family, table in _tables(path).items()
    }


def _tables(path: Path) -> dict[str, object]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as error:
        raise Problem("The file {file} cannot be read: {why}.", file=path.name, why=error) from error


def _texts(file: str, code: str, table: object, names: tuple[str, ...]) -> list[str]:
    found = [table.get(name) if isinstance(table, dict) else None for name in names]
    for name, text in zip(names, found, strict=True):
        if not isinstance(text, str) or not text.strip():
            raise Problem("In {file}, {code} needs {entry} as text.", file=file, code=code, entry=name)
    return [str(text) for text in found]
