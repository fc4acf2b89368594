"""What a role may not do the server refuses as well; what it may do the program does by its account."""

from collections.abc import Iterator

import psycopg
import pytest
import sqlalchemy as sa
from builders import FOUR, Shop, agreed, every_caution_read, quoted, reopened, task_of
from fixed_clock import FixedClock

from shopdesk.domain.money import Spread
from shopdesk.domain.problem import NotAllowed
from shopdesk.domain.rights import Action, Role, may
from shopdesk.services import agreements, bench, checking, erasing, people, quotes, shops
from shopdesk.services.floor import floor
from shopdesk.services.jacket import jacket
from shopdesk.services.logins import give_login
from shopdesk.services.seat import Seat, known_to_server, open_shop
from shopdesk.storage.grants import PROGRAM_ONLY, READERS, WRITERS, reads, writes
from shopdesk.storage.tables import Base

STAFFED = (Role.TECHNICIAN, Role.DESK)


@pytest.fixture
def shop(set_up_database: str, clock: FixedClock) -> Iterator[Shop]:
    made = reopened(set_up_database, clock)
    yield made
    made.owner.file.close()


def _address(shop: Shop, role: Role) -> str:
    row = next(row for row in shops.staff(shop.owner) if row.role is role)
    account = give_login(shop.owner, row.id)
    url = shop.owner.file.url.set(username=account.name, password=account.password)
    return url.set(drivername="postgresql").render_as_string(hide_password=False)


def _refused(connection: psycopg.Connection, statement: str) -> bool:
    """Whether the server refuses for lack of a grant; what else it minds is no matter here."""
    try:
        with connection.transaction(force_rollback=True):
            connection.execute(statement)  # type: ignore[call-overload]
    except psycopg.errors.InsufficientPrivilege:
        return True
    except psycopg.Error:
        return False
    return False


def test_every_table_is_refused_to_whom_the_rights_refuse_it(shop: Shop) -> None:
    for role in (*STAFFED, Role.OWNER):
        with psycopg.connect(_address(shop, role)) as connection:
            for name, table in Base.metadata.tables.items():
                if name in ("journal", "staff"):
                    continue
                column = next(iter(table.columns)).name
                told = {
                    _refused(connection, f'INSERT INTO "{name}" DEFAULT VALUES'),
                    _refused(connection, f'UPDATE "{name}" SET "{column}" = NULL'),
                    _refused(connection, f'DELETE FROM "{name}" WHERE 1 = 0'),
                }
                assert told == {not writes(role, name)}, (role, name)
                assert _refused(connection, f'SELECT * FROM "{name}" LIMIT 1') is not reads(role, name), name


def test_every_deed_a_role_may_not_do_has_a_table_it_may_not_write() -> None:
    for role in STAFFED:
        for action in Action:
            if may(role, action) or action in PROGRAM_ONLY:
                continue
            shut = [t for t, actions in WRITERS.items() if action in actions and not writes(role, t)]
            shut += [t for t, reader in READERS.items() if reader is action]
            assert shut, (role, action)


def test_a_technician_with_psql_reads_no_wage_and_changes_no_bill_nor_what_was_written(shop: Shop) -> None:
    shops.keep_wage(shop.owner, shop.technician.acting.staff_id, shop.owner.today, 4321)
    with psycopg.connect(_address(shop, Role.TECHNICIAN)) as connection:
        for statement in (
            "SELECT cost_cents_per_hour FROM wage",
            "UPDATE invoice SET due_on = NULL",
            "INSERT INTO payment DEFAULT VALUES",
            "UPDATE staff SET role = 'owner'",
            "UPDATE journal SET who = 'nobody'",
            "DELETE FROM journal",
            "ALTER TABLE journal DISABLE ROW LEVEL SECURITY",
            "SELECT pg_read_file('postgresql.conf')",
        ):
            assert _refused(connection, statement), statement
        shown = connection.execute("SELECT before::text || after::text FROM journal").fetchall()
        assert shown
        assert not [row for row in shown if "4321" in row[0] or "cost_cents_per_hour" in row[0]]
    with shop.owner.look() as session:
        assert session.scalar(sa.text("SELECT count(*) FROM journal WHERE after::text LIKE '%4321%'")) == 1


def _seat(shop: Shop, role: Role) -> Seat:
    return open_shop(_address(shop, role).replace("postgresql:", "postgresql+psycopg:"), shop.clock)


def test_a_technician_s_account_does_a_technician_s_day_in_the_program(shop: Shop) -> None:
    taken = agreed(shop, *FOUR)
    seat = _seat(shop, Role.TECHNICIAN)
    try:
        assert (seat.acting.name, seat.acting.role) == ("Bram Tollgate", Role.TECHNICIAN)
        assert known_to_server(seat)
        shops.keep_wage(shop.owner, seat.acting.staff_id, shop.owner.today, 4321)  # hidden: the chain goes on
        receive = task_of(seat, taken.job_id, "receive-range")
        bench.clock_on(seat, receive.id)
        shop.clock.advance(minutes=25)
        bench.clock_off(seat)
        bench.tick(seat, receive.id, 100)
        bench.note(seat, receive.id, "came with a cracked knob")
        bench.find_more(seat, taken.job_id, "The left valve is seized", Spread(30, 60, 120))
        assert floor(seat)
        assert jacket(seat, taken.range_id).history
        with pytest.raises(NotAllowed):
            people.keep_party(seat, people.PartyDraft(name="Nobody"))
    finally:
        seat.file.close()
    assert checking.faults(shop.owner) == []


def test_the_owner_s_account_erases_a_customer_and_changes_nothing_else_of_the_journal(shop: Shop) -> None:
    key = people.keep_party(shop.desk, people.PartyDraft(name="Hesper Dunmarrow", phone="555 017 4433"))
    address = _address(shop, Role.OWNER)
    with psycopg.connect(address) as connection:
        assert _refused(connection, "UPDATE journal SET who = 'nobody'")
        assert _refused(connection, "DELETE FROM journal")
        assert not _refused(connection, "UPDATE journal SET salt = '' WHERE 1 = 0")
    seat = open_shop(address.replace("postgresql:", "postgresql+psycopg:"), shop.clock)
    try:
        erasing.erase(seat, key)
    finally:
        seat.file.close()
    with shop.owner.look() as session:
        held = sa.text("SELECT count(*) FROM journal WHERE before::text || after::text LIKE '%Dunmarrow%'")
        assert session.scalar(held) == 0
    assert checking.faults(shop.owner) == []


def test_the_desk_s_account_quotes_and_the_person_s_account_follows_role_and_leaving(shop: Shop) -> None:
    _taken, quote = quoted(shop, *FOUR)
    seat = _seat(shop, Role.DESK)
    try:
        people.keep_party(seat, people.PartyDraft(name="Hesper Dunmarrow"))
        agreements.agree(seat, quote, who="Mr Ruiz", how="signed")
        quotes.quote_view(seat, quote)
    finally:
        seat.file.close()
    every_caution_read(shop.owner)
    row = next(row for row in shops.staff(shop.owner) if row.role is Role.DESK)
    address = _address(shop, Role.DESK)
    draft = shops.StaffDraft(row.name, Role.TECHNICIAN, row.initials, row.skills)
    shops.keep_staff(shop.owner, draft, row.id)
    with psycopg.connect(address) as connection:
        assert _refused(connection, "INSERT INTO payment DEFAULT VALUES")
    shops.keep_staff(
        shop.owner,
        shops.StaffDraft(row.name, Role.TECHNICIAN, row.initials, row.skills, active=False),
        row.id,
    )
    with pytest.raises(psycopg.OperationalError, match="not permitted to log in"):
        psycopg.connect(address)


def test_no_password_stands_in_the_journal(shop: Shop) -> None:
    row = next(row for row in shops.staff(shop.owner) if row.role is Role.DESK)
    account = give_login(shop.owner, row.id)
    assert len(account.password) >= 20
    with shop.owner.look() as session:
        told = session.scalars(sa.text("SELECT before::text || after::text FROM journal")).all()
    assert any(account.name in text for text in told)
    assert not any(account.password in text for text in told)
