"""Tables that go out: what a spreadsheet reads back is what was meant, and nothing in it runs."""

import csv
import datetime as dt
import io
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import load_workbook

from shopdesk.exchange.tables_out import Table, csv_file, neutral, workbook

AT = dt.datetime(2026, 3, 1, 9, tzinfo=dt.UTC)


def read_csv(content: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(content.decode("utf-8-sig"), newline="")))


@pytest.mark.parametrize(
    "text", ['=HYPERLINK("x")', "+1", "-2+3", "@SUM(A1)", "\t=1", "\r=1", "  =1", "＝1", "\n=1"]
)
def test_a_text_that_begins_like_a_formula_is_neutralised(text: str) -> None:
    table = Table("People", ("Name",), [[text]])
    assert read_csv(csv_file(table))[1][0].startswith("'")
    cell = load_workbook(io.BytesIO(workbook([table], title="t", made_at=AT)))["People"]["A2"]
    assert cell.data_type == "s"
    assert str(cell.value).startswith("'")


@given(st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=30))
def test_any_text_comes_back_as_it_was_or_with_an_apostrophe_before_it(text: str) -> None:
    table = Table("t", ("a", "b"), [[text, "end"]])
    assert read_csv(csv_file(table))[1] == [neutral(text), "end"]
    assert neutral(text).removeprefix("'") == text.removeprefix("'")


def test_amounts_and_days_are_amounts_and_days_to_the_spreadsheet() -> None:
    table = Table("t", ("Amount", "Day", "None"), [[Decimal("-1234.50"), dt.date(2026, 2, 28), None]])
    assert read_csv(csv_file(table))[1] == ["-1234.50", "2026-02-28", ""]
    sheet = load_workbook(io.BytesIO(workbook([table], title="Books", made_at=AT)))["t"]
    assert Decimal(str(sheet["A2"].value)) == Decimal("-1234.50")
    assert sheet["A2"].number_format == "#,##0.00"
    assert sheet["B2"].value.date() == dt.date(2026, 2, 28)
    assert sheet["C2"].value is None
