import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from fixed_clock import FixedClock
from PIL import Image
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from shop_at_work import ShopAtWork, shop_file

from shopdesk.services import bench, outwork, tag_counts, tag_pictures, tags, work_orders
from shopdesk.services.seat import Seat, open_shop
from shopdesk.ui.context import Context
from shopdesk.ui.pages.tags.page import OUT, TagsPage

Settled = Callable[[], None]


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, ShopAtWork]:
    return shop_file(tmp_path_factory.getbasetemp())


@pytest.fixture
def work(made_once: tuple[Path, ShopAtWork]) -> ShopAtWork:
    return made_once[1]


@pytest.fixture
def seat(made_once: tuple[Path, ShopAtWork], tmp_path: Path, clock: FixedClock) -> Iterator[Seat]:
    place = tmp_path / "shop.db"
    shutil.copyfile(made_once[0], place)
    made = open_shop(place, clock)
    yield made
    made.file.close()


@pytest.fixture
def screws(seat: Seat, work: ShopAtWork) -> int:
    draft = tags.TagDraft(what="Oven door, screws", how_many=6, goes_back="oven-door", lies_at="tray 1")
    return tags.tag_off(seat, work.agreed.job_id, draft)


@pytest.fixture
def lamp(seat: Seat, work: ShopAtWork) -> int:
    return tags.tag_off(seat, work.agreed.job_id, tags.TagDraft(what="Lamp", goes_back="lamp"))


@pytest.fixture
def page(screws: int, lamp: int, context: Context, qtbot: QtBot, settled: Settled) -> Iterator[TagsPage]:
    made = TagsPage(context)
    context.changed.connect(made.refresh)
    qtbot.addWidget(made)
    made.resize(1200, 800)
    made.show()
    made.refresh(TagsPage.everything)
    made.focusFirst()
    settled()
    made.focusFirst()
    yield made
    made.hide()


def key(page: TagsPage, qtbot: QtBot, letter: Qt.Key) -> None:
    qtbot.keyClick(page.list.view, letter)


def test_a_tag_is_counted_back_by_key_and_a_wrong_count_stays_in_the_form(
    page: TagsPage, qtbot: QtBot, settled: Settled, seat: Seat, screws: int
) -> None:
    page.list.select(screws)
    key(page, qtbot, Qt.Key.Key_B)
    field = page.side.form.form["how_many"].field
    assert field.value() == 0  # the count is never filled in beforehand
    field.setValue(5)
    page.side.form.form.submit()
    settled()
    assert "5 were counted" in field.parentWidget().accessibleDescription()
    field.setValue(6)
    page.side.form.form.submit()
    settled()
    assert [t.standing for t in tags.tags(seat) if t.id == screws] == ["back"]
    assert page.side.form is None

    assert page.focusWidget() is page.list.view


def test_one_piece_goes_back_with_one_key(
    page: TagsPage, qtbot: QtBot, settled: Settled, seat: Seat, lamp: int
) -> None:
    page.list.select(lamp)
    key(page, qtbot, Qt.Key.Key_B)
    settled()
    assert next(t for t in tags.tags(seat) if t.id == lamp).standing == "back"


def test_a_place_is_touched_instead_of_typed(
    page: TagsPage, qtbot: QtBot, settled: Settled, seat: Seat, screws: int
) -> None:
    page.list.select(screws)
    key(page, qtbot, Qt.Key.Key_M)
    settled()
    buttons = page.side.form.form["to"].words.findChildren(object)
    tray = next(b for b in buttons if getattr(b, "text", str)() == "tray 2")
    qtbot.mouseClick(tray, Qt.MouseButton.LeftButton)
    page.side.form.form.submit()
    settled()
    assert next(t for t in tags.tags(seat) if t.id == screws).lies_at == "tray 2"


def test_a_scanned_label_puts_the_keyboard_on_its_tag_and_a_word_narrows(
    page: TagsPage, qtbot: QtBot, settled: Settled, seat: Seat, screws: int
) -> None:
    number = next(t for t in tags.tags(seat) if t.id == screws).number
    qtbot.keyClicks(page.search, f"shopdesk:tag/{number}")
    qtbot.keyClick(page.search, Qt.Key.Key_Return)
    assert page.current().id == screws
    assert len(page.shown) == 1
    page.search.setText("nothing like it")
    page.search._say()
    assert page.shown == []


def test_a_tag_goes_out_with_a_piece_is_counted_back_with_it_and_then_put_back(
    page: TagsPage, qtbot: QtBot, settled: Settled, seat: Seat, work: ShopAtWork, screws: int
) -> None:
    task = next(t for t in work_orders.task_lines(seat, work.agreed.job_id) if t.outwork_trade)
    sent = outwork.send_out(seat, work.plater, [outwork.PieceDraft(task_id=task.id, name="Trim", count=6)])
    page.list.select(screws)
    key(page, qtbot, Qt.Key.Key_S)
    settled()
    page.side.form.form.submit()
    settled()
    (count,) = tag_counts.piece_counts(seat, sent)
    assert (count.tagged, count.standing) == (6, "out")
    assert page.current().standing == "sent"
    key(page, qtbot, Qt.Key.Key_C)
    settled()
    page.side.form.form["count"].field.setValue(6)
    page.side.form.form.submit()
    settled()
    assert next(t for t in tags.tags(seat) if t.id == screws).standing == "out"
    assert tag_counts.piece_counts(seat, sent)[0].standing == "whole"


def test_what_does_not_go_back_is_told_why_and_may_be_off_again(
    page: TagsPage, qtbot: QtBot, settled: Settled, seat: Seat, screws: int
) -> None:
    page.list.select(screws)
    key(page, qtbot, Qt.Key.Key_X)
    page.side.form.form["because"].field.setText("scrapped")
    page.side.form.form.submit()
    settled()
    assert next(t for t in tags.tags(seat) if t.id == screws).standing == "not back"
    page.open_on(tag_id=screws)
    settled()
    assert page.filter.value() != OUT
    key(page, qtbot, Qt.Key.Key_O)
    settled()
    page.side.form.form.submit()
    settled()
    assert next(t for t in tags.tags(seat) if t.id == screws).standing == "out"


def test_a_label_is_shown_and_a_picture_is_kept_with_the_tag(
    page: TagsPage, qtbot: QtBot, settled: Settled, seat: Seat, screws: int, tmp_path: Path, dialogs: object
) -> None:
    papers: list[tuple[bytes, str, str]] = []
    page.context.paperAsked.connect(lambda pdf, title, name: papers.append((pdf, title, name)))
    page.list.select(screws)
    key(page, qtbot, Qt.Key.Key_L)
    settled()
    assert papers[0][0].startswith(b"%PDF")
    shot = tmp_path / "tray.png"
    Image.new("RGB", (40, 30), "grey").save(shot)
    dialogs.files = [shot]
    key(page, qtbot, Qt.Key.Key_P)
    settled()
    assert len(tag_pictures.tag_pictures(seat, screws)) == 1
    assert page.side.strip.list.count() == 1


def test_a_tag_says_what_can_be_corrected_and_everything_has_a_name(
    page: TagsPage,
    qtbot: QtBot,
    settled: Settled,
    seat: Seat,
    screws: int,
    unnamed: Callable[[object], list[object]],
) -> None:
    assert unnamed(page) == []
    page.list.select(screws)
    key(page, qtbot, Qt.Key.Key_E)
    settled()
    assert unnamed(page) == []
    form = page.side.form.form
    assert (form["goes_back"].value(), form["how_many"].value()) == ("oven-door", 6)
    form["what"].setValue("Oven door, long screws")
    form.submit()
    settled()
    assert next(t for t in tags.tags(seat) if t.id == screws).what == "Oven door, long screws"


def test_the_page_opens_on_one_ranges_tags_or_on_all_where_it_has_none(
    page: TagsPage, settled: Settled, seat: Seat, work: ShopAtWork
) -> None:
    page.open_on(job_id=work.waiting.job_id)
    settled()
    assert (page.filter.value(), len(page.shown)) == (OUT, 2)
    page.open_on(job_id=work.agreed.job_id)
    settled()
    assert (page.filter.value(), len(page.shown)) == (work.agreed.job_id, 2)
    assert bench.job_tasks(seat, work.agreed.job_id)
