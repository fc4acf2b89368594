"""A range's own wiring: earth, insulation, leakage and polarity."""

from collections.abc import Callable

from shopdesk.domain.build import Build
from shopdesk.domain.electrical import (
    TEST_VOLTS,
    ElectricalAnswer,
    cord_ohm,
    judge_earth,
    judge_insulation,
    judge_polarity,
)
from shopdesk.domain.measured import Limit, Result, figure, within
from shopdesk.domain.problem import Problem
from shopdesk.domain.proof_forms.asked import YES_NO, Asked, Judged, ProofForm, Values, judged, together
from shopdesk.domain.quantity import Quantity

LEAKAGE = Limit(0.5, "mA", "leakage to the frame, at most", "appliance service manuals")
_STEP_MA = 0.01


def wiring(build: Build) -> ProofForm:
    """The lamp's shell is asked for where there is a lamp."""
    fields = (
        Asked(
            name="ohm", label="Earth pin to bare metal", quantity=Quantity.OHM, group="Unplugged",
            required="Measure from the earth pin to bare metal of the range.",
        ),
        Asked(
            name="gauge_awg", label="Cord, gauge", quantity=Quantity.GAUGE,
            note="Gauge and length give the cord's own resistance.",
        ),
        Asked(name="length_ft", label="Cord, length", quantity=Quantity.CORD),
        Asked(
            name="megohm", label="Insulation, lines to frame", quantity=Quantity.MEGOHM,
            required="Measure the insulation, line and neutral together against the frame.",
        ),
        Asked(
            name="volts", label="Tested at", quantity=Quantity.VOLT, required="Write the test voltage.",
            note="500 V DC. Lamp, clock and solid-state parts taken out first.",
        ),
        Asked(
            name="switch", label="Switch in the line", kind="choice", choices=YES_NO, group="Polarity",
        ),
        *_shell(build.lamp),
        Asked(name="blade", label="Wide blade is the neutral", kind="choice", choices=YES_NO),
        Asked(
            name="leakage_ma", label="Leakage, the higher way round", quantity=Quantity.MILLIAMPERE,
            group="Live", required="Measure the leakage, plug both ways round.",
        ),
    )  # fmt: skip
    return ProofForm(
        code="electrical",
        fields=fields,
        judge_values=lambda values: _judge(values, build.lamp),
        measures=("electrical",),
    )


def _shell(lamp: bool) -> tuple[Asked, ...]:
    field = Asked(name="shell", label="Lamp shell on the neutral", kind="choice", choices=YES_NO)
    return (field,) if lamp else ()


def _judge(values: Values, lamp: bool) -> Judged:
    looked = {"yes": True, "no": False}
    parts = [
        _as_judged(lambda: judge_earth(values["ohm"], _cord(values)), ohm="ohm"),
        _as_judged(lambda: judge_insulation(values["megohm"], volts=_volts(values)), megohm="megohm"),
        _as_judged(
            lambda: judge_polarity(
                shell_on_neutral=looked.get(values.get("shell") or "") if lamp else True,
                switch_in_line=looked.get(values.get("switch") or ""),
                wide_blade_neutral=looked.get(values.get("blade") or ""),
            )
        ),
        _leakage(values["leakage_ma"]),
    ]
    return together(parts)


def _volts(values: Values) -> float:
    volts = values.get("volts")
    return TEST_VOLTS if volts is None else float(volts)


def _cord(values: Values) -> float | None:
    gauge, length = values.get("gauge_awg"), values.get("length_ft")
    if gauge is None or length is None:
        return None
    text = "A cord of {value} AWG is outside {low} to {high}."
    if within(gauge, 4, 24, text, field="gauge_awg") != int(gauge):
        raise Problem("A cord of {gauge} AWG is not known; gauges are whole.", field="gauge_awg", gauge=gauge)
    return cord_ohm(int(gauge), length)


def _as_judged(answer: Callable[[], ElectricalAnswer], **fields: str) -> Judged:
    try:
        told = answer()
    except Problem as problem:
        problem.field = fields.get(problem.field, problem.field)
        raise
    return Judged(result=told.result, says=told.says, limits=(told.limit,))


def _leakage(milliampere: float) -> Judged:
    text = "A leakage of {value} mA is outside {low} to {high} mA."
    within(milliampere, 0, 1000, text, field="leakage_ma")
    facts = {"ma": figure(milliampere, 3), "most": figure(LEAKAGE.figure)}
    if milliampere > LEAKAGE.figure + _STEP_MA:
        text = "{ma} mA leak to the frame, more than {most} mA. Leave it unplugged."
        return judged(Result.DOES_NOT_MEET, text, LEAKAGE, **facts)
    if milliampere > LEAKAGE.figure - _STEP_MA:
        return judged(Result.CANNOT_TELL, "{ma} mA is too near {most} mA to tell.", LEAKAGE, **facts)
    return judged(Result.MEETS, "{ma} mA leak to the frame, within {most} mA.", LEAKAGE, **facts)
