"""Tables from elsewhere: whatever separates them, whatever they call their columns, bad lines by number."""

from pathlib import Path

import pytest
from openpyxl import Workbook

from shopdesk.domain.problem import Problem
from shopdesk.exchange.tables_in import Wanted, open_table, read_lines, suggest
from shopdesk.exchange.tables_in.columns import read_amount, read_text, read_whole

WANTED = (
    Wanted("theirs", "Their number", ("item no",), read_text(20), required=True),
    Wanted("name", "Name", ("description",), read_text(), required=True),
    Wanted("price", "Price each", ("net price",), read_amount("USD"), required=True),
    Wanted("pack", "Pack of", ("unit",), read_whole(1)),
)


def written(path: Path, data: bytes) -> Path:
    path.write_bytes(data)
    return path


@pytest.mark.parametrize(
    ("mark", "encoding"),
    [(",", "utf-8"), (";", "cp1252"), ("\t", "utf-8-sig"), (";", "utf-16"), ("|", "utf-8")],
)
def test_a_text_table_is_read_whatever_its_marks_and_letters(tmp_path, mark, encoding):
    name = '"Knob, größe 3"' if mark == "," else "Knob, größe 3"
    titles = mark.join(["Item No.", "Description", "Net price"])
    rows = ["Price list of spring", "", titles, mark.join(["A-1", name, "12.50"])]
    table = open_table(written(tmp_path / "list.csv", "\r\n".join(rows).encode(encoding)))
    assert (table.titles, table.titled_at) == (("Item No.", "Description", "Net price"), 3)
    matching = suggest(table.titles, WANTED)
    assert matching == {"theirs": 0, "name": 1, "price": 2}
    (line,) = read_lines(table, WANTED, matching)
    assert (line.number, line.values["price"], line.values["pack"]) == (4, 1250, None)
    assert "größe 3" in line.values["name"]


def test_a_workbook_is_read_like_a_text_with_its_numbers_as_a_person_writes_them(tmp_path):
    book = Workbook()
    sheet = book.active
    sheet.append(["item no", "description", "net price", "unit"])
    sheet.append([1017, "burner cap", 12.5, 4])
    sheet.append(["B-2", "grate", 1234.56, None])
    sheet.append(["B-3", "spring", 1.234, 1])
    book.save(tmp_path / "list.xlsx")
    table = open_table(tmp_path / "list.xlsx")
    good, second, bad = read_lines(table, WANTED, suggest(table.titles, WANTED))
    assert good.values == {"theirs": "1017", "name": "burner cap", "price": 1250, "pack": 4}
    assert second.values["price"] == 123456
    assert bad.problem is not None  # a tenth of a cent is no price, and never a thousand dollars
    assert "more decimals" in str(bad.problem)


def test_a_bad_line_is_named_by_its_number_and_the_reading_goes_on(tmp_path):
    text = 'item no,description,net price\nA,knob,1\nB,,2\nC,"a\nlong name",x\nD,spring,3\n'
    table = open_table(written(tmp_path / "list.csv", text.encode()))
    lines = list(read_lines(table, WANTED, suggest(table.titles, WANTED)))
    assert [(line.number, str(line.problem)) for line in lines if line.problem] == [
        (3, "Name is empty."), (4, "“x” is no amount."),
    ]  # fmt: skip
    assert [line.values["theirs"] for line in lines if not line.problem] == ["A", "D"]
    assert lines[-1].number == 6


@pytest.mark.parametrize(
    ("cell", "cents"),
    [("12.50", 1250), ("12,5", 1250), ("1,234.50", 123450), ("1.234,50", 123450), ("$ 7", 700),
     ("1'250.00", 125000), ("1,234.00", 123400), ("7.00 USD", 700), ("0.5000", 50)],
)  # fmt: skip
def test_amounts_are_read_as_lists_write_them(cell, cents):
    assert read_amount("USD")(cell) == cents


@pytest.mark.parametrize("cell", ["on request", "12.505", "1,234", "-3", "1.2.3", "12 pieces"])
def test_what_is_no_amount_is_refused(cell):
    with pytest.raises(Problem):
        read_amount("USD")(cell)


def test_a_file_that_is_no_table_is_refused_with_a_sentence(tmp_path):
    with pytest.raises(Problem, match="no line with two columns"):
        open_table(written(tmp_path / "a.csv", b"just words\n"))
    with pytest.raises(Problem, match="old kind of workbook"):
        open_table(written(tmp_path / "a.xls", b"\xd0\xcf\x11\xe0 old"))
    with pytest.raises(Problem, match=r"damaged|no table"):
        open_table(written(tmp_path / "a.xlsx", b"PK\x03\x04 broken"))
    with pytest.raises(Problem, match="cannot be read"):
        open_table(tmp_path / "not there.csv")
