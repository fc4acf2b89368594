"""A unit of work is kept whole with its journal row, or leaves no trace."""

import datetime as dt
import threading
from contextlib import closing
from decimal import Decimal
from itertools import pairwise

import pytest
import sqlalchemy as sa
from shop_rows import SOMEBODY

from shopdesk.domain.problem import ChangedMeanwhile, Problem, Unavailable
from shopdesk.storage import ShopFile
from shopdesk.storage.checking import faults
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.shop import Journal, NumberSeries, Setting, Staff, TaxRate
from shopdesk.storage.tables.walk import Observation, WalkRound


@pytest.fixture
def shop(shop_place, clock):
    with closing(ShopFile(shop_place, clock)) as opened:
        yield opened


def journal(shop: ShopFile) -> list[Journal]:
    with shop.reading() as session:
        return list(session.scalars(sa.select(Journal).order_by(Journal.id)))


def keep(shop: ShopFile, **fields: object) -> int:
    with shop.writing(SOMEBODY, "keep people and firms") as work:
        party = work.add(Party(**fields))
        work.session.flush()
        work.about(party)
        return party.id


def test_a_refusal_after_writing_takes_everything_back(shop):
    def change_my_mind() -> None:
        with shop.writing(SOMEBODY, "test") as work:
            work.take_number("invoice")
            work.add(Party(name="Ruiz"))
            work.session.flush()
            raise Problem("no")

    with pytest.raises(Problem, match="no"):
        change_my_mind()
    with shop.reading() as session:
        assert session.scalar(sa.select(sa.func.count(Party.id))) == 0
        assert session.get(NumberSeries, "invoice") is None
    assert journal(shop) == []


def test_a_row_the_database_refuses_takes_the_rows_before_it_along(shop):
    def write_both() -> None:
        with shop.writing(SOMEBODY, "test") as work:
            work.add(Party(name="Ruiz"))
            work.session.flush()
            work.add(Job(range_id=4711, opened_on=dt.date(2026, 9, 15)))

    with pytest.raises(sa.exc.IntegrityError):
        write_both()
    with shop.reading() as session:
        assert session.scalar(sa.select(sa.func.count(Party.id))) == 0
    assert journal(shop) == []
    keep(shop, name="Vane")  # and the shop is free for the next one
    assert len(journal(shop)) == 1


def test_every_change_writes_one_row_with_what_was_and_what_is(shop, clock):
    key = keep(shop, name="Ruiz", phone="555 0142")
    clock.advance(minutes=5)
    with shop.writing(SOMEBODY, "keep people and firms") as work:
        party = work.get(Party, key, "customer")
        party.phone = "555 0143"
        work.session.flush()
        party.phone, party.town = "555 0144", "Quarrel Bend"
        work.about(party)
    first, second = journal(shop)
    assert (first.who, first.action, first.record, first.record_id) == (
        "Odile Fennimarsh", "keep people and firms", "party", key,
    )  # fmt: skip
    assert first.before == {}
    assert first.after[f"party {key}"] == {
        "id": key, "name": "Ruiz", "phone": "555 0142", "is_firm": False, "supplies": False,
        "lead_days": 0, "version": 1,
    }  # fmt: skip
    assert second.at == clock()
    assert second.before == {f"party {key}": {"phone": "555 0142", "town": ""}}
    assert second.after == {f"party {key}": {"phone": "555 0144", "town": "Quarrel Bend"}}
    assert (first.previous_hash, second.previous_hash) == ("", first.hash)


def test_a_look_without_a_change_writes_no_row(shop):
    key = keep(shop, name="Ruiz")
    with shop.writing(SOMEBODY, "test") as work:
        work.get(Party, key, "customer").name = "Ruiz"
    assert len(journal(shop)) == 1


def test_what_is_deleted_stands_in_the_journal_as_it_was(shop):
    with shop.writing(SOMEBODY, "test") as work:
        setting = work.add(Setting(name="note", value={"a": [1, "ü"]}))
    with shop.writing(SOMEBODY, "test") as work:
        work.session.delete(work.session.get(Setting, setting.name))
    row = journal(shop)[-1]
    assert row.before == {"setting note": {"name": "note", "value": {"a": [1, "ü"]}, "version": 1}}
    assert row.after == {}


def test_what_is_taken_off_a_list_stands_in_the_journal_too(shop, clock):
    """A row that goes because its parent lets go of it is never marked as deleted beforehand."""
    with shop.writing(SOMEBODY, "test") as work:
        range_ = work.add(Range(number="R-0001", build={}))
        work.session.flush()
        job = work.add(Job(range_id=range_.id, opened_on=dt.date(2026, 9, 15)))
        seen = Observation(checkpoint="oven-floor", finding="oven-floor.worn", at=work.now)
        walk = work.add(WalkRound(job=job, on_day=dt.date(2026, 9, 15), observations=[seen]))
    with shop.writing(SOMEBODY, "test") as work:
        kept = work.get(WalkRound, walk.id, "walk-round")
        kept.observations.clear()
    row = journal(shop)[-1]
    assert row.before[f"observation {seen.id}"]["finding"] == "oven-floor.worn"
    assert row.after == {}


def test_times_days_and_rates_come_back_as_they_went_in(shop):
    at = dt.datetime(2026, 3, 8, 1, 30, tzinfo=dt.timezone(dt.timedelta(hours=-5)))
    with shop.writing(SOMEBODY, "test") as work:
        party = work.add(Party(name="Ruiz", exempt_until=dt.date(2027, 2, 28), erased_at=at, is_firm=True))
        rate = work.add(
            TaxRate(kind="part", from_day=dt.date(2026, 1, 1), name="Tax", percent=Decimal("8.8750"))
        )
    with shop.reading() as session:
        kept, taxed = session.get_one(Party, party.id), session.get_one(TaxRate, rate.id)
    assert kept.erased_at == at
    assert kept.erased_at.utcoffset() == dt.timedelta(0)
    assert (kept.exempt_until, kept.is_firm) == (dt.date(2027, 2, 28), True)
    assert taxed.percent == Decimal("8.875")


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("erased_at", dt.datetime(2026, 9, 15, 8, 30)),  # noqa: DTZ001 - the point of the test
        ("exempt_until", dt.datetime(2026, 9, 15, tzinfo=dt.UTC)),
    ],
)
def test_an_instant_without_a_zone_and_an_instant_for_a_day_are_refused(shop, field, value):
    with pytest.raises(sa.exc.StatementError, match=r"carries its time zone|is a date"):
        keep(shop, name="Ruiz", **{field: value})


def test_a_rate_is_never_a_float(shop):
    with (
        pytest.raises(sa.exc.StatementError, match="never a float"),
        shop.writing(SOMEBODY, "test") as work,
    ):
        work.add(TaxRate(kind="part", from_day=dt.date(2026, 1, 1), name="Tax", percent=8.875))


def test_numbers_have_no_gap_after_a_transaction_that_failed(shop):
    taken = []
    for attempt in range(6):
        try:
            with shop.writing(SOMEBODY, "test") as work:
                number = work.take_number("invoice")
                work.add(Party(name=number))
                if attempt % 2:
                    raise Problem("changed my mind")
                taken.append(number)
        except Problem:
            pass
    assert taken == ["INVOICE-0001", "INVOICE-0002", "INVOICE-0003"]


def _take(place: str, clock, count: int, taken: list[str]) -> None:
    with closing(ShopFile(place, clock)) as shop:
        for n in range(count):
            try:
                with shop.writing(SOMEBODY, "test") as work:
                    number = work.take_number("invoice")
                    work.add(Party(name=number))
                    if n % 5 == 4:
                        raise Problem("changed my mind")
                taken.append(number)
            except Problem:
                pass


def test_two_seats_take_numbers_at_once_without_gap_or_double(postgresql_shop, clock):
    with closing(ShopFile(postgresql_shop, clock)) as shop:
        with shop.writing(SOMEBODY, "test") as work:
            work.add(NumberSeries(name="invoice", prefix="I-"))
        taken: list[list[str]] = [[], []]
        seats = [threading.Thread(target=_take, args=(postgresql_shop, clock, 25, mine)) for mine in taken]
        for seat in seats:
            seat.start()
        for seat in seats:
            seat.join()
        assert sorted(taken[0] + taken[1]) == [f"I-{n:04d}" for n in range(1, 41)]
        rows = journal(shop)
        assert [row.id for row in rows] == list(range(1, 41))
        assert all(row.previous_hash == before.hash for before, row in pairwise(rows))


def test_threads_of_one_program_write_one_after_the_other(shop):
    def write(name: str) -> None:
        for n in range(10):
            keep(shop, name=f"{name} {n}")

    threads = [threading.Thread(target=write, args=(name,)) for name in ("Ruiz", "Vane", "Quill")]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert [row.id for row in journal(shop)] == list(range(1, 31))


@pytest.mark.parametrize("flushed_by", ["the commit", "the service"])
def test_the_second_to_save_a_record_is_told(shop, flushed_by):
    key = keep(shop, name="Ruiz")

    def save_late() -> None:
        with shop.writing(SOMEBODY, "test") as work:
            party = work.get(Party, key, "customer")
            work.session.execute(
                sa.update(Party).where(Party.id == key).values(version=7),
                execution_options={"synchronize_session": False},
            )  # stands for a seat whose change came in between
            party.name = "Vane"
            if flushed_by == "the service":
                work.session.flush()

    with pytest.raises(ChangedMeanwhile, match="saved this record first"):
        save_late()
    with shop.reading() as session:
        assert session.get_one(Party, key).name == "Ruiz"


def test_two_seats_on_a_server_change_the_same_record(postgresql_shop, clock):
    with closing(ShopFile(postgresql_shop, clock)) as one, closing(ShopFile(postgresql_shop, clock)) as two:
        key = keep(one, name="Ruiz")

        def save_late() -> None:
            with one.writing(SOMEBODY, "test") as slow:
                mine = slow.get(Party, key, "customer")
                with two.writing(SOMEBODY, "test") as fast:
                    fast.get(Party, key, "customer").phone = "555 0199"
                mine.name = "Vane"

        with pytest.raises(ChangedMeanwhile):
            save_late()
        with one.reading() as session:
            row = session.get_one(Party, key)
        assert (row.name, row.phone) == ("Ruiz", "555 0199")


def test_a_file_that_takes_no_writes_any_more_is_a_sentence(sqlite_shop, clock):
    def write() -> None:
        with closing(ShopFile(sqlite_shop, clock)) as shop, shop.writing(SOMEBODY, "test") as work:
            work.session.connection().exec_driver_sql("PRAGMA query_only=ON")
            work.add(Party(name="Ruiz"))

    with pytest.raises(Unavailable, match="nothing was changed"):
        write()


def test_a_server_that_went_away_is_a_sentence(postgresql_shop, clock):
    def write() -> None:
        with closing(ShopFile(postgresql_shop, clock)) as shop, shop.writing(SOMEBODY, "test") as work:
            work.add(Party(name="Ruiz"))
            pid = work.session.connection().exec_driver_sql("SELECT pg_backend_pid()").scalar_one()
            with shop.engine.connect() as other:
                other.exec_driver_sql(f"SELECT pg_terminate_backend({pid}, 5000)")

    with pytest.raises(Unavailable, match="does not answer"):
        write()


def test_passphrases_and_folded_words_stay_out_of_the_journal(shop):
    with shop.writing(SOMEBODY, "test") as work:
        work.add(Staff(name="Bram", role="technician", skills=[], passphrase_hash="secret"))
        work.add(Party(name="Müller, R-2"))
    assert "secret" not in str(journal(shop)[0].after)
    with shop.reading() as session:
        assert session.scalar(sa.select(Party.search_text)) == "muller r 2"


@pytest.mark.parametrize("text", ["Ruiz & Søn <b>", "Ю 面 ☐ № 'quote' \"double\"", "a\\b %s :name %(x)s"])
def test_any_text_is_kept_as_typed_and_the_chain_stands(shop, text):
    key = keep(shop, name=text)
    with shop.reading() as session:
        assert session.get_one(Party, key).name == text
    assert faults(shop) == []
