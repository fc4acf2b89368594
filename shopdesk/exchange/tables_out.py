"""Tables that go out to other programs: CSV files or one XLSX workbook.

Cells are texts, days, figures and amounts already in their unit; nothing here knows what they mean. A
text that a spreadsheet would take for a formula is neutralised: whoever wrote a customer's name must not
run anything on the bookkeeper's machine.
"""

import csv
import datetime as dt
import io
import re
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from openpyxl import Workbook
from openpyxl.cell import Cell as SheetCell
from openpyxl.styles import Alignment, Font
from openpyxl.utils import get_column_letter

Cell = str | int | Decimal | dt.date | None

# What spreadsheets begin a formula with, also as full-width letters (common practice, no source).
_STARTS = re.compile(r"^\s*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20]|^[\t\r\n]")
_NARROWEST, _WIDEST = 9, 44  # letters of a column


@dataclass(frozen=True, slots=True)
class Table:
    """`name` is the sheet's or the file's; every row has as many cells as `heads`."""

    name: str
    heads: tuple[str, ...]
    rows: Sequence[Sequence[Cell]]


def neutral(text: str) -> str:
    """A text that no spreadsheet reads as a formula: an apostrophe before what begins like one."""
    shown = "".join(c for c in text if c in "\n\t" or unicodedata.category(c) != "Cc")
    return f"'{shown}" if _STARTS.match(shown) else shown


def csv_file(table: Table) -> bytes:
    """RFC 4180 in UTF-8 with its mark, days as ISO 8601, amounts with a point and no thousands."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([neutral(head) for head in table.heads])
    writer.writerows([_plain(cell) for cell in row] for row in table.rows)
    return out.getvalue().encode("utf-8-sig")


def workbook(tables: Iterable[Table], *, title: str, made_at: dt.datetime) -> bytes:
    """One sheet for each table, heads in bold and held in sight; amounts are numbers, days are days."""
    book = Workbook()
    book.remove(book.active)
    book.properties.title = title
    book.properties.creator = "shopdesk"
    book.properties.created = book.properties.modified = made_at.astimezone(dt.UTC).replace(tzinfo=None)
    for table in tables:
        sheet = book.create_sheet(table.name)
        sheet.freeze_panes = "A2"
        for across, head in enumerate(table.heads, start=1):
            cell = sheet.cell(1, across)
            _put(cell, head)
            cell.font = Font(bold=True)
            right = any(isinstance(row[across - 1], (int, Decimal)) for row in table.rows)
            cell.alignment = Alignment(horizontal="right" if right else "left", wrap_text=True)
            sheet.column_dimensions[get_column_letter(across)].width = _wide(table, across - 1)
        for down, row in enumerate(table.rows, start=2):
            for across, value in enumerate(row, start=1):
                _put(sheet.cell(down, across), value)
        sheet.page_setup.orientation = "landscape"
        sheet.page_setup.fitToHeight = 0
        sheet.sheet_properties.pageSetUpPr.fitToPage = True
        sheet.print_title_rows = "1:1"
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _put(cell: SheetCell, value: Cell) -> None:
    if value is None:
        return
    if isinstance(value, str):
        cell.value = neutral(value)
        cell.data_type = "s"  # a text, whatever it begins with
        return
    cell.value = value
    if isinstance(value, Decimal):
        places = max(0, -int(value.as_tuple().exponent))
        cell.number_format = "#,##0" + ("." + "0" * places if places else "")
    elif isinstance(value, dt.date):
        cell.number_format = "yyyy-mm-dd"


def _plain(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, str):
        return neutral(cell)
    if isinstance(cell, dt.date):
        return cell.isoformat()
    return format(cell, "f") if isinstance(cell, Decimal) else str(cell)


def _wide(table: Table, across: int) -> float:
    longest = max((len(_plain(row[across])) for row in table.rows), default=0)
    return float(min(_WIDEST, max(_NARROWEST, longest + 2, len(table.heads[across]) * 0.7 + 2)))
