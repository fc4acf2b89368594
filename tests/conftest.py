"""Surroundings of every test: no screen, UTC, one locale, folders of its own, and no silent warnings."""

import atexit
import gc
import logging
import os
import shutil
import sqlite3
import tempfile
import time
import uuid
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

_CHECKOUT = Path(__file__).resolve().parent.parent
_MEMORY = Path("/dev/shm")


def _roomy(folder: Path) -> bool:
    """Whether a folder in memory is there, may be written to, and has room for what the tests make."""
    there = folder.is_dir() and os.access(folder, os.W_OK)
    return there and shutil.disk_usage(folder).free > 4_000_000_000


def _settle_surroundings() -> None:
    """Before the first import of Qt or Babel, which read these once; child processes inherit them."""
    if _roomy(_MEMORY):
        # Three thousand shops are made, written and thrown away: in memory they wait for no disk.
        os.environ.setdefault("PYTEST_DEBUG_TEMPROOT", str(_MEMORY))
        tempfile.tempdir = str(_MEMORY)
    home = Path(tempfile.mkdtemp(prefix="shopdesk-test-"))
    atexit.register(shutil.rmtree, home, ignore_errors=True)
    for kind in ("DATA", "CONFIG", "CACHE", "STATE"):
        os.environ[f"XDG_{kind}_HOME"] = str(home / kind.lower())
    runtime = home / "runtime"
    runtime.mkdir(mode=0o700)
    os.environ |= {
        "XDG_RUNTIME_DIR": str(runtime),
        "QT_QPA_PLATFORM": "offscreen",
        "TZ": "UTC",
        "LANGUAGE": "en_US",
        "LC_ALL": "C.UTF-8",
        "LANG": "C.UTF-8",
        "PYTHONPATH": os.pathsep.join(filter(None, (str(_CHECKOUT), os.environ.get("PYTHONPATH")))),
    }
    time.tzset()


_settle_surroundings()

from fixed_clock import FixedClock  # noqa: E402  (after the surroundings)
from pg_cluster import Cluster, server_programs  # noqa: E402


def pytest_collection_finish() -> None:
    """What the collection made lives to the end; the collector need not look through it again and again."""
    gc.collect()
    gc.freeze()


@pytest.fixture
def clock() -> FixedClock:
    """A clock that stands at a Tuesday morning until the test moves it."""
    return FixedClock()


class _WarningKeeper(logging.Handler):
    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.records: list[logging.LogRecord] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.records.append(record)


@pytest.fixture(autouse=True)
def logged_warnings() -> Iterator[list[logging.LogRecord]]:
    """A log message from warning upwards fails the test.

    A test that means to cause one takes this fixture, looks at the records and clears the list.
    Qt's own messages are watched by pytest-qt (see pyproject.toml).
    """
    keeper = _WarningKeeper()
    root = logging.getLogger()
    root.addHandler(keeper)
    yield keeper.records
    root.removeHandler(keeper)
    if keeper.records:
        said = "\n".join(f"{r.levelname} {r.name}: {r.getMessage()}" for r in keeper.records)
        pytest.fail(f"the log was not quiet:\n{said}", pytrace=False)


@pytest.fixture(scope="session")
def pg_cluster() -> Iterator[Cluster]:
    """One PostgreSQL server per test process; skipped where none is installed, unless REQUIRE_PG=1."""
    programs = server_programs()
    if programs is None:
        reason = "no PostgreSQL server programs on this machine (Debian: postgresql-15)"
        if os.environ.get("REQUIRE_PG") == "1":
            pytest.fail(reason, pytrace=False)
        pytest.skip(reason)
    cluster = Cluster(programs)
    yield cluster
    cluster.stop()


@pytest.fixture
def empty_pg_database(pg_cluster: Cluster) -> Iterator[str]:
    """The URL of a PostgreSQL database without any table."""
    name = f"e_{uuid.uuid4().hex[:12]}"
    yield pg_cluster.create(name)
    pg_cluster.drop(name)


@pytest.fixture(scope="session")
def _pg_template(pg_cluster: Cluster) -> str:
    from shopdesk.storage import make_shop

    make_shop(pg_cluster.create("migrated"))
    return "migrated"


@pytest.fixture(scope="session")
def _sqlite_template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    from shopdesk.storage import make_shop

    path = tmp_path_factory.mktemp("template") / "migrated.db"
    make_shop(path)
    return path


@pytest.fixture
def sqlite_shop(_sqlite_template: Path, tmp_path: Path) -> Path:
    """A shop file of the test's own at the newest migration."""
    path = tmp_path / "shop.db"
    with closing(sqlite3.connect(_sqlite_template)) as source, closing(sqlite3.connect(path)) as target:
        source.backup(target)
    return path


@pytest.fixture
def postgresql_shop(pg_cluster: Cluster, _pg_template: str) -> Iterator[str]:
    """The URL of a PostgreSQL database of the test's own at the newest migration."""
    name = f"t_{uuid.uuid4().hex[:12]}"
    yield pg_cluster.create(name, template=_pg_template)
    pg_cluster.drop(name)


@pytest.fixture(params=["sqlite", "postgresql"])
def shop_place(request: pytest.FixtureRequest) -> str:
    """The same test on both databases: where an empty shop at the newest migration is.

    A path or a PostgreSQL URL, as `ShopFile` and the command line take it.
    """
    return str(request.getfixturevalue(f"{request.param}_shop"))


@pytest.fixture
def database_url(shop_place: str) -> str:
    """The shop of `shop_place` as an SQLAlchemy URL, password and all."""
    from shopdesk.storage.engine import shop_url

    return shop_url(shop_place).render_as_string(hide_password=False)
