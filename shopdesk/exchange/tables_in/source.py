"""A table in a file: its titles and its lines with their numbers, whatever the format."""

import csv
import datetime as dt
import hashlib
import io
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

from openpyxl import load_workbook
from openpyxl.utils.exceptions import InvalidFileException

from shopdesk.domain.problem import Problem, Unavailable

MAX_BYTES = 60_000_000
MAX_UNPACKED = 600_000_000
_MARKS = ",;\t|"
_SAMPLE = 65_536


@dataclass(frozen=True, slots=True)
class Table:
    """A file's first table. `titled_at` is the number of its title line; lines are numbered from 1."""

    name: str
    sha256: str
    titles: tuple[str, ...]
    titled_at: int
    data: bytes
    workbook: bool

    def lines(self) -> Iterator[tuple[int, list[str]]]:
        """The lines below the titles that are not empty, each with its number in the file."""
        for number, cells in _rows(self.data, self.workbook):
            if number > self.titled_at and any(cells):
                yield number, cells

    def first(self, count: int) -> list[list[str]]:
        """A few lines to look at."""
        found = []
        for _, cells in self.lines():
            found.append(cells)
            if len(found) == count:
                break
        return found


def open_table(path: Path) -> Table:
    """Opens a CSV or XLSX file and finds its titles; a Problem says what is wrong with the file."""
    try:
        size = path.stat().st_size
        if size > MAX_BYTES:
            raise Problem("{name} is too large to be brought in at once. Split it.", name=path.name)
        data = path.read_bytes()
    except OSError as error:
        raise Unavailable("{name} cannot be read: {why}.", name=path.name, why=error.strerror) from error
    workbook = data.startswith(b"PK")
    if data.startswith(b"\xd0\xcf\x11\xe0"):
        raise Problem("{name} is an old kind of workbook. Save it as XLSX or CSV.", name=path.name)
    try:
        for number, cells in _rows(data, workbook):
            if sum(1 for cell in cells if cell) > 1:
                digest = hashlib.sha256(data).hexdigest()
                return Table(path.name, digest, tuple(cells), number, data, workbook)
    except (csv.Error, ValueError, KeyError, zipfile.BadZipFile, InvalidFileException, EOFError) as error:
        raise Problem("{name} is damaged, or no table: {why}.", name=path.name, why=error) from error
    raise Problem("There is no line with two columns or more in {name}.", name=path.name)


def _rows(data: bytes, workbook: bool) -> Iterator[tuple[int, list[str]]]:
    return _sheet_rows(data) if workbook else _text_rows(data)


def _text_rows(data: bytes) -> Iterator[tuple[int, list[str]]]:
    """The number is that of the line a record begins on, as an editor shows it."""
    text = _decoded(data)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=_mark(text[:_SAMPLE]))
    begins = 1
    for record in reader:
        yield begins, [cell.strip() for cell in record]
        begins = reader.line_num + 1


def _mark(sample: str) -> str:
    """What parts the columns: the mark that gives most lines the same number of columns above one."""

    def evenness(mark: str) -> tuple[int, int]:
        widths = [len(record) for record in csv.reader(io.StringIO(sample), delimiter=mark) if record]
        usual = max(set(widths), key=widths.count, default=1)
        return (widths.count(usual) if usual > 1 else 0, usual)

    return max(_MARKS, key=evenness)


def _decoded(data: bytes) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace")


def _sheet_rows(data: bytes) -> Iterator[tuple[int, list[str]]]:
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        if sum(entry.file_size for entry in packed.infolist()) > MAX_UNPACKED:
            raise ValueError("it unpacks to more than is sensible")
    book = load_workbook(io.BytesIO(data), read_only=True, data_only=True)
    try:
        for number, row in enumerate(book.worksheets[0].iter_rows(values_only=True), start=1):
            yield number, [_text(cell) for cell in row]
    finally:
        book.close()


def _text(cell: Any) -> str:
    """A cell as a person would write it: no exponents, whole numbers without a point."""
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "1" if cell else "0"
    if isinstance(cell, float):
        exact = Decimal(repr(cell))
        text = format(exact.to_integral_value() if exact == exact.to_integral_value() else exact, "f")
        return text + "0" if len(text.partition(".")[2]) == 3 else text  # not to be read as thousands
    if isinstance(cell, dt.datetime | dt.date):
        return cell.isoformat()[:10]
    return str(cell).strip()
