"""The check of an opened shop in the background, and what a form keeps when its shop fails under it."""

import sqlite3
from collections.abc import Callable

import pytest
import sqlalchemy as sa
from pytestqt.qtbot import QtBot

from shopdesk.domain.problem import Problem
from shopdesk.services import checking, people
from shopdesk.services.people import PartyDraft
from shopdesk.services.seat import Seat
from shopdesk.storage import checking as of_the_file
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.ui.context import Context, Message
from shopdesk.ui.pages.counter.customers import Customers
from shopdesk.ui.pages.counter.page import CounterPage
from shopdesk.ui.whole_check import WholeCheck

Settled = Callable[[], None]


@pytest.fixture
def told(context: Context) -> list[Message]:
    heard: list[Message] = []
    context.told.connect(heard.append)
    return heard


def test_a_whole_shop_is_not_spoken_of(context: Context, told: list[Message], settled: Settled) -> None:
    check = WholeCheck(context, context)
    assert check.timer.isActive()
    check.look()
    settled()
    settled()
    assert told == []
    check.stop()
    assert not check.timer.isActive()


def test_a_damaged_file_is_said_with_what_to_do_and_is_not_written_to_any_more(
    context: Context, seat: Seat, told: list[Message], settled: Settled, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(of_the_file, "quick_faults", lambda _file: ["The file is damaged: page 7."])
    check = WholeCheck(context, context)
    check.look()
    written: list[Problem] = []
    keep = PartyDraft(name="Noor Castellane")
    context.do(lambda seat: people.keep_party(seat, keep), failed=written.append, owner=check)
    settled()
    assert "set the file aside and bring back a copy" in told[0].text
    assert "page 7" in told[0].text
    assert "open to look at only" in str(written[0])  # asked for before the look was over: it waited for it
    assert people.parties(seat) == []
    check.stop()


def test_a_stage_that_does_not_follow_is_said_and_the_reckoning_stops_on_closing(
    context: Context, seat: Seat, told: list[Message], settled: Settled
) -> None:
    with seat.file.engine.begin() as plain:
        plain.execute(sa.insert(Range).values(number="R-1", build={}, version=1))
        plain.execute(sa.insert(Job).values(range_id=1, opened_on=seat.today, stage="settled", version=1))
    assert checking.stage_faults(seat, lambda: True) == []
    check = WholeCheck(context, context)
    check.look()
    settled()
    settled()
    assert "does not add up" in told[0].text
    assert "R-1" in told[0].text
    check.stop()


def test_when_the_disk_fails_under_a_form_what_was_typed_stands_in_it_and_in_the_draft(
    context: Context, seat: Seat, told: list[Message], settled: Settled, qtbot: QtBot
) -> None:
    page = CounterPage(context)
    qtbot.addWidget(page)
    page.tabs.setCurrentWidget(page.customers)
    customers: Customers = page.customers
    customers.begin_new()
    settled()
    form = customers.form
    for name, value in (("name", "Noor Castellane"), ("note", "Rings after six.")):
        form[name].setTyped(value)
        form[name].edited.emit()

    def fail(_connection, _cursor, statement, values, _context, _many) -> None:
        if statement.startswith("INSERT"):
            raise sa.exc.OperationalError(statement, values, sqlite3.OperationalError("disk is full"))

    sa.event.listen(seat.file.engine, "before_cursor_execute", fail)
    form.submit()
    settled()
    sa.event.remove(seat.file.engine, "before_cursor_execute", fail)
    said = [message.text for message in told] + [form._whole.text()]
    assert any("disk is full" in text for text in said)
    assert (form["name"].typed(), form["note"].typed()) == ("Noor Castellane", "Rings after six.")
    assert "Noor Castellane" in str(context.drafts._drafts)
    assert people.parties(seat) == []
    form.submit()  # the disk has room again
    settled()
    assert [row.name for row in people.parties(seat)] == ["Noor Castellane"]
