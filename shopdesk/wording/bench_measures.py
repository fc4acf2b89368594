"""Values of the gas bench in the shop's units: typed, shown, and inside sentences.

Values are kept in the US unit of their quantity; the factors are those of the bench's own units.
"""

import re
from collections.abc import Callable
from fractions import Fraction

from shopdesk.domain import units
from shopdesk.domain.measured import Figure, Limit, Sentence, figure
from shopdesk.domain.problem import Problem
from shopdesk.domain.quantity import Quantity
from shopdesk.wording.measures import Measure, measured, parse_measured
from shopdesk.wording.region import Region
from shopdesk.wording.speech import say


def _alike(unit: str, shown: str = "#,##0.###") -> Measure:
    return Measure(unit, shown, unit, shown, float, float)


def _turned(
    us: str, us_format: str, metric: str, metric_format: str,
    to_metric: Callable[[float], float], to_us: Callable[[float], float],
) -> Measure:  # fmt: skip
    return Measure(us, us_format, metric, metric_format, to_metric, to_us)


_MEASURES: dict[Quantity, Measure] = {
    Quantity.NUMBER: _alike(""),
    Quantity.PRESSURE: _turned(
        "in w.c.", "#,##0.###", "mbar", "#,##0.##", units.inwc_to_mbar, units.mbar_to_inwc
    ),
    Quantity.TEMPERATURE: _turned("°F", "#,##0.#", "°C", "#,##0.#", units.f_to_c, units.c_to_f),
    Quantity.WARMTH: _turned(
        "°F", "#,##0.##", "°C", "#,##0.##", units.f_difference_to_c, units.c_difference_to_f
    ),
    Quantity.MINUTES: _alike("min"),
    Quantity.SECONDS: _alike("s"),
    Quantity.VOLUME: _turned("ft³", "#,##0.####", "m³", "#,##0.######", units.ft3_to_m3, units.m3_to_ft3),
    Quantity.FLOW: _turned("ft³/h", "#,##0.###", "m³/h", "#,##0.#####", units.ft3_to_m3, units.m3_to_ft3),
    Quantity.HEAT: _turned("Btu/h", "#,##0", "kW", "#,##0.00", units.btuh_to_kw, units.kw_to_btuh),
    Quantity.HEATING_VALUE: _turned(
        "Btu/ft³", "#,##0.#", "MJ/m³", "#,##0.00", units.btuft3_to_mjm3, units.mjm3_to_btuft3
    ),
    Quantity.HOLE: _turned("in", "0.0000", "mm", "0.00", units.in_to_mm, units.mm_to_in),
    Quantity.LENGTH: _turned("in", "#,##0.###", "mm", "#,##0.#", units.in_to_mm, units.mm_to_in),
    Quantity.CORD: _turned("ft", "#,##0.#", "m", "#,##0.##", units.ft_to_m, units.m_to_ft),
    Quantity.ELEVATION: _turned("ft", "#,##0", "m", "#,##0", units.ft_to_m, units.m_to_ft),
    Quantity.WEIGHT: _turned(
        "lb", "#,##0", "kg", "#,##0", lambda v: v * 0.45359237, lambda v: v / 0.45359237
    ),
    Quantity.PPM: _alike("ppm"),
    Quantity.PERCENT: _alike("%"),
    Quantity.OHM: _alike("Ω"),
    Quantity.MEGOHM: _alike("MΩ"),
    Quantity.MILLIAMPERE: _alike("mA"),
    Quantity.MILLIVOLT: _alike("mV"),
    Quantity.VOLT: _alike("V"),
    Quantity.GAUGE: _alike("AWG"),
}
_METRIC_SPECS = {Quantity.HEAT: ".2f", Quantity.HOLE: ".3f"}  # where the US figure's places do not fit
_FRACTION = re.compile(r"(?:(\d+)\s+)?(\d{1,3})\s*/\s*(\d{1,3})")
_RATED = "13.8 in w.c."  # 1/2 psi, written out in some sentences


def measure_of(quantity: Quantity) -> Measure:
    return _MEASURES[quantity]


def unit_of(quantity: Quantity, region: Region) -> str:
    """The shop's unit, empty for a plain number."""
    measure = _MEASURES[quantity]
    return measure.us_unit if region.units == "us" else measure.metric_unit


def shown(value: float, quantity: Quantity, region: Region) -> str:
    """`12 in w.c.` or `29.9 mbar`."""
    return measured(value, _MEASURES[quantity], region.units, region.locale).strip("\u00a0 ")


def in_unit(value: float, quantity: Quantity, region: Region) -> float:
    """The value as a number in the shop's unit, for drawing."""
    return value if region.units == "us" else _MEASURES[quantity].to_metric(value)


def bare(value: float, quantity: Quantity, region: Region) -> str:
    """The figure in the shop's unit without the unit, as a field shows it."""
    measure = _MEASURES[quantity]
    pattern = measure.us_format if region.units == "us" else measure.metric_format
    return region.number(in_unit(value, quantity, region), pattern)


def parsed(text: str, quantity: Quantity, region: Region, *, field: str = "") -> float:
    """What was typed in the shop's unit, kept in the US one; `3/8` and `1 1/2` are read too."""
    typed = text.strip()
    unit = unit_of(quantity, region)
    plain = typed.removesuffix(unit).strip() if unit else typed
    fraction = _FRACTION.fullmatch(plain)
    if fraction and int(fraction[3]):
        value = float(int(fraction[1] or 0) + Fraction(int(fraction[2]), int(fraction[3])))
        return value if region.units == "us" else _MEASURES[quantity].to_us(value)
    return parse_measured(typed, _MEASURES[quantity], region.units, region.locale, field=field)


_LIMIT_UNITS = {
    "in w.c.": Quantity.PRESSURE,
    "°F": Quantity.WARMTH,
    "ft³/h": Quantity.FLOW,
    "in": Quantity.LENGTH,
}


def limit_in_words(limit: Limit, region: Region) -> str:
    """The figure of a limit with its unit, in the shop's where it is one of ours."""
    if limit.unit in _LIMIT_UNITS:
        return shown(limit.figure, _LIMIT_UNITS[limit.unit], region)
    return f"{figure(limit.figure)} {say(limit.unit)}".strip()


def say_sentence(told: Sentence, region: Region) -> str:
    """A sentence of the bench in the shop's language and units."""
    if region.units == "us":
        return say(told.text, **told.facts)
    template = say(told.text).replace(_RATED, shown(units.HALF_PSI_INWC, Quantity.PRESSURE, region))
    turned = {name: _in_metric(fact) for name, fact in told.facts.items()}
    for quantity in {fact.quantity for fact in told.facts.values() if isinstance(fact, Figure)}:
        measure = _MEASURES[quantity]
        if measure.us_unit != measure.metric_unit:
            template = _metric_unit_in(template, measure)
    return template.format(**turned) if turned else template


def _metric_unit_in(template: str, measure: Measure) -> str:
    """The template with the unit after its figures turned; a full stop that was the unit's too stays."""
    dotted = measure.us_unit.endswith(".")

    def turned(found: re.Match[str]) -> str:
        rest = found.string[found.end() :]
        ends = dotted and (not rest or re.match(r"\s+[A-Z]", rest) is not None)
        return measure.metric_unit + ("." if ends else "")

    return re.sub(rf"(?<=}} ){re.escape(measure.us_unit)}(?![\w/³])", turned, template)


def say_problem_in(problem: Problem, region: Region) -> str:
    """The sentence of a problem in the shop's language and units."""
    return say_sentence(Sentence(problem.text, problem.facts), region)


def _in_metric(fact: object) -> object:
    if (
        not isinstance(fact, Figure)
        or _MEASURES[fact.quantity].us_unit == _MEASURES[fact.quantity].metric_unit
    ):
        return fact
    value = _MEASURES[fact.quantity].to_metric(fact.value)
    if fact.spec == "g":
        return _as_typed(value)
    spec = _METRIC_SPECS.get(fact.quantity, fact.spec)
    text = f"{value:{spec}}"
    return text.rstrip("0").rstrip(".") if "." in text and "+" not in spec else text


def _as_typed(value: float) -> str:
    """Four figures and no power of ten."""
    places = 0 if abs(value) >= 1000 else 7 if abs(value) < 0.001 else 3
    shown = f"{value:.{places}f}" if places != 3 else f"{value:.4g}"
    return shown.rstrip("0").rstrip(".") if "." in shown else shown
