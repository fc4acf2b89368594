"""The drawing as a widget, the small picture for list rows, and the stage strip beside it."""

import itertools
from math import hypot

import pytest
from PySide6.QtCore import QPoint, QRectF, Qt
from PySide6.QtGui import QAccessible, QColor, QImage, QPainter, QStandardItem, QStandardItemModel
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QListView, QPushButton, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from shopdesk.domain.build import Build
from shopdesk.drawing import compose, place_pins
from shopdesk.ui.look import SCHEMES
from shopdesk.ui.widgets.part_list import PartList
from shopdesk.ui.widgets.range_drawing import RangeDrawing
from shopdesk.ui.widgets.range_painting import least_pin, paint_drawing, paint_small, readable_pins
from shopdesk.ui.widgets.stage_strip import (
    ASIDE,
    ROAD,
    STAGE_ROLE,
    StageDelegate,
    StageShown,
    StageStrip,
    paint_stage,
    strip_size,
)

BUILD = Build(griddle=True, clock=True, window=True)


@pytest.fixture
def shown(qtbot: QtBot) -> RangeDrawing:
    widget = RangeDrawing()
    qtbot.addWidget(widget)
    widget.resize(700, 800)
    drawing = compose(BUILD, "front")
    widget.setDrawing(drawing)
    widget.setPins(
        place_pins(drawing, [(1, "clock", "serious"), (2, "oven-floor", "grave")], hidden_too=True)
    )
    widget.show()
    widget.activateWindow()
    qtbot.waitActive(widget)
    widget.setFocus()
    return widget


@pytest.mark.parametrize("part", ["clock", "oven-window", "griddle", "broiler-door", "thermostat", "badge"])
def test_a_click_on_a_part_tells_that_part(qtbot: QtBot, shown: RangeDrawing, part: str) -> None:
    with qtbot.waitSignal(shown.partActivated) as told:
        QTest.mouseClick(shown, Qt.MouseButton.LeftButton, pos=shown.pointOf(part).toPoint())
    assert told.args == [part]
    assert shown.currentPart() == part


def test_a_click_beside_the_range_tells_nothing(qtbot: QtBot, shown: RangeDrawing) -> None:
    with qtbot.assertNotEmitted(shown.partActivated):
        QTest.mouseClick(shown, Qt.MouseButton.LeftButton, pos=QPoint(3, 3))


def test_a_click_on_a_pin_tells_the_part_it_is_about(qtbot: QtBot, shown: RangeDrawing) -> None:
    drawing = compose(BUILD, "front")
    (pin,) = place_pins(drawing, [(1, "oven-floor", "grave")], hidden_too=True)
    shown.setPins([pin])
    door, on_it = shown.pointOf("oven-door"), drawing.part("oven-door")
    assert on_it is not None
    with qtbot.waitSignal(shown.partActivated) as told:
        QTest.mouseClick(shown, Qt.MouseButton.LeftButton, pos=door.toPoint())
    assert told.args == ["oven-floor"]
    assert shown.currentPart() == "oven-door"


def test_tab_goes_through_all_parts_and_then_on(qtbot: QtBot) -> None:
    window = QWidget()
    qtbot.addWidget(window)
    layout = QVBoxLayout(window)
    drawing, after = RangeDrawing(), QPushButton("after")
    layout.addWidget(drawing)
    layout.addWidget(after)
    drawing.setDrawing(compose(BUILD, "top"))
    window.show()
    window.activateWindow()
    qtbot.waitActive(window)
    drawing.setFocus()
    qtbot.waitUntil(drawing.hasFocus)
    seen = [drawing.currentPart()]
    for _ in range(len(drawing.parts()) - 1):
        QTest.keyClick(drawing, Qt.Key.Key_Tab)
        seen.append(drawing.currentPart())
    assert seen == drawing.parts()
    QTest.keyClick(drawing, Qt.Key.Key_Tab)
    assert after.hasFocus()
    QTest.keyClick(after, Qt.Key.Key_Tab, Qt.KeyboardModifier.ShiftModifier)
    assert drawing.hasFocus()


def test_arrows_move_the_way_they_point_and_enter_tells(qtbot: QtBot, shown: RangeDrawing) -> None:
    shown.setCurrentPart("clock")
    before = shown.pointOf("clock")
    QTest.keyClick(shown, Qt.Key.Key_Down)
    below = shown.currentPart()
    assert shown.pointOf(below).y() > before.y()
    QTest.keyClick(shown, Qt.Key.Key_Up)
    assert shown.pointOf(shown.currentPart()).y() < shown.pointOf(below).y()
    QTest.keyClick(shown, Qt.Key.Key_Home)
    assert shown.currentPart() == shown.parts()[0]
    QTest.keyClick(shown, Qt.Key.Key_End)
    with qtbot.waitSignal(shown.partActivated) as told:
        QTest.keyClick(shown, Qt.Key.Key_Return)
    assert told.args == [shown.parts()[-1]]


def test_a_screen_reader_gets_the_view_and_the_part_with_its_pins(shown: RangeDrawing) -> None:
    shown.setCurrentPart("oven-door")
    face = QAccessible.queryAccessibleInterface(shown)
    assert face.text(QAccessible.Text.Name) == "Front of the range"
    assert face.text(QAccessible.Text.Description) == "Oven door: 2 grave"


def test_the_list_of_parts_keeps_step_with_the_drawing(qtbot: QtBot, shown: RangeDrawing) -> None:
    parts = PartList(shown)
    qtbot.addWidget(parts)
    assert parts.count() == len(shown.parts())
    shown.setCurrentPart("clock")
    assert parts.currentItem().text() == "Clock: 1 serious"
    row = shown.parts().index("griddle")
    parts.setCurrentRow(row)
    assert shown.currentPart() == "griddle"
    with qtbot.waitSignal(shown.partActivated) as told:
        parts.itemActivated.emit(parts.item(row))
    assert told.args == ["griddle"]
    shown.setDrawing(compose(BUILD, "top"))
    parts.refresh()
    assert parts.count() == len(shown.parts())


def test_the_focused_part_stays_when_the_new_view_has_it(shown: RangeDrawing) -> None:
    shown.setCurrentPart("griddle")
    shown.setDrawing(compose(BUILD, "top"))
    assert shown.currentPart() == "griddle"
    shown.setDrawing(compose(BUILD, "oven"))
    assert shown.currentPart() == ""


def test_hovering_marks_the_part_and_leaving_clears_it(qtbot: QtBot, shown: RangeDrawing) -> None:
    shown.setCurrentPart("badge")
    plain = shown.grab().toImage()
    QTest.mouseMove(shown, shown.pointOf("griddle").toPoint())
    qtbot.waitUntil(lambda: shown.cursor().shape() == Qt.CursorShape.PointingHandCursor)
    assert shown.grab().toImage() != plain


def canvas(width: int, height: int) -> tuple[QImage, QPainter]:
    image = QImage(width, height, QImage.Format.Format_RGB32)
    image.fill(QColor(SCHEMES["light"].base))
    return image, QPainter(image)


def test_severities_differ_in_shape_and_not_only_in_colour(qtbot: QtBot) -> None:
    drawing = compose(BUILD, "front")
    grey = []
    for severity in ("none", "minor", "serious", "grave"):
        image, painter = canvas(400, 400)
        pins = place_pins(drawing, [(1, "oven-door", severity)])
        paint_drawing(painter, QRectF(image.rect()), drawing, pins, SCHEMES["light"])
        painter.end()
        grey.append(image.convertToFormat(QImage.Format.Format_Mono))
    assert all(one != other for n, one in enumerate(grey) for other in grey[n + 1 :])


def test_the_small_picture_stays_in_its_cell_and_shows_its_pins(qtbot: QtBot) -> None:
    drawing = compose(BUILD, "front")
    pins = place_pins(drawing, [(1, "oven-door", "grave"), (2, "knobs", "serious")])
    pictures = []
    for shown_pins in ((), pins):
        image, painter = canvas(120, 100)
        paint_small(painter, QRectF(30, 20, 60, 60), drawing, shown_pins, SCHEMES["light"])
        painter.end()
        ground = QColor(SCHEMES["light"].base)
        edges = [image.pixelColor(x, y) for x in range(120) for y in (0, 5, 94, 99)]
        assert all(dot == ground for dot in edges)
        pictures.append(image)
    assert pictures[0] != pictures[1]


@pytest.mark.parametrize("stage", [*ROAD, *ASIDE])
def test_every_stage_has_a_strip_of_its_own(qtbot: QtBot, stage: str) -> None:
    def strip(word: str) -> QImage:
        image, painter = canvas(150, 30)  # no room for words: the strip alone must differ
        paint_stage(painter, QRectF(0, 0, 150, 30), StageShown(word), SCHEMES["light"])
        painter.end()
        return image.copy(0, 0, 62, 30)

    assert all(strip(stage) != strip(other) for other in (*ROAD, *ASIDE) if other != stage)


def test_the_strip_says_in_words_what_it_shows(qtbot: QtBot) -> None:
    strip = StageStrip()
    qtbot.addWidget(strip)
    strip.setShown(StageShown("on the bench", "part"))
    assert strip.accessibleName() == "Stage: on the bench, held for part"
    assert "%" not in strip.accessibleName()
    assert strip.sizeHint().width() > strip_size(StageShown("on the bench"), strip.font()).width()


def test_the_shops_own_range_skips_quoted_and_agreed(qtbot: QtBot) -> None:
    images = []
    for owned in (False, True):
        image, painter = canvas(300, 30)
        paint_stage(painter, QRectF(0, 0, 300, 30), StageShown("ready", owned=owned), SCHEMES["light"])
        painter.end()
        images.append(image)
    assert images[0] != images[1]


def test_the_delegate_draws_the_strip_in_a_list_and_keeps_the_words(qtbot: QtBot) -> None:
    model = QStandardItemModel()
    for stage in ("inspected", "proving"):
        shown = StageShown(stage, "proof")
        item = QStandardItem(shown.words())
        item.setData(shown, STAGE_ROLE)
        model.appendRow(item)
    view = QListView()
    qtbot.addWidget(view)
    view.setModel(model)
    plain = view.grab().toImage()
    delegate = StageDelegate(view)
    view.setItemDelegate(delegate)
    view.resize(400, 200)
    view.show()
    assert view.grab().toImage() != plain
    assert view.sizeHintForIndex(model.index(0, 0)).width() > 200
    assert model.index(1, 0).data() == "proving, held for proof"


def test_larger_text_makes_larger_pins_and_they_stay_apart() -> None:
    drawing = compose(Build(), "front")
    pins = place_pins(drawing, [(1, "knobs", "grave"), (2, "knobs", "minor"), (3, "oven-door", "serious")])
    scale = 0.3
    for height in (16, 32):
        shown, half = readable_pins(drawing, pins, scale, least_pin(height))
        assert half * scale >= 0.4 * height
        for one, other in itertools.combinations(shown, 2):
            assert hypot(one.x - other.x, one.y - other.y) >= 2 * half
