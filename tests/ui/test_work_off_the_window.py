"""Questions and changes in workers: order, newest answer, problems, faults, and a page that is gone."""

import threading
from collections.abc import Callable

import pytest
from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action, Role
from shopdesk.services.seat import Seat
from shopdesk.services.settings import Terms
from shopdesk.services.shops import StaffDraft, keep_setting, keep_staff, setting, staff
from shopdesk.ui.context import Context
from shopdesk.ui.workers import Workers


def _raise(problem: Exception) -> None:
    raise problem


def test_an_answer_is_found_in_a_worker_and_given_in_the_gui_thread(
    context: Context, settled: Callable[[], None]
) -> None:
    threads: list[int] = []
    names: list[str] = []

    def question(seat: Seat) -> list[str]:
        threads.append(threading.get_ident())
        return [row.name for row in staff(seat)]

    def then(found: list[str]) -> None:
        threads.append(threading.get_ident())
        names.extend(found)

    context.ask(question, then)
    settled()
    assert names == ["Ida Kessler"]
    assert threads[0] != threading.get_ident() == threads[1]


def test_only_the_newest_answer_of_a_key_is_given(context: Context, settled: Callable[[], None]) -> None:
    given: list[str] = []
    go_on = threading.Event()
    context.ask(lambda _seat: go_on.wait(10) and "old", given.append, key="list")
    context.ask(lambda _seat: "new", given.append, key="list")
    context.ask(lambda _seat: "other", given.append, key="another list")
    go_on.set()
    settled()
    assert sorted(given) == ["new", "other"]


def test_changes_are_made_one_after_another_in_the_order_asked_for(
    context: Context, settled: Callable[[], None]
) -> None:
    begun: list[int] = []
    at_once: list[int] = []
    under_way = threading.Semaphore(1)

    def change(number: int) -> Callable[[Seat], int]:
        def make(seat: Seat) -> int:
            at_once.append(int(not under_way.acquire(blocking=False)))
            begun.append(number)
            keep_staff(seat, StaffDraft(f"Helper {number}", Role.TECHNICIAN))
            under_way.release()
            return number

        return make

    for number in range(8):
        context.do(change(number))
    settled()
    assert begun == list(range(8))
    assert not any(at_once)
    assert len(staff(context.seat)) == 9


def test_a_change_that_stands_is_announced_after_its_answer_was_given(
    context: Context, settled: Callable[[], None]
) -> None:
    heard: list[object] = []
    context.changed.connect(heard.append)
    context.do(
        lambda seat: keep_staff(seat, StaffDraft("Bo Lind", Role.DESK)),
        lambda key: heard.append(f"person {key}"),
        changes=lambda key: ["staff", f"person {key}"],
    )
    settled()
    assert heard == ["person 2", frozenset({"staff", "person 2"})]


def test_a_refused_change_is_told_to_the_page_and_announces_nothing(
    context: Context, settled: Callable[[], None]
) -> None:
    refusals: list[Problem] = []
    heard: list[object] = []
    context.changed.connect(heard.append)
    context.do(
        lambda seat: keep_staff(seat, StaffDraft(" ", Role.DESK)), failed=refusals.append, changes=["staff"]
    )
    settled()
    assert [problem.field for problem in refusals] == ["name"]
    assert heard == []


def test_a_problem_nobody_takes_goes_to_the_message_strip(
    context: Context, settled: Callable[[], None]
) -> None:
    told: list[str] = []
    context.told.connect(lambda message: told.append((message.problem, message.text)))
    context.ask(lambda _seat: _raise(Problem("There is no {what} here.", what="valve")), print)
    settled()
    assert told == [(True, "There is no valve here.")]


def test_a_fault_of_the_program_reaches_the_excepthook(
    context: Context, settled: Callable[[], None], qtbot: QtBot
) -> None:
    with qtbot.captureExceptions() as faults:
        context.ask(lambda _seat: 1 // 0, print)
        settled()
    assert [kind for kind, *_ in faults] == [ZeroDivisionError]


def test_an_answer_for_a_page_that_is_gone_is_dropped(
    context: Context, settled: Callable[[], None], qapp: QApplication
) -> None:
    given: list[object] = []
    page = QObject()
    go_on = threading.Event()
    context.ask(lambda _seat: go_on.wait(10), given.append, owner=page)
    page.deleteLater()
    qapp.sendPostedEvents(page, 0)
    go_on.set()
    settled()
    assert given == []


def test_changed_settings_renew_the_seat_before_pages_hear_of_them(
    context: Context, settled: Callable[[], None]
) -> None:
    before = context.seat
    heard: list[bool] = []
    context.changed.connect(lambda _topics: heard.append(context.seat is not before))
    context.do(lambda seat: keep_setting(seat, Terms(payment_days=21)), changes=["settings"])
    settled()
    assert heard == [True]
    assert setting(context.seat, Terms).payment_days == 21


def test_another_person_acts_from_when_they_take_the_seat(
    context: Context, settled: Callable[[], None], qtbot: QtBot
) -> None:
    key = keep_staff(context.seat, StaffDraft("Bo Lind", Role.TECHNICIAN))
    with qtbot.waitSignal(context.seatChanged):
        context.ask(lambda seat: seat.taken_by(key), context.take_seat)
    assert context.seat.acting.name == "Bo Lind"
    assert context.may(Action.WORK)
    assert not context.may(Action.INVOICE)


def test_finishing_waits_for_changes_and_drops_questions(workers: Workers) -> None:
    done: list[str] = []
    go_on = threading.Event()
    workers.ask(lambda: go_on.wait(10) and "question", done.append, _raise)
    for number in range(3):
        workers.do(lambda n=number: f"change {n}", done.append, _raise)
    threading.Timer(0.05, go_on.set).start()
    assert workers.finish()
    assert done == ["change 0", "change 1", "change 2"]
    workers.ask(lambda: "after", done.append, _raise)


@pytest.mark.parametrize("count", [1, 40])
def test_the_number_of_waiting_answers_returns_to_none(
    workers: Workers, settled: Callable[[], None], count: int
) -> None:
    busy: list[int] = []
    workers.busyChanged.connect(busy.append)
    for _ in range(count):
        workers.ask(lambda: None, lambda _none: None, _raise)
    settled()
    assert max(busy) == count
    assert busy[-1] == 0
