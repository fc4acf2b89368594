"""Rules no other tool checks: what the domain may import, and what no tracked file may say."""

import ast
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

CHECKOUT = Path(__file__).resolve().parents[2]
PROJECT = tomllib.loads((CHECKOUT / "pyproject.toml").read_text(encoding="utf-8"))

# Written so that this file does not match itself.
MACHINE_PATH = r"(^|[^a-zA-Z0-9_.])/(tmp|work|root|farm|home/[a-z]+)/"
UNFINISHED = r"\b(TO[D]O|FI[X]ME|X[X]X|NotImplemented[E]rror|coming so[o]n)\b"


def imported_packages(source: str) -> set[str]:
    """The top-level names a module imports, wherever in it."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            found |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.level == 0 and node.module:
            found.add(node.module.split(".")[0])
    return found


def tracked(*patterns: str, where: tuple[str, ...] = (".",)) -> list[str]:
    """Lines of tracked text files that match, as `file:line:text`."""
    expressions = [word for pattern in patterns for word in ("-e", pattern)]
    done = subprocess.run(
        ["git", "grep", "-nIE", *expressions, "--", *where],
        cwd=CHECKOUT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode in (0, 1), done.stderr
    return done.stdout.splitlines()


@pytest.fixture(scope="module", autouse=True)
def _a_git_checkout() -> None:
    if not (CHECKOUT / ".git").exists():
        pytest.skip("not a git checkout: what is tracked cannot be told")


def test_the_domain_knows_the_standard_library_numpy_and_the_solver_alone() -> None:
    allowed = sys.stdlib_module_names | {"shopdesk", "numpy", "ortools"}
    strangers = {
        f"{path.relative_to(CHECKOUT)}: {name}"
        for path in (CHECKOUT / "shopdesk" / "domain").rglob("*.py")
        for name in imported_packages(path.read_text(encoding="utf-8")) - allowed
    }
    assert not strangers


def test_every_room_stands_in_the_contract_of_floors() -> None:
    (floors,) = (c for c in PROJECT["tool"]["importlinter"]["contracts"] if c["type"] == "layers")
    named = {room.strip() for layer in floors["layers"] for room in layer.split("|")}
    package = CHECKOUT / "shopdesk"
    rooms = {path.parent.name for path in package.glob("*/__init__.py")}
    modules = {path.stem for path in package.glob("*.py")} - {"__init__"}
    assert named == {f"shopdesk.{name}" for name in rooms | modules}


def test_no_room_lacks_the_file_that_makes_it_a_package() -> None:
    package = CHECKOUT / "shopdesk"
    folders = {path.parent for path in package.rglob("*.py")}
    assert not {folder for folder in folders if not (folder / "__init__.py").exists()}


def test_no_tracked_file_names_a_place_on_the_machine_it_was_written_on() -> None:
    assert not tracked(MACHINE_PATH)


def test_nothing_that_ships_is_unfinished() -> None:
    assert not tracked(UNFINISHED, where=("shopdesk", "resources", "migrations"))


@pytest.mark.parametrize(
    ("pattern", "line"),
    [(MACHINE_PATH, "see /" + "tmp/x"), (MACHINE_PATH, '"/' + 'work/y"'), (UNFINISHED, "# TO" + "DO: more")],
)
def test_the_patterns_find_what_they_are_for(pattern: str, line: str) -> None:
    assert re.search(pattern, line)


def test_every_file_of_the_tests_has_a_name_of_its_own() -> None:
    # pytest imports test files by their bare name: two of one name in two rooms cannot both be collected.
    names = [path.name for path in (CHECKOUT / "tests").rglob("test_*.py")]
    assert len(names) == len(set(names))
