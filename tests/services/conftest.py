"""A set-up shop on both databases."""

import os
import uuid
from collections.abc import Iterator
from pathlib import Path

import pytest
from builders import Shop, a_shop, reopened
from fixed_clock import FixedClock
from hypothesis import HealthCheck, settings
from pg_cluster import Cluster

from shopdesk.storage.backup import copy_shop

settings.register_profile(
    "databases",
    deadline=None,
    max_examples=int(os.environ.get("DATABASE_EXAMPLES", "6")),
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)


@pytest.fixture(scope="session")
def _set_up_file(tmp_path_factory: pytest.TempPathFactory, _sqlite_template: Path) -> Path:
    path = tmp_path_factory.mktemp("set-up") / "shop.db"
    copy_shop(_sqlite_template, path)
    a_shop(str(path), FixedClock()).owner.file.close()
    return path


@pytest.fixture
def set_up_file(_set_up_file: Path, tmp_path: Path) -> str:
    """A shop file of the test's own, set up as `a_shop` does it."""
    copy_shop(_set_up_file, tmp_path / "shop.db")
    return str(tmp_path / "shop.db")


@pytest.fixture(scope="session")
def _set_up_database(pg_cluster: Cluster, _pg_template: str) -> str:
    url = pg_cluster.create("set_up", template=_pg_template)
    a_shop(url, FixedClock()).owner.file.close()
    return "set_up"


@pytest.fixture
def set_up_database(pg_cluster: Cluster, _set_up_database: str) -> Iterator[str]:
    """The URL of a database of the test's own, set up as `a_shop` does it."""
    name = f"s_{uuid.uuid4().hex[:12]}"
    yield pg_cluster.create(name, template=_set_up_database)
    pg_cluster.drop(name)


@pytest.fixture(params=["file", "database"])
def set_up_place(request: pytest.FixtureRequest) -> str:
    """The same test on both databases: where a shop lies that `a_shop` set up."""
    return str(request.getfixturevalue(f"set_up_{request.param}"))


@pytest.fixture
def shop(set_up_place: str, clock: FixedClock) -> Iterator[Shop]:
    made = reopened(set_up_place, clock)
    yield made
    made.owner.file.close()
