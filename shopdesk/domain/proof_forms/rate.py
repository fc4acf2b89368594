"""Input rate by clocking the meter, against the plate."""

from shopdesk.domain.gas.gases import Gases
from shopdesk.domain.gas.meter import clock, percent_of_plate
from shopdesk.domain.measured import Limit, Result, figure, figure_as
from shopdesk.domain.proof_forms.asked import NO_SOURCE, Asked, Judged, ProofForm, Values, judged
from shopdesk.domain.quantity import Quantity

OFF_PLATE = Limit(10, "%", "input off the plate, either way", NO_SOURCE)


def input_rate(gases: Gases) -> ProofForm:
    names = tuple((gas.code, gas.name) for gas in gases.values())
    fields = (
        Asked(name="what", label="What was lit", kind="text", required="Write what was lit.",
              note="Everything else on the meter off, other pilots too."),
        Asked(name="dial_cuft", label="Test dial, a turn", quantity=Quantity.VOLUME,
              required="Write what a turn of the test dial is."),
        Asked(name="turns", label="Turns timed", required="Count the turns that were timed."),
        Asked(name="seconds", label="Time for them", quantity=Quantity.SECONDS,
              required="Time the turns in seconds."),
        Asked(name="gas", label="Gas", kind="choice", choices=names, required="Choose the gas."),
        Asked(name="heating_value", label="Heating value the supplier states",
              quantity=Quantity.HEATING_VALUE, note="Empty takes the table's."),
        Asked(name="plate_btuh", label="Input on the plate", quantity=Quantity.HEAT),
    )  # fmt: skip
    return ProofForm(
        code="input-rate", fields=fields, judge_values=lambda v: _judge(v, gases), measures=("time",)
    )


def _judge(values: Values, gases: Gases) -> Judged:
    clocked = clock(values["dial_cuft"], values["seconds"], values["turns"])
    heating = values.get("heating_value") or gases[values["gas"]].heating_value_btuft3
    heat = clocked.input_btuh(heating)
    facts = {
        "rate": figure(clocked.rate_cfh, 2, Quantity.FLOW),
        "heat": figure_as(heat, ",.0f", Quantity.HEAT),
    }
    plate = values.get("plate_btuh")
    if plate is None:
        text = "{rate} ft³/h, {heat} Btu/h. Without the plate's input nothing can be said."
        return judged(Result.CANNOT_TELL, text, **facts)
    off = percent_of_plate(heat, plate)
    doubt = 100 * clocked.doubt_cfh * heating / plate
    facts |= {"off": figure_as(off, "+.1f", Quantity.PERCENT), "most": figure(OFF_PLATE.figure, 0)}
    if abs(off) - doubt > OFF_PLATE.figure:
        text = "{rate} ft³/h, {heat} Btu/h: {off} % off the plate, more than {most} %."
        return judged(Result.DOES_NOT_MEET, text, OFF_PLATE, **facts)
    if abs(off) + doubt > OFF_PLATE.figure:
        text = "{rate} ft³/h, {heat} Btu/h: {off} % off the plate is too near {most} %. Time more turns."
        return judged(Result.CANNOT_TELL, text, OFF_PLATE, **facts)
    text = "{rate} ft³/h, {heat} Btu/h: {off} % off the plate, within {most} %."
    return judged(Result.MEETS, text, OFF_PLATE, **facts)
