"""What a walk-round is left for: a picture that is marked, the phone's folder, where a figure comes from."""

from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot
from walk_shop import a_range

from shopdesk.domain.answers import Answer
from shopdesk.domain.catalogue.model import Evidence
from shopdesk.domain.comparing import Differs
from shopdesk.domain.gas_facts import CHECKPOINT, FINDING
from shopdesk.domain.picture_changes import MarkKind, PictureChanges
from shopdesk.services import intake, reports, walks
from shopdesk.services.comparing import compare
from shopdesk.services.photographs import as_taken
from shopdesk.services.walk_pictures import keep_picture, pictures_at
from shopdesk.ui.context import Context
from shopdesk.ui.pages.walk_round.compare_room import CompareRoom
from shopdesk.ui.pages.walk_round.page import WalkRoundPage
from shopdesk.ui.pages.walk_round.picture_room import PictureRoom
from shopdesk.ui.pages.walk_round.where_from import WhereFrom

K = Qt.Key
Quiet = Callable[[], None]


@pytest.fixture
def page(context: Context, qtbot: QtBot) -> WalkRoundPage:
    made = WalkRoundPage(context)
    qtbot.addWidget(made)
    made.resize(1200, 800)
    made.show()
    return made


@pytest.fixture
def quiet(page: WalkRoundPage, settled: Quiet, qtbot: QtBot) -> Quiet:
    def wait() -> None:
        settled()
        qtbot.waitUntil(lambda: not page.room.judging.behind, timeout=20_000)
        settled()

    return wait


@pytest.fixture
def walking(page: WalkRoundPage, context: Context, quiet: Quiet) -> int:
    """A walk-round with two answers, open in the window; its key."""
    taken = a_range(context.seat)
    walk_id = walks.open_walk(context.seat, taken.job_id)
    page.open_job(taken.job_id)
    quiet()
    return walk_id


def a_photograph(folder: Path, name: str = "rust.jpg") -> Path:
    path = folder / name
    Image.new("RGB", (400, 200), "#885533").save(path)
    return path


def reading(pdf: bytes) -> str:
    """The words of a paper."""
    return " ".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)


def _press(qtbot: QtBot, widget: QWidget, *keys: object) -> None:
    for key in keys:
        if isinstance(key, str):
            qtbot.keyClicks(widget, key)
        else:
            qtbot.keyClick(widget, key)


def test_a_picture_is_marked_cropped_and_turned_by_keyboard_and_its_original_stays(
    page: WalkRoundPage, walking: int, quiet: Quiet, qtbot: QtBot, context: Context, tmp_path: Path,
    unnamed: Callable[[QWidget], list[object]],
) -> None:  # fmt: skip
    seat, room = context.seat, page.room
    assert room.walk is not None
    code = room.walk.open
    taken_in = keep_picture(seat, walking, code, a_photograph(tmp_path).read_bytes(), "rust.jpg")
    room.read_again()
    quiet()
    _press(qtbot, room.checkpoint, "l")
    room.checkpoint.photos.list.itemActivated.emit(room.checkpoint.photos.list.item(0))
    quiet()
    shown = page._rooms.currentWidget()
    assert isinstance(shown, PictureRoom)
    assert unnamed(shown) == []
    _press(qtbot, shown.board.canvas, K.Key_Space, K.Key_Space)  # both ends at one place: told, nothing drawn
    assert shown.board.marking is not None
    assert not shown.board.marking.changed
    qtbot.keyClick(shown.board.canvas, K.Key_Space)
    for _ in range(4):
        qtbot.keyClick(shown.board.canvas, K.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    _press(qtbot, shown.board.canvas, K.Key_Space, "c", K.Key_Space)
    for _ in range(3):
        qtbot.keyClick(shown.board.canvas, K.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    _press(qtbot, shown.board.canvas, K.Key_Space, "r", K.Key_Return)
    quiet()
    assert page._rooms.currentWidget() is page._walking
    (kept,) = pictures_at(seat, walking, code)
    assert kept.id != taken_in
    found = as_taken(seat, kept.id)
    assert found.original_id == taken_in
    assert [mark.kind for mark in found.changes.marks] == [MarkKind.ARROW, MarkKind.CIRCLE]
    assert found.changes.quarter_turns == 1
    page.side.open_picture(kept.id)
    quiet()
    again = page._rooms.currentWidget()
    assert isinstance(again, PictureRoom)
    again.board._try(lambda marking: marking.as_taken())
    again.board.keep()
    quiet()
    assert [p.id for p in pictures_at(seat, walking, code)] == [taken_in]
    assert as_taken(seat, taken_in).changes == PictureChanges()


def test_facts_of_the_gas_that_disagree_stand_at_their_checkpoint_and_on_the_report(
    page: WalkRoundPage, walking: int, quiet: Quiet, context: Context, qtbot: QtBot
) -> None:
    seat, room = context.seat, page.room
    view = walks.walk_view(seat, walking)
    draft = intake.described(seat, view.range_id)
    intake.describe(seat, view.range_id, replace(draft, gas_on_plate="natural", spuds_found="propane"))
    room.read_again()
    quiet()
    room.go(CHECKPOINT)
    assert "On the plate: natural gas. Spuds found: propane." in room.checkpoint.filed.text()
    _press(qtbot, room.checkpoint, "s")  # not sound while they disagree: told, and the finding stays
    quiet()
    assert [g.answer.finding for g in walks.walk_view(seat, walking).given] == [FINDING]
    walks.finish(seat, walking)
    paper = reading(reports.preview_condition_report(seat, walking))
    assert "The facts of its gas disagree" in paper
    assert "Spuds found: propane." in paper


def test_new_pictures_of_the_phone_are_offered_for_the_open_checkpoint_and_its_folder_stays_as_it_is(
    page: WalkRoundPage, walking: int, quiet: Quiet, qtbot: QtBot, context: Context, tmp_path: Path, dialogs
) -> None:  # type: ignore[no-untyped-def]
    folder = tmp_path / "Camera"
    folder.mkdir()
    a_photograph(folder, "old.jpg")
    room, phone = page.room, page.room.pictures.phone
    dialogs.folder = folder
    room.checkpoint.offer.folder_button.click()
    quiet()
    assert phone.waiting == []
    a_photograph(folder, "new.jpg")
    (folder / "notes.txt").write_text("no picture", encoding="utf-8")

    def offered() -> bool:
        phone.look()
        return [path.name for path in phone.waiting] == ["new.jpg"]

    qtbot.waitUntil(offered, timeout=10_000)
    assert "new.jpg" in room.checkpoint.offer.words.text()
    assert room.walk is not None
    code = room.walk.open
    _press(qtbot, room.checkpoint, "o")
    quiet()
    assert len(pictures_at(context.seat, walking, code)) == 1
    phone.look()
    quiet()
    assert phone.waiting == []
    assert sorted(path.name for path in folder.iterdir()) == ["new.jpg", "notes.txt", "old.jpg"]
    told: list[str] = []
    context.told.connect(lambda message: told.append(message.text))
    folder.rename(tmp_path / "gone")
    phone.look()
    quiet()
    assert any("Camera" in text for text in told)
    page.show_ranges()


def test_every_route_opens_where_its_figures_come_from(
    page: WalkRoundPage, walking: int, quiet: Quiet, qtbot: QtBot, context: Context
) -> None:
    room = page.room
    room.go("burner-valves")
    _press(qtbot, room.checkpoint, "1", "sss")
    quiet()
    for place in range(len(room.verdict.routes.rows)):
        room.verdict.routes.opened.emit(place)
        shown = page._rooms.currentWidget()
        assert isinstance(shown, WhereFrom)
        assert len(shown._lines) > 5
        shown.left.emit()
    _press(qtbot, room.checkpoint, "w")
    _press(qtbot, room.verdict.routes, K.Key_Down, K.Key_Up, K.Key_Return)
    shown = page._rooms.currentWidget()
    assert isinstance(shown, WhereFrom)
    place = next(n for n, line in enumerate(shown._lines) if line.checkpoint == "burner-valves")
    shown._open(place)
    assert page._rooms.currentWidget() is page._walking
    assert room.walk is not None
    assert room.walk.open == "burner-valves"
    asked: list[tuple[str, object]] = []
    context.placeAsked.connect(lambda place, what: asked.append((place, what)))
    room.verdict.routes.opened.emit(0)
    shown = page._rooms.currentWidget()
    assert isinstance(shown, WhereFrom)
    shown._open(next(n for n, line in enumerate(shown._lines) if line.settled_in))
    assert asked == [("set-up", {"section": "figures"})]


def test_the_tornado_is_drawn_about_the_expected_cost_and_leads_to_its_checkpoint(
    page: WalkRoundPage, walking: int, quiet: Quiet, qtbot: QtBot
) -> None:
    room = page.room
    _press(qtbot, room.checkpoint, "sss")
    quiet()
    rows = room.verdict.drivers.rows
    assert rows
    assert all(row.swing.low <= row.swing.likely <= row.swing.high for row in rows)
    place = next(n for n, row in enumerate(rows) if row.code)
    room.verdict.drivers.opened.emit(place)
    assert room.walk is not None
    assert room.walk.open == rows[place].code


def test_an_asking_price_can_be_emptied_again(
    page: WalkRoundPage, walking: int, quiet: Quiet, qtbot: QtBot, context: Context
) -> None:
    panel = page.room.verdict
    panel.asking.setFocus()
    panel.asking.selectAll()
    _press(qtbot, panel.asking, K.Key_Delete, K.Key_Return)
    quiet()
    assert walks.walk_view(context.seat, walking).asking_cents is None


def test_two_walk_rounds_stand_side_by_side_with_what_changed(
    page: WalkRoundPage, walking: int, quiet: Quiet, qtbot: QtBot, context: Context,
    unnamed: Callable[[QWidget], list[object]],
) -> None:  # fmt: skip
    seat, room = context.seat, page.room
    walks.answer(seat, walking, Answer("burner-valves", "burner-valves.seized", 2))
    walks.answer(seat, walking, Answer("oven-floor"))
    walks.finish(seat, walking)
    job_id = walks.walk_view(seat, walking).job_id
    second = walks.open_walk(seat, job_id)
    walks.answer(seat, second, Answer("burner-valves", evidence=Evidence.TESTED))
    walks.answer(seat, second, Answer("oven-floor", "oven-floor.worn"))
    page.open_job(job_id)
    quiet()
    page.side.compare()
    quiet()
    shown = page._rooms.currentWidget()
    assert isinstance(shown, CompareRoom)
    assert unnamed(shown) == []
    found = compare(seat, second, walking)
    assert found.same_range
    assert {(d.checkpoint.code, d.how) for d in found.differences} == {
        ("burner-valves", Differs.GONE), ("oven-floor", Differs.NEW),
    }  # fmt: skip
    assert {row.code for row in shown.list.rows} == {"burner-valves", "oven-floor"}
    assert any("Seized (" in row.first for row in shown.list.rows)
    seized = next(n for n, row in enumerate(shown.list.rows) if row.code == "burner-valves")
    wide, narrow = (shown.list.row_height(shown.list.rows[seized], width) for width in (900, 150))
    assert narrow > wide  # words go on in another line; none is cut
    assert "1 no longer found, 1 newly found" in shown.guide.text()
    assert room.walk is not None
    number = room.walk.view.range_number
    assert all(panel.title.text().startswith(number) for panel in shown.sides)
    first, other = (panel.drawing.drawing for panel in shown.sides)
    assert first.height() == other.height() >= 260  # pins can be told apart, whatever stands below
    told = reading(reports.preview_condition_report(seat, second))
    assert "What changed since" in told
    qtbot.keyClick(shown, K.Key_Escape)
    assert page._rooms.currentWidget() is page._walking
