"""Oven thermostat: mean of on and off points, deviation from the dial, what to turn.

A mechanical thermostat swings; what counts is the mean of the points where the burner comes
on and goes off, over at least three cycles, with the sensor mid-oven on the centre rack.
Accepted within 25 °F of the set point and a swing of about 50 °F (common practice, read in
repair pages). Knows nothing of loggers or screens.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shopdesk.domain.gas.elevation import boiling_water_f
from shopdesk.domain.measured import Limit, Result, Sentence, figure, figure_as, sentence, within
from shopdesk.domain.problem import Problem
from shopdesk.domain.quantity import Quantity

ACCEPTED = Limit(25, "°F", "deviation from the set point, either way", "common practice, in repair pages")
CYCLES = Limit(3, "", "cycles, at least", "common practice, in repair pages")
SWING = Limit(50, "°F", "usual swing of a mechanical thermostat", "common practice, in repair pages")

# Student's t, two-sided 95 %, for 1 to 10 degrees of freedom (any statistics text); beyond them 2.2 is a
# little too wide.
_T95 = (12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228)


@dataclass(frozen=True, slots=True)
class Cycle:
    """Where the burner came on and where it went off, °F."""

    on_f: float
    off_f: float

    def __post_init__(self) -> None:
        text = "An oven at {value} °F does not cycle; readings lie from {low} to {high} °F."
        within(self.on_f, 90, 800, text, field="on_off", of=Quantity.TEMPERATURE)
        within(self.off_f, 90, 800, text, field="on_off", of=Quantity.TEMPERATURE)
        if self.on_f >= self.off_f:
            raise Problem(
                "The burner comes on at the lower temperature and goes off at the higher; {on} °F and "
                "{off} °F are the wrong way round. Give the on point first.",
                field="on_off",
                on=figure(self.on_f, 2, Quantity.TEMPERATURE),
                off=figure(self.off_f, 2, Quantity.TEMPERATURE),
            )

    @property
    def mean_f(self) -> float:
        return (self.on_f + self.off_f) / 2


@dataclass(frozen=True, slots=True)
class ThermostatAnswer:
    """`doubt_f`: half width at 95 % of the mean from the scatter of the cycles; None for one cycle."""

    result: Result
    says: tuple[Sentence, ...]
    mean_f: float
    deviation_f: float
    swing_f: float
    doubt_f: float | None


def check_set_point(set_f: float) -> float:
    text = "An oven is not set to {value} °F; dials run from {low} to {high} °F."
    return within(set_f, 130, 600, text, field="set_f", of=Quantity.TEMPERATURE)


def judge_thermostat(
    set_f: float, cycles: Sequence[Cycle], *, error_f: float = 0.0, resolution_f: float = 0.0
) -> ThermostatAnswer:
    """Mean and deviation. `error_f`: what the thermometer read too much in the boiling-water check."""
    check_set_point(set_f)
    text = "A thermometer that is off by {value} °F is of no use here; take another."
    within(error_f, -50, 50, text, field="error_f", of=Quantity.WARMTH)
    text = "A thermometer that reads to {value} °F is of no use here; give {low} to {high} °F."
    within(resolution_f, 0, 25, text, field="resolution_f", of=Quantity.WARMTH)
    if not cycles:
        raise Problem("No cycle was recorded. Give the on and the off point of each.", field="on_off")
    means = [cycle.mean_f - error_f for cycle in cycles]
    mean = sum(means) / len(means)
    swing = sum(c.off_f - c.on_f for c in cycles) / len(cycles)
    doubt = _half_width(means)
    result, says = _judge(set_f, mean, len(cycles), resolution_f)
    if swing > SWING.figure:
        text = "It swings by {swing} °F; about {usual} °F is usual."
        says = (
            *says,
            sentence(
                text, swing=figure(swing, 1, Quantity.WARMTH), usual=figure(SWING.figure, 0, Quantity.WARMTH)
            ),
        )
    return ThermostatAnswer(result, says, mean, mean - set_f, swing, doubt)


def _judge(
    set_f: float, mean_f: float, cycles: int, resolution_f: float
) -> tuple[Result, tuple[Sentence, ...]]:
    deviation = mean_f - set_f
    facts = {
        "set": figure(set_f, 1, Quantity.TEMPERATURE),
        "mean": figure(mean_f, 1, Quantity.TEMPERATURE),
        "off": figure_as(deviation, "+.1f", Quantity.WARMTH),
        "accepted": figure(ACCEPTED.figure, 0, Quantity.WARMTH),
        "cycles": cycles,
    }
    reading = sentence(
        "Set to {set} °F the oven comes to {mean} °F in the mean, {off} °F from the dial.", **facts
    )
    if cycles < CYCLES.figure:
        text = "{cycles} cycles are too few; let it cycle three times at least."
        return Result.CANNOT_TELL, (reading, sentence(text, **facts))
    if abs(deviation) > ACCEPTED.figure + resolution_f:
        text = "That is more than {accepted} °F off. Set the thermostat again and measure again."
        return Result.DOES_NOT_MEET, (reading, sentence(text, **facts))
    if abs(deviation) > ACCEPTED.figure:
        text = "That is too near {accepted} °F for this thermometer to tell."
        return Result.CANNOT_TELL, (reading, sentence(text, **facts))
    return Result.MEETS, (reading, sentence("That is within {accepted} °F of the dial.", **facts))


def _t95(freedom: int) -> float:
    return _T95[freedom - 1] if freedom <= len(_T95) else 2.2


def _half_width(values: Sequence[float]) -> float | None:
    count = len(values)
    if count < 2:
        return None
    mean = sum(values) / count
    spread = math.sqrt(sum((v - mean) ** 2 for v in values) / (count - 1))
    return _t95(count - 1) * spread / math.sqrt(count)


# ---- over the dial -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class SetPoint:
    """A dial setting with the mean measured there, °F."""

    set_f: float
    mean_f: float


@dataclass(frozen=True, slots=True)
class DialFit:
    """`mean = set + offset + (gain - 1)(set - middle)`: offset at the middle of the settings.

    The doubts are half widths at 95 %, None with two settings, where a line fits anything.
    """

    middle_f: float
    offset_f: float
    gain: float
    offset_doubt_f: float | None
    gain_doubt: float | None

    @property
    def gain_off(self) -> bool:
        """The dial's spacing is wrong beyond doubt: the calibration screw does not mend that."""
        return self.gain_doubt is not None and abs(self.gain - 1) > self.gain_doubt


def fit_dial(points: Sequence[SetPoint]) -> DialFit:
    """Least squares over two or more settings."""
    for point in points:
        check_set_point(point.set_f)
        within(
            point.mean_f,
            90,
            800,
            "An oven mean of {value} °F is outside {low} to {high} °F.",
            field="mean_f",
            of=Quantity.TEMPERATURE,
        )
    middle = sum(p.set_f for p in points) / len(points) if points else 0.0
    width = sum((p.set_f - middle) ** 2 for p in points)
    if len(points) < 2 or not width:
        raise Problem("Offset and gain need at least two different dial settings.", field="points")
    level = sum(p.mean_f for p in points) / len(points)
    gain = sum((p.set_f - middle) * (p.mean_f - level) for p in points) / width
    offset = level - middle
    freedom = len(points) - 2
    if not freedom:
        return DialFit(middle, offset, gain, None, None)
    rest = sum((p.mean_f - level - gain * (p.set_f - middle)) ** 2 for p in points)
    spread = math.sqrt(rest / freedom)
    wide = _t95(freedom)
    return DialFit(
        middle, offset, gain, wide * spread / math.sqrt(len(points)), wide * spread / math.sqrt(width)
    )


# ---- what to turn --------------------------------------------------------------------------


def degrees_per_turn(before_f: float, after_f: float, turns: float) -> float:
    """What one turn of the calibration screw does, °F; turns count positive one way, negative the other."""
    if abs(turns) < 0.02 or abs(after_f - before_f) < 1:
        raise Problem(
            "{turns} of a turn that moved the mean by {change} °F teaches nothing. Turn it further.",
            field="turns",
            turns=figure(turns, 3),
            change=figure(after_f - before_f, 1, Quantity.WARMTH),
        )
    return (after_f - before_f) / turns


ON_THE_DIAL_F = 0.5  # nearer than any oven thermometer reads (common practice, no source)


def turn_screw(
    deviation_f: float, per_turn_f: float | None, doubt_f: float | None = None
) -> tuple[float | None, Sentence]:
    """Turns that bring the mean to the dial, in the direction the shop counted as positive.

    None where no turn is advised: nothing recorded, or the deviation is within its own doubt.
    """
    if abs(deviation_f) < ON_THE_DIAL_F:
        return None, sentence("The oven stands on its dial. Leave the screw alone.")
    if doubt_f is not None and abs(deviation_f) <= doubt_f:
        text = "{off} °F off the dial is within its own doubt of {doubt} °F. Leave the screw alone."
        return None, sentence(
            text,
            off=figure_as(deviation_f, "+.1f", Quantity.WARMTH),
            doubt=figure(doubt_f, 1, Quantity.WARMTH),
        )
    if per_turn_f is None:
        text = (
            "What a turn does is not recorded for this thermostat. Mark the screw, turn it an eighth, let "
            "the oven cycle three times and record the change."
        )
        return None, sentence(text)
    if not 1 <= abs(per_turn_f) <= 5000:
        raise Problem(
            "A turn that moves the mean by {degrees} °F is not a calibration screw's. Record it again.",
            field="per_turn_f",
            degrees=figure(per_turn_f, 2, Quantity.WARMTH),
        )
    turns = -deviation_f / per_turn_f
    if abs(turns) > 3:
        text = "{turns} turns would be needed; that is no calibration. Look at bulb, clips and control."
        return None, sentence(text, turns=figure(abs(turns), 1))
    if turns > 0:
        text = "Turn the screw {turns} of a turn the way that was recorded, then measure again."
    else:
        text = "Turn the screw {turns} of a turn against the way that was recorded, then measure again."
    return turns, sentence(text, turns=figure(abs(turns), 3))


def thermometer_error_f(boiling_reading_f: float, elevation_ft: float = 0.0) -> float:
    """What the thermometer reads too much, from boiling water at this elevation."""
    text = "Boiling water does not read {value} °F; a thermometer outside {low} to {high} °F is broken."
    within(boiling_reading_f, 150, 250, text, field="boiling_f", of=Quantity.TEMPERATURE)
    return boiling_reading_f - boiling_water_f(elevation_ft)
