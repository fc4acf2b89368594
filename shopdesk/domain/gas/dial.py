"""Tightness by the meter's test dial: with everything shut and the gas on, the hand stands still.

Says little about a small leak, and says how little.
"""

from dataclasses import dataclass

from shopdesk.domain.measured import Result, Sentence, figure, figure_as, sentence, within
from shopdesk.domain.quantity import Quantity

DIAL_MINUTES = ((0.5, 5.0), (1.0, 7.0), (2.0, 10.0))
"""Up to this dial (ft³), watch this many minutes; from memory. Larger dials see too little."""


@dataclass(frozen=True, slots=True)
class DialAnswer:
    """`rate_cfh` as the dial moved; `visible_leak_cfh`: the smallest leak that would have shown."""

    result: Result
    says: tuple[Sentence, ...]
    rate_cfh: float
    visible_leak_cfh: float


def judge_dial(
    dial_cuft: float, minutes: float, moved_cuft: float, readable_cuft: float | None = None
) -> DialAnswer:
    """The meter's test dial watched with everything shut, gas on.

    `moved_cuft`: what the hand went forward; `readable_cuft`: the smallest movement that is
    seen, a fiftieth of the dial unless given (common practice, no source).
    """
    text = "A test dial of {value} ft³ is not known; they lie from {low} to {high} ft³ a turn."
    within(dial_cuft, 0.01, 1000, text, field="dial_cuft", of=Quantity.VOLUME)
    within(
        minutes, 0.05, 1440, "A watch of {value} minutes is outside {low} minutes to a day.", field="minutes"
    )
    text = "A dial that moved {value} ft³ is outside {low} to {high} ft³."
    within(moved_cuft, 0, 10_000, text, field="moved_cuft", of=Quantity.VOLUME)
    readable = dial_cuft / 50 if readable_cuft is None else readable_cuft
    text = "A dial readable to {value} ft³ is outside {low} ft³ to its own turn."
    within(readable, 0.00001, dial_cuft, text, field="readable_cuft", of=Quantity.VOLUME)
    rate, visible = moved_cuft * 60 / minutes, 1.5 * readable * 60 / minutes
    result, says = _judge_dial(dial_cuft, minutes, moved_cuft, readable)
    limit = "A leak under {leak} ft³/h does not show on this dial in this time."
    return DialAnswer(
        result, (says, sentence(limit, leak=figure_as(visible, ".2g", Quantity.FLOW))), rate, visible
    )


def _judge_dial(dial: float, minutes: float, moved: float, readable: float) -> tuple[Result, Sentence]:
    facts = {"moved": figure(moved, 4, Quantity.VOLUME), "minutes": figure(minutes, 1)}
    if moved > 1.5 * readable:
        text = "The dial moved {moved} ft³ in {minutes} minutes with everything shut: gas is being lost."
        return Result.DOES_NOT_MEET, sentence(text, **facts)
    if moved > 0.5 * readable:
        text = "The dial may have moved ({moved} ft³ in {minutes} minutes). Watch it for longer."
        return Result.CANNOT_TELL, sentence(text, **facts)
    needed = next((least for upto, least in DIAL_MINUTES if dial <= upto), None)
    if needed is None:
        return Result.CANNOT_TELL, sentence("This dial is too large to show a leak. Test by pressure decay.")
    if minutes < needed * 0.999:
        text = "The dial stood still, but {minutes} minutes are too short; watch it for {needed} minutes."
        return Result.CANNOT_TELL, sentence(text, needed=figure(needed), **facts)
    return Result.MEETS, sentence("The dial stood still for {minutes} minutes with everything shut.", **facts)
