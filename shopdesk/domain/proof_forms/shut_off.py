"""The oven safety pilot: how long it takes to hold, how soon it shuts, and whose figure that is held to."""

from shopdesk.domain.measured import Limit, Result, figure, within
from shopdesk.domain.proof_forms.asked import Asked, Judged, ProofForm, Values, answered, judged, together
from shopdesk.domain.quantity import Quantity

_WATCH_S = 0.5  # what starting and stopping a watch by hand is worth
_PASSING = (("", "not tried"), ("nothing", "nothing passes"), ("gas", "gas passes"))


def shut_off() -> ProofForm:
    seconds = Quantity.SECONDS
    fields = (
        Asked(
            name="hold_in_s", label="Pilot holds the valve after", quantity=seconds,
            required="Time how long the pilot needs to hold the valve.",
        ),
        Asked(
            name="shut_off_s", label="Shut off after", quantity=seconds,
            required="Time the shut-off: oven on, pilot put out.",
        ),
        Asked(
            name="passing", label="Detector at the burner afterwards", kind="choice", choices=_PASSING
        ),
        Asked(
            name="element_mv", label="Element, if it is a thermocouple", quantity=Quantity.MILLIVOLT
        ),
        Asked(
            name="limit_s", label="Shut-off within", quantity=seconds, group="The limit",
            note="The valve maker’s figure, or that of the standard in force. There is no other.",
        ),
        Asked(
            name="hold_limit_s", label="Holds within", quantity=seconds, note="From the same source."
        ),
        Asked(
            name="limit_from", label="Where the limit stands", kind="text",
            note="Paper, number, page. Without a source nothing can be said.",
        ),
    )  # fmt: skip
    return ProofForm(
        code="safety-shutoff", fields=fields, judge_values=_judge, measures=("time", "gas", "voltage")
    )


def _judge(values: Values) -> Judged:
    for name in ("hold_in_s", "shut_off_s", "limit_s", "hold_limit_s"):
        if values.get(name) is not None:
            text = "A time of {value} seconds is outside {low} to {high} seconds."
            within(values[name], 0 if not name.endswith("limit_s") else 1, 3600, text, field=name)
    passing = answered(
        values, "passing", bad={"gas": "Gas passes after the shut-off. Shut the supply; do not use it."},
        missing="The detector was not held at the burner after the shut-off.",
    )  # fmt: skip
    return together([timed(values, "shut_off_s", "limit_s"), _hold(values), passing])


def timed(values: Values, read: str, limit: str) -> Judged:
    """A time against the limit that was entered with its source; else it cannot be told."""
    most, source = values.get(limit), str(values.get("limit_from") or "").strip()
    seconds = values[read]
    if most is None or not source:
        text = (
            "It shut off after {seconds} s. The limit is the valve maker's or the standard's: until it is "
            "entered with its source, nothing can be said."
        )
        return judged(Result.CANNOT_TELL, text, seconds=figure(seconds, 1))
    stated = Limit(most, "s", "shut-off, at most", source)
    facts = {"seconds": figure(seconds, 1), "most": figure(most, 1), "source": source}
    if seconds > most + _WATCH_S:
        text = "It shut off after {seconds} s, later than {most} s ({source}). It is not used like this."
        return judged(Result.DOES_NOT_MEET, text, stated, **facts)
    if seconds > most - _WATCH_S:
        text = "It shut off after {seconds} s: too near {most} s ({source}) for a watch held by hand to tell."
        return judged(Result.CANNOT_TELL, text, stated, **facts)
    text = "It shut off after {seconds} s, within {most} s ({source})."
    return judged(Result.MEETS, text, stated, **facts)


def _hold(values: Values) -> Judged:
    most, source = values.get("hold_limit_s"), str(values.get("limit_from") or "").strip()
    seconds = values["hold_in_s"]
    facts = {"seconds": figure(seconds, 1), "most": figure(most or 0, 1)}
    if most is None or not source:
        return judged(None, "It held after {seconds} s; no limit for that was entered.", **facts)
    stated = Limit(most, "s", "hold-in, at most", source)
    if seconds > most + _WATCH_S:
        return judged(
            Result.DOES_NOT_MEET, "It held only after {seconds} s, later than {most} s.", stated, **facts
        )
    if seconds > most - _WATCH_S:
        text = "It held after {seconds} s: too near {most} s for a watch held by hand to tell."
        return judged(Result.CANNOT_TELL, text, stated, **facts)
    return judged(Result.MEETS, "It held after {seconds} s, within {most} s.", stated, **facts)
