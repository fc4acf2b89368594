"""Lamp, clock and outlet: insulation, earth and polarity of a range's own wiring.

Insulation resistance at 500 V DC and the earth bond follow portable-appliance test practice,
read in source; polarity follows NEC 410.50 for the screw shell.
"""

import math
from dataclasses import dataclass

from shopdesk.domain.measured import Limit, Result, Sentence, figure, sentence, within
from shopdesk.domain.quantity import Quantity

INSULATION = Limit(1.0, "MΩ at 500 V DC", "insulation, at least", "portable-appliance test practice")
INSULATION_HEATING = Limit(
    0.3, "MΩ at 500 V DC", "insulation of class I heating under 3 kW", "portable-appliance test practice"
)
EARTH_BOND = Limit(0.1, "Ω and the cord", "earth bond, at most", "portable-appliance test practice")
TEST_VOLTS = 500.0
_COPPER_OHM_M = 1.7241e-8  # annealed copper at 20 °C (IEC 60028)


@dataclass(frozen=True, slots=True)
class ElectricalAnswer:
    result: Result
    says: tuple[Sentence, ...]
    limit: Limit


def cord_ohm(gauge_awg: int, length_ft: float) -> float:
    """Resistance of one copper conductor at 20 °C; diameter 0.005 x 92^((36-n)/39) in (ASTM B258)."""
    within(gauge_awg, 4, 24, "A cord of {value} AWG is outside {low} to {high}.", field="gauge_awg")
    within(
        length_ft,
        0.1,
        100,
        "A cord of {value} ft is outside {low} to {high} ft.",
        field="length_ft",
        of=Quantity.CORD,
    )
    diameter_m = 0.005 * math.pow(92, (36 - gauge_awg) / 39) * 0.0254
    return _COPPER_OHM_M * length_ft * 0.3048 / (math.pi / 4 * diameter_m**2)


def judge_insulation(
    megohm: float,
    *,
    volts: float = TEST_VOLTS,
    class_1_heating: bool = False,
    resolution_megohm: float = 0.01,
) -> ElectricalAnswer:
    """Live and neutral together against the frame, unplugged and switched on."""
    text = (
        "An insulation of {value} MΩ is outside {low} to {high} MΩ; if the tester shows more, enter {high}."
    )
    within(megohm, 0, 100_000, text, field="megohm")
    text = "A test at {value} V is outside {low} to {high} V."
    within(volts, 1, 1500, text, field="volts")
    text = "A tester that reads to {value} MΩ is of no use here; give {low} to {high} MΩ."
    within(resolution_megohm, 0, 0.2, text, field="resolution_megohm")
    limit = INSULATION_HEATING if class_1_heating else INSULATION
    facts = {"megohm": figure(megohm, 3), "limit": figure(limit.figure), "volts": figure(volts)}
    if megohm < limit.figure - resolution_megohm:
        text = "{megohm} MΩ is below {limit} MΩ: current leaks to the frame. Leave it unplugged."
        return ElectricalAnswer(Result.DOES_NOT_MEET, (sentence(text, **facts),), limit)
    if volts < TEST_VOLTS:
        text = "{megohm} MΩ at {volts} V says too little; the limit of {limit} MΩ is stated at 500 V DC."
        return ElectricalAnswer(Result.CANNOT_TELL, (sentence(text, **facts),), limit)
    if megohm < limit.figure:
        text = "{megohm} MΩ is too near {limit} MΩ for this tester to tell."
        return ElectricalAnswer(Result.CANNOT_TELL, (sentence(text, **facts),), limit)
    text = "{megohm} MΩ is at least {limit} MΩ."
    return ElectricalAnswer(Result.MEETS, (sentence(text, **facts),), limit)


def judge_earth(ohm: float, cord: float | None, *, resolution_ohm: float = 0.01) -> ElectricalAnswer:
    """From the earth pin to bare metal of the range; `cord` is the resistance of its earth conductor."""
    within(ohm, 0, 1_000_000, "An earth of {value} Ω is outside {low} to {high} Ω.", field="ohm")
    within(
        resolution_ohm, 0, 0.1, "A tester that reads to {value} Ω is of no use here.", field="resolution_ohm"
    )
    if cord is None:
        text = "The cord's own resistance is not known; give its gauge and length, or measure it."
        return ElectricalAnswer(Result.CANNOT_TELL, (sentence(text),), EARTH_BOND)
    within(cord, 0, 5, "A cord of {value} Ω is outside {low} to {high} Ω.", field="cord")
    most = EARTH_BOND.figure + cord
    facts = {"ohm": figure(ohm, 3), "most": figure(most, 3), "cord": figure(cord, 3)}
    if ohm > most + resolution_ohm:
        text = "{ohm} Ω is more than {most} Ω (0.1 Ω and {cord} Ω of cord): the frame is not well earthed."
        return ElectricalAnswer(Result.DOES_NOT_MEET, (sentence(text, **facts),), EARTH_BOND)
    if ohm > most:
        text = "{ohm} Ω is too near {most} Ω for this tester to tell."
        return ElectricalAnswer(Result.CANNOT_TELL, (sentence(text, **facts),), EARTH_BOND)
    text = "{ohm} Ω is within {most} Ω (0.1 Ω and {cord} Ω of cord)."
    return ElectricalAnswer(Result.MEETS, (sentence(text, **facts),), EARTH_BOND)


POLARITY = Limit(0, "", "shell on the neutral, switch in the line, wide blade neutral", "NEC 410.50 (shell)")


def judge_polarity(
    *, shell_on_neutral: bool | None, switch_in_line: bool | None, wide_blade_neutral: bool | None
) -> ElectricalAnswer:
    """Each True, False or None where nobody looked; the ribbed conductor is the neutral too."""
    checks = (
        (shell_on_neutral, "The lamp's screw shell is live; it belongs on the neutral."),
        (switch_in_line, "The switch is in the neutral; it belongs in the line conductor."),
        (wide_blade_neutral, "The wide blade of the plug is not the neutral."),
    )
    wrong = tuple(sentence(text) for answer, text in checks if answer is False)
    if wrong:
        return ElectricalAnswer(Result.DOES_NOT_MEET, wrong, POLARITY)
    if any(answer is None for answer, _ in checks):
        text = "Not all was looked at: shell, switch and plug are needed."
        return ElectricalAnswer(Result.CANNOT_TELL, (sentence(text),), POLARITY)
    text = "Shell and wide blade are on the neutral, the switch is in the line."
    return ElectricalAnswer(Result.MEETS, (sentence(text),), POLARITY)
