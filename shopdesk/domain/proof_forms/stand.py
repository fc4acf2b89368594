"""Doors, springs, stance and lift: looked at and tried by hand."""

from shopdesk.domain.build import Build
from shopdesk.domain.measured import Result, figure, within
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

LOAD = figure(10, 1, Quantity.WEIGHT)  # on an open door and on the lift


def doors(build: Build) -> ProofForm:
    there = build.ovens + build.broiler
    fields = (
        Asked(name="tried", label="Doors tried", required="Count the doors that were tried."),
        Asked(name="stays", label="Stays where it is let go, closes softly", kind="choice", choices=YES_NO),
        Asked(name="strip", label="Paper strip drags all round", kind="choice", choices=YES_NO),
        Asked(
            name="holds", label="Holds {load} lb open", kind="choice", choices=YES_NO, facts={"load": LOAD}
        ),
        Asked(name="handles", label="Handles without play", kind="choice", choices=YES_NO),
    )
    return ProofForm(
        code="doors", fields=fields, judge_values=lambda values: _doors(values, there), by_eye=True
    )


def _doors(values: Values, there: int) -> Judged:
    tried = within(values["tried"], 0, 12, "A count of {value} is outside {low} to {high}.", field="tried")
    parts = [
        answered(values, "stays", bad={"no": "A door falls or slams. A spring under load is let down first."},
                 missing="Nobody tried whether the doors stay."),
        answered(values, "strip", bad={"no": "A door does not close tight all round."},
                 missing="No paper strip was drawn round the doors."),
        answered(values, "holds", bad={"no": "An open door gives way under the load."},
                 missing="Nobody loaded an open door."),
        answered(values, "handles", bad={"no": "A handle has play."}, missing="Nobody rocked the handles."),
    ]  # fmt: skip
    if tried < there:
        text = "{tried} of {there} doors were tried."
        parts.append(judged(Result.CANNOT_TELL, text, tried=figure(tried, 0), there=there))
    return together(parts)


def stance() -> ProofForm:
    fields = (
        Asked(name="rocks", label="It stands without rocking", kind="choice", choices=YES_NO),
        Asked(name="level_across", label="Level, left to right", kind="choice", choices=YES_NO),
        Asked(name="level_deep", label="Level, front to back", kind="choice", choices=YES_NO),
        Asked(
            name="legs", label="Legs take the weight, none turns", kind="choice", choices=YES_NO
        ),
        Asked(name="weight_lb", label="Weight, if it was weighed", quantity=Quantity.WEIGHT),
        Asked(
            name="slips", label="Times the lift slipped with {load} lb on it, of ten",
            facts={"load": LOAD}, required="Count the slips; none is 0.",
        ),
    )  # fmt: skip
    return ProofForm(code="stance", fields=fields, judge_values=_stance, by_eye=True)


def _stance(values: Values) -> Judged:
    slips = within(values["slips"], 0, 100, "A count of {value} is outside {low} to {high}.", field="slips")
    if values.get("weight_lb") is not None:
        text = "A range does not weigh {value} lb; they lie from {low} to {high} lb."
        within(values["weight_lb"], 30, 2000, text, field="weight_lb", of=Quantity.WEIGHT)
    parts = [
        answered(values, "rocks", bad={"no": "It rocks."}, missing="Nobody tried whether it rocks."),
        answered(values, "level_across", bad={"no": "It is not level left to right."},
                 missing="It was not levelled left to right."),
        answered(values, "level_deep", bad={"no": "It is not level front to back."},
                 missing="It was not levelled front to back."),
        answered(values, "legs", bad={"no": "A leg is loose or does not carry."},
                 missing="Nobody looked at the legs."),
    ]  # fmt: skip
    if slips:
        parts.append(judged(Result.DOES_NOT_MEET, "The lift slipped {count} times.", count=figure(slips, 0)))
    return together(parts)
