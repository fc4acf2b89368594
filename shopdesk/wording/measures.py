"""Measured values in the shop's units, and typed ones back.

Values are kept in the unit of their name (inches, pounds, degrees Fahrenheit, inches of
water column, Btu per hour); this room shows them in those or in metric units.
"""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from babel.numbers import NumberFormatError, format_decimal, parse_decimal

from shopdesk.domain.money import round_half_up
from shopdesk.domain.problem import Problem

Units = Literal["us", "metric"]


@dataclass(frozen=True, slots=True)
class Measure:
    """One kind of value: its units, digits shown, and the way to metric and back."""

    us_unit: str
    us_format: str
    metric_unit: str
    metric_format: str
    to_metric: Callable[[float], float]
    to_us: Callable[[float], float]


def _scaled(us_unit: str, us_format: str, metric_unit: str, metric_format: str, factor: float) -> Measure:
    return Measure(us_unit, us_format, metric_unit, metric_format, lambda v: v * factor, lambda v: v / factor)


# Exact by definition: inch 25.4 mm, pound 0.45359237 kg. Btu 1055.05585262 J and
# 406.782 in w.c. to 1013.25 mbar as in the shop's gas figures.
WEIGHT = _scaled("lb", "#,##0", "kg", "#,##0", 0.45359237)
PRESSURE = _scaled("in w.c.", "#,##0.0#", "mbar", "#,##0.0#", 1013.25 / 406.782)
HEAT = _scaled("Btu/h", "#,##0", "kW", "#,##0.00", 1055.05585262 / 3600 / 1000)
LENGTH = _scaled("in", "#,##0.###", "mm", "#,##0", 25.4)
TEMPERATURE = Measure("°F", "#,##0", "°C", "#,##0", lambda f: (f - 32) / 1.8, lambda c: c * 1.8 + 32)


def measured(value: float, kind: Measure, units: Units, locale: str) -> str:
    """`3.5` of PRESSURE -> `3.5 in w.c.` or `8.7 mbar`."""
    if units == "us":
        return f"{format_decimal(value, format=kind.us_format, locale=locale)}\u00a0{kind.us_unit}"
    metric = kind.to_metric(value)
    return f"{format_decimal(metric, format=kind.metric_format, locale=locale)}\u00a0{kind.metric_unit}"


def length(inches: float | Fraction, units: Units, locale: str) -> str:
    """Tape-rule length: `36 1/2 in` to the nearest eighth, or whole millimetres."""
    if units == "metric":
        return measured(float(inches), LENGTH, units, locale)
    eighths = round_half_up(Fraction(inches) * 8)
    whole, rest = divmod(eighths, 8)
    part = str(Fraction(rest, 8)) if rest else ""
    figure = " ".join(piece for piece in (str(whole) if whole or not part else "", part) if piece)
    return f"{figure}\u00a0in"


def parse_measured(text: str, kind: Measure, units: Units, locale: str, *, field: str = "") -> float:
    """A typed value in the shop's unit (the unit may stand behind it), kept in the US unit."""
    unit = kind.us_unit if units == "us" else kind.metric_unit
    number = parse_number(text.strip().removesuffix(unit), locale, field=field)
    return number if units == "us" else kind.to_us(number)


def parse_number(text: str, locale: str, *, field: str = "") -> float:
    """A typed reading in the locale's decimals; Problem when it is no number."""
    return float(parse_figure(text, locale, field=field))


def parse_figure(text: str, locale: str, *, field: str = "") -> Decimal:
    """The same, exact; infinities and the like are no numbers."""
    typed = text.strip().replace("−", "-")
    try:
        number = parse_decimal(typed, locale=locale, strict=True)
    except (NumberFormatError, ValueError):
        number = Decimal("nan")
    if not number.is_finite():
        raise Problem("“{typed}” is not a number.", field=field, typed=text.strip())
    return number
