"""Mapped tables, a file per subject. Importing this room maps them all."""

from shopdesk.storage.tables import (
    bench,
    counter,
    gas,
    people,
    plan,
    proving,
    ranges,
    shop,
    stores,
    walk,
    work,
)
from shopdesk.storage.tables.base import Base

__all__ = [
    "Base",
    "bench",
    "counter",
    "gas",
    "people",
    "plan",
    "proving",
    "ranges",
    "shop",
    "stores",
    "walk",
    "work",
]
