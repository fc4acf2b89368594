"""Supply pressure under load: what is left at the range with everything burning.

The figure that counts is the appliance's stated minimum inlet; without it nothing is proved.
"""

from dataclasses import dataclass

from shopdesk.domain.measured import Limit, Result, Sentence, figure, sentence, within
from shopdesk.domain.problem import Problem
from shopdesk.domain.quantity import Quantity
from shopdesk.domain.units import HALF_PSI_INWC

RATED = Limit(
    HALF_PSI_INWC,
    "in w.c.",
    "what appliance regulators and controls are commonly rated for, 1/2 psi",
    "several appliance instructions",
)


@dataclass(frozen=True, slots=True)
class SupplyAnswer:
    result: Result
    drop_inwc: float
    says: tuple[Sentence, ...]


def under_load(
    no_flow_inwc: float, full_flow_inwc: float, minimum_inwc: float | None, resolution_inwc: float = 0.1
) -> SupplyAnswer:
    """Inlet pressure with nothing and with everything on, against the stated minimum inlet."""
    for reading, field in ((no_flow_inwc, "no_flow_inwc"), (full_flow_inwc, "full_flow_inwc")):
        text = "A supply of {value} in w.c. is outside {low} to {high} in w.c. Read the manometer again."
        within(reading, 0, 140, text, field=field, of=Quantity.PRESSURE)
    within(
        resolution_inwc,
        0.001,
        2,
        "A manometer readable to {value} in w.c. is of no use here; give {low} to {high} in w.c.",
        field="resolution_inwc",
        of=Quantity.PRESSURE,
    )
    if full_flow_inwc > no_flow_inwc + resolution_inwc:
        raise Problem(
            "The pressure rose from {rest} to {full} in w.c. when the burners were lit; no supply does that. "
            "Were the readings swapped?",
            field="full_flow_inwc",
            rest=figure(no_flow_inwc, 2, Quantity.PRESSURE),
            full=figure(full_flow_inwc, 2, Quantity.PRESSURE),
        )
    result, says = _judge(no_flow_inwc, full_flow_inwc, minimum_inwc, resolution_inwc)
    return SupplyAnswer(result, no_flow_inwc - full_flow_inwc, says)


def _judge(
    rest: float, full: float, minimum: float | None, resolution: float
) -> tuple[Result, tuple[Sentence, ...]]:
    drop = sentence(
        "The pressure falls by {drop} in w.c. from {rest} with nothing lit to {full} with everything lit.",
        drop=figure(rest - full, 2, Quantity.PRESSURE),
        rest=figure(rest, 2, Quantity.PRESSURE),
        full=figure(full, 2, Quantity.PRESSURE),
    )
    if rest > RATED.figure + resolution:
        high = "That is above 1/2 psi (13.8 in w.c.), which controls and regulators are commonly rated for."
        return Result.DOES_NOT_MEET, (drop, sentence(high))
    if minimum is None:
        none = "The appliance's stated minimum inlet is not entered; without it nothing can be said."
        return Result.CANNOT_TELL, (drop, sentence(none))
    within(
        minimum,
        0.5,
        RATED.figure,
        "A stated minimum inlet of {value} in w.c. is outside {low} to {high} in w.c.",
        field="minimum_inwc",
        of=Quantity.PRESSURE,
    )
    facts = {"minimum": figure(minimum, 2, Quantity.PRESSURE)}
    if full < minimum - resolution:
        low = "That is below the stated minimum inlet of {minimum} in w.c."
        return Result.DOES_NOT_MEET, (drop, sentence(low, **facts))
    if full < minimum + resolution or rest > RATED.figure - resolution:
        near = "That is too near the limit for this manometer to tell (stated minimum {minimum} in w.c.)."
        return Result.CANNOT_TELL, (drop, sentence(near, **facts))
    over = "With everything lit the stated minimum inlet of {minimum} in w.c. is there."
    return Result.MEETS, (drop, sentence(over, **facts))
