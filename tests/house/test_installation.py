"""The program as people install it: built, put into an environment of its own, run from an empty folder."""

import os
import subprocess
import sys
import sysconfig
import venv
import zipfile
from dataclasses import dataclass
from pathlib import Path

import pytest

import shopdesk

CHECKOUT = Path(__file__).resolve().parents[2]
PIP = (sys.executable, "-m", "pip", "--disable-pip-version-check", "--quiet")


@dataclass(frozen=True)
class Installation:
    """An environment with our program in it, and an empty folder to run it from."""

    environment: Path
    empty: Path

    def run(self, program: str, *arguments: str) -> str:
        """What the program prints; fails with what it said when it does not end with 0."""
        done = subprocess.run(
            [str(self.environment / "bin" / program), *arguments],
            cwd=self.empty, env=_surroundings(), capture_output=True, text=True, timeout=60, check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout.strip()


def _surroundings() -> dict[str, str]:
    """Without the way to the checkout that conftest gives other child processes."""
    return {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}


def _pip(*arguments: object) -> None:
    done = subprocess.run(
        [*PIP, *map(str, arguments)], env=_surroundings(), capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr


def _install(folder: Path, *what: object) -> Installation:
    """No network: the libraries that are already here are lent to the new environment, after its own."""
    environment, empty = folder / "environment", folder / "empty"
    venv.create(environment, with_pip=False, symlinks=True)
    empty.mkdir()
    python = f"python{sys.version_info.major}.{sys.version_info.minor}"
    lent = environment / "lib" / python / "site-packages" / "lent.pth"
    lent.write_text(sysconfig.get_path("purelib") + "\n", encoding="utf-8")
    _pip("--python", environment / "bin" / "python", "install", "--no-deps", "--ignore-installed", *what)
    return Installation(environment, empty)


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    _pip("wheel", "--no-deps", "--no-build-isolation", "--wheel-dir", folder, CHECKOUT)
    (built,) = folder.glob("shopdesk-*.whl")
    return built


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Installation:
    return _install(tmp_path_factory.mktemp("installed"), wheel)


def test_the_installed_program_knows_its_version(installed: Installation) -> None:
    assert shopdesk.__version__ in installed.run("shopdesk", "--version")
    assert shopdesk.__version__ in installed.run("python", "-m", "shopdesk", "--version")


def test_the_installed_program_runs_its_own_copy_and_finds_what_came_with_it(installed: Installation) -> None:
    found = installed.run(
        "python", "-c",
        "from shopdesk import paths\n"
        "print(paths.__file__, paths.shipped('resources'), paths.shipped('migrations'), sep='\\n')",
    ).splitlines()  # fmt: skip
    for path in found:
        assert Path(path).is_relative_to(installed.environment), path
    resources, migrations = Path(found[1]), Path(found[2])
    assert _files_below(resources) == _files_below(CHECKOUT / "resources")
    assert _files_below(migrations) == _files_below(CHECKOUT / "migrations")


def test_the_sample_shop_comes_along_once_it_is_there(installed: Installation) -> None:
    sample = CHECKOUT / "sample_shop.db"
    if not sample.exists():
        pytest.skip("the checkout has no sample_shop.db")
    found = installed.run("python", "-c", "from shopdesk import paths; print(paths.sample_shop())")
    assert Path(found).is_relative_to(installed.environment)
    assert Path(found).read_bytes() == sample.read_bytes()


def test_the_wheel_holds_no_leftovers_and_no_tests(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    assert not [name for name in names if "__pycache__" in name or name.endswith((".pyc", "-wal", "-shm"))]
    assert {name.split("/")[0].split("-")[0] for name in names} == {"shopdesk"}


def test_an_editable_installation_reads_the_checkout(tmp_path: Path) -> None:
    editable = _install(tmp_path, "--no-build-isolation", "--editable", CHECKOUT)
    found = editable.run(
        "python", "-c", "from shopdesk import paths; print(paths.__file__); print(paths.shipped('resources'))"
    )
    assert found.splitlines() == [str(CHECKOUT / "shopdesk" / "paths.py"), str(CHECKOUT / "resources")]


def _files_below(folder: Path) -> set[str]:
    return {
        path.relative_to(folder).as_posix()
        for path in folder.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
