"""Set-up on a real shop: every section keeps what is typed, explains what is wrong, and loses nothing."""

import datetime as dt
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from shopdesk.domain.catalogue.model import Figures
from shopdesk.domain.money import Spread, decimals
from shopdesk.domain.rights import Role
from shopdesk.services import catalogue_changes, settings, shops, taxes
from shopdesk.services.keeping_copies import copies, keep_a_copy
from shopdesk.services.seat import Seat
from shopdesk.services.settings import Copies
from shopdesk.services.shops import setting
from shopdesk.ui.context import Context
from shopdesk.ui.pages.set_up import draft
from shopdesk.ui.pages.set_up.page import SetUpPage
from shopdesk.ui.widgets.strip_list import Strip, StripList
from shopdesk.wording import Region

Settled = Callable[[], None]


@pytest.fixture
def page(context: Context, settled: Settled, qtbot: QtBot) -> SetUpPage:
    made = SetUpPage(context)
    qtbot.addWidget(made)
    context.changed.connect(made.refresh)
    made.resize(1200, 800)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.refresh(SetUpPage.everything)
    settled()
    return made


def _section(page: SetUpPage, key: str, settled: Settled) -> Any:
    section = page.section(key)
    settled()
    return section


def _fill(form: Any, **typed: Any) -> None:
    for name, value in typed.items():
        form[name].setTyped(value)
        form[name].edited.emit()


def _problem(form: Any, name: str) -> str:
    return str(form._entries[name].problem.text())


def _strips(table: StripList) -> list[Strip]:
    return [table.model.row(place) for place in range(table.model.rowCount())]


def test_the_shop_is_kept_and_a_wrong_address_explained(
    page: SetUpPage, seat: Seat, settled: Settled
) -> None:
    form = _section(page, "shop", settled).form
    assert form["name"].value() == "Hearth and Damper"
    _fill(form, name="", email="nowhere", town="Ferrow")
    form.submit()
    assert "needs a name" in _problem(form, "name")
    _fill(form, name="Hearth & Damper <b>")
    form.submit()
    assert "not an e-mail address" in _problem(form, "email")
    _fill(form, email="desk@hearth.example")
    form.submit()
    settled()
    kept = shops.setting(seat, settings.ShopIdentity)
    assert (kept.name, kept.town, kept.email) == ("Hearth & Damper <b>", "Ferrow", "desk@hearth.example")


def test_a_logo_is_a_png_and_prints_once_kept(
    page: SetUpPage, seat: Seat, settled: Settled, dialogs: Any, tmp_path: Path
) -> None:
    form = _section(page, "shop", settled).form
    dialogs.file = tmp_path / "mark.jpg"
    Image.new("RGB", (9, 9)).save(dialogs.file)
    form["logo_png"].choose()
    assert "not a PNG" in _problem(form, "logo_png")
    dialogs.file = tmp_path / "mark.png"
    Image.new("RGB", (9, 9)).save(dialogs.file)
    form["logo_png"].choose()
    assert not form["logo_png"].picture.pixmap().isNull()
    form.submit()
    settled()
    assert shops.setting(seat, settings.ShopIdentity).logo_png
    form["logo_png"].take_off()
    form.submit()
    settled()
    assert shops.setting(seat, settings.ShopIdentity).logo_png == ""


def test_the_region_counts_at_once_and_an_unknown_zone_is_explained(
    page: SetUpPage, context: Context, settled: Settled
) -> None:
    form = _section(page, "region", settled).form
    _fill(form, timezone="Europe/Nowhere")
    form.submit()
    assert "time zone Europe/Nowhere is not known" in _problem(form, "timezone")
    form.show_values({"language": "de_DE", "currency": "EUR", "units": "metric", "paper": "a4"})
    _fill(form, timezone="Europe/Berlin")
    form.submit()
    settled()
    assert context.region == Region("de_DE", "EUR", "metric", "a4", "Europe/Berlin")
    assert context.region.money(123_450) == "1.234,50\xa0€"


def test_everything_offered_for_a_region_is_known(seat: Seat) -> None:
    for code, name in draft.language_choices("en_US"):
        assert Region(language=code).locale == code
        assert name
    assert all(decimals(code) in (0, 2) for code, _ in draft.currency_choices())
    assert "America/Chicago" in draft.zones()


def test_somebody_new_is_written_down_with_skills_and_what_an_hour_costs(
    page: SetUpPage, seat: Seat, settled: Settled
) -> None:
    section = _section(page, "people", settled)
    assert section.form["name"].value() == "Ida Kessler"
    section.begin_new()
    section.form.submit()
    assert "needs a name" in _problem(section.form, "name")
    _fill(section.form, name="Bram Tollgate", skills=["gas", "bench"])
    section.form.submit()
    settled()
    settled()
    bram = next(row for row in shops.staff(seat) if row.name == "Bram Tollgate")
    assert (bram.role, bram.initials, set(bram.skills)) == (Role.TECHNICIAN, "BT", {"gas", "bench"})
    assert section.list.current_key() == bram.id
    assert section.wages.isVisible()
    _fill(section.wage_form, cost="42")
    section.wage_form.submit()
    settled()
    assert [w.cost_cents_per_hour for w in shops.wages(seat) if w.staff_id == bram.id] == [4200]
    assert [strip.right for strip in _strips(section.wage_list)] == ["counts now"]


def test_the_only_owner_stays_one(page: SetUpPage, seat: Seat, settled: Settled) -> None:
    section = _section(page, "people", settled)
    section.form["role"].setValue(Role.DESK)
    section.form.submit()
    settled()
    assert "only owner" in _problem(section.form, "role")
    assert shops.staff(seat)[0].role is Role.OWNER


def test_a_rate_counts_from_its_day(page: SetUpPage, seat: Seat, settled: Settled) -> None:
    section = _section(page, "rates", settled)
    later = seat.today + dt.timedelta(days=30)
    _fill(section.form, rate="110", from_day=seat.region.day(later))
    section.form.submit()
    settled()
    assert [(r.from_day, r.cents_per_hour) for r in shops.rates(seat)] == [
        (seat.today, 9500), (later, 11_000)
    ]  # fmt: skip
    assert [strip.right for strip in _strips(section.list)] == ["to come", "counts now"]


def test_a_tax_is_set_on_several_kinds_and_needs_its_rate(
    page: SetUpPage, seat: Seat, settled: Settled
) -> None:
    section = _section(page, "taxes", settled)
    form = section.form
    _fill(form, name="Sales tax")
    form.submit()
    assert "at least one kind" in _problem(form, "kinds")
    _fill(form, kinds=["part", "charge"])
    form.submit()
    assert "Write the rate" in _problem(form, "percent")
    _fill(form, percent="6.5")
    form["category"].setValue("E")
    form.submit()
    assert "Only what is taxed" in _problem(form, "percent")
    form["category"].setValue("S")
    form.submit()
    settled()
    assert {(t.kind, t.percent) for t in taxes.taxes(seat)} == {
        ("part", Decimal("6.5")), ("charge", Decimal("6.5"))
    }  # fmt: skip
    assert [strip.right for strip in _strips(section.list)] == ["6.5%", "6.5%"]
    section.list.focusFirst()
    section.list.opened.emit(section.list.current_key())
    assert form["kinds"].value() == ("part",)


def test_terms_are_kept_and_what_the_form_does_not_ask_stays(
    page: SetUpPage, seat: Seat, settled: Settled
) -> None:
    form = _section(page, "terms", settled).form
    _fill(form, deposit_percent="a third")
    form.submit()
    assert "is not a number" in _problem(form, "deposit_percent")
    _fill(form, deposit_percent="", delivery_cents="250")
    form.submit()
    assert "0 for none" in _problem(form, "deposit_percent")
    _fill(form, deposit_percent="40", quote_valid_days=21)
    form.submit()
    settled()
    kept = shops.setting(seat, settings.Terms)
    assert (kept.deposit_percent, kept.quote_valid_days, kept.delivery_cents) == (40, 21, 25_000)
    assert kept.warn_at_percent == settings.Terms().warn_at_percent


def test_texts_of_the_papers_are_kept(page: SetUpPage, seat: Seat, settled: Settled) -> None:
    form = _section(page, "texts", settled).form
    _fill(form, warranty="90 days on labour.\nFinishes as found are excluded.")
    form.submit()
    settled()
    assert shops.setting(seat, settings.Texts).warranty.endswith("are excluded.")


def test_figures_stand_beside_the_shipped_ones_and_only_own_ones_are_kept(
    page: SetUpPage, seat: Seat, context: Context, settled: Settled
) -> None:
    section = _section(page, "figures", settled)
    form = section.form
    assert "checkpoints" in section.counts.text()
    assert form["charge_per_hour"].value() == 9500
    assert "shipped: $95.00" in form._entries["charge_per_hour"].note
    form["unrestored"].setTyped(["400", "300", "900"])
    form.submit()
    assert "go up" in _problem(form, "unrestored")
    form["unrestored"].setTyped(["400", "", "900"])
    form.submit()
    assert "all three" in _problem(form, "unrestored")
    form["unrestored"].setTyped(["400", "600", "900"])
    form["finished/show"].setTyped(["5000", "8000", "12000"])
    _fill(form, charge_per_hour="110", margin="20")
    form.submit()
    settled()
    kept = catalogue_changes.changes(seat).figures
    assert set(kept) == {"charge_per_hour", "margin", "unrestored", "finished"}
    figures = context.seat.catalogue.figures
    assert (figures.charge_per_hour, figures.margin) == (11_000, 0.2)
    assert figures.unrestored == Spread(40_000, 60_000, 90_000)
    assert figures.finished["show"].likely == 800_000
    assert figures.finished["everyday"] == catalogue_changes.shipped_catalogue().figures.finished["everyday"]
    _fill(form, charge_per_hour="")
    form.submit()
    settled()
    assert "charge_per_hour" not in catalogue_changes.changes(seat).figures
    assert context.seat.catalogue.figures.charge_per_hour == 9500


def test_every_trade_figure_can_be_overwritten(seat: Seat) -> None:
    shipped = catalogue_changes.shipped_catalogue().figures
    known = draft.figures(shipped)
    assert {figure.path[0] for figure in known} == set(Figures.__dataclass_fields__)
    unchanged = {f.field: draft.as_percent(f.shipped) if f.kind == "share" else f.shipped for f in known}
    assert draft.as_written(known, unchanged) == {}


def test_a_checkpoint_is_found_reworded_and_switched_off(
    page: SetUpPage, context: Context, settled: Settled, qtbot: QtBot
) -> None:
    section = _section(page, "checkpoints", settled)
    assert _strips(section.list)
    section.search.setText("oven floor")
    qtbot.waitUntil(lambda: 0 < section.list.model.rowCount() < 20)
    code = next(strip.key for strip in _strips(section.list))
    section.list.select(code)
    shipped = catalogue_changes.shipped_catalogue().checkpoints[code]
    assert section.form["tell"].value() == shipped.tell
    _fill(section.form, tell="Press with a thumb.")
    section.form.submit()
    settled()
    assert context.seat.catalogue.checkpoints[code].tell == "Press with a thumb."
    assert context.seat.catalogue.checkpoints[code].name == shipped.name
    assert section.list.current().below == "in your words"
    section.form["asked"].setValue(False)
    section.form.submit()
    settled()
    assert code in context.seat.catalogue.off
    assert section.list.current().right == "not asked"
    _fill(section.form, tell="")
    section.form["asked"].setValue(True)
    section.form.submit()
    settled()
    assert context.seat.catalogue.checkpoints[code] == shipped


def test_a_finding_is_left_out_and_a_checkpoint_of_ones_own_is_added_and_asked_earlier(
    page: SetUpPage, context: Context, settled: Settled
) -> None:
    section = _section(page, "checkpoints", settled)
    section.list.select("oven-floor")
    section.findings.list.select("oven-floor.worn")
    section.findings.form["asked"].setValue(False)
    _fill(section.findings.form, name="Worn thin")
    section.findings.form.submit()
    settled()
    assert "oven-floor.worn" in context.seat.catalogue.off
    assert context.seat.catalogue.findings["oven-floor.worn"].name == "Worn thin"
    section.own_form["zone"].setValue("outside")
    _fill(section.own_form, name="Badge of the dealer", findings="Lost\nBent")
    section.own_form.submit()
    settled()
    (code,) = set(context.seat.catalogue.checkpoints) - set(catalogue_changes.shipped_catalogue().checkpoints)
    assert section._shown == code
    section.earlier.click()
    settled()
    here = [c.code for c in context.seat.catalogue.checkpoints.values() if c.zone == "outside"]
    assert here.index(code) == len(here) - 2


def test_a_checkpoint_of_the_release_warns_before_it_is_left_out(page: SetUpPage, settled: Settled) -> None:
    section = _section(page, "checkpoints", settled)
    shipped = catalogue_changes.shipped_catalogue().checkpoints.values()
    section.list.select(next(c.code for c in shipped if c.safety >= 2))
    assert "its risk is not counted" in section.safety.text()
    assert section.safety.isVisible()
    section.list.select(next(c.code for c in shipped if c.safety == 0))
    assert not section.safety.isVisible()


def test_the_look_counts_at_once(page: SetUpPage, context: Context, settled: Settled) -> None:
    section = _section(page, "look", settled)
    section.form["scheme"].setValue("dark")
    section.form["scheme"].edited.emit()
    assert context.view.scheme == "dark"
    section.form["scale"].setValue(150)
    section.form["scale"].edited.emit()
    assert context.view.scale == 1.5
    context.view.plain()
    assert _section(page, "look", settled).form["scale"].value() == 100


def test_the_shop_is_copied_and_found_whole(
    page: SetUpPage, seat: Seat, settled: Settled, dialogs: Any, tmp_path: Path
) -> None:
    section = _section(page, "backups", settled)
    dialogs.file = tmp_path / "copies" / "kept.db"
    section.copy()
    settled()
    assert dialogs.file.is_file()
    assert str(dialogs.file) in section.copied.text()
    dialogs.file = Path(seat.file.url.database or "")
    section.copy()
    settled()
    assert "the open shop itself" in section.copy_problem.text()
    section.check()
    settled()
    assert section.checked.text() == "The shop is whole: no fault was found."
    assert section.found.text() == ""


def test_faults_are_told_in_sentences(page: SetUpPage, seat: Seat, settled: Settled) -> None:
    with seat.file.engine.begin() as connection:
        connection.exec_driver_sql("DROP TRIGGER journal_no_update")  # as somebody at the file itself could
        connection.exec_driver_sql("UPDATE journal SET who = 'somebody else' WHERE id = 1")
    section = _section(page, "backups", settled)
    section.check()
    settled()
    assert "Journal row 1 was changed after it was written." in section.found.text()
    assert "fault" in section.checked.text()


def test_what_is_typed_survives_other_sections_and_another_day(
    page: SetUpPage, context: Context, settled: Settled, qtbot: QtBot
) -> None:
    _fill(_section(page, "shop", settled).form, town="Half typ")
    _fill(_section(page, "terms", settled).form, deposit_percent="forty")
    context.announce("settings")
    settled()
    assert _section(page, "shop", settled).form["town"].typed() == "Half typ"
    another = SetUpPage(context)
    qtbot.addWidget(another)
    assert _section(another, "terms", settled).form["deposit_percent"].typed() == "forty"
    assert _section(another, "shop", settled).form["name"].typed() == "Hearth and Damper"


def test_a_narrow_page_chooses_its_section_above_and_loses_nothing(page: SetUpPage, settled: Settled) -> None:
    _fill(_section(page, "shop", settled).form, town="Half typ")
    page.resize(500, 700)
    assert page.choice.isVisible()
    assert not page.names.isVisible()
    settled()
    assert _section(page, "shop", settled).form["town"].typed() == "Half typ"
    page.choice.setValue("texts")
    page.choice.edited.emit()
    settled()
    assert page.rooms.currentWidget().key == "texts"


def test_the_keyboard_walks_the_sections(page: SetUpPage, settled: Settled, qtbot: QtBot) -> None:
    page.show_section("shop")
    page.focusFirst()
    qtbot.keyClick(page.names, Qt.Key.Key_Down)
    settled()
    assert page.rooms.currentWidget().key == "region"


def test_anybody_but_the_owner_finds_the_look_only(
    page: SetUpPage, seat: Seat, context: Context, settled: Settled
) -> None:
    key = shops.keep_staff(seat, shops.StaffDraft("Ysolde Marchbank", Role.DESK))
    context.take_seat(seat.taken_by(key))
    page.refresh(SetUpPage.everything)
    settled()
    assert [page.names.item(n).text() for n in range(page.names.count())] == ["Look"]
    assert page.note.isVisible()
    context.take_seat(seat)
    page.refresh(SetUpPage.everything)
    settled()
    assert page.names.count() > 5


def test_every_control_of_set_up_can_be_named(
    page: SetUpPage, settled: Settled, unnamed: Callable[[QWidget], list[Any]]
) -> None:
    for key in list(page._known):
        _section(page, key, settled)
    assert unnamed(page) == []


def test_copies_are_set_made_listed_and_brought_back(
    page: SetUpPage, seat: Seat, settled: Settled, dialogs: Any, tmp_path: Path
) -> None:
    section = _section(page, "backups", settled)
    _fill(section.form, folder=str(tmp_path / "kept"), every_minutes=15)
    section.form.submit()
    settled()
    assert setting(seat, Copies) == Copies(folder=str(tmp_path / "kept"), every_minutes=15)
    section.bring_back()
    assert section.copied.text() == "Choose a copy in the list first."
    keep_a_copy(seat)
    section.ask()
    settled()
    (copy,) = copies(seat)
    section.list.select(copy.path)
    dialogs.file = tmp_path / "back.db"
    section.bring_back()
    settled()
    assert dialogs.file.is_file()
    assert str(dialogs.file) in section.copied.text()
