"""What is watched: valves, pilots, burners, the lighting of the oven. An eye judges, figures may object."""

from shopdesk.domain.build import Build
from shopdesk.domain.measured import Limit, Result, figure, within
from shopdesk.domain.proof_forms.asked import (
    NO_SOURCE,
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

LIGHTS = Limit(4, "s", "lights within about", NO_SOURCE)
PILOT_LOW_IN, PILOT_HIGH_IN = 0.25, 0.5
PILOT = Limit(PILOT_HIGH_IN, "in", "pilot flame, from 1/4 to 1/2", NO_SOURCE)
_WATCH_S = 0.5  # what starting and stopping a watch by hand is worth
_COUNT = "A count of {value} is outside {low} to {high}."


def valves(build: Build) -> ProofForm:
    fields = (
        Asked(name="tried", label="Valves tried, cold and hot", required="Count the valves that were tried."),
        Asked(name="stiff", label="Valves that are stiff or rough", required="Count them; none is 0."),
        Asked(
            name="passing", label="Valves that pass gas when off", required="Count them; none is 0.",
            note="Detector at the burner, valve off.",
        ),
        Asked(name="definite_off", label="Every off is definite", kind="tick"),
    )  # fmt: skip
    return ProofForm(
        code="valves",
        fields=fields,
        judge_values=lambda values: _valves(values, build.valves),
        by_eye=True,
        measures=("gas",),
    )


def _valves(values: Values, there: int) -> Judged:
    for name in ("tried", "stiff", "passing"):
        within(values[name], 0, 30, _COUNT, field=name)
    parts = []
    if values["passing"]:
        text = "{count} valves pass gas when off. Shut the supply; lap or replace them."
        parts.append(judged(Result.DOES_NOT_MEET, text, count=figure(values["passing"], 0)))
    if values["stiff"]:
        text = "{count} valves do not turn smoothly. A valve is never forced."
        parts.append(judged(Result.DOES_NOT_MEET, text, count=figure(values["stiff"], 0)))
    if not values.get("definite_off"):
        parts.append(judged(Result.CANNOT_TELL, "Not every off was found definite."))
    if values["tried"] < there:
        text = "{tried} of {there} valves were tried."
        parts.append(judged(Result.CANNOT_TELL, text, tried=figure(values["tried"], 0), there=there))
    return together(parts)


def pilots() -> ProofForm:
    fields = (
        Asked(name="tried", label="Pilots watched", required="Count the pilots that were watched."),
        Asked(
            name="lowest_in", label="Shortest flame", quantity=Quantity.LENGTH,
            required="Measure the shortest flame.",
        ),
        Asked(
            name="highest_in", label="Tallest flame", quantity=Quantity.LENGTH,
            required="Measure the tallest flame.",
        ),
        Asked(name="steady", label="Blue and steady in a draught", kind="choice", choices=YES_NO),
    )  # fmt: skip
    return ProofForm(code="pilots", fields=fields, judge_values=_pilots, by_eye=True)


def _pilots(values: Values) -> Judged:
    within(values["tried"], 0, 30, _COUNT, field="tried")
    parts = []
    for name in ("lowest_in", "highest_in"):
        text = "A pilot flame of {value} in is outside {low} to {high} in."
        read = within(values[name], 0, 6, text, field=name, of=Quantity.LENGTH)
        if not PILOT_LOW_IN <= read <= PILOT_HIGH_IN:
            text = "A flame of {read} in is not between {low} in and {high} in."
            facts = {
                key: figure(inches, 3, Quantity.LENGTH)
                for key, inches in (("read", read), ("low", PILOT_LOW_IN), ("high", PILOT_HIGH_IN))
            }
            parts.append(judged(Result.DOES_NOT_MEET, text, PILOT, **facts))
    parts.append(
        answered(values, "steady", bad={"no": "A pilot does not stand steady."},
                 missing="Nobody tried the pilots in a draught.")
    )  # fmt: skip
    return together(parts)


_FLAMES = (
    ("", "not watched"),
    ("blue", "steady blue"),
    ("yellow", "yellow tips beyond a trace"),
    ("lifting", "lifting off the ports"),
    ("back", "burning back"),
)
_BAD_FLAMES = {
    "yellow": "Yellow tips: too little air or a dirty burner. Open the shutter, clean, watch again.",
    "lifting": "The flame lifts: too much air or too much gas. Set shutter and pressure, watch again.",
    "back": "The flame burns back into the mixing tube. Turn it off; look at ports, shutter and spud.",
}


def burners(build: Build) -> ProofForm:
    there = build.burners + build.griddle + build.broiler + build.deep_well
    fields = (
        Asked(name="tried", label="Burners lit, three times each", required="Count the burners lit."),
        Asked(
            name="longest_s", label="Longest to light from its pilot or tube", quantity=Quantity.SECONDS,
            required="Write the longest lighting in seconds.",
        ),
        Asked(name="flame", label="Flame at full, half and low", kind="choice", choices=_FLAMES),
        Asked(name="shutters", label="Air shutters set and tight", kind="choice", choices=YES_NO),
        Asked(
            name="low_holds", label="Low holds when a door is slammed", kind="choice", choices=YES_NO
        ),
    )  # fmt: skip
    return ProofForm(
        code="burners", fields=fields, judge_values=lambda values: _burners(values, there), by_eye=True,
        measures=("time",),
    )  # fmt: skip


def _burners(values: Values, there: int) -> Judged:
    within(values["tried"], 0, 30, _COUNT, field="tried")
    parts = [
        lights(values["longest_s"], "longest_s"),
        answered(values, "flame", bad=_BAD_FLAMES, missing="Nobody watched the flames."),
        answered(values, "shutters", bad={"no": "An air shutter is not set or not tight."},
                 missing="The air shutters were not looked at."),
        answered(values, "low_holds", bad={"no": "A low flame goes out in a draught."},
                 missing="Nobody tried whether low holds."),
    ]  # fmt: skip
    if values["tried"] < there:
        text = "{tried} of {there} burners were lit."
        parts.append(judged(Result.CANNOT_TELL, text, tried=figure(values["tried"], 0), there=there))
    return together(parts)


def oven_lighting() -> ProofForm:
    fields = (
        Asked(
            name="cold_s", label="Longest to light, cold", quantity=Quantity.SECONDS,
            required="Write the longest of three cold lightings.",
        ),
        Asked(
            name="hot_s", label="Longest to light, hot", quantity=Quantity.SECONDS,
            required="Write the longest of three hot lightings.",
        ),
        Asked(
            name="failed", label="Failed tries", required="Count the failed tries; none is 0.",
            note="After one wait five minutes with the door open.",
        ),
        Asked(
            name="quiet", label="It lights quietly", kind="choice", choices=YES_NO,
        ),
    )  # fmt: skip
    return ProofForm(
        code="oven-lighting", fields=fields, judge_values=_oven_lighting, by_eye=True, measures=("time",)
    )


def _oven_lighting(values: Values) -> Judged:
    within(values["failed"], 0, 100, _COUNT, field="failed")
    parts = [lights(values["cold_s"], "cold_s"), lights(values["hot_s"], "hot_s")]
    if values["failed"]:
        text = "{count} tries failed. Gas that gathers lights with a blow; find out why."
        parts.append(judged(Result.DOES_NOT_MEET, text, count=figure(values["failed"], 0)))
    parts.append(
        answered(values, "quiet", bad={"no": "It lights with a puff: gas gathers before it catches."},
                 missing="Nobody listened to how it lights.")
    )  # fmt: skip
    return together(parts)


def lights(seconds: float, field: str) -> Judged:
    """A lighting time against the customary four seconds, half a second either way left open."""
    text = "A lighting of {value} seconds is outside {low} to {high} seconds. Shut the gas off."
    within(seconds, 0, 300, text, field=field)
    facts = {"seconds": figure(seconds, 1), "limit": figure(LIGHTS.figure, 0)}
    if seconds > LIGHTS.figure + _WATCH_S:
        return judged(
            Result.DOES_NOT_MEET, "{seconds} s to light is more than about {limit} s.", LIGHTS, **facts
        )
    if seconds > LIGHTS.figure:
        text = "{seconds} s to light is too near {limit} s for a watch held by hand to tell."
        return judged(Result.CANNOT_TELL, text, LIGHTS, **facts)
    return Judged(result=None, limits=(LIGHTS,))
