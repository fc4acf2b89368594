"""Migrations run up, down and up again on both databases, and make what the mapped classes say."""

import re
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
import sqlalchemy as sa
from alembic import command
from alembic.script import ScriptDirectory
from shop_rows import SOMEBODY

from shopdesk import paths
from shopdesk.domain.problem import Problem, Unavailable
from shopdesk.storage import ShopFile, make_shop, upgrade
from shopdesk.storage.engine import make_engine, shop_url
from shopdesk.storage.lock import WriteLock
from shopdesk.storage.tables import Base
from shopdesk.storage.tables.people import Party
from shopdesk.storage.upgrading import known, migrations, newest


@pytest.fixture
def engine(shop_place):
    made = make_engine(shop_url(shop_place))
    yield made
    made.dispose()


def run(engine: sa.Engine, what, *arguments: str) -> None:
    config = migrations()
    with engine.connect() as connection:
        config.attributes["connection"] = connection
        what(config, *arguments)


def revision(engine: sa.Engine) -> str | None:
    with engine.connect() as connection:
        return connection.exec_driver_sql("SELECT version_num FROM alembic_version").scalar()


def test_migrations_run_down_to_nothing_and_up_again(engine):
    run(engine, command.downgrade, "base")
    assert set(sa.inspect(engine).get_table_names()) == {"alembic_version"}
    run(engine, command.upgrade, "head")
    assert set(Base.metadata.tables) < set(sa.inspect(engine).get_table_names())
    assert revision(engine) == newest()


def test_letters_and_weekly_lists_that_shared_their_numbers_are_parted(engine):
    run(engine, command.downgrade, "0013")
    with engine.begin() as connection:
        connection.exec_driver_sql("DELETE FROM number_series")
        connection.exec_driver_sql("INSERT INTO number_series VALUES ('letter', 'L-', 2)")
        connection.exec_driver_sql("INSERT INTO number_series VALUES ('weekly list', 'L-', 5)")
    run(engine, command.upgrade, "head")
    with engine.connect() as connection:
        rows = set(connection.exec_driver_sql("SELECT name, prefix, next FROM number_series").all())
    assert rows == {("letter", "L-", 5), ("weekly list", "WL-", 5)}


def test_alembic_finds_no_drift_between_migrations_and_classes(engine):
    run(engine, command.check)  # raises when it would generate anything


def test_migrated_tables_and_mapped_classes_make_the_same_sql(sqlite_shop, tmp_path):
    """`alembic check` sees neither the text of a CHECK nor the condition of a partial index."""
    mapped = make_engine(shop_url(tmp_path / "mapped.db"))
    Base.metadata.create_all(mapped)
    mapped.dispose()
    assert _schema(sqlite_shop) == _schema(tmp_path / "mapped.db")


def _schema(path: Path) -> dict[str, str]:
    with closing(sqlite3.connect(path)) as connection:
        rows = connection.execute(
            "SELECT name, type, sql FROM sqlite_master WHERE sql IS NOT NULL"
        ).fetchall()
    made = {
        name: _plain(sql)
        for name, kind, sql in rows
        if kind != "trigger" and name != "alembic_version" and not name.startswith("ft_")
    }
    assert made
    return made


def _plain(sql: str) -> str:
    """Without quotes, brackets around defaults and the order of a table's columns."""
    words = re.sub(r"\s+", " ", re.sub(r"\((''|'\w+( \w+)*')\)", r"\1", sql.replace('"', ""))).strip()
    head, _, body = words.partition("(")
    return head + ", ".join(sorted(re.split(r", (?![^()]*\))", body.rpartition(")")[0].strip())))


def test_every_protecting_trigger_is_there_after_the_last_migration(sqlite_shop):
    with closing(sqlite3.connect(sqlite_shop)) as connection:
        rows = connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")
        names = {name for (name,) in rows}
    protected = (
        "paper", "journal", "payment", "payment_share", "proof", "part_movement", "goods_in", "invoice",
        "invoice_line", "promise", "invoice_adjustment", "agreement", "agreement_left_out", "comeback",
        "letter", "outlay", "write_off",
        "goods_back", "table_in", "piece_event", "stock_take", "stock_take_line",
        "caution_seen", "hours_word", "hold_answer", "brought_record",
    )  # fmt: skip
    for table in protected:
        assert {f"{table}_no_update", f"{table}_no_delete"} <= names


@pytest.fixture
def one_more_migration(tmp_path, monkeypatch):
    """A program with one migration more, whose steps the test writes."""

    def with_steps(*steps: str) -> None:
        folder = tmp_path / "migrations"
        shutil.copytree(paths.shipped("migrations"), folder)
        body = "\n".join(f"    {step}" for step in steps)
        (folder / "versions" / "9999_next.py").write_text(
            f'"""Next"""\nimport sqlalchemy as sa\nfrom alembic import op\n'
            f'revision = "9999"\ndown_revision = "{newest()}"\nbranch_labels = None\ndepends_on = None\n\n'
            f"def upgrade():\n{body}\n\ndef downgrade():\n    pass\n"
        )
        shipped = paths.shipped
        monkeypatch.setattr(paths, "shipped", lambda name: folder if name == "migrations" else shipped(name))

    return with_steps


def test_a_migration_that_fails_leaves_nothing_behind(shop_place, one_more_migration):
    before = newest()
    one_more_migration(
        'op.create_table("half", sa.Column("i", sa.Integer))',
        'op.execute("INSERT INTO party (name) VALUES (NULL)")',
    )
    with pytest.raises(sa.exc.IntegrityError):
        upgrade(shop_place)
    engine = make_engine(shop_url(shop_place))
    assert revision(engine) == before
    assert not sa.inspect(engine).has_table("half")
    engine.dispose()


def test_upgrading_a_file_keeps_it_as_it_was_beside_it(sqlite_shop, one_more_migration):
    before = newest()
    assert upgrade(sqlite_shop) is None  # nothing to do, nothing copied
    one_more_migration('op.create_table("more", sa.Column("i", sa.Integer))')
    kept = upgrade(sqlite_shop)
    assert kept == sqlite_shop.with_name("shop.before-9999.db")
    for path, expected, more in ((kept, before, False), (sqlite_shop, "9999", True)):
        engine = make_engine(shop_url(path))
        assert revision(engine) == expected
        assert sa.inspect(engine).has_table("more") is more
        engine.dispose()


def test_rebuilding_a_parent_table_keeps_the_rows_of_its_children(sqlite_shop, clock, one_more_migration):
    with closing_shop(sqlite_shop, clock) as shop, shop.writing(SOMEBODY, "test") as work:
        first = work.add(Party(name="Quillon"))
        work.session.flush()
        work.add(Party(name="Quillon again", merged_into_id=first.id))
    one_more_migration(
        'with op.batch_alter_table("party", recreate="always") as batch:',
        '    batch.add_column(sa.Column("more", sa.Text))',
    )
    upgrade(sqlite_shop)
    with closing(sqlite3.connect(sqlite_shop)) as connection:
        rows = connection.execute("SELECT name, merged_into_id FROM party ORDER BY id").fetchall()
    assert rows == [("Quillon", None), ("Quillon again", 1)]


def test_an_older_shop_is_not_opened_but_told_how_to_be_upgraded(shop_place, clock, one_more_migration):
    one_more_migration('op.create_table("more", sa.Column("i", sa.Integer))')
    with pytest.raises(Problem, match="older program"):
        ShopFile(shop_place, clock)


def test_a_shop_of_a_newer_program_is_refused_with_a_sentence(shop_place, clock):
    engine = make_engine(shop_url(shop_place))
    with engine.begin() as connection:
        connection.exec_driver_sql("UPDATE alembic_version SET version_num = '4711'")
    engine.dispose()
    with pytest.raises(Problem, match="newer program"):
        ShopFile(shop_place, clock)
    with pytest.raises(Problem, match="newer program"):
        upgrade(shop_place)


def test_upgrade_makes_no_file_of_a_mistyped_name(tmp_path):
    with pytest.raises(Problem, match="no shop"):
        upgrade(tmp_path / "typo.db")
    assert list(tmp_path.iterdir()) == []


def test_upgrade_leaves_a_stranger_s_database_alone(tmp_path):
    path = tmp_path / "stranger.db"
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE theirs (i)")
    with pytest.raises(Problem, match="not a shop"):
        upgrade(path)
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("SELECT name FROM sqlite_master").fetchall() == [("theirs",)]


def test_upgrade_waits_until_nobody_writes(sqlite_shop, clock):
    with closing_shop(sqlite_shop, clock), pytest.raises(Unavailable, match="open for writing"):
        upgrade(sqlite_shop)
    lock = WriteLock(sqlite_shop)
    upgrade(sqlite_shop)
    lock.take()  # and gives its own lock back
    lock.give_back()


def test_a_new_shop_never_takes_the_place_of_a_file(tmp_path, empty_pg_database):
    path = tmp_path / "there.db"
    path.write_text("mine")
    with pytest.raises(Problem, match="already a file"):
        make_shop(path)
    assert path.read_text() == "mine"
    make_shop(empty_pg_database)
    with pytest.raises(Problem, match="not empty"):
        make_shop(empty_pg_database)


def test_a_new_shop_where_nothing_can_be_written_is_a_sentence(tmp_path):
    (tmp_path / "file").write_text("")
    with pytest.raises(Unavailable, match="cannot be written"):
        make_shop(tmp_path / "file" / "shop.db")


def closing_shop(place, clock) -> closing:
    return closing(ShopFile(place, clock))


def test_the_newest_migration_by_the_files_names_is_alembic_s_head():
    script = ScriptDirectory.from_config(migrations())
    assert newest() == script.get_current_head()
    assert all(known(step.revision) for step in script.walk_revisions())
    assert not known("9999")


def test_a_shop_is_opened_without_loading_alembic_or_the_server_s_driver(sqlite_shop):
    code = (
        "import sys; from shopdesk.domain.clock import now; from shopdesk.services.seat import open_shop; "
        f"open_shop({str(sqlite_shop)!r}, now).file.close(); "
        "print({'alembic', 'psycopg'} & set(sys.modules))"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert told.stdout.strip() == "set()"
