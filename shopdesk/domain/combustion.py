"""Carbon monoxide, always with its scale: as measured, or free of the air mixed in (air-free).

`air-free = CO x 20.9 / (20.9 - O2 %)`. Near 20.9 % oxygen the sample is room air and the
figure means nothing: from 20.5 % on, where a tenth of a percent of oxygen changes it by a
quarter, a reading is refused.

Only the ceiling is a standard's; the lower levels are what careful shops hold to. A burner
that meets the ceiling alone is not said to meet.
"""

from dataclasses import dataclass
from typing import Literal

from shopdesk.domain.measured import Limit, Result, Sentence, figure, sentence, within
from shopdesk.domain.problem import Problem

Scale = Literal["as measured", "air-free"]

AIR_PCT = 20.9
REFUSED_PCT = 20.5
CEILING = Limit(
    800, "ppm air-free", "ceiling for an unvented gas oven or range burner", "ANSI Z21, in secondary sources"
)
ACTION = Limit(
    225,
    "ppm",
    "above it: clean, tune, measure again",
    "stated as measured in secondary sources; held here against the air-free figure, the stricter",
)
AIM = Limit(100, "ppm as measured", "what a tuned burner should come to", "common practice, no source")
ROOM_NORMAL = Limit(9, "ppm", "ambient, not above", "secondary sources")
ROOM_STOP = Limit(35, "ppm", "ambient: stop, leave, ventilate, call", "secondary sources")


@dataclass(frozen=True, slots=True, kw_only=True)
class Sample:
    """One reading in the flue or above a burner, and the room's while it was taken; either may be
    missing, not both.

    The resolutions are the smallest steps the analyser shows.
    """

    co_ppm: float | None = None
    scale: Scale = "as measured"
    oxygen_pct: float | None = None
    room_ppm: float | None = None
    resolution_ppm: float = 1.0
    resolution_pct: float = 0.1

    def __post_init__(self) -> None:
        if self.co_ppm is None and self.room_ppm is None:
            raise Problem("Give the carbon monoxide of the burner, or of the room.", field="co_ppm")
        text = "A reading of {value} ppm is outside {low} to {high} ppm. Zero the analyser in fresh air."
        if self.co_ppm is not None:
            within(self.co_ppm, 0, 50_000, text, field="co_ppm")
        if self.room_ppm is not None:
            within(self.room_ppm, 0, 50_000, text, field="room_ppm")
        text = "An analyser that shows steps of {value} is of no use here; give {low} to {high}."
        within(self.resolution_ppm, 0, 50, text, field="resolution_ppm")
        within(self.resolution_pct, 0, 1, text, field="resolution_pct")
        if self.oxygen_pct is not None:
            check_oxygen(self.oxygen_pct)


@dataclass(frozen=True, slots=True)
class CoAnswer:
    """`air_free_ppm` None where the oxygen was not measured; `doubt_ppm` is what the steps are worth."""

    result: Result
    says: tuple[Sentence, ...]
    air_free_ppm: float | None
    doubt_ppm: float | None
    limits: tuple[Limit, ...] = (CEILING, ACTION, AIM, ROOM_NORMAL, ROOM_STOP)


def check_oxygen(oxygen_pct: float) -> float:
    text = "Oxygen of {value} % cannot be; flue gas holds from {low} to {high} %. Zero the analyser."
    within(oxygen_pct, 0, 21.5, text, field="oxygen_pct")
    if oxygen_pct >= REFUSED_PCT:
        raise Problem(
            "At {oxygen} % oxygen the sample is room air ({air} %), and a figure from it means nothing. "
            "Put the probe into the flue and measure while the burner fires.",
            field="oxygen_pct",
            oxygen=figure(oxygen_pct),
            air=AIR_PCT,
        )
    return oxygen_pct


def air_free_ppm(co_ppm: float, oxygen_pct: float) -> float:
    """CO without the air mixed in, ppm; a Problem near 20.9 % oxygen."""
    return co_ppm * AIR_PCT / (AIR_PCT - check_oxygen(oxygen_pct))


def judge_co(sample: Sample) -> CoAnswer:
    """What a reading shows; the room comes before the burner."""
    air_free = _air_free(sample)
    doubt = _doubt(sample, air_free)
    if sample.room_ppm is not None and sample.room_ppm >= ROOM_STOP.figure:
        text = (
            "{room} ppm in the room: stop, shut off the gas, leave, ventilate from outside and call. Go back "
            "only when those called say so."
        )
        stop = sentence(text, room=figure(sample.room_ppm))
        return CoAnswer(Result.DOES_NOT_MEET, (stop,), air_free, doubt)
    if sample.co_ppm is None:
        return _judge_room(sample.room_ppm or 0, sample.resolution_ppm)
    result, says = _judge_burner(sample, sample.co_ppm, air_free, doubt)
    if sample.room_ppm is not None and sample.room_ppm > ROOM_NORMAL.figure:
        text = "{room} ppm in the room is not normal: look for the cause, ventilate, measure again."
        says = (sentence(text, room=figure(sample.room_ppm)), *says)
        result = Result.CANNOT_TELL if result is Result.MEETS else result
    return CoAnswer(result, says, air_free, doubt)


def _judge_room(room: float, step: float) -> CoAnswer:
    """The room alone, held against its own level; nothing is said of any burner."""
    facts = {"room": figure(room), "normal": figure(ROOM_NORMAL.figure)}
    if room > ROOM_NORMAL.figure + step:
        text = "{room} ppm in the room is not normal: look for the cause, ventilate, measure again."
        result = Result.DOES_NOT_MEET
    elif room > ROOM_NORMAL.figure:
        text = "{room} ppm in the room is too near {normal} ppm for this analyser to tell. Measure again."
        result = Result.CANNOT_TELL
    else:
        text = "{room} ppm in the room, not above {normal} ppm."
        result = Result.MEETS
    only = sentence("Only the room was read; this says nothing of any burner.")
    return CoAnswer(result, (sentence(text, **facts), only), None, None, (ROOM_NORMAL, ROOM_STOP))


def _air_free(sample: Sample) -> float | None:
    if sample.co_ppm is None:
        return None
    if sample.scale == "air-free":
        return sample.co_ppm
    return None if sample.oxygen_pct is None else air_free_ppm(sample.co_ppm, sample.oxygen_pct)


def _doubt(sample: Sample, air_free: float | None) -> float | None:
    """How much less or more the air-free figure may be, for one step of each reading."""
    if sample.co_ppm is None or air_free is None:
        return None
    if sample.scale == "air-free" or sample.oxygen_pct is None:
        return sample.resolution_ppm
    gap = AIR_PCT - sample.oxygen_pct
    least = max(gap - sample.resolution_pct, gap / 2)
    return (sample.co_ppm + sample.resolution_ppm) * AIR_PCT / least - air_free


def _judge_burner(
    sample: Sample, co_ppm: float, air_free: float | None, doubt: float | None
) -> tuple[Result, tuple[Sentence, ...]]:
    if air_free is None or doubt is None:
        return _judge_diluted(co_ppm, sample.resolution_ppm)
    reading = _reading(sample, co_ppm, air_free)
    facts = {"ceiling": figure(CEILING.figure), "action": figure(ACTION.figure), "aim": figure(AIM.figure)}
    if air_free - doubt > CEILING.figure:
        text = (
            "That is above the ceiling of {ceiling} ppm air-free. Turn it off and keep it off until mended."
        )
        return Result.DOES_NOT_MEET, (reading, sentence(text, **facts))
    if air_free + doubt > CEILING.figure:
        text = "That is too near the ceiling of {ceiling} ppm to tell. Clean, tune, measure again."
        return Result.CANNOT_TELL, (reading, sentence(text, **facts))
    if air_free + doubt > ACTION.figure:
        text = (
            "Under the ceiling of {ceiling} ppm, not under the action level of {action} ppm: clean, tune, "
            "measure again."
        )
        return Result.CANNOT_TELL, (reading, sentence(text, **facts))
    text = "Under the action level of {action} ppm and the ceiling of {ceiling} ppm air-free."
    aim = "A tuned burner comes to {aim} ppm as measured or less."
    tune = (sentence(aim, **facts),) if co_ppm > AIM.figure else ()
    return Result.MEETS, (reading, sentence(text, **facts), *tune)


def _reading(sample: Sample, co_ppm: float, air_free: float) -> Sentence:
    if sample.scale == "air-free":
        return sentence("{co} ppm carbon monoxide air-free.", co=figure(co_ppm))
    return sentence(
        "{co} ppm carbon monoxide as measured at {oxygen} % oxygen: {air_free} ppm air-free.",
        co=figure(co_ppm),
        oxygen=figure(sample.oxygen_pct or 0),
        air_free=figure(air_free, 1),
    )


def _judge_diluted(co_ppm: float, step: float) -> tuple[Result, tuple[Sentence, ...]]:
    """As measured without oxygen: the air-free figure is at least as much, so only a failure shows."""
    facts = {"co": figure(co_ppm), "ceiling": figure(CEILING.figure)}
    if co_ppm - step > CEILING.figure:
        text = (
            "{co} ppm as measured is above the ceiling of {ceiling} ppm air-free whatever the oxygen. "
            "Turn it off; do not use it until it is mended."
        )
        return Result.DOES_NOT_MEET, (sentence(text, **facts),)
    text = "{co} ppm as measured, without the oxygen, cannot be held against an air-free limit. Measure both."
    return Result.CANNOT_TELL, (sentence(text, **facts),)
