"""Behind the services stands the database: what is issued, paid or proved is only ever added to."""

import sqlite3
from contextlib import closing

import pytest
import sqlalchemy as sa
from shop_rows import SOMEBODY, write_open_task, write_protected_rows

from shopdesk.storage import ShopFile
from shopdesk.storage.checking import faults
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.shop import Journal
from shopdesk.storage.unit_of_work import journal_hash

CHANGES = [
    ("paper", "UPDATE paper SET title = 'x'"),
    ("paper", "DELETE FROM paper"),
    ("journal", "UPDATE journal SET who = 'x'"),
    ("journal", "DELETE FROM journal"),
    ("payment", "UPDATE payment SET amount_cents = 1"),
    ("payment", "DELETE FROM payment"),
    ("payment_share", "UPDATE payment_share SET amount_cents = 1"),
    ("payment_share", "DELETE FROM payment_share"),
    ("proof", "UPDATE proof SET result = 'does not meet'"),
    ("proof", "DELETE FROM proof"),
    ("part_movement", "UPDATE part_movement SET quantity = 9"),
    ("part_movement", "DELETE FROM part_movement"),
    ("goods_in", "UPDATE goods_in SET quantity = 9"),
    ("goods_in", "DELETE FROM goods_in"),
    ("invoice", "UPDATE invoice SET gross_cents = 1 WHERE number IS NOT NULL"),
    ("invoice", "UPDATE invoice SET number = NULL WHERE number IS NOT NULL"),
    ("invoice", "DELETE FROM invoice WHERE number IS NOT NULL"),
    ("invoice_line", "UPDATE invoice_line SET what = 'x' WHERE invoice_id = {issued}"),
    ("invoice_line", "UPDATE invoice_line SET invoice_id = {draft} WHERE invoice_id = {issued}"),
    ("invoice_line", "UPDATE invoice_line SET invoice_id = {issued} WHERE invoice_id = {draft}"),
    ("invoice_line", "DELETE FROM invoice_line WHERE invoice_id = {issued}"),
    (
        "invoice_line",
        "INSERT INTO invoice_line (invoice_id, place, kind, what, quantity, unit_cents, net_cents,"
        " tax_percent) VALUES ({issued}, 2, 'part', 'x', 1, 1, 1, '0')",
    ),
]


@pytest.fixture
def shop(shop_place, clock):
    with closing(ShopFile(shop_place, clock)) as opened:
        with opened.writing(SOMEBODY, "test") as work:
            write_protected_rows(work)
        yield opened


def keys(shop: ShopFile) -> dict[str, int]:
    with shop.engine.connect() as connection:
        find = "SELECT id FROM invoice WHERE number IS {}NULL"
        return {
            "issued": connection.exec_driver_sql(find.format("NOT ")).scalar_one(),
            "draft": connection.exec_driver_sql(find.format("")).scalar_one(),
        }


def contents(shop: ShopFile, table: str) -> list[tuple]:
    with shop.engine.connect() as connection:
        return sorted(map(str, connection.exec_driver_sql(f"SELECT * FROM {table}")))


@pytest.mark.parametrize(("table", "change"), CHANGES)
def test_no_statement_changes_what_is_issued(shop, table, change):
    before = contents(shop, table)
    assert before
    with shop.engine.connect() as connection, pytest.raises(sa.exc.DBAPIError, match="never changed"):
        connection.exec_driver_sql(change.format(**keys(shop)))
    assert contents(shop, table) == before


def test_an_invoice_that_is_not_issued_yet_can_be_changed_and_thrown_away(shop):
    draft = keys(shop)["draft"]
    with shop.engine.begin() as connection:
        connection.exec_driver_sql(f"UPDATE invoice_line SET what = 'other' WHERE invoice_id = {draft}")
        connection.exec_driver_sql(f"DELETE FROM invoice_line WHERE invoice_id = {draft}")
        connection.exec_driver_sql(f"DELETE FROM invoice WHERE id = {draft}")
    assert len(contents(shop, "invoice")) == 1


@pytest.mark.parametrize(
    "row",
    [
        "INSERT INTO part_movement (part_id, at, quantity, reason, staff_id) VALUES (1, '2026', 0, 'x', 1)",
        "INSERT INTO job (range_id, opened_on, red_tagged, version) VALUES (4711, '2026-01-01', {no}, 1)",
        "UPDATE task SET done_share = 101",
        "UPDATE need SET covered = 2",
        "INSERT INTO staff (name, role, skills, active, version) VALUES ('x', 'king', '[]', {yes}, 1)",
    ],
)
def test_rows_that_cannot_be_are_refused_by_the_database(shop, row):
    with shop.writing(SOMEBODY, "test") as work:
        write_open_task(work)
    words = {"no": 0, "yes": 1} if shop.is_file else {"no": "false", "yes": "true"}
    if not shop.is_file:
        row = row.replace("'2026'", "'2026-01-01'")
    with shop.engine.connect() as connection, pytest.raises(sa.exc.IntegrityError):
        connection.exec_driver_sql(row.format(**words))


def test_cents_typed_as_text_are_refused(sqlite_shop, clock):
    with closing(ShopFile(sqlite_shop, clock)) as shop:
        with shop.writing(SOMEBODY, "test") as work:
            write_protected_rows(work)
        with (
            shop.engine.connect() as connection,
            pytest.raises(sa.exc.IntegrityError, match="cannot store TEXT"),
        ):
            connection.exec_driver_sql("UPDATE invoice SET gross_cents = '12,50' WHERE number IS NULL")


class TestAChainThatWasTamperedWith:
    """Somebody takes the triggers away meanwhile and puts them back; the check still finds what was done."""

    @pytest.fixture
    def written(self, sqlite_shop, clock):
        with closing(ShopFile(sqlite_shop, clock)) as shop:
            with shop.writing(SOMEBODY, "test") as work:
                write_protected_rows(work)
            for name in ("Ruiz", "Vane", "Quill"):
                with shop.writing(SOMEBODY, "test") as work:
                    work.add(Party(name=name))
        return sqlite_shop

    def found(self, path, clock, *statements: str) -> list[str]:
        with closing(sqlite3.connect(path)) as connection:
            triggers = connection.execute(
                "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"
            ).fetchall()
            for name, _ in triggers:
                connection.execute(f"DROP TRIGGER {name}")
            for statement in statements:
                connection.execute(statement)
            for _, sql in triggers:
                connection.execute(sql)
            connection.commit()
        with closing(ShopFile(path, clock, looking=True)) as shop:
            return faults(shop)

    @pytest.mark.parametrize(
        "change",
        ["who = 'Somebody else'", "at = '2020-01-01T00:00:00.000000+00:00'", "after = '{}'", "action = 'x'"],
    )
    def test_a_changed_row_is_found(self, written, clock, change):
        said = self.found(written, clock, f"UPDATE journal SET {change} WHERE id = 2")
        assert "Journal row 2 was changed after it was written." in said

    def test_a_row_taken_out_is_found(self, written, clock):
        said = self.found(written, clock, "DELETE FROM journal WHERE id = 3")
        assert "Journal row 3 is missing." in said

    def test_a_row_with_a_hash_of_its_own_breaks_the_chain_behind_it(self, written, clock):
        with closing(ShopFile(written, clock, looking=True)) as shop, shop.reading() as session:
            row = session.get_one(Journal, 2)
            fields = {c.key: getattr(row, c.key) for c in Journal.__table__.columns if c.key != "hash"}
        forged = journal_hash({**fields, "who": "Somebody else"})
        said = self.found(
            written, clock, f"UPDATE journal SET who = 'Somebody else', hash = '{forged}' WHERE id = 2"
        )
        assert said[0] == "Journal row 3 was changed after it was written."

    def test_a_paper_an_invoice_and_a_payment_that_were_changed_are_found(self, written, clock):
        said = self.found(
            written,
            clock,
            "UPDATE paper SET pdf = x'00'",
            "UPDATE invoice SET net_cents = 1 WHERE number IS NOT NULL",
            "UPDATE payment SET amount_cents = 1",
        )
        assert said == [
            "The paper I-0001 is not the one that was issued.",
            "The lines of I-0001 do not add up to its total.",
            "More of payment P-0001 is used than was paid.",
        ]

    def test_a_number_taken_out_of_its_series_is_found(self, written, clock):
        said = self.found(
            written,
            clock,
            "INSERT INTO number_series (name, prefix, next) VALUES ('invoice', 'I-', 3)",
        )
        assert "The invoice number I-0002 is missing." in said

    def test_a_row_that_points_nowhere_is_found_first(self, written, clock):
        said = self.found(written, clock, "DELETE FROM gas_range")
        assert said == ["A row of job points to a row of gas_range that is not there."]
