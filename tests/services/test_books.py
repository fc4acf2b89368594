"""The books of a period: every column agrees with the stored papers, to the cent."""

import csv
import datetime as dt
import io
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest
import sqlalchemy as sa
from builders import FOUR, Shop, a_customer, a_range, agreed, billed, in_days, reopened, walked
from fixed_clock import FixedClock
from openpyxl import load_workbook
from pypdf import PdfReader

from shopdesk.domain.adjust import Change
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Purpose, Scope
from shopdesk.domain.problem import NotAllowed, Problem
from shopdesk.services import agreements, intake, invoices, payments, quotes, work_orders
from shopdesk.services.books import books, write_books
from shopdesk.services.papers.keeping import paper_bytes
from shopdesk.storage.backup import copy_shop
from shopdesk.storage.tables.counter import Invoice, Payment

EVIL = '=cmd|"/c calc"!A1'


@pytest.fixture(scope="module")
def busy(_set_up_file: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    """Two bills, one with discounts and a deposit, one credited; money given back. The tests only read."""
    place = tmp_path_factory.mktemp("books") / "shop.db"
    copy_shop(_set_up_file, place)
    shop = reopened(str(place), FixedClock())
    taken = a_range(shop.owner)
    walked(shop.owner, taken.job_id, *FOUR)
    work_orders.write_order(shop.owner, taken.job_id, Scope.MECHANICAL)
    off = [Change(why="Regular customer", percent=Decimal(-10)), Change(why="Carried in", cents=-10_001)]
    agreements.agree(
        shop.desk, quotes.write_quote(shop.desk, taken.job_id, changes=off), who="Mr Ruiz", how="signed"
    )
    payments.take_payment(shop.desk, taken.job_id, 33_333, "card", deposit=True)
    billed(shop, taken.job_id)
    other = agreed(shop, *FOUR[:2])
    key = billed(shop, other.job_id)
    payments.take_payment(shop.desk, other.job_id, 10_000, "cash")
    invoices.credit_invoice(shop.desk, key, "Billed twice")
    payments.refund(shop.desk, other.job_id, 4_321, "cash")
    yield shop
    shop.owner.file.close()


def read_sheets(path: Path) -> dict[str, list[tuple[object, ...]]]:
    book = load_workbook(path)
    return {sheet.title: list(sheet.iter_rows(min_row=2, values_only=True)) for sheet in book}


def cents(value: object) -> int:
    return int(Decimal(str(value)).scaleb(2).to_integral_exact())


def test_the_file_sums_to_the_stored_papers_to_the_cent(busy: Shop, tmp_path: Path) -> None:
    write_books(busy.desk, in_days(busy.desk, -1), busy.desk.today, tmp_path / "books.xlsx")
    sheets = read_sheets(tmp_path / "books.xlsx")
    with busy.owner.look() as session:
        stored = {row.number: row for row in session.scalars(sa.select(Invoice))}
        taken = sum(session.scalars(sa.select(Payment.amount_cents)))
    assert [row[0] for row in sheets["Papers"]] == list(stored) == ["I-0001", "I-0002", "C-0001"]
    for row in sheets["Papers"]:
        kept, sign = stored[row[0]], -1 if row[1] == "Credit" else 1
        assert [cents(amount) * sign for amount in row[9:12]] == [
            kept.net_cents, kept.tax_cents, kept.gross_cents]  # fmt: skip
        assert cents(row[9]) == cents(row[7]) + cents(row[8])
        groups = [group for group in sheets["Taxes"] if group[0] == row[0]]
        assert sum(cents(group[5]) for group in groups) == cents(row[9])
        assert sum(cents(group[6]) for group in groups) == cents(row[10])
    assert cents(sheets["Papers"][0][8]) < 0  # the discount
    assert sum(cents(row[7]) for row in sheets["Payments"]) == taken == 33_333 + 10_000 - 4_321
    sums = {row[0]: cents(row[1]) for row in sheets["Sums"]}
    assert sums["Papers together: with tax"] == stored["I-0001"].gross_cents
    assert sums["Invoice: with tax"] == sums["Papers together: with tax"] + stored["I-0002"].gross_cents
    assert sums["Money taken, less what was given back"] == taken


def test_every_amount_stands_on_the_printed_paper(busy: Shop) -> None:
    told = books(busy.desk, busy.desk.today, busy.desk.today)
    for row in told.papers.rows:
        pages = PdfReader(io.BytesIO(paper_bytes(busy.desk, str(row[0])))).pages
        text = "\n".join(page.extract_text() for page in pages)
        for amount in row[9:12]:
            assert f"${abs(amount):,}" in text


def test_csv_holds_the_same_tables_as_the_workbook(busy: Shop, tmp_path: Path) -> None:
    day = busy.desk.today
    written = write_books(busy.desk, day, day, tmp_path / "csv")
    assert (written.papers, written.payments) == (3, 3)
    told = books(busy.desk, day, day)
    for path, table in zip(written.files, told.tables, strict=True):
        rows = list(csv.reader(io.StringIO(path.read_text("utf-8-sig"), newline="")))
        assert rows[0] == list(table.heads)
        assert len(rows) == len(table.rows) + 1
    papers = list(csv.DictReader(io.StringIO((tmp_path / "csv/papers.csv").read_text("utf-8-sig"))))
    assert [cents(row["With tax"]) for row in papers] == [cents(row[11]) for row in told.papers.rows]


def test_a_customers_name_never_becomes_a_formula(shop: Shop, tmp_path: Path) -> None:
    customer = a_customer(shop.owner, EVIL)
    draft = intake.RangeDraft(maker="Corvane", model="No. 40", build=Build())
    job = intake.JobDraft(customer_id=customer, purpose=Purpose.FULL)
    taken = intake.take_on(shop.owner, draft, job, booked_in=True)
    payments.take_payment(shop.desk, taken.job_id, 100, "card", deposit=True, reference="=1+1")
    write_books(shop.desk, shop.desk.today, shop.desk.today, tmp_path / "b.xlsx")
    row = read_sheets(tmp_path / "b.xlsx")["Payments"][0]
    assert (row[4], row[5]) == ("'=1+1", "'" + EVIL)


def test_only_the_period_is_told_and_a_turned_round_one_is_refused(busy: Shop, tmp_path: Path) -> None:
    before = in_days(busy.desk, -1)
    assert not any(table.rows for table in books(busy.desk, before, before).tables)
    with pytest.raises(Problem, match="ends before it begins"):
        books(busy.desk, busy.desk.today, before)
    with pytest.raises(Problem, match="neither a workbook nor a folder"):
        write_books(busy.desk, before, before, tmp_path / "books.pdf")
    (tmp_path / "file").write_text("x")
    with pytest.raises(Problem, match="cannot be written"):
        write_books(busy.desk, dt.date(2026, 1, 1), before, tmp_path / "file" / "b.xlsx")
    with pytest.raises(NotAllowed):
        books(busy.technician, before, before)
