"""Lists: selection and scroll over a refresh, the keyboard, sorting, remembered columns, words when empty."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QPersistentModelIndex, Qt
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from shopdesk.ui.memory import Memory
from shopdesk.ui.view import View
from shopdesk.ui.widgets.list_table import ListTable
from shopdesk.ui.widgets.rows import Column, Rows
from shopdesk.ui.widgets.search_field import SearchField


@dataclass(frozen=True)
class Line:
    id: int
    words: str
    cents: int | None = 0


COLUMNS = (
    Column("id", "Number", lambda row: f"R-{row.id:04}", sort=lambda row: row.id),
    Column("words", "What", lambda row: row.words, stretch=True),
    Column("cents", "Money", lambda row: str(row.cents), figures=True, sort=lambda row: row.cents),
)


def lines(*numbers: int) -> list[Line]:
    return [Line(number, f"range {number}", number * 100) for number in numbers]


@pytest.fixture
def table(qtbot: QtBot) -> ListTable:
    made = ListTable(
        "Ranges", COLUMNS, lambda row: row.id, empty="Ranges you book in will stand here.",
        first=("Book a range in", lambda: done.append("book in")), several=True,
    )  # fmt: skip
    done: list[str] = []
    made.done = done  # type: ignore[attr-defined]
    qtbot.addWidget(made)
    made.resize(500, 260)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    return made


def keys(table: ListTable) -> list[Any]:
    return [table.model.key_at(place) for place in range(table.model.rowCount())]


def test_selection_current_row_and_scroll_survive_a_refresh(table: ListTable) -> None:
    table.show_rows(lines(*range(1, 60)))
    table.select(40)
    bar = table.view.verticalScrollBar()
    bar.setValue(bar.value() + 7)
    before = bar.value()
    resets: list[bool] = []
    table.model.modelReset.connect(lambda: resets.append(True))
    changed = [Line(line.id, "now with a note", line.cents) for line in lines(*range(1, 60))]
    table.show_rows(changed)
    assert table.current_key() == 40
    assert [row.words for row in table.selected()] == ["now with a note"]
    assert bar.value() == before
    assert not resets


def test_the_chosen_row_stays_chosen_when_others_come_go_and_move(table: ListTable) -> None:
    table.show_rows(lines(1, 2, 3, 4, 5))
    table.select(3)
    table.show_rows(lines(9, 5, 3, 1, 7))
    assert keys(table) == [9, 5, 3, 1, 7]
    assert table.current_key() == 3
    assert [row.id for row in table.selected()] == [3]


def test_a_chosen_row_that_is_gone_is_told(table: ListTable, qtbot: QtBot) -> None:
    told: list[Any] = []
    table.chosen.connect(told.append)
    table.show_rows(lines(1, 2))
    table.select(2)
    table.show_rows([])
    assert told[-2:] == [2, None]
    assert table.current() is None


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(before=st.lists(st.integers(0, 12), unique=True), after=st.lists(st.integers(0, 12), unique=True))
def test_from_any_rows_to_any_rows_every_kept_index_follows_its_row(
    qapp: object, before: list[int], after: list[int]
) -> None:
    model = Rows(COLUMNS, lambda row: row.id)
    tester = QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Fatal)
    model.show(lines(*before))
    kept = {key: QPersistentModelIndex(model.index(place, 1)) for place, key in enumerate(before)}
    model.show(lines(*after))
    assert [model.row(place).id for place in range(model.rowCount())] == after
    for key, index in kept.items():
        assert index.isValid() == (key in after)
        if index.isValid():
            assert model.key_at(index.row()) == key
    tester.deleteLater()


def test_return_and_double_click_open_the_row(table: ListTable, qtbot: QtBot) -> None:
    opened: list[Any] = []
    table.opened.connect(opened.append)
    table.show_rows(lines(1, 2, 3))
    table.focusFirst()
    assert table.view.hasFocus()
    qtbot.keyClick(table.view, Qt.Key.Key_Down)
    qtbot.keyClick(table.view, Qt.Key.Key_Return)
    place = table.view.visualRect(table.model.index(2, 0)).center()
    qtbot.mouseClick(table.view.viewport(), Qt.MouseButton.LeftButton, pos=place)
    qtbot.mouseDClick(table.view.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert opened == [2, 3]


def test_an_empty_list_says_what_will_stand_there_and_offers_the_first_action(
    table: ListTable, qtbot: QtBot
) -> None:
    assert table.empty.isVisible()
    assert not table.view.isVisible()
    table.focusFirst()
    assert table.empty.button is not None
    assert table.empty.button.hasFocus()
    qtbot.keyClick(table.empty.button, Qt.Key.Key_Space)
    assert table.done == ["book in"]  # type: ignore[attr-defined]
    table.show_rows(lines(1))
    assert table.view.isVisible()
    assert table.view.hasFocus(), "the keyboard goes on to what replaced the button"


def test_a_heading_sorts_up_down_and_back_with_empty_values_last(table: ListTable, qtbot: QtBot) -> None:
    table.show_rows([Line(2, "b", 5), Line(1, "a", None), Line(3, "c", 9)])
    table.select(1)
    orders = []
    for _ in range(3):
        table.view.horizontalHeader().sectionClicked.emit(2)
        orders.append(keys(table))
    assert orders == [[2, 3, 1], [3, 2, 1], [2, 1, 3]]
    assert table.current_key() == 1
    table.view.horizontalHeader().sectionClicked.emit(1)
    assert keys(table) == [2, 1, 3], "a column without an order does nothing"


def test_column_widths_come_back_with_the_next_window(qtbot: QtBot, memory: Memory) -> None:
    def made() -> ListTable:
        table = ListTable(
            "Ranges", COLUMNS, lambda row: row.id, empty="Nothing.", memory=memory, remembered="floor/ranges"
        )
        qtbot.addWidget(table)
        table.show_rows(lines(1))
        table.show()
        return table

    made().view.horizontalHeader().resizeSection(0, 187)
    assert made().view.horizontalHeader().sectionSize(0) == 187


def test_rows_and_columns_grow_with_the_text(table: ListTable, view: View) -> None:
    table.show_rows(lines(1, 2))
    height, width = table.view.rowHeight(0), table.view.columnWidth(0)
    view.choose_scale(2.0)
    assert table.view.rowHeight(0) > height * 1.6
    assert table.view.columnWidth(0) > width * 1.6


def test_a_screen_reader_can_name_the_list(table: ListTable, unnamed: Callable[[QWidget], list[Any]]) -> None:
    table.show_rows(lines(1))
    assert unnamed(table) == []
    assert table.view.accessibleName() == "Ranges"


def test_the_search_follows_the_typing_and_leads_on_to_the_list(table: ListTable, qtbot: QtBot) -> None:
    field = SearchField("Find a range", table)
    qtbot.addWidget(field)
    table.show_rows(lines(1, 2))
    searched: list[str] = []
    field.searched.connect(searched.append)
    qtbot.keyClicks(field, " oven ")
    qtbot.waitUntil(lambda: searched == ["oven"])
    qtbot.keyClick(field, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: searched == ["oven", ""])
    with qtbot.waitActive(table):
        table.activateWindow()
    qtbot.keyClicks(field, "x")
    qtbot.keyClick(field, Qt.Key.Key_Down)
    assert searched == ["oven", "", "x"]
    assert table.view.hasFocus()


def test_what_it_was_sorted_by_is_remembered_until_it_is_sorted_by_nothing(
    qtbot: QtBot, memory: Memory
) -> None:
    def made() -> ListTable:
        table = ListTable(
            "Ranges", COLUMNS, lambda row: row.id, empty="Nothing.", memory=memory, remembered="test/sorted"
        )
        qtbot.addWidget(table)
        table.show_rows(lines(1, 3, 2))
        return table

    first = made()
    for _ in range(2):
        first.view.horizontalHeader().sectionClicked.emit(2)
    assert keys(first) == [3, 2, 1]
    assert keys(made()) == [3, 2, 1]
    first.view.horizontalHeader().sectionClicked.emit(2)
    assert keys(made()) == [1, 3, 2]


def test_where_the_width_ends_the_last_columns_go_and_come_again(table: ListTable, qtbot: QtBot) -> None:
    table.show_rows(lines(1, 2))
    header = table.view.horizontalHeader()
    table.resize(900, 260)
    assert not header.isSectionHidden(2)
    table.resize(260, 260)
    assert header.isSectionHidden(2)
    assert not header.isSectionHidden(0)
    qtbot.waitUntil(lambda: table.view.horizontalScrollBar().maximum() == 0)
    table.resize(900, 260)
    assert not header.isSectionHidden(2)


def test_the_menu_of_a_row_is_filled_for_the_current_one_and_not_shown_empty(
    table: ListTable, qtbot: QtBot
) -> None:
    table.show_rows(lines(1, 2))
    table.select(2)
    asked: list[int] = []
    table.menuAsked.connect(lambda row, _menu: asked.append(row.id))
    table.view.customContextMenuRequested.emit(table.view.rect().center())
    assert asked == [2]
