"""Reckoning, and where a range stands, in real widgets on the sample: figures, records, letters, rights."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from fixed_clock import FixedClock
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QMenu, QWidget
from pytestqt.qtbot import QtBot

from shopdesk import paths
from shopdesk.domain.rights import Role
from shopdesk.services import shops
from shopdesk.services.floor import floor
from shopdesk.services.reckoning import findings, months, ranges
from shopdesk.services.reckoning.chosen import Chosen
from shopdesk.services.seat import Seat, open_shop
from shopdesk.storage import upgrade
from shopdesk.storage.backup import copy_shop
from shopdesk.ui.context import Context
from shopdesk.ui.find_panel import FindPanel
from shopdesk.ui.pages.reckoning.page import ReckoningPage
from shopdesk.ui.pages.standing.page import StandingPage
from shopdesk.ui.places import places
from shopdesk.ui.widgets.buttons import MainButton

Settled = Callable[[], None]
YEAR = 2026


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("reckoning") / "shop.db"
    copy_shop(paths.sample_shop(), place)
    upgrade(place)
    return place


@pytest.fixture
def seat(sample: Path, tmp_path: Path) -> Iterator[Seat]:
    copy_shop(sample, tmp_path / "shop.db")
    opened = open_shop(tmp_path / "shop.db", FixedClock())
    yield opened
    opened.file.close()


@pytest.fixture
def went(context: Context) -> list[tuple[str, dict[str, object]]]:
    found: list[tuple[str, dict[str, object]]] = []
    context.placeAsked.connect(lambda place, what: found.append((place, what)))
    return found


def shown(page: ReckoningPage | StandingPage, qtbot: QtBot, settled: Settled) -> None:
    qtbot.addWidget(page)
    page.resize(1300, 820)
    page.refresh(page.everything)
    with qtbot.waitActive(page):
        page.show()
        page.activateWindow()
    settled()


@pytest.fixture
def page(context: Context, qtbot: QtBot, settled: Settled) -> ReckoningPage:
    made = ReckoningPage(context)
    shown(made, qtbot, settled)
    return made


def test_reckoning_stands_between_counter_and_set_up() -> None:
    keys = [place.key for place in places() if not place.hidden]
    assert keys[keys.index("counter") :] == ["counter", "reckoning", "set-up"]


def test_every_figure_of_a_range_is_listed_and_enter_opens_its_jacket(
    page, seat, went, qtbot, settled
) -> None:
    part = page.parts["ranges"]
    expected = ranges.range_figures(seat, Chosen(YEAR))
    assert [row.job_id for row in part.rows.rows()] == [row.job_id for row in expected]
    assert part.bars.bars is not None
    bars = part.bars.bars
    least = min((row for row in expected if row.margin_cents is not None), key=lambda row: row.margin_cents)
    assert bars.groups[0].key == least.job_id
    qtbot.mouseClick(
        part.bars,
        Qt.MouseButton.LeftButton,
        pos=QPoint(part.bars.width() // 2, part.bars.height() * 22 // 100),
    )
    assert part.rows.current_key() == least.job_id
    part.rows.select(expected[0].job_id)
    page.focusFirst()
    qtbot.keyClick(part.rows.view, Qt.Key.Key_Return)
    assert went == [("jacket", {"range_id": expected[0].range_id, "job_id": expected[0].job_id})]
    menu = QMenu(page)
    part.rows.menuAsked.emit(expected[0], menu)
    menu.actions()[1].trigger()
    assert went[-1] == ("standing", {"range_id": expected[0].range_id})
    page.year.setValue(0)
    page.year.edited.emit()
    settled()
    assert {row.left_on for row in part.rows.rows()} == {None}


def test_a_finding_shows_the_ranges_beneath_it_and_the_chart_says_what_it_shows(
    page, seat, went, qtbot, settled
) -> None:
    page.open_on(part="findings")
    settled()
    part, expected = page.parts["findings"], findings.finding_figures(seat, Chosen(YEAR))
    assert [row.key for row in part.rows.rows()] == [one.key for one in expected]
    assert expected[0].name in part.bars.accessibleDescription()
    part.rows.select(expected[1].key)
    settled()
    beneath = part.records.rows()
    assert sum(row.margin_cents for row in beneath) == expected[1].margin_cents
    part.rows.view.setFocus()
    qtbot.keyClick(part.rows.view, Qt.Key.Key_Return)
    qtbot.keyClick(part.records.view, Qt.Key.Key_Return)
    assert went[-1] == ("jacket", {"range_id": beneath[0].range_id, "job_id": beneath[0].job_id})


def test_a_month_shows_its_bills_and_the_year_prints(page, seat, context, qtbot, settled) -> None:
    papers: list[bytes] = []
    context.paperAsked.connect(lambda pdf, _title, _name: papers.append(pdf))
    page.open_on(part="year")
    settled()
    part = page.parts["year"]
    part.rows.select(2)
    settled()
    assert [row.number for row in part.records.rows()] == [p.number for p in months.papers_of(seat, YEAR, 2)]
    assert page.print_button.isVisible()
    qtbot.mouseClick(page.print_button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: bool(papers), timeout=10_000)
    assert papers[0].startswith(b"%PDF")


def test_all_parts_fill_and_every_control_is_named(
    page, settled, unnamed: Callable[[QWidget], list[object]]
) -> None:
    for key, part in page.parts.items():
        page.open_on(part=key)
        settled()
        assert part.rows.rows(), key
        drawn = part.bars.bars is not None or part.line.chart is not None
        # Days promised without odds are listed and not drawn; the sample's one with odds is still to come.
        assert drawn or key == "promises", key
    assert unnamed(page) == []


def test_the_desk_sees_what_is_owed_and_promised_and_the_technician_is_told_why_nothing(
    page, seat, context, settled
) -> None:
    people = {row.role: row.id for row in shops.staff(seat)}
    context.take_seat(seat.taken_by(people[Role.DESK]))
    page.refresh(page.everything)
    settled()
    assert list(page.parts) == ["owed", "promises"]
    context.take_seat(seat.taken_by(people[Role.TECHNICIAN]))
    page.refresh(page.everything)
    settled()
    assert page.parts == {}
    assert page.nothing.isVisible()


# Where a range stands


@pytest.fixture
def standing(context: Context, seat: Seat, qtbot: QtBot, settled: Settled) -> StandingPage:
    made = StandingPage(context)
    shown(made, qtbot, settled)
    made.open_on(range_id=at_work(seat).range_id)
    settled()
    context.changed.connect(made.refresh)
    return made


def at_work(seat: Seat):
    return next(row for row in floor(seat) if row.stage == "on the bench" and row.customer)


def test_find_anything_leads_there_in_two_steps(context, seat, went, qtbot, settled) -> None:
    over = QWidget()
    qtbot.addWidget(over)
    over.resize(1000, 700)
    panel = FindPanel(context, places(), over, lambda: None)
    with qtbot.waitActive(over):
        over.show()
        over.activateWindow()
    row = at_work(seat)
    panel.open_up()
    panel.words.setText(row.customer.split()[0])
    settled()
    qtbot.waitUntil(lambda: panel.list.count() > 1, timeout=5000)
    told = [panel.list.item(n).text() for n in range(panel.list.count())]
    at = next(n for n, text in enumerate(told) if text.startswith("Where ") and row.number in text)
    panel.list.setCurrentRow(at)
    qtbot.keyClick(panel.words, Qt.Key.Key_Return)
    assert went == [("standing", {"range_id": row.range_id})]


def test_it_is_told_in_sentences_with_pictures(standing, seat, unnamed) -> None:
    told = standing.shown.standing
    labels = [
        label.text()
        for label in standing.findChildren(QWidget)
        if hasattr(label, "text") and label.isVisible()
    ]
    for sentence in told.sentences:
        assert sentence in labels
        assert sentence.endswith(".")
    assert standing.strip_of_pictures.list.count() == len(told.pictures) > 0
    assert unnamed(standing) == []


def test_one_press_keeps_the_letter_and_opens_its_mail_draft(
    standing, dialogs, qtbot, settled, monkeypatch, tmp_path
) -> None:
    monkeypatch.setattr(paths, "data_folder", lambda: tmp_path)
    assert standing.letter_button.hasFocus()
    qtbot.keyClick(standing.letter_button, Qt.Key.Key_Return)
    settled()
    form = standing.panel.form
    assert form is not None
    assert standing.shown.standing.customer in form["text"].value()
    assert not form["text"].textCursor().hasSelection()
    form["text"].setValue("Good day,\n\nwe freed the valve.")
    form["pictures"].setValue([standing.shown.standing.pictures[0].id])
    form.submit()
    settled()
    [file] = dialogs.opened
    assert b"we freed the valve" in file.read_bytes()
    assert b"application/pdf" in file.read_bytes()
    assert not standing.panel.isVisible()


def test_the_pair_is_offered_and_the_same_picture_twice_is_explained(standing, qtbot, settled) -> None:
    standing.deeds.pair()
    settled()
    form = standing.panel.form
    [before], [after] = form["before"].value(), form["after"].value()
    assert before != after
    form["after"].setValue([before])
    form.submit()
    settled()
    assert any("same one" in label.text() for label in form.findChildren(QWidget) if hasattr(label, "text"))
    form["after"].setValue([after])
    assert isinstance(form.findChild(MainButton), MainButton)
    form.submit()
    settled()
    assert not standing.panel.isVisible()


def test_ticking_one_of_a_pair_unticks_the_other(standing, settled) -> None:
    standing.deeds.pair()
    settled()
    field = standing.panel.form["before"]
    other = next(n for n in range(field.count()) if field.item(n).checkState() is Qt.CheckState.Unchecked)
    field.item(other).setCheckState(Qt.CheckState.Checked)
    assert field.value() == [field.item(other).data(Qt.ItemDataRole.UserRole)]
