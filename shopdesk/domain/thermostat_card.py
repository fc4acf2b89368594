"""The thermostat card: six questions, the hold flame first, and a forced test, before it is condemned.

The oven thermostat is the dearest part and often not the fault; the hold flame often is
(common practice, no source). The questions stand in the catalogue's folder; what the
answers mean together stands here. Knows no jobs and no people.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from shopdesk.domain.catalogue.entry import Complaints, Entry
from shopdesk.domain.problem import Problem

FIRST = "hold-flame"
FORCED = "forced"
CONDEMNING_TASKS = frozenset({"replace-thermostat", "send-thermostat-out"})
"""Tasks of the catalogue that no order or quote may take up before the card is complete."""


class Points(StrEnum):
    """What a complete card points to."""

    HOLD_FLAME = "set the hold flame"
    BEFORE_IT = "what stands before it"
    BULB = "bulb and capillary"
    PLUG = "clean and grease the plug"
    STEM = "pack the stem"
    DIAL = "set the dial"
    LOOK_AGAIN = "look again"
    THERMOSTAT = "the thermostat"


@dataclass(frozen=True, slots=True)
class Choice:
    code: str
    says: str


@dataclass(frozen=True, slots=True)
class Question:
    """One question with how to tell, and the answers it allows."""

    code: str
    ask: str
    tell: str
    answers: tuple[Choice, ...]

    def says(self, code: str) -> str:
        """An answer in words; the code when it is not known here."""
        return next((c.says for c in self.answers if c.code == code), code)


@dataclass(frozen=True, slots=True)
class Card:
    """The questions in their order, and the forced test."""

    questions: tuple[Question, ...]
    forced: Question

    @property
    def steps(self) -> tuple[Question, ...]:
        """All that is asked, in order; the forced test last."""
        return (*self.questions, self.forced)

    def step(self, code: str) -> Question:
        for step in self.steps:
            if step.code == code:
                return step
        raise Problem("The thermostat card asks nothing called {code}.", code=code, field="question")


@dataclass(frozen=True, slots=True)
class CardVerdict:
    """What the card says: `missing` are codes of steps; `points` is None until it is complete.

    `why` is a sentence for people, a template without facts.
    """

    missing: tuple[str, ...]
    points: Points | None
    why: str

    @property
    def complete(self) -> bool:
        return not self.missing

    @property
    def condemned(self) -> bool:
        return self.points is Points.THERMOSTAT


def read_card(file: Path) -> Card:
    """The card from its file; a Problem lists what has to be mended."""
    complaints = Complaints()
    tables = tomllib.loads(file.read_text(encoding="utf-8"))
    whole = Entry(tables, file.name, "card", complaints)
    questions = tuple(_question(entry) for entry in whole.tables("question", "question"))
    forced = tuple(_question(entry) for entry in whole.tables("forced", "forced test"))
    whole.done()
    in_order = [step.code for step in (*questions[:1], *forced)] == [FIRST, FORCED]
    if len(questions) != 6 or not in_order:
        whole.refuse("it has not six questions, the hold flame first, and one forced test.", "Put them back.")
    if complaints.lines:
        raise Problem("The thermostat card has to be mended first.\n{list}", list="\n".join(complaints.lines))
    return Card(questions, forced[0])


def _question(entry: Entry) -> Question:
    answers = tuple(Choice(below.code(), below.text("say")) for below in entry.tables("answers", "answer"))
    if len(answers) < 2:
        entry.refuse("it offers no choice.", "Give it two answers or more.")
    return Question(entry.code(), entry.text("ask"), entry.text("tell"), answers)


def check_answer(card: Card, answers: Mapping[str, str], code: str, answer: str) -> None:
    """Refuses an answer the card does not offer, and anything before the hold flame."""
    step = card.step(code)
    if answer not in {choice.code for choice in step.answers}:
        raise Problem("“{answer}” is no answer to: {ask}", field="answer", answer=answer, ask=step.ask)
    if code != FIRST and not answers.get(FIRST):
        raise Problem("The hold flame comes first: {ask}", field="answer", ask=card.step(FIRST).ask)


def missing(card: Card, answers: Mapping[str, str]) -> tuple[Question, ...]:
    """The steps without an answer the card offers, in their order."""
    return tuple(step for step in card.steps if answers.get(step.code) not in {c.code for c in step.answers})


def judge_card(card: Card, answers: Mapping[str, str]) -> CardVerdict:
    """What a card speaks for. The thermostat is named only where nothing before it explains the trouble."""
    lacking = missing(card, answers)
    if lacking:
        return CardVerdict(tuple(step.code for step in lacking), None, "The card is not complete.")
    points, why = _points(answers)
    return CardVerdict((), points, why)


def _points(a: Mapping[str, str]) -> tuple[Points, str]:
    for points, holds, why in _RULES:
        if all(a[step] in codes for step, codes in holds.items()):
            return points, why
    return Points.LOOK_AGAIN, "Nothing found explains the trouble. Measure three cycles and look again."


_Rule = tuple[Points, Mapping[str, tuple[str, ...]], str]
_RULES: tuple[_Rule, ...] = (
    (
        Points.THERMOSTAT,
        {"capillary": ("cut",)},
        "The tube is cut; it never closes by heat again. Rebuild or replace it, and bag the old one whole.",
    ),
    (
        Points.THERMOSTAT,
        {FORCED: ("leaks-at-body",)},
        "It leaks at the body. It stays off the gas; rebuild or replace it.",
    ),
    (
        Points.BEFORE_IT,
        {"trouble": ("no-heat", "slow"), "before-it": ("pilot", "oven-safety", "spud")},
        "What stands before it explains the trouble. Put that right and try again.",
    ),
    (
        Points.STEM,
        {FORCED: ("leaks-at-stem",)},
        "It closes and leaks at the stem only. Pack the stem and prove it tight.",
    ),
    (
        Points.PLUG,
        {"dial": ("stiff", "stuck"), FORCED: ("passes-weakly", "nothing-passes", "does-not-close")},
        "A stiff plug is mostly dry grease. Clean and grease it, then make the forced test again.",
    ),
    (
        Points.THERMOSTAT,
        {FORCED: ("does-not-close",)},
        "The plug is free and it does not close. Rebuild or replace it.",
    ),
    (
        Points.THERMOSTAT,
        {FORCED: ("nothing-passes",)},
        "The plug is free and nothing passes. Rebuild or replace it.",
    ),
    (
        Points.HOLD_FLAME,
        {"hold-flame": ("too-high", "too-low")},
        "Set the hold flame first and measure three cycles again; it often is the whole fault.",
    ),
    (
        Points.BULB,
        {"bulb": ("loose",)},
        "Hang the bulb in its clips, clear of the metal, and measure again.",
    ),
    (
        Points.BULB,
        {"capillary": ("kinked",)},
        "Lead the tube again in wide bends and measure; a kink may be all of it.",
    ),
    (
        Points.BEFORE_IT,
        {"before-it": ("pilot", "oven-safety", "spud")},
        "What stands before it is not right. Put that right and try again.",
    ),
    (
        Points.PLUG,
        {"dial": ("stiff", "stuck")},
        "A stiff dial is mostly dry grease. Clean and grease the plug.",
    ),
    (
        Points.LOOK_AGAIN,
        {"hold-flame": ("cannot-light",), FORCED: ("passes-and-closes", "passes-weakly")},
        "It passes and closes cold; how it regulates is known only when it can be lit. Judge it after that.",
    ),
    (
        Points.LOOK_AGAIN,
        {"bulb": ("not-seen",)},
        "The bulb was not seen. Look at it before judging.",
    ),
    (
        Points.LOOK_AGAIN,
        {"capillary": ("not-seen",)},
        "Not all of the tube was seen. Follow it before judging.",
    ),
    (
        Points.THERMOSTAT,
        {"trouble": ("never-off",), "hold-flame": ("right",), FORCED: ("passes-and-closes",)},
        "It climbs whatever the dial says, with the hold flame right and tube and bulb whole. Rebuild or "
        "replace it.",
    ),
    (
        Points.DIAL,
        {"dial": ("slips",)},
        "The dial slips on its shaft. Fasten it and set it to the measured heat.",
    ),
    (
        Points.DIAL,
        {"trouble": ("runs-hot", "runs-cold"), "hold-flame": ("right",)},
        "It regulates, only not where the dial says. Measure three cycles and set the dial.",
    ),
)
