"""How to live with a range: lighting it, watching it, whom to call. By its build, nothing of its job.

The usual care of the trade (common practice, no source); the local code, the gas supplier and the
licensed fitter decide.
"""

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Catalogue
from shopdesk.wording import say


def living_with_it(build: Build, *, red_tagged: bool) -> tuple[str, ...]:
    """What the owner is told at the hand-over, in the order in which it is needed."""
    first = say("It is red-tagged: what is said here of lighting holds only once the proofs stand.")
    return (*((first,) if red_tagged else ()), *_connecting(), *_lighting(build), *_using())


def cautions_at_home(catalogue: Catalogue, build: Build) -> tuple[tuple[str, str, str], ...]:
    """Name, text and whom to defer to: the catalogue's hazards, worded for a kitchen."""
    texts = {
        "gas": say(
            "A smell of gas: touch no switch and light nothing. Close the shut-off if you can, open windows, "
            "leave, and call the gas supplier from outside."
        ),
        "carbon-monoxide": say(
            "Have an alarm that works in the kitchen and near where people sleep. If it sounds, turn the gas "
            "off, go out and call for help. Headache or sickness while cooking is a sign too. Never heat the "
            "room with the range; never lay foil on the oven floor or over its slots."
        ),
        "heat": say(
            "An old oven door and its handles grow hotter than new ones. Keep children away, and let nobody "
            "leave it lit alone. Keep curtains and paper off the top, and an extinguisher at hand."
        ),
        "mains": say("Unplug it before a bulb is changed. A cord that is warm or worn is not used."),
        "weight": say(
            "It is heavy and can tip. It is never lifted by a door, and never moved while connected."
        ),
    }
    if not build.electrical:
        del texts["mains"]
    known = catalogue.cautions
    return tuple((known[c].name, text, known[c].defer_to) for c, text in texts.items() if c in known)


def _connecting() -> tuple[str, ...]:
    return (
        say(
            "Connecting: only a licensed fitter connects it, with a new connector at every move. A used "
            "connector is thrown away; an old bare brass one is never moved or used again."
        ),
        say(
            "Shut-off: the gas cock is within reach and everyone in the house knows it. Close it before the "
            "range is moved, and when it stands unused."
        ),
    )


def _lighting(build: Build) -> tuple[str, ...]:
    top = say(
        "Lighting a top burner: open its valve and see that it lights within about four seconds. If it does "
        "not, close the valve, wait five minutes with the window open, then try once more."
    )
    ovens = {
        "match": say(
            "Lighting the oven: open its door and the broiler, stand aside, hold a lit match to the lighting "
            "hole first, then open the gas."
        ),
        "match with safety pilot": say(
            "Lighting the oven: open its door, stand aside, light the safety pilot with a match and wait "
            "until it holds; then open the oven valve and see that the burner lights."
        ),
        "standing pilot": say(
            "Lighting the oven: see that its pilot burns, open its door, stand aside, open the oven valve "
            "and see that the burner lights."
        ),
        "spark": say(
            "Lighting the oven: open its door, stand aside, open the oven valve with the spark running and "
            "see that the burner lights."
        ),
    }
    failed = say("An oven that does not light: gas off, door open, five minutes, before another try.")
    pilots = say("A pilot that goes out more than once is a reason to call the fitter.")
    return (top, ovens[build.lighting], failed, *((pilots,) if build.lighting != "match" else ()))


def _using() -> tuple[str, ...]:
    return (
        say(
            "Watching: flames are blue and steady. Yellow tips, soot, or a flame that lifts: turn it off and "
            "have it looked at."
        ),
        say("Air: run the hood or open a window while the oven is on."),
        say(
            "Every year, and after every move: have a licensed fitter look at joints, flames, safety pilot "
            "and carbon monoxide."
        ),
    )
