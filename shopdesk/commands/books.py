"""The `books` command: a period's papers and money as files for the bookkeeper."""

import datetime as dt
from pathlib import Path
from typing import Any

from shopdesk.domain.clock import now
from shopdesk.domain.problem import Problem
from shopdesk.services.books import write_books
from shopdesk.services.seat import open_shop
from shopdesk.wording import say, say_n


def tell(shop: str, since: str, until: str, out: Path) -> dict[str, Any]:
    """Writes the books; which files, and how much is in them."""
    first, last = _day(since, "from"), _day(until, "to")
    seat = open_shop(shop, now, looking=True)
    try:
        written = write_books(seat, first, last, out)
    finally:
        seat.file.close()
    return {
        "files": [str(path) for path in written.files],
        "papers": written.papers,
        "payments": written.payments,
    }


def told_in_words(told: dict[str, Any]) -> str:
    counted = say(
        "{papers} and {payments} are written to:",
        papers=say_n("{count} invoice or credit", "{count} invoices and credits", told["papers"]),
        payments=say_n("{count} payment", "{count} payments", told["payments"]),
    )
    return "\n".join([counted, *told["files"]])


def _day(text: str, option: str) -> dt.date:
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        raise Problem(
            "--{option} {typed} is not a day. Write it as year-month-day, like 2026-03-31.",
            option=option,
            typed=text,
        ) from None
