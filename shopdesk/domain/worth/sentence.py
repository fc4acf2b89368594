"""A sentence with facts, to be translated and formatted by those who show it."""

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Amount:
    """Money in a sentence, in cents of the shop's currency."""

    cents: int


@dataclass(frozen=True, slots=True)
class Length:
    """Working time in a sentence, in minutes."""

    minutes: int


@dataclass(frozen=True, slots=True)
class Inches:
    """A length in a sentence."""

    inches: float


Fact = str | int | dt.date | Amount | Length | Inches


@dataclass(frozen=True, slots=True)
class Sentence:
    """A template in English with its facts; whoever shows it translates one and formats the other."""

    text: str
    facts: tuple[tuple[str, Fact], ...] = ()

    def shown(self, show: Callable[[Fact], str]) -> Mapping[str, str]:
        """The facts as text, to be put into the translated template."""
        return {name: show(fact) for name, fact in self.facts}

    def __str__(self) -> str:
        return self.text.format(**self.shown(plain))


def sentence(text: str, **facts: Fact) -> Sentence:
    return Sentence(text, tuple(facts.items()))


def plain(fact: Fact) -> str:
    """A fact without a locale, for logs and tests."""
    if isinstance(fact, Amount):
        sign = "-" if fact.cents < 0 else ""
        return f"{sign}{abs(fact.cents) // 100}.{abs(fact.cents) % 100:02d}"
    if isinstance(fact, Length):
        return f"{fact.minutes // 60}:{fact.minutes % 60:02d}"
    if isinstance(fact, Inches):
        return f"{fact.inches:g} in"
    return str(fact)
