"""The panel for the bookkeeper: a period, and a file that holds it."""

import csv
import datetime as dt
import io
from pathlib import Path

from conftest import CannedDialogs  # type: ignore[import-not-found]
from counter_shop import make_counter_shop
from openpyxl import load_workbook
from pytestqt.qtbot import QtBot

from shopdesk.services import payments
from shopdesk.services.seat import Seat
from shopdesk.ui.context import Context
from shopdesk.ui.pages.counter.books_panel import last_month
from shopdesk.ui.pages.counter.page import CounterPage


def test_the_last_whole_month_is_offered() -> None:
    assert last_month(dt.date(2026, 3, 1)) == (dt.date(2026, 2, 1), dt.date(2026, 2, 28))
    assert last_month(dt.date(2026, 1, 31)) == (dt.date(2025, 12, 1), dt.date(2025, 12, 31))


def test_the_books_of_a_period_are_saved_as_a_workbook_and_as_csv(
    qtbot: QtBot, seat: Seat, context: Context, dialogs: CannedDialogs, tmp_path: Path
) -> None:
    work = make_counter_shop(seat)
    payments.take_payment(seat, work.agreed.job_id, 12_345, "cash", deposit=True)
    page = CounterPage(context)
    qtbot.addWidget(page)
    panel = page.books
    panel.until.setValue(dt.date(1999, 1, 1))
    panel.form.submit()
    assert "Turn the days round" in panel.form._entries["until"].problem.text()
    assert dialogs.asked == []

    panel.form.show_values({"since": seat.today, "until": seat.today})
    dialogs.file = tmp_path / "books"
    panel.form.submit()
    qtbot.waitUntil(lambda: "books.xlsx" in panel.told.text(), timeout=10_000)
    sheet = load_workbook(tmp_path / "books.xlsx")["Payments"]
    assert [row[7] for row in sheet.iter_rows(min_row=2, values_only=True)] == [123.45]

    dialogs.folder = tmp_path / "csv"
    panel.folder_button.click()
    qtbot.waitUntil(lambda: "csv" in panel.told.text(), timeout=10_000)
    text = (tmp_path / "csv" / "payments.csv").read_text("utf-8-sig")
    assert [row["Amount"] for row in csv.DictReader(io.StringIO(text))] == ["123.45"]
