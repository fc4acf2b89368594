"""The sheet: a walk-round written as a text file, read into a look at a range.

The format stands in `resources/sheet/FORMAT.md`. Everything a sheet does not name counts as
not seen. What is wrong is collected, each with file and entry; what is right is kept. This
room knows the catalogue's codes and nothing of what a look comes to or where it is kept.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from shopdesk.domain.answers import Look
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Catalogue, Purpose, Scope
from shopdesk.domain.problem import Problem
from shopdesk.exchange.sheet_answers import read_answers
from shopdesk.exchange.sheet_entry import Entry, Table, Trouble
from shopdesk.exchange.sheet_range import Identity, read_range

FORMAT = 1
LARGEST = 1_000_000  # bytes; a walk-round with a note at every checkpoint stays under a tenth of it

_FIELDS = ("shopdesk-sheet", "purpose", "scope", "asking", "accessories", "range", "sound", "tested",
           "claimed", "finding", "day", "examiner", "place", "circumstances", "note")  # fmt: skip


@dataclass(frozen=True, slots=True)
class Sheet:
    """A look at a range with what identifies the range; `scope` None: the program may choose.

    `day`, `examiner`, `place` and `circumstances` are kept as written.
    """

    look: Look
    identity: Identity
    scope: Scope | None = None
    day: str = ""
    examiner: str = ""
    place: str = ""
    circumstances: str = ""
    note: str = ""


class SheetProblem(Problem):
    """Everything that is wrong with a sheet, one sentence a line; `problems` holds them singly."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        self.problems = problems
        super().__init__("{list}", list="\n".join(str(problem) for problem in problems))


def read_sheet(source: Path | str, catalogue: Catalogue, currency: str = "USD") -> Sheet:
    """The sheet in a file (a Path) or in a text; raises SheetProblem with all that is wrong."""
    sheet, problems = examine_sheet(source, catalogue, currency)
    if problems or sheet is None:
        raise SheetProblem(problems)
    return sheet


def examine_sheet(
    source: Path | str, catalogue: Catalogue, currency: str = "USD"
) -> tuple[Sheet | None, tuple[Problem, ...]]:
    """What can be read of a sheet, and what is wrong with the rest; None when it is no sheet at all."""
    name = source.name if isinstance(source, Path) else "sheet"
    trouble = Trouble(name)
    try:
        table = _table(source, name)
    except Problem as problem:
        return None, (problem,)
    sheet = _sheet(Entry(table, "sheet", trouble), catalogue, currency)
    return sheet, tuple(trouble.problems)


def _table(source: Path | str, name: str) -> Table:
    """The parsed text; a Problem says why there is none."""
    text = _text(source, name) if isinstance(source, Path) else source
    if len(text) > LARGEST:
        raise _too_large(name, len(text))
    try:
        table: Mapping[str, object] = tomllib.loads(text)
    except ValueError as error:  # TOMLDecodeError, or a number no int may be read from
        raise Problem(
            "{file} cannot be read as TOML: {why}. Mend that line.", file=name, why=str(error)
        ) from error
    except RecursionError as error:
        raise Problem("{file} is nested too deeply to be a sheet.", file=name) from error
    _check_format(table, name)
    return table


def _text(path: Path, name: str) -> str:
    try:
        size = path.stat().st_size
        if size > LARGEST:
            raise _too_large(name, size)
        return path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as error:
        raise Problem("{file} is not a text in UTF-8. Save it as UTF-8.", file=name) from error
    except OSError as error:
        why = error.strerror or str(error)
        raise Problem("{file} cannot be opened: {why}.", file=name, why=why) from error


def _too_large(name: str, size: int) -> Problem:
    return Problem(
        "{file} has {size} bytes; a sheet has at most {most}. Photographs do not belong in it.",
        file=name,
        size=size,
        most=LARGEST,
    )


def _check_format(table: Table, name: str) -> None:
    given = table.get("shopdesk-sheet")
    if isinstance(given, bool) or given != FORMAT:
        raise Problem(
            "{file} does not say which sheet format it is. Write shopdesk-sheet = {format} at the top.",
            file=name,
            format=FORMAT,
        )


def _sheet(entry: Entry, catalogue: Catalogue, currency: str) -> Sheet:
    entry.only(_FIELDS)
    build, identity = read_range(entry.below("range"))
    look = _look(
        entry,
        catalogue,
        build,
        entry.choice("purpose", Purpose, Purpose.RESALE),
        entry.amount("asking", currency),
    )
    return Sheet(
        look=look,
        identity=identity,
        scope=entry.choice("scope", Scope, None),
        day=entry.text("day"),
        examiner=entry.text("examiner"),
        place=entry.text("place"),
        circumstances=entry.text("circumstances"),
        note=entry.text("note"),
    )


def _look(entry: Entry, catalogue: Catalogue, build: Build, purpose: Purpose, asking: int | None) -> Look:
    accessories = entry.codes("accessories", catalogue.accessories, "accessory")
    return Look(build, purpose, read_answers(entry, catalogue, build), asking, accessories)
