"""Clocking the meter: the rate from the time the test dial takes.

`ft³/h = 3600 x dial ft³ / seconds`; published rate tables give the same, rounded.
"""

from dataclasses import dataclass

from shopdesk.domain.gas.wobbe import check_heating_value
from shopdesk.domain.measured import within
from shopdesk.domain.quantity import Quantity


@dataclass(frozen=True, slots=True)
class Clocked:
    """A clocked rate; `doubt_cfh` is what half a second of the watch is worth."""

    rate_cfh: float
    doubt_cfh: float

    def input_btuh(self, heating_value_btuft3: float) -> float:
        return self.rate_cfh * check_heating_value(heating_value_btuft3)


def clock(dial_cuft: float, seconds: float, turns: int = 1) -> Clocked:
    """Rate from `turns` of a dial of `dial_cuft` in `seconds`."""
    within(
        seconds,
        1,
        86_400,
        "A time of {value} seconds cannot be clocked; let the dial turn for {low} to {high} seconds.",
        field="seconds",
    )
    within(
        dial_cuft,
        0.01,
        1000,
        "A test dial of {value} ft³ is not known; they lie from {low} to {high} ft³ a turn.",
        field="dial_cuft",
        of=Quantity.VOLUME,
    )
    within(turns, 1, 1000, "The dial was watched for {value} turns; it takes {low} to {high}.", field="turns")
    rate = 3600 * dial_cuft * turns / seconds
    return Clocked(rate, rate * 0.5 / seconds)


def percent_of_plate(measured_btuh: float, plate_btuh: float) -> float:
    """How far the measured input lies from the plate's, percent; positive: too much."""
    within(
        plate_btuh,
        20,
        1_000_000,
        "An input of {value} Btu/h is not a plate's; they lie from {low} to {high} Btu/h.",
        field="input_btuh",
        of=Quantity.HEAT,
    )
    return (measured_btuh / plate_btuh - 1) * 100
