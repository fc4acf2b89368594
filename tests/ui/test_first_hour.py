"""The first hour: led through a first range from what stands in the shop, and the older books brought in."""

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from shopdesk.domain.answers import Answer
from shopdesk.services import first_range, intake, people, reports, walks, work_orders
from shopdesk.services.intake import JobDraft, RangeDraft
from shopdesk.ui.context import Context
from shopdesk.ui.first_range_strip import FirstRangeStrip
from shopdesk.ui.pages.first_hour.page import FirstHourPage
from shopdesk.ui.regions import regions
from shopdesk.ui.table_in_form import TableInForm

Settled = Callable[[], None]


@pytest.fixture
def strip(qtbot: QtBot, context: Context, settled: Settled) -> FirstRangeStrip:
    made = FirstRangeStrip(context, leads=True)
    qtbot.addWidget(made)
    settled()
    return made


def test_the_strip_leads_from_one_step_to_the_next_by_what_stands_in_the_shop(
    strip: FirstRangeStrip, context: Context, settled: Settled, qtbot: QtBot
) -> None:
    seat = context.seat
    assert "1 of 5" in strip.words.text()
    with qtbot.waitSignal(context.placeAsked) as asked:
        strip.there.click()
    assert asked.args == ["floor", {"book_in": True}]
    taken = intake.take_on(seat, RangeDraft(maker="Corvane"), JobDraft())
    walk = walks.open_walk(seat, taken.job_id)

    def told() -> str:
        context.do(lambda _seat: None)  # something was done, of which no page was told
        settled()
        return strip.words.text()

    assert "2 of 5" in told()
    codes = [checkpoint.code for checkpoint in seat.catalogue.checkpoints.values()]
    for code in codes[:3]:
        walks.answer(seat, walk, Answer(code))
    assert "3 of 5" in told()
    with qtbot.waitSignal(context.placeAsked) as asked:
        strip.there.click()
    assert asked.args == ["walk-round", {"job_id": taken.job_id}]
    walks.finish(seat, walk)
    assert "4 of 5" in told()
    work_orders.write_order(seat, taken.job_id)
    assert "5 of 5" in told()
    reports.print_condition_report(seat, walk)
    assert "a whole first range" in told()
    strip.away.click()
    settled()
    assert strip.isHidden()
    assert first_range.first_range(seat) is None, "never shown again"
    assert FirstRangeStrip(context, leads=True).isHidden()


def test_it_can_be_left_and_taken_up_again_and_is_put_away_for_this_person_only(
    strip: FirstRangeStrip, context: Context, settled: Settled
) -> None:
    strip.later.click()
    assert strip.isHidden()
    context.announce("jobs")
    settled()
    assert strip.isHidden(), "not before it is asked for"
    strip.take_up()
    settled()
    assert not strip.isHidden()
    strip.away.click()
    settled()
    assert first_range.first_range(context.seat) is None
    strip.take_up()
    settled()
    assert not strip.isHidden()


def test_a_sample_leads_nobody(qtbot: QtBot, context: Context, settled: Settled) -> None:
    made = FirstRangeStrip(context, leads=False)
    qtbot.addWidget(made)
    settled()
    assert made.isHidden()


def test_older_books_come_in_from_the_first_hour(
    qtbot: QtBot, context: Context, dialogs, settled: Settled, tmp_path: Path,
    unnamed: Callable[[QWidget], list[QWidget]],
) -> None:  # fmt: skip
    page = FirstHourPage(context)
    qtbot.addWidget(page)
    page.show()
    dialogs.file = tmp_path / "customers.csv"
    dialogs.file.write_text("Name,Phone,Mail\nAda Quillfeather,555 0101,\nRolf Tansy,,nothing\n")
    page.books.buttons["customers"].click()
    settled()
    form = page.books.form
    assert isinstance(form, TableInForm)
    assert unnamed(page) == []
    form.form.submit()
    settled()
    assert form.told.text().startswith("1 new, 0 changed, 0 as they were, 1 bad")
    assert not people.parties(context.seat, "quillfeather")
    form.take_button.click()
    settled()
    assert page.books.form is None
    assert people.parties(context.seat, "quillfeather")[0].phone == "555 0101"


def test_a_file_that_is_no_table_is_told_beside_the_buttons(
    qtbot: QtBot, context: Context, dialogs, settled: Settled, tmp_path: Path
) -> None:
    page = FirstHourPage(context)
    qtbot.addWidget(page)
    dialogs.file = tmp_path / "missing.csv"
    page.books.buttons["parts"].click()
    settled()
    assert "missing.csv cannot be read" in page.books.problem.text()


@pytest.mark.parametrize(
    ("computer", "money", "units", "paper"),
    [
        ("de_DE", "EUR", "metric", "a4"),
        ("fr_CA", "CAD", "us", "letter"),
        ("en_GB", "GBP", "metric", "a4"),
        ("pl_PL", "PLN", "metric", "a4"),
        ("C", "USD", "us", "letter"),
    ],
)
def test_money_measures_and_paper_are_offered_as_the_computer_is_set(
    monkeypatch: pytest.MonkeyPatch, computer: str, money: str, units: str, paper: str
) -> None:
    class Set:
        @staticmethod
        def name() -> str:
            return computer

    monkeypatch.setattr("shopdesk.ui.regions.QLocale.system", Set)
    first = regions()[0][0]
    assert (first.currency, first.units, first.paper) == (money, units, paper)
    assert len({region for region, _ in regions()}) == len(regions())
