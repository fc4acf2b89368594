"""The gas bench in the window: alone and for a range, its inputs kept, bad ones answered in a sentence."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from copied_shop import MadeShop, make_shop
from fixed_clock import FixedClock
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot
from shop_at_work import ShopAtWork

from shopdesk.services import change_orders, gas_bench, intake, work_orders
from shopdesk.services.seat import Seat
from shopdesk.ui.context import Context
from shopdesk.ui.pages.gas_bench.page import GasBenchPage
from shopdesk.ui.view import View

Settled = Callable[[], None]


@pytest.fixture(scope="module")
def made_shop(tmp_path_factory: pytest.TempPathFactory) -> MadeShop:
    return make_shop(tmp_path_factory.mktemp("made") / "shop.db")


@pytest.fixture
def seat(made_shop: MadeShop, tmp_path: Path, clock: FixedClock) -> Iterator[Seat]:
    opened = made_shop.copy(tmp_path / "shop.db", clock)
    yield opened
    opened.file.close()


@pytest.fixture
def work(made_shop: MadeShop) -> ShopAtWork:
    return made_shop.work


@pytest.fixture
def page(context: Context, qtbot: QtBot) -> GasBenchPage:
    made = GasBenchPage(context)
    qtbot.addWidget(made)
    made.resize(1180, 780)
    context.changed.connect(made.refresh)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    return made


def typed(page: GasBenchPage, kind: str, **values: str) -> Any:
    """A calculator with these texts typed into it."""
    view = page.convert if kind == "convert" else page.views[kind]
    assert view is not None
    for name, text in values.items():
        field = view.form[name]
        field.setValue(text) if hasattr(field, "setChoices") else field.setTyped(text)
    view.form.edited.emit()
    return view


def test_a_drill_is_found_by_keyboard_alone(page: GasBenchPage, qtbot: QtBot) -> None:
    qtbot.keyClick(page, Qt.Key.Key_2, Qt.KeyboardModifier.ControlModifier)
    view = page.views["drill"]
    assert view.form["input_btuh"].hasFocus()
    assert view.answer.missing.text() == "Write the input that is wanted."
    qtbot.keyClicks(view.form["input_btuh"], "9000")
    view.form["gas"].setFocus()
    qtbot.keyClick(view.form["gas"], Qt.Key.Key_N)
    assert view.answer.first.text().startswith("Drill 54 (0.0550 in) is nearest in input")
    for told in ("Drill 55 passes", "Drill 54 passes", "Drill 53 passes", "coefficient 0.9, 0 ft"):
        assert told in view.answer.rest.text()


@pytest.mark.parametrize(
    ("kind", "values", "said"),
    [
        ("flow", {"drill": "99", "gas": "natural"}, "There is no drill “99”"),
        ("flow", {"gas": "natural"}, "Give the drill"),
        ("flow", {"drill": "50", "diameter_in": "0.07", "gas": "natural"}, "not both"),
        ("drill", {"input_btuh": "9000000", "gas": "natural"}, "not one burner's"),
        ("clock", {"dial_cuft": "0.5", "seconds": "0", "gas": "natural"}, "cannot be clocked"),
        ("wobbe", {"gas": "natural", "gravity": "1.52"}, "not that of natural gas"),
        ("supply", {"no_flow_inwc": "5", "full_flow_inwc": "9"}, "no supply does that"),
        ("convert", {"from_gas": "natural", "to_gas": "natural", "spud_1": "42"}, "burns that gas already"),
        ("convert", {"from_gas": "town", "to_gas": "natural"}, "the spud of one burner"),
        ("convert", {"from_gas": "town", "to_gas": "natural", "spud_1": "1/16"}, "There is no drill “1/16”"),
    ],
)
def test_a_bad_input_is_answered_in_a_sentence(
    page: GasBenchPage, kind: str, values: dict[str, str], said: str
) -> None:
    view = typed(page, kind, **values)
    told = view.missing.text() if kind == "convert" else view.answer.missing.text()
    assert said in told
    if kind == "convert":
        assert not view.plan.isVisible()


def test_inputs_stay_with_the_range_and_come_back(
    page: GasBenchPage, context: Context, work: ShopAtWork, settled: Settled, seat: Seat
) -> None:
    page.open_on(range_id=work.agreed.range_id)
    settled()
    assert page.head.text() == f"Gas bench for {work.agreed.number}"
    view = typed(page, "clock", dial_cuft="0.5", seconds="60", gas="natural")
    view.form["seconds"].edited.emit()
    page.keep_draft()
    settled()
    kept = gas_bench.bench_range(seat, work.agreed.range_id).inputs["clock"]
    assert kept == {"dial_cuft": 0.5, "seconds": 60.0, "gas": "natural"}
    page.stand_alone()
    assert view.form["seconds"].text() == ""
    page.open_on(range_id=work.agreed.range_id)
    settled()
    assert view.form["seconds"].text() == "60"
    assert view.answer.first.text().startswith("30 ft³/h")


def test_alone_nothing_is_kept(page: GasBenchPage, work: ShopAtWork, settled: Settled, seat: Seat) -> None:
    typed(page, "clock", dial_cuft="0.5", seconds="60", gas="natural")
    page.keep_draft()
    settled()
    assert gas_bench.bench_range(seat, work.agreed.range_id).inputs == {}
    assert not page.jacket_button.isVisible()


def test_a_town_gas_burner_on_natural_gas_is_warned_of_in_figures(
    page: GasBenchPage, work: ShopAtWork, settled: Settled, seat: Seat
) -> None:
    described = intake.RangeDraft(maker="Corvane", spuds_found="town gas", house_gas="Natural")
    intake.describe(seat, work.waiting.range_id, described)
    page.open_on(range_id=work.waiting.range_id)
    settled()
    assert "1.84 times its input" in page.warning.text()
    assert "Do not light it" in page.warning.text()
    page.tabs.setCurrentIndex(2)
    view = typed(page, "convert", spud_1="42")
    assert (view.form["from_gas"].value(), view.form["to_gas"].value()) == ("town", "natural")
    assert "1 spud: buy one drilled 50" in view.plan.spuds.text()
    assert "26,462 Btu/h instead of 14,371" in view.plan.warnings.text()


def test_a_conversion_is_the_fitters_decision_and_goes_on_the_order(
    page: GasBenchPage, work: ShopAtWork, settled: Settled, seat: Seat
) -> None:
    page.open_on(range_id=work.agreed.range_id)
    settled()
    page.tabs.setCurrentIndex(2)
    view = typed(page, "convert", from_gas="natural", to_gas="propane", spud_1="42", spud_2="42")
    assert "sinks and pools" in view.plan.says.text()
    view.decision.submit()
    settled()
    assert "licensed fitter decides" in view.decision["decided_by"].accessibleDescription()
    view.decision["decided_by"].setValue("Marten Hale, licence 0000")
    view.decision.submit()
    settled()
    lines = {t.code: t for t in work_orders.task_lines(seat, work.agreed.job_id)}
    assert "change-gas-type" in lines
    (change,) = change_orders.change_orders(seat, job_id=work.agreed.job_id, waiting=True)
    assert "natural gas to propane, decided by Marten Hale" in change.what
    assert page.convert is not None
    assert page.convert.decided.text().startswith("Conversion, natural gas to propane, decided by Marten")


def test_every_control_has_a_name_and_every_look_is_drawn(
    page: GasBenchPage, view: View, unnamed: Callable[[QWidget], list[Any]]
) -> None:
    assert not unnamed(page)
    for scheme in ("light", "dark", "contrast"):
        view.choose_scheme(scheme)  # type: ignore[arg-type]
        QApplication.processEvents()
        image: QImage = page.grab().toImage()
        assert len({image.pixel(x, y) for x in range(0, 1100, 9) for y in range(0, 700, 9)}) > 6
