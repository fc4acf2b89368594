"""The texts of letters: the program's own, and a shop's in their place. Knows no records."""

from collections.abc import Mapping

from shopdesk.domain.letters import Course
from shopdesk.domain.problem import Problem
from shopdesk.wording import say

FACTS = ("name", "range", "shop", "amount", "number", "due", "day", "free_until", "daily", "storage")


def kind_of(course: Course, step: int) -> str:
    """What a letter is called in the records: `ready 1`, `reminder 2`."""
    return f"{course.value} {step}"


def subject(course: Course, step: int, *, last: bool) -> str:
    if course is Course.READY:
        if step == 1:
            return say("Your range is ready")
        return say("Your range stands here: last letter") if last else say("Your range still stands here")
    return say("Last reminder") if last else say("Reminder")


def default_text(course: Course, step: int, *, last: bool, storage: bool) -> str:
    """The program's own template; a blank line parts paragraphs."""
    if course is Course.READY:
        return _ready(step, last=last, storage=storage)
    if step == 1:
        return say(
            "Perhaps it slipped your mind: {amount} of our invoice {number} was due on {due}.\n\n"
            "Please pay it in the next days. If it is paid already, take this letter as settled, with "
            "thanks. If something about the bill is not right, tell us; we look at it before we ask again."
        )
    if last:
        return say(
            "We have asked for {amount} of our invoice {number} before; it was due on {due}.\n\n"
            "This is our last letter about it. If we neither hear from you nor receive the money within "
            "14 days, we go the way the law leaves us. We would rather settle it with you; call us."
        )
    return say(
        "{amount} of our invoice {number}, due on {due}, is still open.\n\n"
        "Please pay it, or call us so that we find a way together."
    )


def _ready(step: int, *, last: bool, storage: bool) -> str:
    paid = say(
        "It stands here free until {free_until}. After that we charge {daily} a day for its place; up to "
        "today that is {storage}."
    )
    after = "\n\n" + paid if storage else ""
    if step == 1:
        return (
            say(
                "Your range {range} is ready. You can fetch it, or we agree on a day to bring it.\n\n"
                "Open at this time: {amount}. Connection at the house is for a licensed fitter; local codes "
                "decide."
            )
            + after
        )
    if last:
        return (
            say(
                "Your range {range} has stood here ready since {day}, and our letters had no answer.\n\n"
                "This is our last letter before we follow the steps that the law of this place lays down for "
                "things that are not fetched. Open at this time: {amount}. Please call us."
            )
            + after
        )
    return (
        say(
            "Your range {range} has stood here ready since {day}. Please tell us when you fetch it, or when "
            "we may bring it.\n\nOpen at this time: {amount}."
        )
        + after
    )


def filled(template: str, facts: Mapping[str, str]) -> tuple[str, ...]:
    """A template's paragraphs with its facts; a name it does not know is a sentence."""
    check_template(template)
    return tuple(part.strip() for part in template.format(**facts).split("\n\n") if part.strip())


def check_template(template: str, *, field: str = "") -> None:
    """Refuses a text with a name in braces that no letter has."""
    try:
        template.format(**dict.fromkeys(FACTS, ""))
    except (KeyError, IndexError, ValueError, AttributeError):
        raise Problem(
            "The text names something in braces that letters do not have. They have: {names}.",
            names=", ".join("{" + name + "}" for name in FACTS),
            field=field,
        ) from None
