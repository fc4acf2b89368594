"""Wobbe index: how much heat a gas brings through the same spud at the same pressure (ISO 6976)."""

import math

from shopdesk.domain.measured import within
from shopdesk.domain.quantity import Quantity


def check_gravity(gravity: float) -> float:
    return within(
        gravity,
        0.05,
        5,
        "A gravity of {value} is not that of a fuel gas; air is 1, fuel gases lie from {low} to {high}.",
        field="gravity",
    )


def check_heating_value(btuft3: float) -> float:
    return within(
        btuft3,
        50,
        5000,
        "A heating value of {value} Btu/ft³ is not that of a fuel gas; they lie from {low} to {high}.",
        field="heating_value",
        of=Quantity.HEATING_VALUE,
    )


def wobbe_btuft3(heating_value_btuft3: float, gravity: float) -> float:
    """`Hs / sqrt(sg)` in Btu/ft³, gross heating value."""
    return check_heating_value(heating_value_btuft3) / math.sqrt(check_gravity(gravity))
