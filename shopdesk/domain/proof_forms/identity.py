"""Gas identity: five facts kept apart, and the pressure at the manifold while a large burner is lit.

A range for resale has no house yet. It is released as set to a stated gas; the supply of the house it
goes to is checked there, before it is connected.
"""

from shopdesk.domain.gas.gases import Gas, Gases
from shopdesk.domain.measured import Limit, Result, Sentence, figure, sentence
from shopdesk.domain.proof_forms.asked import NO_SOURCE, Asked, Judged, ProofForm, Values, judged, together
from shopdesk.domain.quantity import Quantity
from shopdesk.domain.units import HALF_PSI_INWC

FACTS = (
    ("plate_gas", "On the plate"),
    ("spud_gas", "Spuds are drilled for"),
    ("house_gas", "Supply at the house"),
    ("set_gas", "Set to"),
    ("label_gas", "On the label put on"),
)
NO_HOUSE = "no house"  # the supply of a range that is not sold
_DIVISION = 0.1  # in w.c., when none is given
_OFF_PLATE = 0.1  # share of the plate's pressure (common practice, no source)
ABOVE_MANIFOLD = Limit(1, "in w.c.", "inlet above the manifold, at least", "several appliance instructions")
RATED = Limit(
    HALF_PSI_INWC, "in w.c.", "inlet, at most 1/2 psi", "what appliance regulators are commonly rated for"
)


def identity(gases: Gases, *, unsold: bool = False) -> ProofForm:
    """`unsold`: the range is for resale and nobody's yet; its house may be left open."""
    names = tuple((gas.code, gas.name) for gas in gases.values())
    none_yet = ((NO_HOUSE, "not sold, no house yet"),) if unsold else ()
    fields = [
        Asked(
            name=name,
            label=label,
            kind="choice",
            choices=(("", "not known"), *names, *(none_yet if name == "house_gas" else ())),
            group="Five facts, kept apart" if not place else "",
        )
        for place, (name, label) in enumerate(FACTS)
    ]
    fields += [
        Asked(
            name="converted_by", label="Converted by, if the plate names another gas", kind="text",
            note="The licensed fitter who decided it and signs for it.",
        ),
        Asked(
            name="manifold_inwc", label="Manifold, one large burner on", quantity=Quantity.PRESSURE,
            group="Pressure", required="Read the manometer at the manifold.",
        ),
        Asked(
            name="plate_inwc", label="Manifold pressure on the plate", quantity=Quantity.PRESSURE,
            note="Empty where there is no plate.",
        ),
        Asked(name="inlet_inwc", label="Inlet, the same burner on", quantity=Quantity.PRESSURE,
              required="Read the manometer at the inlet."),
        Asked(
            name="resolution_inwc", label="Division of the manometer", quantity=Quantity.PRESSURE,
            instrument=True,
        ),
    ]  # fmt: skip
    return ProofForm(
        code="gas-identity",
        fields=tuple(fields),
        judge_values=lambda values: together([_facts(values, gases), _pressures(values, gases)]),
        measures=("pressure",),
    )


def _facts(values: Values, gases: Gases) -> Judged:
    known = {name: values.get(name) or "" for name, _ in FACTS}
    no_house = known["house_gas"] == NO_HOUSE
    apart = ("plate_gas", "house_gas") if no_house else ("plate_gas",)
    rest = {name: gas for name, gas in known.items() if name not in apart}
    said = {gas for gas in rest.values() if gas}
    if len(said) > 1:
        told = ", ".join(f"{label.lower()}: {gases[rest[n]].name}" for n, label in FACTS if rest.get(n))
        return judged(Result.DOES_NOT_MEET, "The facts do not agree: {told}. Do not light it.", told=told)
    if "" in rest.values():
        missing = ", ".join(label.lower() for name, label in FACTS if name in rest and not rest[name])
        text = "Not known: {missing}. All must be known and agree before it is lit in the kitchen."
        return judged(Result.CANNOT_TELL, text, missing=missing)
    gas = gases[said.pop()]
    agreed = _agreed(known["plate_gas"], gas, str(values.get("converted_by") or "").strip(), gases, no_house)
    if not no_house:
        return agreed
    text = (
        "It has no house yet: it is set for {gas}. A licensed fitter checks where it goes that the supply is "
        "{gas}, before it is connected."
    )
    return together([agreed, judged(None, text, gas=gas.name)])


def _agreed(plate: str, gas: Gas, converted_by: str, gases: Gases, no_house: bool) -> Judged:
    if not plate and no_house:
        text = "Spuds, setting and label agree on {gas}; there is no plate to compare."
        return judged(Result.MEETS, text, gas=gas.name)
    if not plate:
        text = "Spuds, house, setting and label agree on {gas}; there is no plate to compare."
        return judged(Result.MEETS, text, gas=gas.name)
    if plate == gas.code and no_house:
        return judged(Result.MEETS, "Plate, spuds, setting and label agree on {gas}.", gas=gas.name)
    if plate == gas.code:
        return judged(Result.MEETS, "All five agree on {gas}.", gas=gas.name)
    return _converted(converted_by, gases[plate], gas)


def _converted(by: str, plate: Gas, gas: Gas) -> Judged:
    facts = {"plate": plate.name, "gas": gas.name, "by": by}
    if not by:
        text = (
            "The plate says {plate}, everything else {gas}. If it was converted, write down the licensed "
            "fitter who decided it."
        )
        return judged(Result.DOES_NOT_MEET, text, **facts)
    text = "The plate says {plate}; it was converted to {gas} by {by}, and the label says so."
    return judged(Result.MEETS, text, **facts)


def _pressures(values: Values, gases: Gases) -> Judged:
    manifold, inlet = values["manifold_inwc"], values["inlet_inwc"]
    step = values.get("resolution_inwc") or _DIVISION
    gas = gases.get(values.get("set_gas") or "")
    return together([_manifold(manifold, values.get("plate_inwc"), gas, step), _inlet(inlet, manifold, step)])


def _manifold(read: float, plate: float | None, gas: Gas | None, step: float) -> Judged:
    if plate is not None:
        low, high = plate * (1 - _OFF_PLATE), plate * (1 + _OFF_PLATE)
        limit = Limit(plate, "in w.c.", "manifold pressure on the plate, within a tenth", NO_SOURCE)
    elif gas is not None:
        low, high = gas.pressure_low_inwc, gas.pressure_high_inwc
        limit = Limit(gas.pressure_inwc, "in w.c.", "customary at the manifold for this gas", gas.source)
    else:
        text = "Neither the plate's pressure nor the gas is known, so the manifold pressure tells nothing."
        return judged(Result.CANNOT_TELL, text)
    pressure = Quantity.PRESSURE
    facts = {
        "read": figure(read, 2, pressure),
        "low": figure(low, 2, pressure),
        "high": figure(high, 2, pressure),
    }
    if not low - step <= read <= high + step:
        text = "{read} in w.c. at the manifold lies outside {low} to {high} in w.c. Set the regulator."
        return judged(Result.DOES_NOT_MEET, text, limit, **facts)
    if not low <= read <= high:
        text = "{read} in w.c. at the manifold is too near the end of {low} to {high} in w.c. to tell."
        return judged(Result.CANNOT_TELL, text, limit, **facts)
    return judged(
        Result.MEETS, "{read} in w.c. at the manifold lies within {low} to {high} in w.c.", limit, **facts
    )


def _inlet(inlet: float, manifold: float, step: float) -> Judged:
    pressure = Quantity.PRESSURE
    facts = {"inlet": figure(inlet, 2, pressure), "least": figure(manifold + 1, 2, pressure)}

    def say(result: Result, text: str) -> Judged:
        told: tuple[Sentence, ...] = (sentence(text, **facts),)
        return Judged(result=result, says=told, limits=(ABOVE_MANIFOLD, RATED))

    if inlet > RATED.figure + step:
        return say(Result.DOES_NOT_MEET, "An inlet of {inlet} in w.c. is above 1/2 psi (13.8 in w.c.).")
    if inlet < manifold + ABOVE_MANIFOLD.figure - step:
        text = "An inlet of {inlet} in w.c. is too low; the regulator needs {least} in w.c. or more."
        return say(Result.DOES_NOT_MEET, text)
    if not manifold + ABOVE_MANIFOLD.figure <= inlet <= RATED.figure:
        return say(Result.CANNOT_TELL, "An inlet of {inlet} in w.c. is too near its limit to tell.")
    return say(Result.MEETS, "An inlet of {inlet} in w.c. is enough for the regulator and not too much.")
