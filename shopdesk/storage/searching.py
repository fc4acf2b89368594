"""Keeps the folded text that searches read in step with the rows it is made of."""

from typing import Any

from sqlalchemy import event

from shopdesk.domain.folding import fold
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Range

_WORDS: dict[type, tuple[str, ...]] = {
    Party: ("name", "contact", "email", "phone", "town", "street", "postcode"),
    Range: ("number", "maker", "model", "serial", "colour", "stands_at", "note"),
}


def _refold(_mapper: Any, _connection: Any, row: Any) -> None:
    row.search_text = fold(" ".join(getattr(row, name) or "" for name in _WORDS[type(row)]))


for _table in _WORDS:
    event.listen(_table, "before_insert", _refold)
    event.listen(_table, "before_update", _refold)
