"""Forms and fields: what people type, what is wrong beside its field, and drafts that keep themselves."""

import datetime as dt
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QAccessible, QWheelEvent
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from shopdesk.domain.problem import Problem
from shopdesk.ui.drafts import Drafts
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import (
    ChoiceField,
    CountField,
    DayField,
    HoursField,
    MeasureField,
    MoneyField,
    NoteField,
    NumberField,
    PercentField,
    TextField,
    TickField,
)
from shopdesk.ui.widgets.form import Form
from shopdesk.wording import Region
from shopdesk.wording.measures import PRESSURE

US = Region()
METRIC = Region("de_DE", "EUR", "metric", "a4", "Europe/Berlin")


@pytest.fixture
def form(qtbot: QtBot) -> Form:
    made = Form(columns=2)
    made.add("name", "&Name", TextField(), required="Write the customer's name.")
    made.add("asking", "&Asking price", MoneyField(US), note="What the seller asks")
    made.add("hours", "&Hours", HoursField(US))
    made.add("promised", "&Promised", DayField(US))
    made.add("deposit", "Deposit", PercentField(US, whole=True))
    made.add("pieces", "Pieces", CountField(0, 20))
    made.add("purpose", "Purpose", ChoiceField([("full", "Full restoration"), ("donor", "Donor")]))
    made.add("well", "", TickField("Deep well"))
    made.add("note", "Note", NoteField(), wide=True)
    qtbot.addWidget(made)
    return made


def shown(form: Form, qtbot: QtBot) -> None:
    with qtbot.waitActive(form):
        form.show()
        form.activateWindow()


def problem_beside(form: Form, name: str) -> str:
    return form._entries[name].problem.text()


@pytest.mark.parametrize(
    ("make", "typed", "value"),
    [
        (lambda: MoneyField(US), "$1,234.5", 123450),
        (lambda: MoneyField(METRIC), "1.234,50", 123450),
        (lambda: HoursField(US), "1:30", 90),
        (lambda: HoursField(US), "1.5h", 90),
        (lambda: HoursField(US), "90m", 90),
        (lambda: DayField(US), "11/25/2026", dt.date(2026, 11, 25)),
        (lambda: DayField(METRIC), "25.11.26", dt.date(2026, 11, 25)),
        (lambda: PercentField(US), "8.25 %", Decimal("8.25")),
        (lambda: PercentField(US, whole=True), "30", 30),
        (lambda: NumberField(METRIC), "3,5", 3.5),
        (lambda: MeasureField(US, PRESSURE), "4", 4.0),
    ],
)
def test_a_field_reads_what_people_type_and_writes_it_the_shops_way(
    qtbot: QtBot, make: Callable[[], Any], typed: str, value: Any
) -> None:
    field = make()
    qtbot.addWidget(field)
    assert field.value() is None
    field.setText(typed)
    assert field.value() == value
    field.setValue(value)
    assert field.value() == value
    field.setValue(None)
    assert field.text() == ""


def test_a_metric_shop_reads_its_own_unit_and_keeps_the_common_one(qtbot: QtBot) -> None:
    # 1013.25 mbar = 406.782 in w.c. (the standard atmosphere in both units)
    field = MeasureField(METRIC, PRESSURE)
    qtbot.addWidget(field)
    field.setText("20 mbar")
    assert field.value() == pytest.approx(20 * 406.782 / 1013.25)


def test_saving_shows_every_problem_and_puts_the_keyboard_in_the_first(form: Form, qtbot: QtBot) -> None:
    saved: list[dict[str, Any]] = []
    button = form.on_save("&Book in", saved.append)
    shown(form, qtbot)
    form["asking"].setText("12x")
    form["promised"].setText("31 Feb 2026")
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert saved == []
    assert button.isEnabled()
    assert problem_beside(form, "name") == "Write the customer's name."
    assert "12x" in problem_beside(form, "asking")
    assert problem_beside(form, "promised")
    assert form["name"].hasFocus()
    assert form["asking"].text() == "12x", "typed text is kept"
    assert "12x" in form["asking"].accessibleDescription()


def test_a_form_without_problems_hands_all_values_over(form: Form, qtbot: QtBot) -> None:
    saved: list[dict[str, Any]] = []
    form.on_save("&Book in", saved.append)
    shown(form, qtbot)
    qtbot.keyClicks(form["name"], "  Ruiz & Søn <b> ")
    qtbot.keyClicks(form["hours"], "2")
    form["purpose"].setValue("donor")
    form["well"].setChecked(True)
    qtbot.keyClick(form["hours"], Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert saved == [
        {
            "name": "Ruiz & Søn <b>", "asking": None, "hours": 120, "promised": None, "deposit": None,
            "pieces": 0, "purpose": "donor", "well": True, "note": "",
        }
    ]  # fmt: skip


def test_editing_a_field_takes_its_problem_away_and_no_other(form: Form, qtbot: QtBot) -> None:
    shown(form, qtbot)
    form["asking"].setText("12x")
    form.values()
    qtbot.keyClicks(form["name"], "I")
    assert problem_beside(form, "name") == ""
    assert problem_beside(form, "asking") != ""


def test_a_field_left_unreadable_says_so_and_one_left_readable_is_tidied(form: Form, qtbot: QtBot) -> None:
    shown(form, qtbot)
    form["asking"].setFocus()
    qtbot.keyClicks(form["asking"], "$1234.5")
    form["hours"].setFocus()
    qtbot.keyClicks(form["hours"], "soon")
    form["name"].setFocus()
    assert form["asking"].text() == "1,234.50"
    assert form["hours"].text() == "soon"
    assert "soon" in problem_beside(form, "hours")


def test_a_services_refusal_stands_beside_the_field_it_names(form: Form, qtbot: QtBot) -> None:
    shown(form, qtbot)
    form.show_problem(Problem("An asking price is zero or more.", field="asking"))
    assert problem_beside(form, "asking") == "An asking price is zero or more."
    assert form["asking"].hasFocus()
    form.show_problem(Problem("{number} was booked in already.", number="R-0007"))
    assert form._whole.text() == "R-0007 was booked in already."


def test_the_wheel_in_passing_changes_no_field(form: Form, qtbot: QtBot) -> None:
    shown(form, qtbot)
    form["pieces"].setValue(3)
    for name in ("pieces", "purpose"):
        wheel = QWheelEvent(
            QPointF(5, 5), QPointF(5, 5), QPoint(0, 120), QPoint(0, 120), Qt.MouseButton.NoButton,
            Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
        )  # fmt: skip
        QApplication.sendEvent(form[name], wheel)
        assert not wheel.isAccepted()
    assert form["pieces"].value() == 3
    assert form["purpose"].value() == "full"


def test_alt_letters_lead_to_their_fields(form: Form, qtbot: QtBot) -> None:
    shown(form, qtbot)
    qtbot.keyClick(form, Qt.Key.Key_H, Qt.KeyboardModifier.AltModifier)
    assert form["hours"].hasFocus()


def test_escape_gives_a_parsed_field_back_what_stood_there(form: Form, qtbot: QtBot) -> None:
    shown(form, qtbot)
    form["asking"].setValue(50000)
    form["asking"].setFocus()
    qtbot.keyClicks(form["asking"], "7")
    qtbot.keyClick(form["asking"], Qt.Key.Key_Escape)
    assert form["asking"].value() == 50000


def test_a_screen_reader_hears_label_note_and_problem(
    form: Form, qtbot: QtBot, unnamed: Callable[[QWidget], list[Any]]
) -> None:
    form.on_save("&Book in", print)
    form.add_button(Button("Put it aside", lambda: None))
    assert unnamed(form) == []
    spoken = QAccessible.queryAccessibleInterface(form["asking"])
    assert spoken.text(QAccessible.Text.Name) == "Asking price"
    assert spoken.text(QAccessible.Text.Description) == "What the seller asks"
    assert form["well"].accessibleName() == "Deep well"


def test_what_is_typed_comes_back_as_a_draft_until_it_is_saved(qtbot: QtBot, tmp_path: Path) -> None:
    def typed_form(drafts: Drafts) -> Form:
        made = Form()
        made.add("name", "Name", TextField())
        made.add("asking", "Asking", MoneyField(US))
        made.add("note", "Note", NoteField())
        made.add("pieces", "Pieces", CountField())
        made.add("well", "", TickField("Deep well"))
        made.add("purpose", "Purpose", ChoiceField([("full", "Full"), ("donor", "Donor")]))
        made.remember(drafts, "intake/new")
        qtbot.addWidget(made)
        return made

    file = tmp_path / "drafts.json"
    drafts = Drafts(file)
    form = typed_form(drafts)
    form["purpose"].setValue("donor")
    form["pieces"].setValue(4)
    form["well"].click()
    qtbot.keyClicks(form["name"], "Ida")
    qtbot.keyClicks(form["asking"], "12x")
    drafts.write()
    drafts = Drafts(file)
    again = typed_form(drafts)
    assert again["name"].value() == "Ida"
    assert again["asking"].text() == "12x"
    assert again["pieces"].value() == 4
    assert again["well"].value() is True
    assert again["purpose"].value() == "donor"
    again.saved()
    drafts.write()
    assert not file.exists()
    assert typed_form(Drafts(file))["name"].value() == ""


@pytest.mark.parametrize("text", ["", "{", "[1, 2]", '{"a": 3}', "\x00"])
def test_a_damaged_drafts_file_costs_the_drafts_only(qtbot: QtBot, tmp_path: Path, text: str) -> None:
    file = tmp_path / "drafts.json"
    file.write_text(text, encoding="utf-8")
    drafts = Drafts(file)
    assert drafts.kept("a") == {}
    drafts.keep("b", {"name": "Ida"})
    drafts.write()
    assert Drafts(file).kept("b") == {"name": "Ida"}


def test_a_disk_that_refuses_drafts_does_not_stop_the_work(qtbot: QtBot, tmp_path: Path) -> None:
    drafts = Drafts(tmp_path / "no such folder" / "drafts.json")
    drafts.keep("a", {"name": "Ida"})
    drafts.write()
    assert drafts.kept("a") == {"name": "Ida"}


def test_a_wrapped_problem_has_room_for_all_its_lines(qtbot: QtBot) -> None:
    form = Form()
    form.add("asking", "Asking", MoneyField(US))
    qtbot.addWidget(form)
    form.resize(180, 200)
    with qtbot.waitExposed(form):
        form.show()
    form["asking"].setText("twelve dollars or so")
    form.values()
    label = form._entries["asking"].problem
    line = label.fontMetrics().height()
    qtbot.waitUntil(lambda: label.height() >= label.heightForWidth(label.width()) > line * 1.5)


def test_choices_keep_what_was_chosen_when_they_are_renewed(qtbot: QtBot) -> None:
    field = ChoiceField([(1, "one"), (2, "two")], 2)
    qtbot.addWidget(field)
    field.setChoices([(3, "three"), (2, "two")])
    assert field.value() == 2
    field.setChoices([(3, "three")])
    assert field.value() == 3
    field.setChoices([])
    assert field.value() is None


def test_a_note_leaves_by_tab(form: Form, qtbot: QtBot) -> None:
    button = form.on_save("&Book in", print)
    shown(form, qtbot)
    form["note"].setFocus()
    qtbot.keyClicks(form["note"], "burner")
    qtbot.keyClick(form["note"], Qt.Key.Key_Tab)
    assert form["note"].value() == "burner"
    assert button.hasFocus()


def test_the_text_scale_reaches_fields_that_were_made_before(form: Form, qtbot: QtBot, view: Any) -> None:
    shown(form, qtbot)
    before = form["note"].minimumHeight()
    view.choose_scale(2.0)
    QApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest)
    assert form["note"].minimumHeight() > before * 1.5
    assert form._entries["asking"].problem.font().pointSizeF() == QApplication.font().pointSizeF()
