"""The place of the walk-round with real widgets on a real shop: keys in, records out."""

from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image
from PySide6.QtCore import QMimeData, QPoint, Qt, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QMenu, QWidget
from pytestqt.qtbot import QtBot
from walk_shop import a_range, kept

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Evidence, Purpose
from shopdesk.domain.stage import Stage
from shopdesk.services import intake, people, walks, work_orders
from shopdesk.services.inspection import walk_row
from shopdesk.services.walk_pictures import pictures_at
from shopdesk.ui.context import Context
from shopdesk.ui.pages.range_form.booking import BookingForm
from shopdesk.ui.pages.walk_round.head import MenuButton
from shopdesk.ui.pages.walk_round.page import WalkRoundPage
from shopdesk.ui.pages.walk_round.particulars import Particulars
from shopdesk.ui.pages.walk_round.where_from import WhereFrom

K = Qt.Key


@pytest.fixture
def page(context: Context, qtbot: QtBot) -> WalkRoundPage:
    made = WalkRoundPage(context)
    qtbot.addWidget(made)
    made.resize(1200, 800)
    made.refresh(WalkRoundPage.everything)
    made.show()
    context.changed.connect(made.refresh)
    return made


@pytest.fixture
def quiet(page: WalkRoundPage, settled: Callable[[], None], qtbot: QtBot) -> Callable[[], None]:
    """Waits until everything is kept and judged."""

    def wait() -> None:
        settled()
        qtbot.waitUntil(lambda: not page.room.judging.behind, timeout=20_000)
        settled()

    return wait


@pytest.fixture
def walking(page: WalkRoundPage, context: Context, quiet: Callable[[], None]) -> int:
    """A walk-round just begun in the window; its key."""
    taken = a_range(context.seat)
    page.open_job(taken.job_id)
    quiet()
    page.begin.form.show_values({"place": "Seller’s garage"})
    page.begin.form.submit()
    quiet()
    assert page.room.walk is not None
    return page.room.walk.view.id


def _press(qtbot: QtBot, page: WalkRoundPage, *keys: object) -> None:
    for key in keys:
        if isinstance(key, str):
            qtbot.keyClicks(page.room.checkpoint, key)
        else:
            qtbot.keyClick(page.room.checkpoint, key)


def _deed(button: MenuButton, text: str) -> Callable[[], None]:
    menu: QMenu = button.list
    menu.aboutToShow.emit()
    return next(action for action in menu.actions() if action.text() == text).trigger


def _deeds(button: MenuButton) -> set[str]:
    button.list.aboutToShow.emit()
    return {action.text() for action in button.list.actions() if action.text()}


def _open(page: WalkRoundPage) -> str:
    assert page.room.walk is not None
    return page.room.walk.open


def test_each_key_is_kept_in_the_shop_at_once(
    page: WalkRoundPage, walking: int, quiet: Callable[[], None], qtbot: QtBot, context: Context
) -> None:
    order = [c.code for c in page.room.walk.checkpoints]  # type: ignore[union-attr]
    _press(qtbot, page, "s1n", "t", "s")
    quiet()
    held = kept(context.seat, walking)
    finding = context.seat.catalogue.checkpoints[order[1]].findings[0].code
    assert [held[code] for code in order[:4]] == [[""], [finding], [""], [""]]
    by_code = {g.answer.checkpoint: g.answer for g in walks.walk_view(context.seat, walking).given}
    assert by_code[order[2]].evidence is Evidence.NOT_SEEN
    assert by_code[order[3]].evidence is Evidence.TESTED
    assert _open(page) == order[4]


def test_verdict_and_figures_move_as_findings_come_in(
    page: WalkRoundPage, walking: int, quiet: Callable[[], None], qtbot: QtBot
) -> None:
    _press(qtbot, page, "s" * 20)
    quiet()
    assert page.room.worth is not None
    before = page.room.worth.verdict.cost.likely
    page.room.walk.go("burner-valves")  # type: ignore[union-attr]
    _press(qtbot, page, "+++", "3")
    quiet()
    assert page.room.worth.verdict.cost.likely != before
    assert "$" in page.room.verdict.figures.text()
    assert len(page.room.verdict.routes.rows) == 5
    assert page.room.verdict.drivers.rows
    assert str(page.room.walk.not_seen()) in page.room.verdict.figures.text()  # type: ignore[union-attr]


def test_enter_writes_a_note_that_is_kept_while_one_types(
    page: WalkRoundPage, walking: int, quiet: Callable[[], None], qtbot: QtBot, context: Context
) -> None:
    code = _open(page)
    _press(qtbot, page, K.Key_Return)
    qtbot.keyClicks(page.room.checkpoint.note, "rust at the hinge")
    qtbot.waitUntil(lambda: page.room.walk.note == "rust at the hinge", timeout=5_000)  # type: ignore[union-attr]
    qtbot.keyClick(page.room.checkpoint.note, K.Key_Return)
    _press(qtbot, page, "1")
    quiet()
    answers = [g.answer for g in walks.walk_view(context.seat, walking).given if g.answer.checkpoint == code]
    assert [(bool(a.finding), a.note) for a in answers] == [(True, "rust at the hinge")]


def test_leaving_the_page_keeps_the_note_being_typed(
    page: WalkRoundPage, walking: int, quiet: Callable[[], None], qtbot: QtBot, context: Context
) -> None:
    _press(qtbot, page, K.Key_Return)
    qtbot.keyClicks(page.room.checkpoint.note, "half a wo")
    page.keep_draft()
    quiet()
    assert walks.walk_view(context.seat, walking).given[0].answer.note == "half a wo"


def test_slash_jumps_to_a_checkpoint_by_words(page: WalkRoundPage, walking: int, qtbot: QtBot) -> None:
    _press(qtbot, page, "/")
    assert page.room.finder.isVisible()
    qtbot.keyClicks(page.room.finder.words, "oven floor")
    qtbot.keyClick(page.room.finder.words, K.Key_Return)
    assert "floor" in page.room.checkpoint.name.text().casefold()
    assert not page.room.finder.isVisible()


def test_what_needs_a_flame_stays_not_seen_unless_both_steps_are_confirmed(
    page: WalkRoundPage, walking: int, quiet: Callable[[], None], qtbot: QtBot, context: Context, dialogs
) -> None:  # type: ignore[no-untyped-def]
    walk = page.room.walk
    assert walk is not None
    flames = [c.code for c in walk.checkpoints if c.flame]
    dialogs.agrees = False
    page.room.go(flames[0])
    assert page.room.checkpoint.lit.isVisible()
    _press(qtbot, page, "s")
    dialogs.agrees = True
    page.room.go(flames[1])
    _press(qtbot, page, "s")
    quiet()
    by_code = {g.answer.checkpoint: g.answer for g in walks.walk_view(context.seat, walking).given}
    assert by_code[flames[0]].evidence is Evidence.NOT_SEEN
    assert by_code[flames[1]].evidence is Evidence.SEEN
    assert "competent with gas" in by_code[flames[1]].note


def test_a_smell_of_gas_stops_the_walk_at_once(
    page: WalkRoundPage, walking: int, quiet: Callable[[], None], qtbot: QtBot, context: Context
) -> None:
    _press(qtbot, page, "sss", "g")
    assert page.room.stop.isVisible()
    spoken = page.room.stop.accessibleName()
    for word in ("switch", "Leave", "outside"):
        assert word in spoken
    qtbot.keyClicks(page.room.stop, "s1n")
    assert page.room.stop.isVisible(), "no single key goes on"
    quiet()
    assert kept(context.seat, walking)["gas-smell"] == ["gas-smell.strong"]
    page.room.stop.button.click()
    assert page.room.checkpoint.isVisible()


def test_an_answer_button_does_what_its_key_does(
    page: WalkRoundPage, walking: int, quiet: Callable[[], None], qtbot: QtBot, context: Context
) -> None:
    code = _open(page)
    qtbot.mouseClick(page.room.checkpoint.found[1], Qt.MouseButton.LeftButton)
    quiet()
    assert kept(context.seat, walking)[code] == [context.seat.catalogue.checkpoints[code].findings[1].code]


def test_pins_stand_on_the_drawing_where_findings_are(
    page: WalkRoundPage, walking: int, quiet: Callable[[], None], qtbot: QtBot
) -> None:
    page.room.go("burner-valves")
    _press(qtbot, page, "1")
    page.room.drawing.turn_to("valves")
    drawing = page.room.drawing.drawing
    assert "1 minor" in drawing.words("valves")
    quiet()


def test_a_part_of_the_drawing_opens_its_checkpoint(page: WalkRoundPage, walking: int) -> None:
    page.room.drawing.turn_to("oven-floor")
    page.room.drawing.drawing.partActivated.emit("oven-floor")
    assert page.room.walk is not None
    assert page.room.walk.checkpoint.part == "oven-floor"
    assert page.room.drawing.view == "oven"


def test_photographs_belong_to_the_answer_given_after_them(
    page: WalkRoundPage,
    walking: int,
    quiet: Callable[[], None],
    qtbot: QtBot,
    context: Context,
    tmp_path: Path,
) -> None:
    picture, broken = tmp_path / "rust.png", tmp_path / "broken.jpg"
    Image.new("RGB", (640, 480), "#884422").save(picture)
    whole = BytesIO()
    Image.new("RGB", (640, 480), "#228844").save(whole, "JPEG")
    broken.write_bytes(whole.getvalue()[:400])
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(broken)), QUrl.fromLocalFile(str(picture))])
    told: list[str] = []
    context.told.connect(lambda message: told.append(message.text))
    code = _open(page)
    drop = QDropEvent(
        QPoint(5, 5), Qt.DropAction.CopyAction, mime, Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )  # fmt: skip
    page.room.checkpoint.dropEvent(drop)
    quiet()
    assert any("broken.jpg" in text for text in told)
    _press(qtbot, page, "1")
    quiet()
    assert len(pictures_at(context.seat, walking, code)) == 1
    given = [g for g in walks.walk_view(context.seat, walking).given if g.answer.checkpoint == code]
    assert [(bool(g.answer.finding), len(g.photographs)) for g in given] == [(True, 1)]
    page.room.go(code)
    quiet()
    assert page.room.checkpoint.photos.list.count() == 1


def test_purpose_and_asking_price_are_kept(
    page: WalkRoundPage, walking: int, quiet: Callable[[], None], qtbot: QtBot, context: Context
) -> None:
    panel = page.room.verdict
    panel.asking.setFocus()
    panel.asking.selectAll()
    qtbot.keyClicks(panel.asking, "612.50")
    qtbot.keyClick(panel.asking, K.Key_Return)
    panel.purpose.setValue(Purpose.FULL)
    panel.purpose.edited.emit()
    quiet()
    view = walks.walk_view(context.seat, walking)
    assert (view.asking_cents, view.purpose) == (61_250, Purpose.FULL)
    qtbot.keyClicks(panel.asking, "x")
    qtbot.keyClick(panel.asking, K.Key_Return)
    assert panel.asking_problem.text()


def test_a_finished_walk_round_takes_no_more_answers_and_offers_a_second(
    page: WalkRoundPage, walking: int, quiet: Callable[[], None], qtbot: QtBot, context: Context
) -> None:
    _press(qtbot, page, "s1")
    quiet()
    page.head.finish.click()
    quiet()
    assert walks.walk_view(context.seat, walking).finished
    before = kept(context.seat, walking)
    _press(qtbot, page, "sss")
    quiet()
    assert kept(context.seat, walking) == before
    assert not page.head.finish.isVisible()
    page.head.second.click()
    page.begin.form.submit()
    quiet()
    assert page.room.walk is not None
    assert page.room.walk.view.id != walking
    assert page.head.finish.isVisible()


def test_deeds_after_the_walk_reach_the_shop(
    page: WalkRoundPage, walking: int, quiet: Callable[[], None], qtbot: QtBot, context: Context, dialogs
) -> None:  # type: ignore[no-untyped-def]
    seat = context.seat
    _press(qtbot, page, "s1s2")
    quiet()
    assert page.row is not None
    job_id = page.row.job_id
    _deed(page.head.next, "Record the verdict")()
    quiet()
    assert walk_row(seat, job_id).decided
    dialogs.choice = 0
    _deed(page.head.next, "Write the work order")()
    quiet()
    assert work_orders.task_lines(seat, job_id)
    dialogs.written = "380"
    _deed(page.head.next, "Buy it")()
    quiet()
    row = walk_row(seat, job_id)
    assert row.bought
    assert row.stage is not Stage.LOOKED_AT
    assert not _deeds(page.head.next) & {"Buy it", "It has come in"}
    shown: list[tuple[object, str]] = []
    context.paperAsked.connect(lambda pdf, title, _name: shown.append((pdf, title)))
    _deed(page.head.report, "Look at it first")()
    quiet()
    _deed(page.head.report, "Print it with a number")()
    quiet()
    assert [bytes(pdf)[:5] for pdf, _ in shown] == [b"%PDF-", b"%PDF-"]  # type: ignore[call-overload]


def test_a_range_that_is_not_taken_is_closed_with_its_reason(
    page: WalkRoundPage, walking: int, quiet: Callable[[], None], context: Context, dialogs
) -> None:  # type: ignore[no-untyped-def]
    dialogs.written = "too far gone"
    assert page.row is not None
    job_id = page.row.job_id
    _deed(page.head.next, "Not taken")()
    quiet()
    assert walk_row(context.seat, job_id).stage is Stage.NOT_TAKEN


def test_a_new_range_is_written_down_and_its_walk_begins(
    page: WalkRoundPage, quiet: Callable[[], None], context: Context
) -> None:
    page.add_range()
    form = page._rooms.currentWidget()
    assert isinstance(form, BookingForm)
    form.form["maker"].setTyped("Bellwick")
    form.form["features"].ticks["deep_well"].click()
    form.form["asking"].setTyped("250")
    form.form.submit()
    quiet()
    assert page.row is not None
    assert (page.row.maker, page.row.stage) == ("Bellwick", Stage.LOOKED_AT)
    assert page.row.build.deep_well
    assert page._rooms.currentWidget() is page.begin


def test_particulars_change_the_walk_with_the_build(
    page: WalkRoundPage, walking: int, quiet: Callable[[], None], qtbot: QtBot, context: Context
) -> None:
    _press(qtbot, page, "s1")
    quiet()
    before = len(page.room.walk.checkpoints)  # type: ignore[union-attr]
    at = _open(page)
    _press(qtbot, page, "i")
    quiet()
    form = page._rooms.currentWidget()
    assert isinstance(form, Particulars)
    form.form["features"].ticks["deep_well"].click()
    form.form["serial"].setTyped("CO 1217")
    form.form["accessories"].ticks["well-pot"].click()
    form.form.submit()
    quiet()
    assert page.row is not None
    assert intake.described(context.seat, page.row.range_id).serial == "CO 1217"
    assert walks.walk_view(context.seat, walking).accessories == ("well-pot",)
    assert len(page.room.walk.checkpoints) < before  # type: ignore[union-attr]
    assert _open(page) == at


def test_a_customers_range_shows_what_each_scope_is_charged(
    page: WalkRoundPage, quiet: Callable[[], None], qtbot: QtBot, context: Context
) -> None:
    customer = people.keep_party(context.seat, people.PartyDraft(name="Mara Holm"))
    taken = a_range(context.seat, customer_id=customer, booked_in=True, purpose=Purpose.FULL, build=Build())
    page.open_job(taken.job_id)
    quiet()
    page.begin.form.submit()
    quiet()
    _press(qtbot, page, "s1s")
    quiet()
    assert page.room.worth is not None
    assert len(page.room.worth.charges) == 3
    assert page.room.verdict.routes.rows[0].name == "Mechanical-only"
    assert not page.room.verdict.offer.isVisible()
    assert "Record the verdict" not in _deeds(page.head.next)


def test_a_range_of_the_shops_own_shows_what_each_way_leaves_and_asks_no_price(
    page: WalkRoundPage, walking: int, quiet: Callable[[], None], qtbot: QtBot, context: Context
) -> None:
    _press(qtbot, page, "s", "s")
    quiet()
    job_id = walks.walk_view(context.seat, walking).job_id
    intake.buy(context.seat, job_id, 35_000)
    page.open_job(job_id)
    quiet()
    panel = page.room.verdict
    assert "bought for $350" in panel.offer.text()
    assert panel.asking.isHidden()
    assert [row.name for row in panel.routes.rows][-1] == "Sell it as it stands"
    assert all("leaves" in row.figure or "not open" in row.figure for row in panel.routes.rows)
    panel.routes.opened.emit(len(panel.routes.rows) - 1)
    quiet()
    shown = page._rooms.currentWidget()
    assert isinstance(shown, WhereFrom)
    assert any("unrestored" in str(row.title) for row in shown.list.rows())


def test_a_refused_answer_is_told_and_the_screen_shows_what_the_shop_holds(
    page: WalkRoundPage, walking: int, quiet: Callable[[], None], qtbot: QtBot, context: Context
) -> None:
    _press(qtbot, page, "s")
    quiet()
    walks.finish(context.seat, walking)  # another seat finished it
    told: list[str] = []
    context.told.connect(lambda message: told.append(message.text))
    _press(qtbot, page, "1")
    quiet()
    assert any("finished" in text for text in told)
    assert page.room.walk is not None
    assert page.room.walk.view.finished
    assert len(page.room.walk.look().answers) == 1


def test_every_control_has_a_name(
    page: WalkRoundPage, walking: int, quiet: Callable[[], None], unnamed: Callable[[QWidget], list[object]]
) -> None:
    quiet()
    assert unnamed(page) == []


def test_the_list_says_what_will_stand_in_it(page: WalkRoundPage, quiet: Callable[[], None]) -> None:
    quiet()
    assert page.chooser.list.empty.button is not None
    assert page.chooser.list.model.rowCount() == 0


def test_escape_goes_back_to_the_keys_and_from_there_to_the_ranges(
    page: WalkRoundPage, walking: int, quiet: Callable[[], None], qtbot: QtBot
) -> None:
    _press(qtbot, page, "z")
    assert page.room.zones.hasFocus()
    qtbot.keyClick(page.room.zones, K.Key_Escape)
    assert page.room.checkpoint.hasFocus()
    _press(qtbot, page, K.Key_Escape)
    assert page._rooms.currentWidget() is page.chooser
    quiet()


def test_other_places_are_told_on_leaving(
    page: WalkRoundPage, walking: int, quiet: Callable[[], None], qtbot: QtBot, context: Context
) -> None:
    told: set[str] = set()
    context.changed.connect(told.update)
    _press(qtbot, page, "s")
    quiet()
    assert not told
    page.keep_draft()
    quiet()
    assert page.row is not None
    assert {"jobs", f"job {page.row.job_id}"} <= told
