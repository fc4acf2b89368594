"""How to live with a range: lighting it, watching it, whom to call. By its build, nothing of its job.

The usual care of the trade (common practice, no source); the local code, the gas supplier and the
licensed fitter decide.
"""

from shopdesk.domain.build import Build
from shopdesk.wording import say


def living_with_it(build: Build) -> tuple[str, ...]:
    """What the owner is told at the hand-over, in the order in which it is needed."""
    return (*_connecting(), *_lighting(build), *_watching(build), *_smelling(), *_keeping())


def _connecting() -> tuple[str, ...]:
    return (
        say(
            "Connecting: only a licensed fitter connects it, with a new connector at every move. A used "
            "connector is thrown away; an old bare brass one is never moved or used again."
        ),
        say(
            "Shut-off: the gas cock of the range is within reach and everyone in the house knows it. Close "
            "it before the range is moved, and when it stands unused."
        ),
    )


def _lighting(build: Build) -> tuple[str, ...]:
    top = say(
        "Lighting a top burner: open its valve and see that it lights within about four seconds. If it does "
        "not, close the valve, wait five minutes with the window open, then try once more."
    )
    ovens = {
        "match": say(
            "Lighting the oven: open the door and the broiler, stand aside, strike the match first and hold "
            "it to the lighting hole, then open the gas."
        ),
        "match with safety pilot": say(
            "Lighting the oven: open the door, stand aside, light the safety pilot with a match and wait "
            "until it holds; then open the oven valve and see that the burner lights."
        ),
        "standing pilot": say(
            "Lighting the oven: see that its pilot burns, open the door, stand aside, open the oven valve "
            "and see that the burner lights."
        ),
        "spark": say(
            "Lighting the oven: open the door, stand aside, open the oven valve with the spark running and "
            "see that the burner lights."
        ),
    }
    failed = say("An oven that does not light: gas off, door open, five minutes, before another try.")
    pilots = say(
        "A pilot that goes out more than once is a reason to call the fitter, not to light it again."
    )
    return (top, ovens[build.lighting], failed, *((pilots,) if build.lighting != "match" else ()))


def _watching(build: Build) -> tuple[str, ...]:
    flames = say(
        "Watching: flames are blue and steady. Yellow tips, soot, a flame that lifts or a smell of burning: "
        "turn it off and have it looked at."
    )
    alarm = say(
        "Carbon monoxide alarm: have one that works in the kitchen and near where people sleep. If it sounds "
        "turn the gas off, go out and call for help from outside. Headache or sickness while cooking is a "
        "sign too."
    )
    air = say(
        "Air: run the hood or open a window while the oven is on. Never heat the room with the range, and "
        "never lay foil on the oven floor or over its slots."
    )
    lamp = say(
        "Electrical parts: unplug it before a bulb is changed. A cord that is warm or worn is not used."
    )
    return (flames, alarm, air, *((lamp,) if build.electrical else ()))


def _smelling() -> tuple[str, ...]:
    return (
        say(
            "Smell of gas: touch no switch and light nothing. Close the shut-off if you can, open windows, "
            "leave, and call the gas supplier from outside."
        ),
    )


def _keeping() -> tuple[str, ...]:
    return (
        say(
            "Every year, and after every move: have a licensed fitter look at joints, flames, safety pilot "
            "and carbon monoxide."
        ),
        say("Children and pets: an old oven door grows hotter than a new one. Nobody leaves it lit alone."),
    )
