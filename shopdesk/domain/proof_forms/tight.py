"""Tightness: by pressure decay, by the meter's dial, and what leak fluid and detector showed."""

from shopdesk.domain.curve import Curve, Mark, Series
from shopdesk.domain.gas.dial import judge_dial
from shopdesk.domain.measured import Limit, Result
from shopdesk.domain.proof_forms.asked import Asked, Judged, ProofForm, Values, answered, judged, together
from shopdesk.domain.quantity import Quantity
from shopdesk.domain.tightness import (
    LEAST_MINUTES,
    MINUTES,
    READABLE,
    THERMOMETER_F,
    Decay,
    DecayAnswer,
    judge_decay,
)

_GAUGE = ("method", "gauge")
_METER = ("method", "meter")
_FLUID = Limit(0, "", "bubbles or detector readings, none", "common practice, no source")
_BUBBLES = (
    ("", "not tried"),
    ("none", "no bubble anywhere"),
    ("bubbles", "bubbles"),
)


def bench() -> ProofForm:
    """Gas parts off the range, capped and held at pressure."""
    fields = (*_decay(None, "Pressure"), *_fluid())
    return ProofForm(
        code="tightness-bench",
        fields=fields,
        judge_values=lambda values: together([_by_decay(values), _by_fluid(values)]),
        measures=("pressure", "temperature"),
    )


def assembled() -> ProofForm:
    """The range whole again: gauge or the meter's dial, then fluid and detector."""
    method = Asked(
        name="method",
        label="How it was held",
        kind="choice",
        choices=(("gauge", "gauge, shut off from the supply"), ("meter", "the meter’s test dial")),
        required="Say how it was held: with a gauge, or on the meter’s dial.",
        group="Pressure",
    )
    fields = (
        method,
        *_decay(_GAUGE, ""),
        *_dial(),
        *_fluid(),
        Asked(
            name="detector",
            label="Detector along every line",
            kind="choice",
            choices=(("", "not used"), ("none", "no reading"), ("reads", "it reads")),
        ),
        Asked(name="hot", label="Tried again hot", kind="tick"),
    )
    return ProofForm(
        code="tightness-assembled",
        fields=fields,
        judge_values=_judge_assembled,
        measures=("pressure", "temperature", "gas"),
    )


def _judge_assembled(values: Values) -> Judged:
    held = _by_dial(values) if values.get("method") == "meter" else _by_decay(values)
    detector = answered(values, "detector", bad={"reads": "The detector reads gas. Find it before a flame."})
    cold = () if values.get("hot") else judged(None, "Tried cold only; try it again hot.").says
    return together([held, _by_fluid(values), detector], *cold)


def _decay(when: tuple[str, str] | None, group: str) -> tuple[Asked, ...]:
    pressure, warm = Quantity.PRESSURE, Quantity.TEMPERATURE
    return (
        Asked(
            name="start_inwc", label="Pressure at the start", quantity=pressure, when=when, group=group,
            required="Read the gauge at the start.",
        ),
        Asked(
            name="end_inwc", label="Pressure at the end", quantity=pressure, when=when,
            required="Read the gauge at the end.",
        ),
        Asked(
            name="minutes", label="Length of the test", quantity=Quantity.MINUTES, when=when,
            required="Write how many minutes it was held.",
        ),
        Asked(
            name="resolution_inwc", label="Division of the gauge", quantity=pressure, when=when,
            instrument=True, note="The smallest step it can be read to.",
        ),
        Asked(
            name="start_f", label="Temperature at the start", quantity=warm, when=when,
            note="A sealed gauge follows the temperature: both are needed.",
        ),
        Asked(name="end_f", label="Temperature at the end", quantity=warm, when=when),
        Asked(
            name="thermometer_f", label="Division of the thermometer", quantity=Quantity.WARMTH, when=when,
            instrument=True,
        ),
        Asked(
            name="volume_cuft", label="Volume under test", quantity=Quantity.VOLUME, when=when,
            note="If it is known; then a shorter test may do, and a fall becomes a rate.",
        ),
        Asked(
            name="between", label="Readings in between", kind="pairs", quantity=Quantity.MINUTES,
            second=pressure, when=when, note="Minute and pressure, such as 2/12, 5/11.9. For the curve.",
        ),
    )  # fmt: skip


def _dial() -> tuple[Asked, ...]:
    return (
        Asked(
            name="dial_cuft", label="Test dial, a turn", quantity=Quantity.VOLUME, when=_METER,
            required="Write what a turn of the test dial is.",
        ),
        Asked(
            name="dial_minutes", label="Watched for", quantity=Quantity.MINUTES, when=_METER,
            required="Write how long the dial was watched.",
        ),
        Asked(
            name="moved_cuft", label="What the dial moved", quantity=Quantity.VOLUME, when=_METER,
            required="Write what the dial moved; nothing is 0.",
        ),
    )  # fmt: skip


def _fluid() -> tuple[Asked, ...]:
    return (
        Asked(
            name="bubbles", label="Leak fluid on every joint", kind="choice", choices=_BUBBLES,
            group="Leak fluid",
        ),
        Asked(name="joints", label="Joints tried, and where it bubbled", kind="text"),
    )  # fmt: skip


def _by_fluid(values: Values) -> Judged:
    where = str(values.get("joints") or "").strip()
    if values.get("bubbles") == "bubbles":
        if where:
            text = "Leak fluid bubbled: {where}. No leak is small; mend it and test again."
            return judged(Result.DOES_NOT_MEET, text, _FLUID, where=where)
        text = "Leak fluid bubbled. No leak is small; mend it and test again."
        return judged(Result.DOES_NOT_MEET, text, _FLUID)
    if values.get("bubbles") != "none":
        return judged(Result.CANNOT_TELL, "Leak fluid was not tried on every joint.", _FLUID)
    return judged(Result.MEETS, "No bubble anywhere.", _FLUID)


def _by_decay(values: Values) -> Judged:
    thermometer = values.get("thermometer_f")
    test = Decay(
        start_inwc=values["start_inwc"],
        end_inwc=values["end_inwc"],
        minutes=values["minutes"],
        start_f=values.get("start_f"),
        end_f=values.get("end_f"),
        resolution_inwc=values.get("resolution_inwc"),
        thermometer_f=THERMOMETER_F if thermometer is None else thermometer,
        volume_cuft=values.get("volume_cuft"),
    )
    answer = judge_decay(test)
    return Judged(
        result=answer.result,
        says=answer.says,
        limits=(READABLE, MINUTES if test.volume_cuft is None else LEAST_MINUTES),
        curves=(_curve(test, answer, values.get("between") or ()),),
    )


def _curve(test: Decay, answer: DecayAnswer, between: tuple[tuple[float, float], ...]) -> Curve:
    inside = sorted((m, p) for m, p in between if 0 < m < test.minutes)
    read = ((0.0, test.start_inwc), *inside, (test.minutes, test.end_inwc))
    series = [Series("read on the gauge", read)]
    marks = [Mark(0, test.start_inwc, ""), Mark(test.minutes, test.end_inwc, "")]
    if answer.expected_end_inwc is not None:
        alone = ((0.0, test.start_inwc), (test.minutes, answer.expected_end_inwc))
        series.append(Series("from temperature alone", alone, "dashed"))
    marks[1:1] = [Mark(m, p, "") for m, p in inside]
    return Curve("Pressure against time", Quantity.PRESSURE, tuple(series), tuple(marks))


def _by_dial(values: Values) -> Judged:
    answer = judge_dial(values["dial_cuft"], values["dial_minutes"], values["moved_cuft"])
    return Judged(result=answer.result, says=answer.says)
