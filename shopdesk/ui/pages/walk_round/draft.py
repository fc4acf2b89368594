"""One walk-round under way, without widgets: what is answered, which checkpoint is open, what a key does.

Every deed answers with the Change it made, which the page hands to the services at once; the state here
runs ahead of the shop by that one write. Nothing is read from or written to the shop in this file.
"""

from dataclasses import dataclass, replace

from shopdesk.domain.answers import MOST, Answer, Look
from shopdesk.domain.catalogue.model import Catalogue, Checkpoint, Evidence, Finding, Purpose
from shopdesk.domain.condition import Found, findings_of
from shopdesk.services.walks import WalkView
from shopdesk.ui.pages.walk_round.walk_order import WalkOrder
from shopdesk.wording import say

SMELL, STRONG = "gas-smell", "gas-smell.strong"
HOW = (Evidence.CLAIMED, Evidence.SEEN, Evidence.TESTED)


@dataclass(frozen=True, slots=True)
class Change:
    """What is to be kept at one checkpoint instead of what was kept there."""

    checkpoint: str
    before: tuple[Answer, ...]
    after: tuple[Answer, ...]


class Walk(WalkOrder):
    """The walk-round of a `WalkView` as it goes on."""

    def __init__(self, catalogue: Catalogue, view: WalkView) -> None:
        self.view = view
        self.evidence = Evidence.SEEN
        self.lit = False  # somebody said that the tightness steps and a competent person came first
        self.purpose = view.purpose
        self.asking_cents = view.asking_cents
        self._answers: dict[str, tuple[Answer, ...]] = {}
        for given in view.given:
            kept = self._answers.get(given.answer.checkpoint, ())
            self._answers[given.answer.checkpoint] = (*kept, given.answer)
        self._filed = {given.answer.checkpoint: given.filed_for for given in view.given if given.filed_for}
        self._changes: list[Change] = []
        super().__init__(catalogue, self._listed(catalogue), self._answers.get)

    # What is asked about it

    @property
    def offered(self) -> tuple[Finding, ...]:
        """The findings that may be answered here: those asked for, and those given before they were not."""
        given = {answer.finding for answer in self.answers()}
        asked = self.catalogue.offered(self.checkpoint)
        return tuple(f for f in self.checkpoint.findings if f in asked or f.code in given)

    def look(self) -> Look:
        """All answers as a look."""
        answers = tuple(answer for here in self._answers.values() for answer in here)
        return Look(self.view.build, self.purpose, answers, self.asking_cents, self.view.accessories)

    def answers(self, code: str = "") -> tuple[Answer, ...]:
        """The answers at a checkpoint, at the open one without a code."""
        return self._answers.get(code or self.open, ())

    def given(self, finding: Finding) -> Answer | None:
        """The answer with this finding at the open checkpoint."""
        return next((a for a in self.answers() if a.finding == finding.code), None)

    @property
    def filed_for(self) -> str:
        """The facts from which a finding at the open checkpoint was filed by itself."""
        return self._filed.get(self.open, "")

    @property
    def note(self) -> str:
        return next((a.note for a in reversed(self.answers()) if a.note), "")

    def found(self) -> tuple[Found, ...]:
        """What was found, in the order of the walk; its places are the numbers of the pins."""
        return findings_of(self.catalogue, self.look().answers, self.purpose)

    def left(self) -> int:
        """Checkpoints nobody came to yet."""
        return sum(1 for c in self.checkpoints if not self.answers(c.code))

    def not_seen(self) -> int:
        return len(self.look().not_seen(self.catalogue))

    def needs_lighting(self) -> bool:
        """Whether answering now would say that something was lit, without the steps before it."""
        return self.checkpoint.flame and self.evidence is not Evidence.CLAIMED and not self.lit

    def smells_of_gas(self) -> bool:
        """Whether a smell of gas was found."""
        return any(a.finding is not None for a in self.answers(SMELL))

    # Answering

    def sound(self) -> Change:
        """Nothing wrong found here."""
        return self._settle((Answer(self.open, None, 1, self.evidence, self._note_to_keep()),))

    def find(self, place: int, *, stay: bool = False) -> Change | None:
        """The finding at this place of the open checkpoint; given already, it is taken back."""
        if not 0 <= place < len(self.offered):
            return None
        finding = self.offered[place]
        others = tuple(a for a in self.answers() if a.finding is not None and a.finding != finding.code)
        if self.given(finding) is not None:
            return self._settle(others, stay=True)
        count = self.count if finding.per else 1
        note = "" if others else self._note_to_keep()
        return self._settle((*others, Answer(self.open, finding.code, count, self.evidence, note)), stay=stay)

    def pass_over(self) -> Change:
        """Not seen, and said so."""
        return self._settle((Answer(self.open, None, 1, Evidence.NOT_SEEN, self._note_to_keep()),))

    def take_back(self) -> Change | None:
        """As if nobody had come here."""
        return self._settle((), stay=True) if self.answers() else None

    def write_note(self, text: str) -> Change | None:
        """The note of what was answered last here; before an answer it waits for one."""
        text = text.strip()
        if text == self.note:
            return None
        here = self.answers()
        if not here:
            return self._settle((Answer(self.open, None, 1, Evidence.NOT_SEEN, text),), stay=True)
        kept = tuple(replace(a, note="") for a in here[:-1])
        last = replace(here[-1], note=text)
        if not text and last.finding is None and last.evidence is Evidence.NOT_SEEN:
            return self._settle((), stay=True)
        return self._settle((*kept, last), stay=True)

    def choose_evidence(self, how: Evidence) -> Change | None:
        """How things are known from now on; and what stands at the open checkpoint already."""
        self.evidence = how
        here = self.answers()
        if not any(a.evidence is not Evidence.NOT_SEEN for a in here) or self.needs_lighting():
            return None
        return self._settle(tuple(replace(a, evidence=how) for a in here), stay=True)

    def add(self, by: int) -> Change | None:
        """More or fewer of what was found here last, or of what will be found."""
        last = next((a for a in reversed(self.answers()) if a.finding is not None), None)
        if last is None or last.finding is None:
            self.count = min(max(self.count + by, 1), MOST)
            return None
        count = min(max(last.extent + by, 1), MOST)
        if not self.catalogue.findings[last.finding].per or count == last.extent:
            return None
        grown = replace(last, extent=count)
        return self._settle(tuple(grown if a is last else a for a in self.answers()), stay=True)

    def undo(self) -> Change | None:
        """What the last change changed, back; opens that checkpoint."""
        if not self._changes:
            return None
        last = self._changes.pop()
        self._put(last.checkpoint, last.before)
        self.go(last.checkpoint)
        return Change(last.checkpoint, last.after, last.before)

    def take_purpose(self, purpose: Purpose) -> None:
        """Another purpose: other severities, and a range for resale has no house yet."""
        self.purpose = purpose
        self.take_checkpoints(self._listed(self.catalogue))

    def raise_smell(self) -> Change | None:
        """A strong smell of gas, from wherever one stands; None where the catalogue does not ask for it."""
        finding = self.catalogue.findings.get(STRONG)
        if (
            finding is None
            or finding.code in self.catalogue.off
            or finding.checkpoint not in {c.code for c in self.checkpoints}
        ):
            return None
        self.go(finding.checkpoint)
        if self.given(finding) is not None:
            return None
        return self.find(self.offered.index(finding), stay=True)

    def came_to(self, code: str) -> None:
        """A picture was kept there: the shop holds the checkpoint as not seen until it is answered."""
        if not self.answers(code):
            self._put(code, (Answer(code, evidence=Evidence.NOT_SEEN),))

    # Inside

    def _note_to_keep(self) -> str:
        lit = say("Shown to be tight first; lit by someone competent with gas.")
        if self.checkpoint.flame and self.evidence is not Evidence.CLAIMED and self.lit and not self.note:
            return lit
        return "" if self.note == lit and not self.lit else self.note

    def _settle(self, after: tuple[Answer, ...], *, stay: bool = False) -> Change:
        change = Change(self.open, self.answers(), after)
        self._put(self.open, after)
        self._changes.append(change)
        self.count = 1
        if not stay:
            self.go_on()
        return change

    def _put(self, code: str, answers: tuple[Answer, ...]) -> None:
        if answers:
            self._answers[code] = answers
        else:
            self._answers.pop(code, None)

    def _listed(self, catalogue: Catalogue) -> list[Checkpoint]:
        return Look(self.view.build, self.purpose).walk(catalogue)
