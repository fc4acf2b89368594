"""The room of a range's proofs with a real shop: made by keyboard, judged as typed, nothing lost."""

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

from shopdesk.demo import steps
from shopdesk.demo.readings import readings_of
from shopdesk.domain.curve import Curve
from shopdesk.domain.proving import Result
from shopdesk.services import instruments, proofs, proving
from shopdesk.services.seat import Seat
from shopdesk.ui.context import Context
from shopdesk.ui.pages.proving.page import ProvingPage
from shopdesk.ui.pages.proving.panel import ProofsPanel
from shopdesk.ui.pages.proving.proof_guide import ProofGuide
from shopdesk.ui.pictures.window import PhotoWindow
from shopdesk.ui.view import View
from shopdesk.ui.widgets.photo_strip import Brought, PhotoStrip

Settled = Callable[[], None]
PIXEL = bytes.fromhex(
    "89504e470d0a1a0a0000000d4948445200000001000000010802000000907753de0000000c4944415408d763f8cfc000000301"
    "0100c9fe92ef0000000049454e44ae426082"
)


@pytest.fixture(scope="module")
def made_shop(tmp_path_factory: pytest.TempPathFactory) -> MadeShop:
    return make_shop(tmp_path_factory.mktemp("made") / "shop.db")


@pytest.fixture
def seat(made_shop: MadeShop, tmp_path: Path, clock: FixedClock) -> Iterator[Seat]:
    opened = made_shop.copy(tmp_path / "shop.db", clock)
    instruments.keep_instrument(
        opened,
        instruments.InstrumentDraft("manometer 2", "M2-117", ("pressure",), {"pressure": 0.05}, opened.today),
    )
    yield opened
    opened.file.close()


@pytest.fixture
def work(made_shop: MadeShop) -> ShopAtWork:
    return made_shop.work


@pytest.fixture
def panel(work: ShopAtWork, context: Context, qtbot: QtBot, settled: Settled) -> ProofsPanel:
    page = ProvingPage(context)
    qtbot.addWidget(page)
    page.resize(1180, 780)
    context.changed.connect(page.refresh)
    with qtbot.waitActive(page):
        page.show()
        page.activateWindow()
    page.open_on(job_id=work.agreed.job_id)
    page.focusFirst()  # as the window does it, before the rows have come
    settled()
    assert page.panel is not None
    qtbot.page = page  # keeps it
    return page.panel


def opened(panel: ProofsPanel, kind: str, settled: Settled) -> ProofGuide:
    panel.record(kind)
    settled()
    assert panel.guide is not None
    return panel.guide


def filled(guide: ProofGuide, **other: Any) -> None:
    """Good readings, `other` in their place, as if typed."""
    guide.form.show_known({**readings_of(guide.guide.form), **other})
    if guide.guide.form.by_eye and "result" not in other:
        guide.form["result"].setValue(Result.MEETS)
    guide.form.edited.emit()


def last(seat: Seat, job_id: int, kind: str) -> proving.ProofRecord:
    return proving.records(seat, job_id, kind)[-1]


def test_the_due_proofs_stand_in_order_each_with_where_it_stands(panel: ProofsPanel, seat: Seat) -> None:
    assert panel.room is not None
    codes = [due.code for due in panel.room.due]
    assert codes == [due.code for due in proofs.proofs_due(seat, panel.job_id)]
    assert panel.list.current_key() == codes[0]
    assert panel.list.model.row(0).second == "not done yet"
    assert panel.release.standing.text().startswith("Not released.")
    assert "Nobody can sign for" in panel.release.blocking.text()


def test_a_proof_is_made_by_keyboard_alone(
    panel: ProofsPanel, seat: Seat, settled: Settled, qtbot: QtBot
) -> None:
    assert panel.list.view.hasFocus()
    panel.list.select("valves")
    qtbot.keyClick(panel.list.view, Qt.Key.Key_Return)
    settled()
    guide = panel.guide
    assert guide is not None
    form = guide.form
    assert form["tried"].hasFocus()
    for name, text in (("tried", "6"), ("stiff", "0"), ("passing", "0")):
        assert form[name].hasFocus()
        qtbot.keyClicks(form[name], text)
        qtbot.keyClick(form[name], Qt.Key.Key_Tab)
    assert form["definite_off"].hasFocus()
    qtbot.keyClick(form["definite_off"], Qt.Key.Key_Space)
    form["result"].setFocus()
    qtbot.keyClick(form["result"], Qt.Key.Key_M)
    assert form["result"].value() is Result.MEETS
    qtbot.keyClick(form["result"], Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    settled()
    record = last(seat, panel.job_id, "valves")
    assert record.result == "meets"
    assert ("Valves tried, cold and hot", "6") in record.readings
    assert panel.guide is None
    assert panel.list.view.hasFocus()
    assert panel.list.current_key() != "valves"


def test_the_result_is_worked_out_while_the_readings_are_typed(panel: ProofsPanel, settled: Settled) -> None:
    guide = opened(panel, "tightness-bench", settled)
    assert panel.live.word.text() == "Read the gauge at the start."
    assert guide.form["resolution_inwc"].text() == "0.05", "the manometer's division"
    filled(guide)
    assert panel.live.word.text() == "○ meets"
    assert guide.live.chart.chart is not None
    assert "from temperature alone" in guide.live.chart.accessibleDescription()
    guide.form["end_inwc"].setValue(11.0)
    guide.form.edited.emit()
    assert panel.live.word.text() == "■ does not meet"
    assert "Something leaks" in guide.live.told.text()
    guide.form["end_inwc"].setTyped("eleven")
    guide.form.edited.emit()
    assert panel.live.word.text() == "Read the gauge at the end."


def test_stop_is_said_at_once_when_the_room_is_bad(
    panel: ProofsPanel, seat: Seat, settled: Settled, qtbot: QtBot
) -> None:
    guide = opened(panel, "co-oven", settled)
    assert not panel.live.stop.isVisible()
    qtbot.keyClicks(guide.form["room_before_ppm"], "0")
    guide.form["room_ppm"].setFocus()
    qtbot.keyClicks(guide.form["room_ppm"], "35")
    assert panel.live.stop.isVisible()
    assert panel.live.stop.text().startswith("35 ppm in the room: stop, shut off the gas, leave, ventilate")
    guide.form.submit()
    settled()
    record = last(seat, panel.job_id, "co-oven")
    assert record.result == "does not meet"
    assert record.says[0].startswith("35 ppm in the room: stop")


def test_room_air_in_the_flue_is_refused_beside_its_field_and_nothing_typed_is_lost(
    panel: ProofsPanel, seat: Seat, settled: Settled
) -> None:
    guide = opened(panel, "co-oven", settled)
    filled(guide, oxygen_pct_1=20.9)
    guide.form["oxygen_pct_1"].edited.emit()
    guide.form.submit()
    settled()
    assert "room air" in guide.form["oxygen_pct_1"].accessibleDescription()
    assert guide.form["oxygen_pct_1"].hasFocus()
    assert guide.form["co_ppm_1"].text() == "28"
    assert proving.records(seat, panel.job_id) == []
    panel.leave()
    again = opened(panel, "co-oven", settled)
    assert again.form["oxygen_pct_1"].text() == "20.9", "the draft is there again"


def test_an_oven_at_minus_forty_is_refused_beside_its_cycles(panel: ProofsPanel, settled: Settled) -> None:
    guide = opened(panel, "thermostat", settled)
    filled(guide, cycles_350=((-40.0, 380.0),))
    guide.form.submit()
    settled()
    assert "An oven at -40 °F does not cycle" in guide.form["cycles_350"].accessibleDescription()
    guide.form["cycles_350"].setTyped("331 372 400")
    guide.form.submit()
    assert "not two figures" in guide.form["cycles_350"].accessibleDescription()


def test_a_meters_dial_is_asked_for_in_place_of_a_gauge(
    panel: ProofsPanel, seat: Seat, settled: Settled
) -> None:
    guide = opened(panel, "tightness-assembled", settled)
    filled(guide)
    guide.form["start_inwc"].setTyped("half typed")
    guide.form["method"].setValue("meter")
    guide.form.edited.emit()
    assert not guide.form["start_inwc"].isVisible()
    assert guide.form["dial_cuft"].isVisible()
    guide.form.show_values({"dial_cuft": 0.5, "dial_minutes": 5.0, "moved_cuft": 0.0})
    guide.form.submit()
    settled()
    record = last(seat, panel.job_id, "tightness-assembled")
    assert record.result == "meets"
    assert any("stood still" in told for told in record.says)


def test_a_zero_time_is_refused_when_clocking(panel: ProofsPanel, settled: Settled, dialogs: Any) -> None:
    assert panel.room is not None
    dialogs.choice = [code for code, _ in panel.room.others].index("input-rate")
    panel.another()
    settled()
    guide = panel.guide
    assert guide is not None
    assert guide.guide.kind.code == "input-rate"
    filled(guide, seconds=0.0)
    guide.form.submit()
    settled()
    assert "cannot be clocked" in guide.form["seconds"].accessibleDescription()


def a_log(path: Path, rows: int = 0) -> Path:
    """A cycling oven, a reading every ten seconds."""
    lines = ["seconds,temperature_f"]
    for number in range(rows or 400):
        phase = number % 80
        lines.append(f"{number * 10},{335 + (phase if phase < 40 else 80 - phase):.1f}")
    path.write_text("\n".join(lines), encoding="utf-8")
    return path


def test_a_loggers_file_fills_the_cycles_in_and_its_curve_is_kept(
    panel: ProofsPanel, seat: Seat, settled: Settled, dialogs: Any, tmp_path: Path
) -> None:
    guide = opened(panel, "thermostat", settled)
    filled(guide)
    dialogs.file, dialogs.choice = a_log(tmp_path / "oven.csv"), 1
    guide.loggerAsked.emit()
    settled()
    assert guide.form["cycles_350"].text().startswith("335/375, 335/375")
    assert "cycles were found in the file" in guide.logger_says.text()
    guide.form.submit()
    settled()
    curves: tuple[Curve, ...] = last(seat, panel.job_id, "thermostat").curves
    logged = next(c for c in curves if c.level == 350)
    assert (logged.timed, logged.series[0].name) == (True, "oven")
    assert [mark.word for mark in logged.marks[:2]] == ["on", "off"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("colour,shape\nred,round\n" * 20, "no column of times"),
        ("seconds,temperature_f\n", "no readings"),
        ("seconds,temperature_f\n" + "x,y\n" * 30, "cannot be used"),
        ("seconds,temperature\n" + "1,300\n" * 30, "does not say whether"),
        ("seconds,temperature_f\n" + "".join(f"{n},350\n" for n in range(50)), "No cycle was found"),
    ],
)
def test_a_loggers_file_that_will_not_do_gets_a_sentence_and_what_was_typed_stays(
    panel: ProofsPanel, settled: Settled, dialogs: Any, tmp_path: Path, text: str, said: str
) -> None:
    guide = opened(panel, "thermostat", settled)
    filled(guide)
    before = guide.form["cycles_350"].text()
    dialogs.file, dialogs.choice = tmp_path / "bad.csv", 1
    dialogs.file.write_text(text, encoding="utf-8")
    guide.loggerAsked.emit()
    settled()
    assert said in guide.form._whole.text()
    assert guide.form["cycles_350"].text() == before


def test_an_instrument_past_its_calibration_is_said_so(
    panel: ProofsPanel, seat: Seat, settled: Settled, clock: FixedClock
) -> None:
    panel.show_tools()
    assert panel.tools.list.view.hasFocus()
    clock.advance(days=3)
    panel.refresh()
    settled()
    assert panel.tools.list.model.row(0).below.startswith("past its calibration")
    panel.leave()
    guide = opened(panel, "tightness-bench", settled)
    assert "past its calibration" in guide.form["instrument/pressure"].currentText()
    filled(guide)
    guide.form.submit()
    settled()
    record = last(seat, panel.job_id, "tightness-bench")
    assert "past its calibration" in record.instrument
    assert record.says[0] == "manometer 2 was past its calibration on the day."


def test_an_instrument_is_written_down_and_a_wrong_one_explained(
    panel: ProofsPanel, seat: Seat, settled: Settled
) -> None:
    panel.show_tools()
    panel.tools.add_button.click()
    form = panel.tools.form
    assert form is not None
    form.submit()
    assert form["name"].accessibleDescription().startswith("Give it a name")
    form["name"].setValue("thermocouple 1")
    form.submit()
    settled()
    assert "Say what the instrument measures" in form._whole.text()
    form["measures_temperature"].setValue(True)
    form["division_temperature"].setTyped("0.5")
    form.submit()
    settled()
    kept = next(r for r in instruments.instruments(seat) if r.name == "thermocouple 1")
    assert (kept.measures, dict(kept.divisions), kept.past) == (("temperature",), {"temperature": 0.5}, True)


def test_pictures_go_with_the_proof_and_are_shown_on_its_record(
    panel: ProofsPanel, seat: Seat, settled: Settled, qtbot: QtBot
) -> None:
    guide = opened(panel, "stance", settled)
    filled(guide)
    guide.strip.brought.emit([Brought("level.png", data=PIXEL)])
    assert "1 picture will be kept" in guide.pictures.text()
    guide.form.submit()
    settled()
    (kept,) = last(seat, panel.job_id, "stance").pictures
    panel.list.select("stance")
    (strip,) = panel.records.findChildren(PhotoStrip)
    assert strip.list.count() == 1
    assert not strip.add_button.isVisible()
    strip.list.setFocus()
    strip.list.setCurrentRow(0)
    qtbot.keyClick(strip.list, Qt.Key.Key_Return)
    settled()
    (large,) = panel.records.findChildren(PhotoWindow)
    assert large.isVisible()
    qtbot.keyClick(large, Qt.Key.Key_Escape)
    assert kept.thumbnail


def test_an_earlier_reading_stays_listed_beside_the_later(
    panel: ProofsPanel, seat: Seat, settled: Settled, clock: FixedClock
) -> None:
    steps.make(seat, panel.job_id, "tightness-bench", end_inwc=11.0)
    clock.advance(minutes=20)
    steps.make(seat, panel.job_id, "tightness-bench")
    panel.refresh()
    settled()
    panel.list.select("tightness-bench")
    assert [r.result for r in panel.records.shown] == ["meets", "does not meet"]
    assert panel.list.model.row(0).title.startswith("○")


def test_a_range_goes_through_all_its_proofs_to_its_release_in_this_room(
    panel: ProofsPanel, seat: Seat, settled: Settled, context: Context
) -> None:
    assert panel.room is not None
    for code in [due.code for due in panel.room.due]:
        guide = opened(panel, code, settled)
        filled(guide)
        guide.form.submit()
        settled()
        assert panel.guide is None, f"{code}: {guide.form._whole.text()}"
        assert last(seat, panel.job_id, code).result == "meets"
    assert panel.release.standing.text() == "Not released. Every proof stands."
    panel.release.release_button.click()
    panel.release.release()
    form = panel._deed[-1]
    form.submit()  # type: ignore[attr-defined]
    settled()
    assert "is not finished" in form._whole.text()  # type: ignore[attr-defined]


def test_a_technician_may_not_release(panel: ProofsPanel, work: ShopAtWork, context: Context) -> None:
    context.take_seat(context.seat.taken_by(work.technician))
    panel.release.show_room(panel.room)  # type: ignore[arg-type]
    assert not panel.release.release_button.isVisible()


def test_every_control_has_a_name_and_every_look_is_drawn(
    panel: ProofsPanel, settled: Settled, view: View, unnamed: Callable[[QWidget], list[Any]]
) -> None:
    guide = opened(panel, "thermostat", settled)
    filled(guide)
    assert not unnamed(panel)
    for scheme in ("light", "dark", "contrast"):
        view.choose_scheme(scheme)  # type: ignore[arg-type]
        QApplication.processEvents()
        image: QImage = panel.grab().toImage()
        assert len({image.pixel(x, y) for x in range(0, 1100, 9) for y in range(0, 700, 9)}) > 6
