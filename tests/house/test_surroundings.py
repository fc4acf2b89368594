"""What conftest promises to every other test, held to it in small test runs of their own."""

import os
import signal
import subprocess
import sys
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

import platformdirs
import psycopg
import pytest
import sqlalchemy as sa
from fixed_clock import FixedClock
from pg_cluster import Cluster

TESTS = Path(__file__).resolve().parents[1]


def run_a_test(folder: Path, body: str, **environment: str) -> tuple[int, str]:
    """Run one test file under our conftest and settings; how it ended and what pytest printed."""
    test = folder / "test_small.py"
    test.write_text(body, encoding="utf-8")
    arguments = ["-q", "-p", "no:cacheprovider", "-p", "conftest", "-c", TESTS.parent / "pyproject.toml"]
    search = os.pathsep.join((str(TESTS), os.environ["PYTHONPATH"]))
    done = subprocess.run(
        [sys.executable, "-m", "pytest", *arguments, "--rootdir", folder, test],
        cwd=folder, env=os.environ | {"PYTHONPATH": search} | environment,
        capture_output=True, text=True, timeout=100, check=False,
    )  # fmt: skip
    return done.returncode, done.stdout + done.stderr


def test_the_clock_of_the_tests_stands_still_until_it_is_moved(clock: FixedClock) -> None:
    before = clock()
    assert before.tzinfo is UTC
    assert clock() == before
    assert clock.advance(hours=1, minutes=5) == clock() == before + timedelta(minutes=65)
    with pytest.raises(ValueError, match="backwards"):
        clock.advance(days=-1)
    with pytest.raises(ValueError, match="aware"):
        FixedClock(datetime(2026, 1, 1))  # noqa: DTZ001 - a naive one is the point


def test_tests_run_in_utc_without_a_screen_and_away_from_the_persons_folders() -> None:
    assert time.tzname == ("UTC", "UTC")
    assert os.environ["QT_QPA_PLATFORM"] == "offscreen"
    for folder in (platformdirs.user_data_dir("shopdesk"), platformdirs.user_config_dir("shopdesk")):
        assert "shopdesk-test-" in folder


@pytest.mark.parametrize(
    ("body", "said"),
    [
        (
            "import logging\n\ndef test_it():\n    logging.getLogger('a.room').warning('the lock is old')\n",
            "WARNING a.room: the lock is old",
        ),
        (
            "from PySide6.QtCore import qWarning\n\ndef test_it():\n    qWarning('a model was left alone')\n",
            "a model was left alone",
        ),
        (
            "import warnings\n\ndef test_it():\n    warnings.warn('this will go', DeprecationWarning)\n",
            "this will go",
        ),
    ],
    ids=["log", "Qt", "Python"],
)
def test_a_warning_of_any_kind_fails_the_test_it_came_in(tmp_path: Path, body: str, said: str) -> None:
    code, output = run_a_test(tmp_path, body)
    assert code == 1
    assert said in output


def test_a_warning_that_was_meant_can_be_looked_at_and_cleared(tmp_path: Path) -> None:
    body = (
        "import logging\n\ndef test_it(logged_warnings):\n    logging.warning('meant')\n"
        "    assert [r.getMessage() for r in logged_warnings] == ['meant']\n    logged_warnings.clear()\n"
    )
    code, output = run_a_test(tmp_path, body)
    assert code == 0, output


@pytest.mark.parametrize(("required", "outcome"), [("0", "1 skipped"), ("1", "1 error")])
def test_a_missing_postgresql_is_skipped_by_hand_and_fails_in_the_gate(
    tmp_path: Path, required: str, outcome: str
) -> None:
    body = (
        "import pg_cluster\nimport conftest\nimport pytest\n\n"
        "@pytest.fixture(scope='session', autouse=True)\ndef _nothing_installed():\n"
        "    conftest.server_programs = lambda: None\n\n"
        "def test_it(empty_pg_database):\n    pass\n"
    )
    code, output = run_a_test(tmp_path, body, REQUIRE_PG=required)
    assert outcome in output
    assert code == int(required)
    assert "no PostgreSQL server programs" in output or required == "0"


def test_the_server_does_not_outlive_tests_that_are_killed(tmp_path: Path, pg_cluster: Cluster) -> None:
    body = (
        "import os\nimport signal\nfrom pathlib import Path\n\n"
        "def test_it(pg_cluster):\n"
        f"    Path({str(tmp_path / 'folder')!r}).write_text(str(pg_cluster.folder))\n"
        "    os.kill(os.getpid(), signal.SIGKILL)\n"
    )
    code, output = run_a_test(tmp_path, body)
    assert code == -signal.SIGKILL, output
    folder = Path((tmp_path / "folder").read_text(encoding="utf-8"))
    for _ in range(600):
        if not folder.exists():
            return
        time.sleep(0.05)
    pytest.fail("the server's folder is still there after half a minute")


def test_each_test_has_a_postgresql_database_of_its_own(empty_pg_database: str) -> None:
    with psycopg.connect(empty_pg_database.replace("+psycopg", "")) as connection:
        assert connection.execute("select current_setting('TimeZone')").fetchone() == ("UTC",)
        tables = "select count(*) from information_schema.tables where table_schema = 'public'"
        assert connection.execute(tables).fetchone() == (0,)


def test_a_shop_at_the_newest_migration_stands_on_both_databases(database_url: str) -> None:
    engine = sa.create_engine(database_url)
    tables = sa.inspect(engine).get_table_names()
    engine.dispose()
    assert {"alembic_version", "journal"} <= set(tables)
