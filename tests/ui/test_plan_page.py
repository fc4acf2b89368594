"""The Plan in a real window on a real shop: planned, walked by keys, pinned, asked before it holds."""

import datetime as dt
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from copied_shop import MadeShop, make_shop
from fixed_clock import FixedClock
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from shopdesk.services.planning import appointments, hours, making, plans, promises
from shopdesk.services.planning.making import make_plan
from shopdesk.services.planning.picture import picture
from shopdesk.services.planning.plans import keep_plan
from shopdesk.services.seat import Seat
from shopdesk.ui.context import Context
from shopdesk.ui.pages.plan.page import PlanPage
from shopdesk.ui.pages.plan.words import first_of

Settled = Callable[[], None]


@pytest.fixture(scope="module")
def made_shop(tmp_path_factory: pytest.TempPathFactory) -> MadeShop:
    """A shop at work with a plan in force."""
    made = make_shop(tmp_path_factory.mktemp("plan") / "shop.db")
    seat = made.copy(tmp_path_factory.mktemp("planned") / "shop.db", FixedClock())
    keep_plan(seat, make_plan(seat, seconds=0.3, workers=1))
    place = Path(seat.file.url.database or "")
    seat.file.close()
    return MadeShop(place, made.work)


@pytest.fixture
def seat(made_shop: MadeShop, tmp_path: Path, clock: FixedClock) -> Iterator[Seat]:
    opened = made_shop.copy(tmp_path / "shop.db", clock)
    yield opened
    opened.file.close()


@pytest.fixture
def page(context: Context, qtbot: QtBot, settled: Settled) -> PlanPage:
    made = PlanPage(context)
    qtbot.addWidget(made)
    made.resize(1300, 800)
    made.refresh(PlanPage.everything)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    settled()
    made.focusFirst()
    context.changed.connect(made.refresh)
    return made


def press(qtbot: QtBot, page: PlanPage, *keys: Qt.Key) -> None:
    for key in keys:
        qtbot.keyClick(page.calendar.chart, key)


def test_bars_are_drawn_and_walked_with_the_arrow_keys(page: PlanPage, qtbot: QtBot) -> None:
    chart = page.calendar.chart
    assert chart.hasFocus()
    first = chart.current_bar()
    assert first is not None
    press(qtbot, page, Qt.Key.Key_Right)
    second = chart.current_bar()
    assert second is not None
    assert second.begin >= first.begin
    assert second.key != first.key
    assert second.task in page.calendar.side.title.text()
    assert second.task in chart.accessibleDescription()
    press(qtbot, page, Qt.Key.Key_Left)
    assert chart.current_bar() == first


def test_the_rows_are_sorted_by_person_station_and_range_and_the_bar_stays(
    page: PlanPage, qtbot: QtBot
) -> None:
    chart = page.calendar.chart
    before = chart.current
    names = []
    for key in (Qt.Key.Key_2, Qt.Key.Key_3, Qt.Key.Key_1):
        press(qtbot, page, key)
        names.append([row.name for row in chart.rows])
        assert chart.current == before
    assert "Bay" in names[0]
    assert names[1] == ["R-0002", "R-0001"]  # by promised day
    assert {"Ida Kessler", "Bram Tollgate"} <= set(names[2])


def test_plus_and_minus_zoom_from_a_day_to_half_a_year(page: PlanPage, qtbot: QtBot) -> None:
    chart = page.calendar.chart
    press(qtbot, page, *[Qt.Key.Key_Plus] * 30)
    assert chart.zoom_words() == "one day across"
    press(qtbot, page, *[Qt.Key.Key_Minus] * 60)
    assert "months across" in chart.zoom_words()
    chart.grab()  # paints at this zoom without a warning


def test_zooming_keeps_the_chosen_bar_in_sight_and_the_span_says_what_is_shown(
    page: PlanPage, qtbot: QtBot
) -> None:
    calendar, chart = page.calendar, page.calendar.chart
    chart.show_days(31)
    assert calendar.span.value() == 31
    press(qtbot, page, Qt.Key.Key_Right, Qt.Key.Key_Plus)
    assert calendar.span.value() is None
    press(qtbot, page, *[Qt.Key.Key_Plus] * 30)
    bar = chart.current_bar()
    assert bar is not None
    begin = bar.begin * chart.pixels - chart.horizontalScrollBar().value()
    assert 0 <= begin <= chart.viewport().width()


def test_a_long_list_shows_its_beginning_and_how_many_more_there_are() -> None:
    sentences = [f"{n}" for n in range(20)]
    assert first_of(sentences[:9]) == sentences[:9]
    assert first_of(sentences) == [*sentences[:8], "and 12 more"]


def test_p_pins_the_bar_where_it_is_and_lets_it_go(
    page: PlanPage, seat: Seat, qtbot: QtBot, settled: Settled
) -> None:
    bar = page.calendar.chart.current_bar()
    assert bar is not None
    press(qtbot, page, Qt.Key.Key_P)
    settled()
    settled()
    assert making.gather(seat).facts.pins[bar.task_id].day == bar.begins[0]
    now = page.calendar.chart.current_bar()
    assert now is not None
    assert now.pinned
    press(qtbot, page, Qt.Key.Key_P)
    settled()
    assert making.gather(seat).facts.pins == {}


def test_return_opens_the_jacket(page: PlanPage, context: Context, qtbot: QtBot) -> None:
    with qtbot.waitSignal(context.placeAsked) as asked:
        press(qtbot, page, Qt.Key.Key_Return)
    bar = page.calendar.chart.current_bar()
    assert bar is not None
    assert asked.args == ["jacket", {"range_id": bar.range_id}]


def test_a_bar_dragged_asks_who_pays_and_holds_only_when_agreed(
    page: PlanPage, seat: Seat, qtbot: QtBot, settled: Settled
) -> None:
    calendar, chart = page.calendar, page.calendar.chart
    before = plans.kept_plan(seat)
    bars = [x.bar for row in chart.rows for x in row.laid]
    bar = next(b for b in bars if b.kind == "hand" and not b.sitting and b.half_hours >= 2)
    chart.choose(bar.key)
    row = next(row for row in chart.rows if any(x.bar.key == bar.key for x in row.laid))
    laid = next(x for x in row.laid if x.bar.key == bar.key)
    at = chart._rect(chart._tops()[chart.rows.index(row)], row, laid).center().toPoint()
    there = at + QPoint(round(chart.pixels * 2), 0)
    qtbot.mousePress(chart.viewport(), Qt.MouseButton.LeftButton, pos=at)
    qtbot.mouseMove(chart.viewport(), there)
    qtbot.mouseRelease(chart.viewport(), Qt.MouseButton.LeftButton, pos=there)
    settled()
    assert calendar.side.problem.text() == ""
    assert calendar.bar.answer.isVisible()
    assert plans.kept_plan(seat) == before
    assert making.gather(seat).facts.pins == {}
    calendar.bar.answer.agree_button.click()
    settled()
    assert making.gather(seat).facts.pins[bar.task_id].day > bar.begins[0]
    assert plans.kept_plan(seat) != before
    calendar.undo()
    settled()
    assert plans.kept_plan(seat).id == before.id  # type: ignore[union-attr]


def test_m_does_by_keyboard_what_dragging_does_and_escape_leaves_it(
    page: PlanPage, seat: Seat, qtbot: QtBot, settled: Settled
) -> None:
    press(qtbot, page, Qt.Key.Key_M)
    form = page.calendar.side.form
    assert form is not None
    form.form["day"].setValue(seat.today + dt.timedelta(days=8))
    form.form.submit()
    settled()
    answer = page.calendar.bar.answer
    assert answer.isVisible()
    assert "held on" in answer.asked.text()
    qtbot.keyClick(answer.agree_button, Qt.Key.Key_Escape)
    settled()
    assert not answer.isVisible()
    assert making.gather(seat).facts.pins == {}


def test_planning_runs_beside_the_window_and_can_be_stopped_with_the_best_kept(
    page: PlanPage, seat: Seat, qtbot: QtBot, settled: Settled
) -> None:
    before = plans.kept_plan(seat)
    page.calendar.planner.anew()
    assert page.calendar.planner.planning
    assert page.calendar.stop_button.isVisible()
    qtbot.mouseClick(page.calendar.stop_button, Qt.MouseButton.LeftButton)
    settled()
    assert not page.calendar.planner.planning
    kept = plans.kept_plan(seat)
    assert kept is not None
    assert before is not None
    assert kept.id > before.id
    assert page.calendar.undo_button.isVisible()


def test_what_has_no_place_is_named_beside_the_drawing(
    page: PlanPage, context: Context, settled: Settled
) -> None:
    assert "R-0002 waits for its quote's answer" in page.calendar.left_out.text()
    assert "not ordered" in page.calendar.assumed.text()


def test_promises_show_their_odds_and_a_changed_one_asks_for_its_reason(
    page: PlanPage, seat: Seat, settled: Settled
) -> None:
    page.go_to("promises")
    settled()
    section = page.promises
    rows = section.morning.rows if section.morning else ()
    assert [row.odds.number for row in rows] == ["R-0002", "R-0001"]
    assert section.list.select(rows[1].odds.job_id)
    settled()
    assert "%" in section.side.words.text()
    section.promise()
    settled()
    form = section.side.form
    assert form is not None
    form.form["on"].setValue(seat.today + dt.timedelta(days=90))
    form.form.submit()
    settled()
    assert section.side.form is form  # refused: it changes, and nobody said why
    form.form["why"].setValue("The plater is late.")
    form.form.submit()
    settled()
    settled()
    kept = promises.promises(seat, rows[1].odds.job_id)[0]
    assert kept.why == "The plater is late."
    assert kept.ready_80 is not None
    assert kept.note.startswith("Dear Owner of the Corvane")


def test_what_if_answers_who_pays_and_a_shut_firm_can_be_written_down(
    page: PlanPage, seat: Seat, settled: Settled
) -> None:
    page.go_to("what-if")
    settled()
    section = page.what_if
    section.question.setValue("shut")
    section._choose()
    form = section._forms["shut"]
    assert form.values() is None  # the days are asked for beside their fields
    form["trade"].setValue("plater")
    form["first_day"].setValue(seat.today)
    form["last_day"].setValue(seat.today + dt.timedelta(days=60))
    form.submit()
    settled()
    assert section.answer.isVisible()
    assert "R-0001" in section.answer.list.model.row(0).title
    section.answer.agree_button.click()
    settled()
    assert [row.kind for row in hours.away(seat)] == ["outwork"]


def test_an_appointment_and_leave_are_written_down_with_the_times_people_type(
    page: PlanPage, seat: Seat, settled: Settled
) -> None:
    page.go_to("appointments")
    settled()
    page.appointments.new()
    form = page.appointments.side.form
    assert form is not None
    form.form["minute"].setTyped("2 pm")
    form.form["minutes"].setTyped("1:30")
    form.form.submit()
    settled()
    row = appointments.appointments(seat)[0]
    assert (row.minute, row.minutes) == (14 * 60, 90)
    page.go_to("hours")
    settled()
    page.hours._open_week(page.hours.found.people[0].staff_id if page.hours.found else 0)
    week = page.hours.side.form
    assert week is not None
    week.form["own"].setValue(True)
    week.form["day 0"].setTyped("9 to 5")
    week.form.submit()
    assert page.hours.side.form is week  # it says beside Monday what it cannot read
    week.form["day 0"].setTyped("9:00-17:00")
    week.form.submit()
    settled()
    assert hours.people_hours(seat)[0].week[0] == ((540, 1020),)


def test_every_control_has_a_name(
    page: PlanPage, settled: Settled, unnamed: Callable[[QWidget], list]
) -> None:
    for name in ("promises", "what-if", "appointments", "hours", "calendar"):
        page.go_to(name)
        settled()
    assert unnamed(page) == []


def test_the_week_and_the_calendar_are_handed_out(
    page: PlanPage, context: Context, dialogs: Any, qtbot: QtBot, tmp_path: Path, settled: Settled
) -> None:
    with qtbot.waitSignal(context.paperAsked) as asked:
        page.calendar.print_week()
    assert bytes(asked.args[0]).startswith(b"%PDF")
    dialogs.file = tmp_path / "plan.ics"
    page.calendar.save_calendar()
    settled()
    assert (tmp_path / "plan.ics").read_bytes().startswith(b"BEGIN:VCALENDAR")


def test_a_desk_may_look_but_not_plan(
    seat: Seat, context: Context, qtbot: QtBot, settled: Settled, made_shop: MadeShop
) -> None:
    context.take_seat(seat.taken_by(made_shop.work.technician))
    made = PlanPage(context)
    qtbot.addWidget(made)
    made.show()
    made.refresh(PlanPage.everything)
    settled()
    assert not made.calendar.again_button.isVisible()
    assert made.calendar.chart.rows
    assert picture(context.seat).bars
