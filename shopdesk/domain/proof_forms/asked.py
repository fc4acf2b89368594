"""What a proof asks for, and what a set of answers is judged to be."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

from shopdesk.domain.combustion import ROOM_STOP
from shopdesk.domain.curve import Curve
from shopdesk.domain.measured import Figure, Limit, Result, Sentence, sentence
from shopdesk.domain.problem import Problem
from shopdesk.domain.quantity import Quantity

Kind = Literal["number", "choice", "tick", "text", "pairs"]
Values = Mapping[str, Any]
Judge = Callable[[Values], "Judged"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One reading. Numbers are kept in the US unit of their `quantity`; `pairs` are tuples of two
    numbers, of `quantity` and `second`; a choice is one of the codes in `choices`.

    `required`: the sentence for a missing one. `when`: asked only while another field has this value.
    `instrument`: filled in with the division of the chosen instrument.
    """

    name: str
    label: str
    kind: Kind = "number"
    facts: Mapping[str, Figure] | None = None
    quantity: Quantity = Quantity.NUMBER
    second: Quantity = Quantity.NUMBER
    choices: tuple[tuple[str, str], ...] = ()
    required: str = ""
    note: str = ""
    group: str = ""
    when: tuple[str, str] | None = None
    instrument: bool = False

    @property
    def title(self) -> Sentence:
        return Sentence(self.label, dict(self.facts or {}))


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """What readings amount to. `result` None: nothing against it, the person's eye decides.

    `stop`: people leave the room before anything else is said.
    """

    result: Result | None
    says: tuple[Sentence, ...] = ()
    limits: tuple[Limit, ...] = ()
    curves: tuple[Curve, ...] = ()
    stop: Sentence | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ProofForm:
    """`measures`: the kinds of instrument that may be named with it; `by_eye`: a person chooses the word."""

    code: str
    fields: tuple[Asked, ...]
    judge_values: Judge
    by_eye: bool = False
    measures: tuple[str, ...] = ()
    logger: bool = False  # a logger's file may fill in the cycles

    def field(self, name: str) -> Asked | None:
        return next((f for f in self.fields if f.name == name), None)

    def asked_for(self, values: Values) -> tuple[Asked, ...]:
        """The fields that are asked for with these values."""
        return tuple(f for f in self.fields if f.when is None or values.get(f.when[0]) == f.when[1])

    def check(self, values: Values) -> None:
        """Refuses values that are missing or not of the form; a Problem names the field."""
        check_fields(self.asked_for(values), values, {f.name for f in self.fields})

    def judge(self, values: Values, chosen: Result | None = None) -> Judged:
        """What the values amount to, the person's word among them where an eye judges.

        In a room with too much carbon monoxide nothing else is asked for first.
        """
        stop = room_stop(values)
        if stop is not None:
            try:
                told = self.judge_values(values)
            except (Problem, KeyError, TypeError):
                told = Judged(result=Result.DOES_NOT_MEET)
            return replace(told, result=Result.DOES_NOT_MEET, says=(stop,), stop=stop)
        self.check(values)
        told = self.judge_values(values)
        if not self.by_eye:
            return told
        if chosen is None:
            raise Problem("Say what it showed: meets, does not meet or cannot tell.", field="result")
        return replace(told, result=worst((chosen, *([told.result] if told.result else []))))


def check_fields(fields: Sequence[Asked], values: Values, known: Iterable[str] = ()) -> None:
    """Refuses a value that is missing, of the wrong kind or not asked for; a Problem names the field."""
    names = set(known) or {f.name for f in fields}
    stranger = next((name for name in values if name not in names), None)
    if stranger is not None:
        raise Problem("Nothing here is called {name}.", field=stranger, name=stranger)
    for asked in fields:
        value = values.get(asked.name)
        if asked.required and (value is None or value is False or value == "" or value == ()):
            raise Problem(asked.required, field=asked.name)
        if asked.kind == "choice" and value and value not in {code for code, _ in asked.choices}:
            raise Problem("“{value}” is not one of the answers.", field=asked.name, value=value)
        _check_kind(asked, value)


def _check_kind(asked: Asked, value: object) -> None:
    if value is None:
        return
    wrong = {
        "number": not isinstance(value, int | float) or isinstance(value, bool),
        "text": not isinstance(value, str),
        "choice": not isinstance(value, str),
        "tick": not isinstance(value, bool),
        "pairs": not isinstance(value, tuple | list) or any(len(pair) != 2 for pair in value),
    }[asked.kind]
    if wrong:
        raise Problem(
            "“{value}” cannot be read here. Write it again.", field=asked.name, value=str(value)[:40]
        )


ROOM_FIELDS = ("room_before_ppm", "room_ppm")


def room_stop(values: Values) -> Sentence | None:
    """The words for a room in which nobody stays, as soon as its reading is there."""
    highest = max((v for name in ROOM_FIELDS if isinstance(v := values.get(name), int | float)), default=None)
    if highest is None or highest < ROOM_STOP.figure:
        return None
    text = (
        "{room} ppm in the room: stop, shut off the gas, leave, ventilate from outside and call. Go back "
        "only when those called say so."
    )
    return sentence(text, room=f"{highest:g}")


_ORDER = (Result.MEETS, Result.CANNOT_TELL, Result.DOES_NOT_MEET)


def worst(results: Iterable[Result]) -> Result:
    """One that does not meet spoils all; one that cannot tell leaves all open."""
    return max(results, key=_ORDER.index)


def together(parts: Sequence[Judged], *more: Sentence) -> Judged:
    """Several judgements as one."""
    results = [p.result for p in parts if p.result is not None]
    return Judged(
        result=worst(results) if results else None,
        says=(*(s for p in parts for s in p.says), *more),
        limits=tuple(dict.fromkeys(limit for p in parts for limit in p.limits)),
        curves=tuple(c for p in parts for c in p.curves),
    )


def judged(result: Result | None, text: str = "", *limits: Limit, **facts: object) -> Judged:
    says = (sentence(text, **facts),) if text else ()
    return Judged(result=result, says=says, limits=limits)


def answered(values: Values, name: str, *, bad: Mapping[str, str], missing: str = "") -> Judged:
    """A choice that may speak against the proof: `bad` answers with sentences; `missing` for none given."""
    value = str(values.get(name) or "")
    if value in bad:
        return judged(Result.DOES_NOT_MEET, bad[value])
    if not value and missing:
        return judged(Result.CANNOT_TELL, missing)
    return judged(None)


YES_NO = (("", "not looked at"), ("yes", "yes"), ("no", "no"))
NO_SOURCE = "common practice, no source"
