"""The n-th statement of a deed fails, for every n: the shop is as it was, and a sentence says so."""

import itertools
import os
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest
import sqlalchemy as sa
from fixed_clock import FixedClock
from whole_state import standing

from shopdesk.demo import steps
from shopdesk.demo.drawn_pictures import picture
from shopdesk.demo.workshop import customer, firm, make_workshop
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Purpose, Scope
from shopdesk.domain.problem import Problem, Unavailable
from shopdesk.services import (
    agreements,
    bench,
    intake,
    invoices,
    payments,
    people,
    quotes,
    shops,
    stores,
    walks,
    work_orders,
)
from shopdesk.services.checking import faults
from shopdesk.services.seat import Seat, open_shop
from shopdesk.services.settings import Terms
from shopdesk.storage.backup import copy_shop

Deed = Callable[[Seat, "Keys"], object]


@dataclass(frozen=True)
class Keys:
    """What the deeds are done to."""

    bare: int  # looked over, no order yet
    job: int  # ordered and quoted
    looked_at: int  # not booked in yet
    quote: int
    walk: int
    agreed: int  # a job whose work may be done
    technician: int
    task: int
    draft: int
    supplier: int


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Keys]:
    place = tmp_path_factory.mktemp("nth") / "shop.db"
    shop = make_workshop(place, FixedClock()())
    seat = shop.seat
    who = customer(seat, "Ruiz & Søn", "12 Larder Lane", "555 0142")
    courses = []
    for purpose in (Purpose.FULL,) * 4:
        draft = intake.RangeDraft(maker="Corvane", model="No. 40", build=Build(lamp=True))
        course = steps.take_on(shop, draft, intake.JobDraft(customer_id=who, purpose=purpose))
        courses.append(course)
    asked, looked_at, agreed, bare = courses
    for course in (asked, agreed, bare):
        steps.bring_in(course, receipt=False)
        steps.walk_round(course, {"lamp-cord.frayed": ""}, report=False)
    for course in (asked, agreed):
        work_orders.write_order(seat, course.job_id, Scope.MECHANICAL)
    quote = quotes.write_quote(seat, asked.job_id)
    agreements.agree(seat, quotes.write_quote(seat, agreed.job_id), who="Mr Ruiz", how="signed")
    walk = walks.open_walk(seat, looked_at.job_id)
    task = work_orders.task_lines(seat, agreed.job_id)[1].id
    steps.work(agreed, most=1)
    draft = invoices.draft_invoice(seat, agreed.job_id)
    supplier = firm(seat, "Brindle & Tack Supply", supplies=True)
    keys = Keys(
        bare.job_id, asked.job_id, looked_at.job_id, quote, walk, agreed.job_id, shop.technicians[0], task,
        draft, supplier,
    )  # fmt: skip
    seat.file.close()
    return place, keys


def _book_in(seat: Seat, keys: Keys) -> None:
    intake.book_in(seat, keys.looked_at)


def _photograph(seat: Seat, keys: Keys) -> None:
    intake.attach_photograph(seat, 1, picture("plate", 1))


def _answer(seat: Seat, keys: Keys) -> None:
    walks.answer(seat, keys.walk, steps.Answer("lamp-cord", "lamp-cord.frayed"))


def _agree(seat: Seat, keys: Keys) -> None:
    agreements.agree(seat, keys.quote, who="Mr Ruiz", how="telephone", number_called="555 0142")


def _clock(seat: Seat, keys: Keys) -> None:
    bench.clock_on(seat.taken_by(keys.technician), keys.task)


def _order(seat: Seat, keys: Keys) -> None:
    stores.order_parts(seat, keys.supplier, [stores.OrderLine("lamp cord", 2, 900)])


DEEDS: dict[str, Deed] = {
    "a customer kept": lambda seat, keys: people.keep_party(seat, people.PartyDraft(name="Noor Castellane")),
    "a range booked in": _book_in,
    "a photograph taken in": _photograph,
    "a checkpoint answered": _answer,
    "an order written": lambda seat, keys: work_orders.write_order(seat, keys.bare, Scope.MECHANICAL),
    "a quote written": lambda seat, keys: quotes.write_quote(seat, keys.job),
    "a quote agreed to": _agree,
    "a clock started": _clock,
    "parts ordered": _order,
    "a deposit taken": lambda seat, keys: payments.take_payment(
        seat, keys.agreed, 5_000, "cash", deposit=True
    ),
    "an invoice issued": lambda seat, keys: invoices.issue_invoice(seat, keys.draft),
    "terms kept": lambda seat, keys: shops.keep_setting(seat, Terms(deposit_percent=17)),
}


def _numbers() -> Iterator[int]:
    """Every statement by hand (`EVERY_STATEMENT=1`); here the first dozen, then every 29th: writing an
    order or a quote is hundreds of statements, most of them alike."""
    every = os.environ.get("EVERY_STATEMENT") == "1"
    return itertools.count(1) if every else itertools.chain(range(1, 13), itertools.count(13, 29))


@contextmanager
def failing_at(engine: sa.Engine, number: int, commit: bool = False) -> Iterator[list[str]]:
    """The statement of that number (or the commit) fails as a disk fails; what was run stands in the list."""
    run: list[str] = []

    def fail(statement: str) -> None:
        broken = sqlite3.OperationalError("disk I/O error")
        raise sa.exc.OperationalError(statement, (), broken)

    def before(_connection, _cursor, statement, _values, _context, _many) -> None:
        if statement.startswith("BEGIN"):
            return  # the transaction's own; SQLAlchemy begins it lazily
        run.append(statement)
        if len(run) == number:
            fail(statement)

    def committing(_connection) -> None:
        if commit:
            fail("COMMIT")

    sa.event.listen(engine, "before_cursor_execute", before)
    sa.event.listen(engine, "commit", committing)
    try:
        yield run
    finally:
        sa.event.remove(engine, "before_cursor_execute", before)
        sa.event.remove(engine, "commit", committing)


def committed_to(watching: sqlite3.Connection) -> int:
    """A figure that changes whenever anybody else commits to the file (SQLite, PRAGMA data_version)."""
    return int(watching.execute("PRAGMA data_version").fetchone()[0])


@pytest.mark.parametrize("name", DEEDS)
def test_whichever_statement_fails_the_shop_is_as_it_was(
    name: str, made: tuple[Path, Keys], tmp_path: Path
) -> None:
    place, keys = made
    copy_shop(place, tmp_path / "shop.db")
    seat = open_shop(tmp_path / "shop.db", FixedClock())
    watching = sqlite3.connect(tmp_path / "shop.db")
    try:
        before, failed = standing(tmp_path / "shop.db"), 0
        untouched = committed_to(watching)
        for number in _numbers():
            with failing_at(seat.file.engine, number) as run:
                try:
                    DEEDS[name](seat, keys)
                except Unavailable as problem:
                    assert "disk I/O error" in str(problem)
                else:
                    break  # it has fewer statements than that: the deed stands
            failed += 1
            assert len(run) == number
            assert committed_to(watching) == untouched, run[-1]
        assert failed >= 4
        assert standing(tmp_path / "shop.db") != before
        assert faults(seat) == []
    finally:
        watching.close()
        seat.file.close()


def test_a_commit_that_fails_leaves_nothing_and_the_deed_can_be_done_again(
    made: tuple[Path, Keys], tmp_path: Path
) -> None:
    place, keys = made
    copy_shop(place, tmp_path / "shop.db")
    seat = open_shop(tmp_path / "shop.db", FixedClock())
    try:
        before = standing(tmp_path / "shop.db")
        with (
            failing_at(seat.file.engine, 0, commit=True),
            pytest.raises(Problem, match="nothing was changed"),
        ):
            _agree(seat, keys)
        assert standing(tmp_path / "shop.db") == before
        _agree(seat, keys)
        assert faults(seat) == []
    finally:
        seat.file.close()
