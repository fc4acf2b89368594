"""The sides of a shop, each with a day of its own."""

from enum import StrEnum


class Side(StrEnum):
    """Whose day it is."""

    SHOP = "shop"
    BENCH = "bench"
    DESK = "desk"
