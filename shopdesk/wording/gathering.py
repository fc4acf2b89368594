"""Gathers every text that can reach `say`, for those who translate: from the source and the catalogue.

What stands inside `say`, `say_n` and `Problem` is certain. A text that reaches them through a name (a
table of labels, a template of the domain, a word of an enum, the catalogue) is gathered where it is
written: a label or sentence in a room whose texts people see. Some of those are never said; that costs
a line of translation and nothing else. `python -m shopdesk.wording.gathering` brings every
`resources/wording/<language>.po` up to what the program says now and tells what is missing.
"""

import ast
import re
import sys
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po, write_po

from shopdesk import paths

_SAYS = {"say": 1, "say_n": 2, "Problem": 1}
_SPOKEN_ROOMS = ("domain", "drawing", "documents", "exchange", "services", "ui", "wording")
_SILENT = ("exchange/ubl", "wording/gathering.py")
_SENTENCE = re.compile(r"(?=.*[A-Za-z]{2})[^\W_].* .*|[A-Z][a-z]{2,}[.…:?]?", re.DOTALL)
_MACHINE = re.compile(
    r"[\\|<>=@]|::|--|\*\.|\(\)|__|^[A-Z]+ [A-Z]|%[sdYmHMSI(]|^\w+\.\w+|px\b|QWidget|QLabel"
)
_TABLES = ("catalogue", "gas")  # of `resources/`
_TEXT_KEYS = frozenset(
    "name tell means text why how meets ask defer_to title words label note says limit unit story caution "  # noqa: SIM905
    "intro heading hint question answer because plural singular spoken short long body subject "
    "station trade skill kind names".split()
)


@dataclass(frozen=True, slots=True)
class Text:
    """One text to translate; `many` is its plural template where it has one."""

    one: str
    many: str
    where: tuple[str, int]

    @property
    def key(self) -> str | tuple[str, str]:
        return (self.one, self.many) if self.many else self.one


def texts(folder: Path | None = None) -> list[Text]:
    """Every text once, in the order of the source, the catalogue last."""
    package = folder or Path(__file__).parents[1]
    found: dict[str, Text] = {}
    for file in sorted(package.rglob("*.py")):
        name = file.relative_to(package).as_posix()
        for text in _of_source(ast.parse(file.read_text(encoding="utf-8")), name):
            if text.one not in found or (text.many and not found[text.one].many):
                found[text.one] = text
    for file in sorted(file for name in _TABLES for file in paths.resource(name).rglob("*.toml")):
        for words in _of_table(tomllib.loads(file.read_text(encoding="utf-8"))):
            found.setdefault(words, Text(words, "", (f"resources/{file.parent.name}/{file.name}", 1)))
    return [text for text in found.values() if text.one.strip()]


def _of_source(tree: ast.Module, name: str) -> Iterator[Text]:
    silent = _docstrings(tree) | _parts_of_f_strings(tree) | _names_only(tree)
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and (count := _SAYS.get(_called(node))):
            said = [arg for arg in node.args[:count] if isinstance(arg, ast.Constant)]
            words = [arg.value for arg in said if isinstance(arg.value, str)]
            silent |= {id(arg) for arg in said}
            if words and (count == 1 or len(words) == count):
                yield Text(words[0], words[1] if count > 1 else "", (name, node.lineno))
        if isinstance(node, ast.ClassDef) and any("StrEnum" in ast.unparse(base) for base in node.bases):
            yield from (Text(word, "", (name, node.lineno)) for word in _members(node))
    if not name.startswith(_SPOKEN_ROOMS) or name.startswith(_SILENT):
        return
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and id(node) not in silent and _reads_as_words(node.value):
            yield Text(str(node.value), "", (name, node.lineno))


def _called(node: ast.Call) -> str:
    return getattr(node.func, "id", "") or getattr(node.func, "attr", "")


def _members(node: ast.ClassDef) -> Iterator[str]:
    for line in node.body:
        if isinstance(line, ast.Assign) and isinstance(line.value, ast.Constant) and line.value.value:
            yield str(line.value.value)


def _reads_as_words(value: object) -> bool:
    return isinstance(value, str) and bool(_SENTENCE.fullmatch(value)) and not _MACHINE.search(value)


def _docstrings(tree: ast.Module) -> set[int]:
    return {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }


def _parts_of_f_strings(tree: ast.Module) -> set[int]:
    return {
        id(part)
        for node in ast.walk(tree)
        if isinstance(node, ast.JoinedStr)
        for part in node.values
        if isinstance(part, ast.Constant)
    }


def _names_only(tree: ast.Module) -> set[int]:
    """Constants that name things of the program: `__all__`, annotations, faults nobody reads on screen."""
    silent: set[int] = set()
    for node in ast.walk(tree):
        parts: list[ast.AST | None] = []
        if isinstance(node, ast.Assign) and any(getattr(to, "id", "") == "__all__" for to in node.targets):
            parts = [node.value]
        elif isinstance(node, (ast.AnnAssign, ast.arg)):
            parts = [node.annotation]
        elif isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            parts = [node.returns]
        elif isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call):
            parts = [node.exc] if _called(node.exc).endswith("Error") else []
        elif isinstance(node, ast.Call) and _called(node) in ("cast", "TypeVar", "setProperty", "getattr"):
            parts = [node]
        elif isinstance(node, ast.Assert):
            parts = [node.msg]
        for part in parts:
            silent |= {id(inner) for inner in ast.walk(part)} if part else set()
    return silent


def _of_table(table: Mapping[str, Any]) -> Iterator[str]:
    for name, value in table.items():
        for one in value if isinstance(value, list) else [value]:
            if isinstance(one, Mapping):
                yield from _of_table(one)
            elif isinstance(one, str) and (name in _TEXT_KEYS or " " in one) and name != "source":
                yield one


def brought_up(old: Catalog, language: str) -> Catalog:
    """`old` with exactly what the program says now: new texts empty, gone ones left out."""
    new = Catalog(language, fuzzy=False, project="shopdesk", charset="utf-8")
    for text in texts():
        before = old.get(text.one)
        new.add(text.key, before.string if before else None, locations=[text.where])
    return new


def missing(catalog: Catalog) -> list[str]:
    """The texts without a translation, or whose plural lacks a form."""
    return [
        message.id if isinstance(message.id, str) else message.id[0]
        for message in catalog
        if message.id and not (all(message.string) if isinstance(message.string, tuple) else message.string)
    ]


def _main() -> int:
    for file in sorted(paths.resource("wording").glob("*.po")):
        with file.open("rb") as stream:
            catalog = brought_up(read_po(stream, locale=file.stem), file.stem)
        with file.open("wb") as stream:
            write_po(stream, catalog, width=110, omit_header=False, sort_output=False, no_location=True)
        sys.stdout.write(f"{file.name}: {len(missing(catalog))} of {len(catalog)} texts are missing\n")
    return 0


if __name__ == "__main__":
    sys.exit(_main())
