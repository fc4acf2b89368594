import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from fixed_clock import FixedClock
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from shop_at_work import ShopAtWork, shop_file

from shopdesk.services import thermostat_card
from shopdesk.services.seat import Seat, open_shop
from shopdesk.ui.context import Context
from shopdesk.ui.pages.thermostat_card.page import ThermostatCardPage

Settled = Callable[[], None]


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, ShopAtWork]:
    return shop_file(tmp_path_factory.getbasetemp())


@pytest.fixture
def seat(made_once: tuple[Path, ShopAtWork], tmp_path: Path, clock: FixedClock) -> Iterator[Seat]:
    place = tmp_path / "shop.db"
    shutil.copyfile(made_once[0], place)
    made = open_shop(place, clock)
    yield made
    made.file.close()


@pytest.fixture
def job_id(made_once: tuple[Path, ShopAtWork]) -> int:
    return made_once[1].agreed.job_id


@pytest.fixture
def page(job_id: int, context: Context, qtbot: QtBot, settled: Settled) -> Iterator[ThermostatCardPage]:
    made = ThermostatCardPage(context)
    context.changed.connect(made.refresh)
    qtbot.addWidget(made)
    made.resize(1100, 760)
    made.show()
    made.open_on(job_id=job_id)
    settled()
    yield made
    made.hide()


def test_the_hold_flame_comes_first_and_a_figure_answers_it(
    page: ThermostatCardPage, qtbot: QtBot, settled: Settled, seat: Seat, job_id: int
) -> None:
    assert page.list.current_key() == "hold-flame"
    page.list.select("dial")
    qtbot.keyClick(page.list.view, Qt.Key.Key_1)
    settled()
    assert "hold flame comes first" in page.question.problem.text()
    page.list.select("hold-flame")
    qtbot.keyClick(page.list.view, Qt.Key.Key_1)
    settled()
    card = thermostat_card.card_view(seat, job_id)
    assert [step.answer for step in card.steps][:2] == ["right", ""]
    assert page.list.current_key() == "trouble"  # the next one comes by itself


def test_a_card_is_filled_by_figures_points_somewhere_and_is_kept(
    page: ThermostatCardPage, qtbot: QtBot, settled: Settled, seat: Seat, job_id: int
) -> None:
    page.question.note.setText("watched two cycles")
    for _step in range(7):
        assert "no thermostat is condemned" in page.why.text()
        qtbot.keyClick(page.list.view, Qt.Key.Key_1)
        settled()
    card = thermostat_card.card_view(seat, job_id)
    assert card.complete_at is not None
    assert card.steps[0].note == "watched two cycles"
    assert page.verdict.text() == f"Points to: {card.points_words}"
    assert not any(button.isEnabled() for button in page.question.buttons)
    qtbot.keyClick(page.list.view, Qt.Key.Key_2)  # a complete card is not answered
    settled()
    assert len(thermostat_card.cards(seat, job_id)) == 1
    qtbot.mouseClick(page.question.again, Qt.MouseButton.LeftButton)
    settled()
    assert len(thermostat_card.cards(seat, job_id)) == 2
    assert page.list.current_key() == "hold-flame"


def test_the_mouse_answers_on_the_large_buttons_and_all_have_names(
    page: ThermostatCardPage,
    qtbot: QtBot,
    settled: Settled,
    seat: Seat,
    job_id: int,
    unnamed: Callable[[object], list[object]],
) -> None:
    assert unnamed(page) == []
    qtbot.mouseClick(page.question.buttons[1], Qt.MouseButton.LeftButton)
    settled()
    assert thermostat_card.card_view(seat, job_id).steps[0].answer == "too-high"


def test_escape_goes_back_to_the_bench(page: ThermostatCardPage, qtbot: QtBot) -> None:
    asked: list[str] = []
    page.context.placeAsked.connect(lambda place, _what: asked.append(place))
    page.list.view.setFocus()
    qtbot.keyClick(page.list.view, Qt.Key.Key_Escape)
    assert asked == ["bench"]
