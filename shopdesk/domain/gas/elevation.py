"""What thin air does to a burner, and what the code makes of it.

The code cuts the input by 4 % for each 1000 ft above sea level once the kitchen lies at
2000 ft or more (NFPA 54 / ANSI Z223.1, Annex E: at 3000 ft 12 %). The gas thins as well, so a
sea-level spud already passes less: its flow, counted at sea-level conditions, goes with
the square root of the pressure ratio of the standard atmosphere (ISA, ISO 2533). Below
2000 ft both are left out, as in the code's table of equivalent sizes, Table E.1.1(d).
"""

import math

from shopdesk.domain.measured import within
from shopdesk.domain.quantity import Quantity

THRESHOLD_FT = 2000.0
CUT_PER_1000_FT = 0.04


def check_elevation(elevation_ft: float) -> float:
    return within(
        elevation_ft,
        -1500,
        15000,
        "An elevation of {value} ft is outside {low} to {high} ft, where the code's rule makes sense.",
        field="elevation_ft",
        of=Quantity.ELEVATION,
    )


def pressure_ratio(elevation_ft: float) -> float:
    """Air pressure over that at sea level in the standard atmosphere (ISA troposphere)."""
    return float((1 - 6.8755856e-6 * check_elevation(elevation_ft)) ** 5.2558797)


def applies(elevation_ft: float) -> bool:
    return check_elevation(elevation_ft) >= THRESHOLD_FT


def permitted_share(elevation_ft: float) -> float:
    """Share of the rated input that the code leaves at `elevation_ft`."""
    return 1 - CUT_PER_1000_FT * elevation_ft / 1000 if applies(elevation_ft) else 1.0


def flow_share(elevation_ft: float) -> float:
    """Share of the sea-level flow (at sea-level conditions) that the same spud passes there."""
    return math.sqrt(pressure_ratio(elevation_ft)) if applies(elevation_ft) else 1.0


def equivalent_diameter_in(sea_level_in: float, elevation_ft: float) -> float:
    """Diameter before rounding that gives the permitted input where `sea_level_in` gives the rated."""
    return sea_level_in * math.sqrt(permitted_share(elevation_ft) / flow_share(elevation_ft))


def boiling_water_f(elevation_ft: float) -> float:
    """Where water boils in the standard atmosphere, °F, to check a thermometer by.

    Antoine's equation with the constants customary for water from 1 to 100 °C (from memory),
    within 0.15 °F of the published steam properties up to 8000 ft.
    """
    mmhg = 760 * pressure_ratio(elevation_ft)
    celsius = 1730.63 / (8.07131 - math.log10(mmhg)) - 233.426
    return celsius * 1.8 + 32
