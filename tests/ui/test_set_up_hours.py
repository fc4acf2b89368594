"""Hours that learn in Set-up: a proposal is explained, taken or left, and the catalogue's hours come back."""

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from shopdesk.domain.answers import Answer
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Evidence
from shopdesk.services import bench, learning, work_orders
from shopdesk.services.intake import JobDraft, RangeDraft, take_on
from shopdesk.services.seat import Seat
from shopdesk.services.walks import answer, finish, open_walk
from shopdesk.ui.context import Context
from shopdesk.ui.pages.set_up.hours_section import HoursSection
from shopdesk.ui.pages.set_up.page import SetUpPage

Settled = Callable[[], None]
CODE = "receive-range"


@pytest.fixture
def section(context: Context, seat: Seat, qtbot: QtBot, settled: Settled) -> HoursSection:
    for _ in range(5):
        _slow_job(seat)
    page = SetUpPage(context)
    qtbot.addWidget(page)
    context.changed.connect(page.refresh)
    page.resize(1200, 800)
    page.show()
    page.refresh(SetUpPage.everything)
    made = page.section("hours")
    settled()
    assert isinstance(made, HoursSection)
    return made


def _slow_job(seat: Seat) -> None:
    """A range of the shop's own whose first task took three times what the catalogue says."""
    taken = take_on(seat, RangeDraft(maker="Corvane"), JobDraft())
    walk_id = open_walk(seat, taken.job_id, place="In the shop")
    answer(seat, walk_id, Answer(seat.catalogue.walk(Build())[0].code, None, evidence=Evidence.SEEN))
    finish(seat, walk_id)
    work_orders.write_order(seat, taken.job_id)
    task = next(t for t in work_orders.task_lines(seat, taken.job_id) if t.code == CODE)
    bench.log_minutes(seat, task.id, task.minutes.likely * 3)
    bench.cautions.acknowledge(seat, task.id)
    bench.tick(seat, task.id)


def test_a_proposal_says_where_it_comes_from_is_taken_and_given_back(
    section: HoursSection, qtbot: QtBot, settled: Settled, context: Context, seat: Seat
) -> None:
    shipped = seat.catalogue.tasks[CODE].minutes
    (proposal,) = learning.proposals(seat)
    assert section.proposals.current_key() == CODE
    assert "5 jobs took 3.0 times" in section.sentence.text()
    qtbot.mouseClick(section.take_button, Qt.MouseButton.LeftButton)
    settled()
    assert context.seat.catalogue.tasks[CODE].minutes == proposal.proposed
    assert section.proposals.model.rowCount() == 0
    assert not section.take_button.isVisible()
    section.own.select(CODE)
    qtbot.mouseClick(section.back_button, Qt.MouseButton.LeftButton)
    settled()
    assert context.seat.catalogue.tasks[CODE].minutes == shipped
    assert "Ida Kessler" in section.pace.text()


def test_a_proposal_that_is_left_changes_nothing(
    section: HoursSection,
    qtbot: QtBot,
    settled: Settled,
    context: Context,
    seat: Seat,
    unnamed: Callable[[object], list[object]],
) -> None:
    assert unnamed(section) == []
    shipped = seat.catalogue.tasks[CODE].minutes
    qtbot.mouseClick(section.leave_button, Qt.MouseButton.LeftButton)
    settled()
    assert context.seat.catalogue.tasks[CODE].minutes == shipped
    assert learning.proposals(seat) == []
    assert section.proposals.empty.isVisible()
