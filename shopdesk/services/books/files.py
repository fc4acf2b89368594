"""The books as files: a workbook, or a folder of CSV files with the same tables."""

import datetime as dt
from dataclasses import dataclass
from pathlib import Path

from shopdesk.domain.problem import Problem
from shopdesk.exchange.tables_out import csv_file, workbook
from shopdesk.services.books.journal import books
from shopdesk.services.seat import Seat
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class BooksWritten:
    """Which files were written, and how many invoices, credits and payments are in them."""

    files: tuple[Path, ...]
    papers: int
    payments: int


def write_books(seat: Seat, since: dt.date, until: dt.date, to: Path) -> BooksWritten:
    """Writes a period to `to`: a file ending in .xlsx, else a folder of CSV files, made where missing."""
    told = books(seat, since, until)
    if to.suffix.lower() == ".xlsx":
        title = say("Books {since} to {until}", since=since.isoformat(), until=until.isoformat())
        made = {to: workbook(told.tables, title=title, made_at=seat.now)}
    elif to.suffix and not to.is_dir():
        raise Problem(
            "{file} is neither a workbook nor a folder. Name a file that ends in .xlsx, or a folder for CSV.",
            file=to.name, field="out",
        )  # fmt: skip
    else:
        made = {to / f"{table.name.lower().replace(' ', '-')}.csv": csv_file(table) for table in told.tables}
    _write(made, folder=to if to not in made else to.parent)
    return BooksWritten(tuple(made), len(told.papers.rows), len(told.payments.rows))


def _write(made: dict[Path, bytes], folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for path, content in made.items():
            path.write_bytes(content)
    except OSError as error:
        raise Problem(
            "{path} cannot be written ({why}). Choose another place.",
            path=str(error.filename or folder), why=error.strerror or str(error), field="out",
        ) from None  # fmt: skip
