"""The oven's thermostat from its cycles, and the burn-off."""

from shopdesk.domain.curve import Curve, Mark, Series
from shopdesk.domain.gas.elevation import check_elevation
from shopdesk.domain.measured import Result, Sentence, figure, figure_as, sentence, within
from shopdesk.domain.problem import Problem
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
from shopdesk.domain.quantity import Quantity
from shopdesk.domain.thermostat import (
    ACCEPTED,
    CYCLES,
    SWING,
    Cycle,
    DialFit,
    SetPoint,
    ThermostatAnswer,
    fit_dial,
    judge_thermostat,
    thermometer_error_f,
    turn_screw,
)

SETTINGS_F = (300, 350, 450)
_FLAMES = (("", "not looked at"), ("whole", "small, whole burner"), ("part", "part of the burner out"))


def thermostat() -> ProofForm:
    warm = Quantity.TEMPERATURE
    fields = [
        Asked(
            name=cycles_field(set_f), label="Dial at {set} °F, on and off points", kind="pairs",
            facts={"set": figure(set_f, 0, warm)}, quantity=warm, second=warm,
            note="Three cycles at least, such as 331/372, 330/371, 331/372." if not place else "",
            group="Where the burner comes on and goes off" if not place else "",
        )
        for place, set_f in enumerate(SETTINGS_F)
    ]  # fmt: skip
    fields += [
        Asked(
            name="boiling_f", label="Thermometer in boiling water", quantity=warm, group="The thermometer",
        ),
        Asked(
            name="elevation_ft", label="Elevation of the shop", quantity=Quantity.ELEVATION,
            note="Water boils cooler higher up. Empty is sea level.",
        ),
        Asked(
            name="resolution_f", label="Division of the thermometer", quantity=Quantity.WARMTH,
            instrument=True,
        ),
        Asked(name="hold_flame", label="Hold flame", kind="choice", choices=_FLAMES, group="The control"),
        Asked(name="off_closes", label="Off closes", kind="choice", choices=YES_NO),
        Asked(
            name="per_turn_f", label="What a turn of the screw does", quantity=Quantity.WARMTH,
            note="If the shop has recorded it; then the turns to make are worked out.",
        ),
    ]  # fmt: skip
    return ProofForm(
        code="thermostat",
        fields=tuple(fields),
        judge_values=_thermostat,
        measures=("temperature",),
        logger=True,
    )


def cycles_field(set_f: float) -> str:
    """The field that holds the cycles at a setting of the dial."""
    return f"cycles_{set_f:g}"


def _thermostat(values: Values) -> Judged:
    error = _error(values)
    parts, points = [], []
    worst_off: ThermostatAnswer | None = None
    for set_f in SETTINGS_F:
        given = values.get(cycles_field(set_f)) or ()
        if not given:
            continue
        answer = _at(set_f, given, error, values.get("resolution_f") or 0.0)
        parts.append(Judged(result=answer.result, says=answer.says, limits=(ACCEPTED, CYCLES, SWING)))
        points.append(SetPoint(set_f, answer.mean_f))
        if worst_off is None or abs(answer.deviation_f) > abs(worst_off.deviation_f):
            worst_off = answer
    if worst_off is None:
        raise Problem(
            "No cycle was recorded. Give the on and the off point of each.", field=cycles_field(350)
        )
    missing = [set_f for set_f in SETTINGS_F if set_f not in {p.set_f for p in points}]
    if missing:
        text = "Not measured yet with the dial at {set} °F."
        settings = [figure(set_f, 0, Quantity.TEMPERATURE) for set_f in missing]
        parts += [judged(Result.CANNOT_TELL, text, set=setting) for setting in settings]
    parts += [
        answered(values, "hold_flame", bad={"part": "The hold flame leaves part of the burner without fire."},
                 missing="Nobody looked at the hold flame."),
        answered(values, "off_closes", bad={"no": "Off does not close. Shut the supply; do not use it."},
                 missing="Nobody tried whether off closes."),
    ]  # fmt: skip
    more: list[Sentence] = [_screw(values, worst_off)]
    if len(points) > 1:
        more.append(fit_in_words(fit_dial(points)))
    told_all = together(parts, *more)
    return Judged(result=told_all.result, says=told_all.says, limits=told_all.limits, curves=_curves(values))


def _at(set_f: float, given: object, error: float, resolution: float) -> ThermostatAnswer:
    try:
        cycles = [Cycle(float(on), float(off)) for on, off in given]  # type: ignore[attr-defined]
        return judge_thermostat(set_f, cycles, error_f=error, resolution_f=resolution)
    except Problem as problem:
        problem.field = cycles_field(set_f) if problem.field == "on_off" else problem.field
        raise


def _error(values: Values) -> float:
    boiling = values.get("boiling_f")
    if boiling is None:
        return 0.0
    return thermometer_error_f(boiling, check_elevation(values.get("elevation_ft") or 0.0))


def _screw(values: Values, answer: ThermostatAnswer) -> Sentence:
    if abs(answer.deviation_f) <= ACCEPTED.figure:
        return sentence("The calibration screw stays as it is.")
    _, advice = turn_screw(answer.deviation_f, values.get("per_turn_f"), answer.doubt_f)
    return advice


def fit_in_words(fit: DialFit) -> Sentence:
    """Offset and gain over the dial with their doubt."""
    facts = {
        "offset": figure_as(fit.offset_f, "+.1f", Quantity.WARMTH),
        "middle": figure(fit.middle_f, 0, Quantity.TEMPERATURE),
        "gain": figure(fit.gain, 3),
    }
    if fit.offset_doubt_f is None or fit.gain_doubt is None:
        text = "Over the dial: {offset} °F at {middle} °F, gain {gain}; two settings leave no doubt figure."
        return sentence(text, **facts)
    facts |= {
        "wide": figure(fit.offset_doubt_f, 1, Quantity.WARMTH),
        "narrow": figure(fit.gain_doubt, 3),
    }
    if fit.gain_off:
        text = (
            "Over the dial: {offset} ± {wide} °F at {middle} °F, gain {gain} ± {narrow}; the screw moves the "
            "whole dial and does not mend the gain."
        )
        return sentence(text, **facts)
    return sentence("Over the dial: {offset} ± {wide} °F at {middle} °F, gain {gain} ± {narrow}.", **facts)


def _curves(values: Values) -> tuple[Curve, ...]:
    """On and off points in their order, where no logger drew the time between them."""
    curves = []
    for set_f in SETTINGS_F:
        cycles = values.get(cycles_field(set_f)) or ()
        if cycles:
            marks = [
                Mark(float(2 * n + half), float(value), "on" if not half else "off")
                for n, pair in enumerate(cycles)
                for half, value in enumerate(pair)
            ]
            series = Series("on and off points in order", tuple((m.minute, m.value) for m in marks))
            curves.append(oven_curve(set_f, (series,), tuple(marks), timed=False))
    return tuple(curves)


def oven_curve(
    set_f: float, series: tuple[Series, ...], marks: tuple[Mark, ...], *, timed: bool = True
) -> Curve:
    """An oven's curve at a setting of its dial; a logger gives the time, points by hand only an order."""
    title = f"Oven, dial at {set_f:g} °F"
    return Curve(title, Quantity.TEMPERATURE, series, marks, float(set_f), "dial", timed)


def burn_off() -> ProofForm:
    fields = (
        Asked(
            name="minutes", label="Run at {set} °F for", quantity=Quantity.MINUTES,
            facts={"set": figure(450, 0, Quantity.TEMPERATURE)},
            required="Write how many minutes it ran.",
        ),
        Asked(name="room_ppm", label="Room, highest while it ran", quantity=Quantity.PPM),
        Asked(name="smoke", label="Smoke has ended", kind="choice", choices=YES_NO),
        Asked(name="smell", label="No smell of mouse", kind="choice", choices=YES_NO),
        Asked(name="handles", label="Handles and knobs can be touched", kind="choice", choices=YES_NO),
        Asked(name="remarks", label="Remarks", kind="text"),
    )  # fmt: skip
    return ProofForm(code="burn-off", fields=fields, judge_values=_burn_off, by_eye=True)


def _burn_off(values: Values) -> Judged:
    minutes = within(
        values["minutes"], 1, 1440, "A burn-off of {value} minutes is outside {low} to {high} minutes.",
        field="minutes",
    )  # fmt: skip
    parts = [
        answered(values, "smoke", bad={"no": "It still smokes. Go on, vented and attended."},
                 missing="Nobody said whether the smoke has ended."),
        answered(values, "smell", bad={"no": "It still smells. Look behind the panels before it leaves."},
                 missing="Nobody said whether it smells."),
        answered(values, "handles", bad={"no": "Handles grow too hot to touch. Look at insulation and door."},
                 missing="Nobody touched the handles."),
    ]  # fmt: skip
    if minutes < 120:
        text = "{minutes} minutes are less than two hours."
        parts.append(judged(Result.CANNOT_TELL, text, minutes=figure(minutes, 0)))
    return together(parts)
