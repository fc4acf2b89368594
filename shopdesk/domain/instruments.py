"""What a shop measures with: the kinds of instrument, and whether one's calibration still runs."""

import datetime as dt
from dataclasses import dataclass

from shopdesk.domain.quantity import Quantity

KINDS: dict[str, str] = {
    "pressure": "pressure (manometer)",
    "temperature": "temperature (thermometer, logger)",
    "carbon monoxide": "carbon monoxide and oxygen (analyser)",
    "gas": "gas in air (detector)",
    "electrical": "earth, insulation, leakage (tester)",
    "voltage": "millivolts",
    "time": "time (watch)",
}
"""Codes with the words people see."""

DIVISIONS: dict[str, Quantity] = {
    "pressure": Quantity.PRESSURE,
    "temperature": Quantity.WARMTH,
    "carbon monoxide": Quantity.PPM,
}
"""What has a division that a verdict depends on, and what that is measured in."""


@dataclass(frozen=True, slots=True)
class Calibration:
    """How long an instrument's calibration runs; None: nobody wrote it down."""

    due: dt.date | None

    def past(self, on: dt.date) -> bool:
        """Past its day, or never written down."""
        return self.due is None or self.due < on


def measured_with(quantity: Quantity) -> str:
    """The kind of instrument whose division a reading of this quantity takes; empty for none."""
    return next((kind for kind, of in DIVISIONS.items() if of is quantity), "")
