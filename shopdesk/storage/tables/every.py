"""Every mapped table; importing this maps them all."""

from shopdesk.storage.tables import (
    bench,
    counter,
    donors,
    finding,
    gas,
    people,
    plan,
    price_lists,
    proving,
    ranges,
    shop,
    stock_takes,
    stores,
    walk,
    work,
)
from shopdesk.storage.tables.base import Base

__all__ = [
    "Base",
    "bench",
    "counter",
    "donors",
    "finding",
    "gas",
    "people",
    "plan",
    "price_lists",
    "proving",
    "ranges",
    "shop",
    "stock_takes",
    "stores",
    "walk",
    "work",
]
