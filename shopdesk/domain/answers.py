"""What somebody answered on a walk-round: one look at one range, before anything is computed.

Knows the catalogue's values and a range's build, nothing of who looked, when, or where it is kept.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Catalogue, Checkpoint, Evidence, Purpose
from shopdesk.domain.problem import Problem

MOST = 99  # the largest extent a person writes down
HOUSE = "house"
"""Zone of the house a range goes to: unknown, and nobody's risk yet, while it is bought for resale."""


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer at one checkpoint: a finding's code, or None for "nothing wrong found there".

    `extent` counts what the finding is counted by (valves, panels, pieces). `way` is the key
    of the chosen way of putting it right; empty: the scope decides. An answer "not seen"
    without a finding is the same as no answer. Raises Problem.
    """

    checkpoint: str
    finding: str | None = None
    extent: int = 1
    evidence: Evidence = Evidence.SEEN
    note: str = ""
    way: str = ""

    def __post_init__(self) -> None:
        if not 1 <= self.extent <= MOST:
            raise Problem(
                "The extent of {entry} is {extent}. Write a count from 1 to {most}.",
                field="extent",
                entry=self.finding or self.checkpoint,
                extent=self.extent,
                most=MOST,
            )
        if self.finding is not None and self.evidence is Evidence.NOT_SEEN:
            raise Problem(
                "{entry} is written down as found and as not seen. Choose claimed, seen or tested.",
                field="evidence",
                entry=self.finding,
            )

    @property
    def sound(self) -> bool:
        return self.finding is None and self.evidence is not Evidence.NOT_SEEN


@dataclass(frozen=True, slots=True)
class Look:
    """All answers of one walk-round with the build, the purpose, and what is asked for the range.

    `asking_cents` None: no price was named. `accessories`: codes of what comes with it.
    `wanted_cents`: what its sound parts are worth to the shop, beyond their usual price, because
    it looks for them.
    `spent_cents`: what the shop paid for it; None: the shop does not own it.
    A checkpoint without an answer was not seen. Raises Problem on answers that contradict.
    """

    build: Build
    purpose: Purpose
    answers: tuple[Answer, ...] = ()
    asking_cents: int | None = None
    accessories: tuple[str, ...] = ()
    wanted_cents: int = 0
    spent_cents: int | None = None

    def __post_init__(self) -> None:
        if self.asking_cents is not None and self.asking_cents < 0:
            raise Problem("An asking price is zero or more. Write what the seller asks.", field="asking")
        for problem in contradictions(self.answers):
            raise problem

    @property
    def found(self) -> tuple[Answer, ...]:
        return tuple(a for a in self.answers if a.finding is not None)

    def evidence(self, checkpoint: str) -> Evidence:
        """The strongest evidence given at a checkpoint; NOT_SEEN without an answer."""
        given = [a.evidence for a in self.answers if a.checkpoint == checkpoint]
        return max(given, key=list(Evidence).index, default=Evidence.NOT_SEEN)

    def walk(self, catalogue: Catalogue) -> list[Checkpoint]:
        """The checkpoints that concern this build and purpose, in the order of the walk.

        A range for resale or for parts has no house yet, so the house's checkpoints are left out.
        """
        housed = self.purpose in (Purpose.COOK, Purpose.FULL)
        return [c for c in catalogue.walk(self.build) if housed or c.zone != HOUSE]

    def not_seen(self, catalogue: Catalogue) -> tuple[Checkpoint, ...]:
        """Checkpoints that concern this look and nobody answered, in the order of the walk."""
        answered = {a.checkpoint for a in self.answers if a.evidence is not Evidence.NOT_SEEN}
        return tuple(c for c in self.walk(catalogue) if c.code not in answered)


def contradictions(answers: tuple[Answer, ...]) -> Iterator[Problem]:
    """A Problem for each checkpoint that is both sound and not, or says one finding twice."""
    by_checkpoint: dict[str, list[Answer]] = {}
    for answer in answers:
        by_checkpoint.setdefault(answer.checkpoint, []).append(answer)
    for code, here in by_checkpoint.items():
        found = [a.finding for a in here if a.finding is not None]
        if found and len(found) < len(here):
            yield Problem(
                "{checkpoint} is answered as {finding} and also without a finding. Keep one of the two.",
                field=code,
                checkpoint=code,
                finding=found[0],
            )
        elif len(set(found)) < len(found) or len(here) - len(found) > 1:
            yield Problem(
                "{checkpoint} is answered twice with the same answer. "
                "Keep one, and count several in its extent.",
                field=code,
                checkpoint=code,
            )


def unknown(catalogue: Catalogue, look: Look) -> Iterator[Problem]:
    """A Problem for each answer, way or accessory of a look that the catalogue does not have."""
    for answer in look.answers:
        finding = catalogue.findings.get(answer.finding) if answer.finding else None
        if answer.checkpoint not in catalogue.checkpoints:
            yield Problem("The catalogue has no checkpoint {code}.", field="answers", code=answer.checkpoint)
        elif answer.finding and (finding is None or finding.checkpoint != answer.checkpoint):
            yield Problem(
                "The catalogue has no finding {code} at {checkpoint}.",
                field="answers",
                code=answer.finding,
                checkpoint=answer.checkpoint,
            )
        elif answer.way and finding and answer.way not in [w.key for w in finding.ways]:
            yield Problem(
                "{code} is not put right by the way {way}. It has: {ways}.",
                field="way",
                code=answer.finding,
                way=answer.way,
                ways=", ".join(w.key for w in finding.ways) or "none",
            )
    for code in look.accessories:
        if code not in catalogue.accessories:
            yield Problem("The catalogue has no accessory {code}.", field="accessories", code=code)
