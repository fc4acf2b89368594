"""What a measurement amounts to: the three words, the sentences that go with them, the limits.

Sentences are English templates with their facts beside them, so that `wording` can
translate them. Knows nothing of any one test.
"""

import math
from dataclasses import dataclass, field
from enum import StrEnum

from shopdesk.domain.problem import Problem
from shopdesk.domain.quantity import Quantity


class Result(StrEnum):
    """The only three words a proof may end in. `CANNOT_TELL` never counts as proved."""

    MEETS = "meets"
    DOES_NOT_MEET = "does_not_meet"
    CANNOT_TELL = "cannot_tell"


@dataclass(frozen=True, slots=True)
class Sentence:
    """A template and what fills it."""

    text: str
    facts: dict[str, object] = field(default_factory=dict)

    def __str__(self) -> str:
        return self.text.format(**self.facts) if self.facts else self.text


@dataclass(frozen=True, slots=True)
class Limit:
    """A figure that a reading is held against, with where it comes from."""

    figure: float
    unit: str
    what: str
    source: str


def sentence(text: str, **facts: object) -> Sentence:
    return Sentence(text, facts)


class Figure(str):
    """A written number that remembers its value and what it measures, so that a shop with other units
    can be shown it in those."""

    value: float
    spec: str
    quantity: Quantity


def figure(value: float, digits: int = 2, of: Quantity = Quantity.NUMBER) -> Figure:
    """A number as a person writes it: no more than `digits` decimals, no trailing noughts.

    `of` says what it measures, in the unit that the sentence around it names.
    """
    shown = f"{value:.{digits}f}"
    shown = shown.rstrip("0").rstrip(".") if "." in shown else shown
    return _remembered("0" if shown == "-0" else shown, value, f".{digits}f", of)


def figure_as(value: float, spec: str, of: Quantity) -> Figure:
    """A number in a format of its own, such as `+.1f` or `,.0f`."""
    return _remembered(f"{value:{spec}}", value, spec, of)


def _remembered(shown: str, value: float, spec: str, of: Quantity) -> Figure:
    written = Figure(shown)
    written.value, written.spec, written.quantity = value, spec, of
    return written


def within(
    value: float, low: float, high: float, text: str, *, field: str = "", of: Quantity = Quantity.NUMBER
) -> float:
    """`value` if it is a number from `low` to `high`, else a Problem with the template `text`.

    The template may use {value}, {low} and {high}, each before the unit of `of`.
    """
    if not (math.isfinite(value) and low <= value <= high):
        facts = {"value": value, "low": low, "high": high}
        raise Problem(text, field=field, **{name: figure_as(fact, "g", of) for name, fact in facts.items()})
    return value
