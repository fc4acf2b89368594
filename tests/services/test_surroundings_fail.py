"""Disk, folder, clock and file fail under a working program: a sentence, and the shop as it was."""

import datetime as dt
import os
import random
import resource
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

import pytest
from alembic import command
from builders import a_customer, a_shop, walked
from fixed_clock import FixedClock
from hypothesis import HealthCheck, given
from hypothesis import settings as budget
from hypothesis import strategies as st
from whole_state import standing

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.problem import Problem, Unavailable
from shopdesk.services import bench, intake, people, work_orders
from shopdesk.services.checking import faults
from shopdesk.services.keeping_copies import copies, keep_a_copy, restore
from shopdesk.services.seat import open_shop
from shopdesk.storage import share, upgrade
from shopdesk.storage.backup import copy_shop
from shopdesk.storage.engine import make_engine, shop_url
from shopdesk.storage.tables.shop import Journal
from shopdesk.storage.upgrading import migrations, newest, revision_of


@pytest.fixture(scope="module")
def worked(tmp_path_factory: pytest.TempPathFactory, _sqlite_template: Path) -> Path:
    """A set-up shop with a customer, to be copied for each fault."""
    place = tmp_path_factory.mktemp("worked") / "shop.db"
    copy_shop(_sqlite_template, place)
    shop = a_shop(str(place), FixedClock())
    a_customer(shop.owner, "Hesper Dunmarrow")
    shop.owner.file.close()
    return place


@pytest.fixture
def place(worked: Path, tmp_path: Path) -> Path:
    copy_shop(worked, tmp_path / "shop.db")
    return tmp_path / "shop.db"


def names(place: Path) -> list[str]:
    seat = open_shop(place, FixedClock(), looking=True)
    try:
        return [row.name for row in people.parties(seat)]
    finally:
        seat.file.close()


# The disk


def test_on_a_full_disk_the_deed_is_refused_and_done_again_once_there_is_room(place: Path) -> None:
    seat = open_shop(place, FixedClock())
    before = standing(place)
    old = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (60_000, old[1]))  # no file grows beyond: as on a full disk
    try:
        draft = intake.RangeDraft(maker="Corvane", model="No. 40", build=Build())
        with pytest.raises(Unavailable, match="nothing was changed"):  # noqa: PT012 - one of them finds it full
            for _ in range(60):
                before = standing(place)
                intake.take_on(seat, draft, intake.JobDraft(customer_id=1))
        with pytest.raises(Problem, match="could not be written"):
            copy_shop(place, place.with_name("copy.db"))
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, old)
    assert not list(place.parent.glob("copy.db*"))
    assert standing(place) == before
    intake.take_on(seat, draft, intake.JobDraft(customer_id=1))
    assert faults(seat) == []
    seat.file.close()


@contextmanager
def as_nobody_special(place: Path) -> Iterator[None]:
    """Where the tests run as root, which may write anything: as another user meanwhile."""
    if os.geteuid() != 0:
        yield
        return
    shut = {folder: folder.stat().st_mode for folder in place.parent.parents if not folder.stat().st_mode & 1}
    for folder, mode in shut.items():
        folder.chmod(mode | 0o011)
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)
        for folder, mode in shut.items():
            folder.chmod(mode)


def test_a_file_and_a_folder_that_may_not_be_written_to_are_said_and_can_be_looked_at(place: Path) -> None:
    with closing(sqlite3.connect(place)) as plain:
        plain.execute("PRAGMA journal_mode=DELETE")  # a copy at rest, as on a disk that may only be read
    place.chmod(0o444)
    place.parent.chmod(0o555)
    try:
        with as_nobody_special(place):
            with pytest.raises(Unavailable, match="Move the shop to a folder you may write in"):
                open_shop(place, FixedClock())
            assert names(place) == ["Hesper Dunmarrow"]
    finally:
        place.parent.chmod(0o755)


def test_a_folder_that_is_gone_is_a_sentence_and_the_shop_can_be_closed(place: Path, tmp_path: Path) -> None:
    home = tmp_path / "stick"
    home.mkdir()
    copy_shop(place, home / "shop.db")
    seat = open_shop(home / "shop.db", FixedClock())
    people.parties(seat)
    home.rename(tmp_path / "pulled")  # the stick is pulled; its file is whole
    seat.file.engine.dispose()  # a connection dies with its disk
    with pytest.raises(Problem, match=r"could not be|cannot be"):
        a_customer(seat, "Noor Castellane")
    seat.file.close()
    assert names(tmp_path / "pulled" / "shop.db") == ["Hesper Dunmarrow"]


# A share


MOUNTS = """21 1 8:1 / / rw,relatime - ext4 /dev/sda1 rw
40 21 0:36 / /mnt/office\\040box rw - cifs //box/shops rw
41 21 0:37 / /mnt/far rw - nfs4 far:/shops rw
"""


@pytest.mark.parametrize(
    ("where", "kind"),
    [("/mnt/office box/shop.db", "cifs"), ("/mnt/far/a/shop.db", "nfs4"), ("/home/shop.db", "ext4")],
)
def test_the_kind_of_file_system_is_the_nearest_mount_s(where: str, kind: str, tmp_path: Path) -> None:
    (tmp_path / "mountinfo").write_text(MOUNTS)
    assert share.file_system_of(Path(where), tmp_path / "mountinfo") == kind
    assert share.file_system_of(Path(where), tmp_path / "not told") == ""


def test_a_shop_on_a_share_is_not_written_to_but_may_be_looked_at(
    place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(share, "file_system_of", lambda _path: "nfs4")
    with pytest.raises(Unavailable, match=r"lies on a network share \(nfs4\)"):
        open_shop(place, FixedClock())
    assert names(place) == ["Hesper Dunmarrow"]
    with pytest.raises(Unavailable, match="keeps no write-ahead log"):
        share.refuse_other_log(place, "delete")


# The clock


def test_with_the_clock_set_back_the_journal_keeps_its_order_and_the_copies_theirs(
    place: Path, tmp_path: Path
) -> None:
    clock = FixedClock()
    seat = open_shop(place, clock)
    a_customer(seat, "Noor Castellane")
    (earlier,) = keep_a_copy(seat).made
    clock._now -= dt.timedelta(days=400)
    a_customer(seat, "Perpetua Lindqvist")
    (later,) = keep_a_copy(seat).made
    with seat.look() as session:
        instants = [row.at for row in session.query(Journal).order_by(Journal.id)]
    assert instants == sorted(instants)
    assert faults(seat) == []
    assert [copy.path for copy in copies(seat)] == [later, earlier]  # by what is in them
    assert keep_a_copy(seat).made == ()
    seat.file.close()
    restore(later, tmp_path / "back.db")
    assert names(tmp_path / "back.db")[-1] == "Perpetua Lindqvist"


def test_a_clock_that_runs_over_a_clock_set_back_asks_when_it_stopped(place: Path) -> None:
    clock = FixedClock()
    seat = open_shop(place, clock)
    taken = intake.take_on(seat, intake.RangeDraft(maker="Corvane", model="No. 40", build=Build()),
                           intake.JobDraft(customer_id=1))  # fmt: skip
    walked(seat, taken.job_id)
    work_orders.write_order(seat, taken.job_id, Scope.MECHANICAL)
    bench.clock_on(seat, work_orders.task_lines(seat, taken.job_id)[0].id)
    clock._now -= dt.timedelta(hours=5)
    with pytest.raises(Problem):
        bench.clock_off(seat)
    seat.file.close()


# Versions


def older(place: Path) -> None:
    """A shop as the program before this migration left it."""
    engine = make_engine(shop_url(place))
    config = migrations()
    with engine.connect() as connection:
        config.attributes["connection"] = connection
        command.downgrade(config, "-1")
    engine.dispose()


def test_two_upgrades_at_once_make_one_shop_and_the_second_says_what_it_found(place: Path) -> None:
    older(place)
    run = [sys.executable, "-m", "shopdesk", "upgrade", str(place)]
    both = [
        subprocess.Popen(run, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True) for _ in range(2)
    ]
    said = sorted((each.wait(timeout=100), each.communicate()[0]) for each in both)
    assert said[0][0] == 0
    assert said[1][0] == 0 or "open for writing in another program" in said[1][1]
    assert "Traceback" not in said[0][1] + said[1][1]
    assert names(place) == ["Hesper Dunmarrow"]


def test_two_upgrades_at_once_on_a_server_wait_for_each_other(postgresql_shop: str) -> None:
    older(postgresql_shop)  # type: ignore[arg-type]  # an URL is a place too
    run = [sys.executable, "-m", "shopdesk", "upgrade", postgresql_shop]
    both = [
        subprocess.Popen(run, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True) for _ in range(2)
    ]
    said = [(each.wait(timeout=100), each.communicate()[0]) for each in both]
    assert [code for code, _ in said] == [0, 0], said
    engine = make_engine(shop_url(postgresql_shop))
    assert revision_of(engine) == newest()
    engine.dispose()


def test_a_file_of_a_newer_program_is_neither_opened_nor_upgraded_nor_changed(place: Path) -> None:
    with closing(sqlite3.connect(place)) as plain:
        plain.execute("UPDATE alembic_version SET version_num = '9998'")
        plain.execute("CREATE TABLE of_tomorrow (x)")
        plain.commit()
    before = standing(place)
    for attempt in (
        lambda: open_shop(place, FixedClock()),
        lambda: open_shop(place, FixedClock(), looking=True),
        lambda: upgrade(place),
    ):
        with pytest.raises(Problem, match="written by a newer program"):
            attempt()
    assert standing(place) == before


# Damage


def a_day_s_deeds(place: Path) -> None:
    """Opens, checks, looks and writes; every refusal is a Problem."""
    seat = open_shop(place, FixedClock())
    try:
        found = faults(seat)
        with suppress(Problem):
            people.parties(seat)
        if found:
            with suppress(Problem):
                keep_a_copy(seat)
            return
        a_customer(seat, "Noor Castellane")
    finally:
        seat.file.close()


@budget(max_examples=14, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(seed=st.integers(0, 2**32), many=st.sampled_from([1, 8, 64, 800]))
def test_random_bytes_flipped_are_said_and_nothing_is_written_over_them(
    worked: Path, tmp_path_factory: pytest.TempPathFactory, seed: int, many: int
) -> None:
    place = tmp_path_factory.mktemp("flipped") / "shop.db"
    copy_shop(worked, place)
    data = bytearray(place.read_bytes())
    chance = random.Random(seed)
    for _ in range(many):
        data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)
    place.write_bytes(data)
    with suppress(Problem):
        a_day_s_deeds(place)
    shutil.rmtree(place.parent)


@pytest.mark.parametrize("act", ["copy", "copy by itself", "restore"])
def test_of_a_damaged_shop_there_is_no_copy_and_it_stays_where_it_lies(
    place: Path, tmp_path: Path, act: str
) -> None:
    seat = open_shop(place, FixedClock())
    with closing(sqlite3.connect(place)) as plain:
        plain.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        page = plain.execute("SELECT rootpage FROM sqlite_master WHERE name = 'party'").fetchone()[0]
    seat.file.close()
    data = bytearray(place.read_bytes())
    data[(page - 1) * 4096 : (page - 1) * 4096 + 900] = b"\xff" * 900
    place.write_bytes(data)
    acts: dict[str, Callable[[], object]] = {
        "copy": lambda: copy_shop(place, tmp_path / "copy.db"),
        "copy by itself": lambda: keep_a_copy(open_shop(place, FixedClock())),
        "restore": lambda: restore(place, tmp_path / "back.db"),
    }
    with pytest.raises(Problem, match="damaged"):
        acts[act]()
    assert place.read_bytes() == bytes(data)
    assert not (tmp_path / "copy.db").exists()
    assert not (tmp_path / "back.db").exists()


def test_a_damaged_shop_is_said_by_the_check_and_never_a_traceback(place: Path) -> None:
    data = bytearray(place.read_bytes())
    for page in range(3, len(data) // 4096, 5):
        data[page * 4096 + 8 : page * 4096 + 40] = os.urandom(32)
    place.write_bytes(data)
    done = subprocess.run(
        [sys.executable, "-m", "shopdesk", "check", str(place)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert "damaged" in done.stderr + done.stdout or "cannot be" in done.stderr
