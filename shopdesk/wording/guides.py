"""Guides of the catalogue in the shop's units: figures with a US unit behind them, turned and rounded.

Only how a thing is done and when it meets; a source is quoted as it was published.
"""

import re
from collections.abc import Callable
from fractions import Fraction
from functools import partial

from shopdesk.domain import units
from shopdesk.wording.region import Region

_NUMBER = r"\d+(?:/\d+|\.\d+)?"
_SEVERAL = rf"(?P<figures>{_NUMBER}(?:(?:, | and | to | und | bis ){_NUMBER})*)"
_DIFFERENCE = re.compile(rf"(?P<before>[Ww]ithin |swing of |innerhalb von |Schwankung von ){_SEVERAL} F\b")
_RULES: tuple[tuple[re.Pattern[str], Callable[[float], float], str], ...] = (
    (re.compile(rf"{_SEVERAL} in w\.c\."), units.inwc_to_mbar, "mbar"),
    (re.compile(rf"{_SEVERAL} F\b"), units.f_to_c, "°C"),
    (re.compile(rf"{_SEVERAL} in\b(?! w\.c\.)"), units.in_to_mm, "mm"),
    (re.compile(rf"{_SEVERAL} lb\b"), lambda pounds: pounds * 0.45359237, "kg"),
    (re.compile(rf"{_SEVERAL} psig\b"), lambda psi: units.inwc_to_mbar(units.psi_to_inwc(psi)), "mbar"),
)


def guide_in_units(text: str, region: Region) -> str:
    """`10 to 14 in w.c.` as `24.9 to 34.9 mbar` in a metric shop; untouched in the other."""
    if region.units == "us":
        return text
    told = _DIFFERENCE.sub(
        lambda found: found["before"] + _turned(found["figures"], units.f_difference_to_c) + " °C", text
    )
    for pattern, turn, unit in _RULES:
        told = pattern.sub(partial(_with_unit, turn, unit), told)
    return told


def _with_unit(turn: Callable[[float], float], unit: str, found: re.Match[str]) -> str:
    rest = found.string[found.end() :]
    stop = "." if found[0].endswith(".") and (not rest or re.match(r"\s+[A-Z]", rest)) else ""
    return f"{_turned(found['figures'], turn)} {unit}{stop}"


def _turned(figures: str, turn: Callable[[float], float]) -> str:
    return re.sub(_NUMBER, lambda one: _short(turn(float(Fraction(one[0])))), figures)


def _short(value: float) -> str:
    """A tenth where it matters, never a limit rounded into another."""
    shown = f"{value:.1f}" if abs(value) < 50 else f"{value:.0f}"
    return shown.removesuffix(".0")
