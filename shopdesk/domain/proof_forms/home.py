"""In the kitchen: the licensed fitter's own proofs once the range is connected."""

from shopdesk.domain.combustion import ROOM_NORMAL
from shopdesk.domain.gas.gases import Gases
from shopdesk.domain.gas.supply import RATED, under_load
from shopdesk.domain.measured import Limit, Result, figure, within
from shopdesk.domain.proof_forms.asked import (
    YES_NO,
    Asked,
    Judged,
    ProofForm,
    Values,
    answered,
    judged,
    together,
)
from shopdesk.domain.proof_forms.shut_off import timed
from shopdesk.domain.quantity import Quantity

_LEAK = (("", "not tried"), ("none", "no bubble, no reading"), ("leak", "a leak"))


def at_home(gases: Gases, set_to: str, safety_pilot: bool) -> ProofForm:
    """`set_to`: the gas the range was set to in the shop, empty when nobody wrote it down."""
    names = tuple((gas.code, gas.name) for gas in gases.values())
    pressure = Quantity.PRESSURE
    fields = [
        Asked(name="connector", label="New connector, fitted by the licensed fitter", kind="choice",
              choices=YES_NO, group="Connection"),
        Asked(name="supply_gas", label="Gas in the kitchen", kind="choice",
              choices=(("", "not known"), *names)),
        Asked(name="no_flow_inwc", label="Supply, nothing lit", quantity=pressure,
              required="Read the supply with nothing lit."),
        Asked(name="full_flow_inwc", label="Supply, everything lit", quantity=pressure,
              required="Read the supply with everything lit."),
        Asked(name="minimum_inwc", label="Least supply the plate or maker states", quantity=pressure),
        Asked(name="resolution_inwc", label="Division of the manometer", quantity=pressure, instrument=True),
        Asked(name="leak", label="Leak check of every joint opened", kind="choice", choices=_LEAK),
        Asked(name="lit", label="Every burner and the oven light", kind="choice", choices=YES_NO,
              group="Burning"),
        Asked(name="room_ppm", label="Room, highest with the oven at {set} °F", quantity=Quantity.PPM,
              facts={"set": figure(350, 0, Quantity.TEMPERATURE)},
              required="Read the room while the oven burns."),
        Asked(name="alarm", label="Carbon monoxide alarm seen", kind="choice", choices=YES_NO),
        Asked(name="shown", label="Owner shown how to light it and shut it off", kind="choice",
              choices=YES_NO),
        Asked(name="licence", label="Licence number", kind="text", group="Signed",
              required="Write the licensed fitter’s licence number."),
    ]  # fmt: skip
    if safety_pilot:
        fields[-1:-1] = [
            Asked(name="shut_off_s", label="Safety pilot shuts off after", quantity=Quantity.SECONDS,
                  required="Time the shut-off again here."),
            Asked(name="limit_s", label="Shut-off within", quantity=Quantity.SECONDS),
            Asked(name="limit_from", label="Where that limit stands", kind="text"),
        ]  # fmt: skip
    return ProofForm(
        code="at-home",
        fields=tuple(fields),
        judge_values=lambda values: _judge(values, gases, set_to, safety_pilot),
        measures=("pressure", "carbon monoxide", "gas"),
    )


def _judge(values: Values, gases: Gases, set_to: str, safety_pilot: bool) -> Judged:
    step = values.get("resolution_inwc")
    supply = under_load(
        values["no_flow_inwc"],
        values["full_flow_inwc"],
        values.get("minimum_inwc"),
        0.1 if step is None else step,
    )
    parts = [
        _gas(values.get("supply_gas") or "", set_to, gases),
        Judged(result=supply.result, says=supply.says, limits=(RATED,)),
        _room(values["room_ppm"]),
        answered(values, "connector", bad={"no": "No new connector was fitted; an old one is not used."},
                 missing="Nobody said whether the connector is new."),
        answered(values, "leak", bad={"leak": "There is a leak. Shut the supply and mend it."},
                 missing="The joints were not tried for leaks."),
        answered(values, "lit", bad={"no": "Not every burner lights."}, missing="Not every burner was lit."),
        answered(values, "alarm", bad={"no": "There is no carbon monoxide alarm."},
                 missing="Nobody looked for the carbon monoxide alarm."),
        answered(values, "shown", bad={}, missing="The owner was not shown how to light it and shut it off."),
    ]  # fmt: skip
    if safety_pilot:
        parts.append(timed(values, "shut_off_s", "limit_s"))
    return together(parts)


def _gas(supply: str, set_to: str, gases: Gases) -> Judged:
    if not supply:
        return judged(Result.CANNOT_TELL, "The gas in the kitchen was not written down.")
    name = gases[supply].name
    if set_to not in gases:
        text = "The kitchen has {gas}; what the range was set to is not on record."
        return judged(Result.CANNOT_TELL, text, gas=name)
    if supply != set_to:
        text = "The kitchen has {gas}, the range is set for {set_to}. It is not lit; disconnect it."
        return judged(Result.DOES_NOT_MEET, text, gas=name, set_to=gases[set_to].name)
    return judged(Result.MEETS, "The kitchen has {gas}, as the range is set.", gas=name)


def _room(ppm: float) -> Judged:
    text = "A room of {value} ppm is outside {low} to {high} ppm. Zero the meter in fresh air."
    within(ppm, 0, 50_000, text, field="room_ppm")
    limit: Limit = ROOM_NORMAL
    if ppm > limit.figure:
        text = "{room} ppm in the room is not normal: shut it off, ventilate, look for the cause."
        return judged(Result.DOES_NOT_MEET, text, limit, room=figure(ppm))
    return judged(Result.MEETS, "{room} ppm in the room with the oven burning.", limit, room=figure(ppm))
