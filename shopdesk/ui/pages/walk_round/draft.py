"""One walk-round under way, without widgets: what is answered, which checkpoint is open, what a key does.

Every deed answers with the Change it made, which the page hands to the services at once; the state here
runs ahead of the shop by that one write. Nothing is read from or written to the shop in this file.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from shopdesk.domain.answers import MOST, Answer, Look
from shopdesk.domain.catalogue.model import Catalogue, Checkpoint, Evidence, Finding, Purpose
from shopdesk.domain.condition import Found, findings_of
from shopdesk.services.walks import WalkView
from shopdesk.wording import say

SMELL, STRONG = "gas-smell", "gas-smell.strong"
HOW = (Evidence.CLAIMED, Evidence.SEEN, Evidence.TESTED)


@dataclass(frozen=True, slots=True)
class Change:
    """What is to be kept at one checkpoint instead of what was kept there."""

    checkpoint: str
    before: tuple[Answer, ...]
    after: tuple[Answer, ...]


@dataclass(frozen=True, slots=True)
class Standing:
    """How far one zone is answered; `passed` are those passed over as not seen."""

    code: str
    name: str
    marks: tuple[str, ...]  # for each checkpoint: a severity, "passed" or ""
    here: int = -1  # place of the open checkpoint, or -1

    @property
    def answered(self) -> int:
        return sum(1 for mark in self.marks if mark not in ("", "passed"))


class Walk:
    """The walk-round of a `WalkView` as it goes on."""

    def __init__(self, catalogue: Catalogue, view: WalkView) -> None:
        self.catalogue, self.view = catalogue, view
        self.evidence = Evidence.SEEN
        self.count = 1  # of the finding that is answered next
        self.lit = False  # somebody said that the tightness steps and a competent person came first
        self.purpose = view.purpose
        self.asking_cents = view.asking_cents
        self._answers: dict[str, tuple[Answer, ...]] = {}
        for given in view.given:
            kept = self._answers.get(given.answer.checkpoint, ())
            self._answers[given.answer.checkpoint] = (*kept, given.answer)
        self._changes: list[Change] = []
        self.checkpoints = self._order()
        self.open = self._place_to_go_on()

    # What is asked about it

    @property
    def checkpoint(self) -> Checkpoint:
        return self.catalogue.checkpoints[self.open]

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

    def standings(self) -> list[Standing]:
        """The zones in the order of the walk."""
        zones: dict[str, list[Checkpoint]] = {}
        for checkpoint in self.checkpoints:
            zones.setdefault(checkpoint.zone, []).append(checkpoint)
        return [self._standing(code, here) for code, here in zones.items()]

    def place_in_zone(self) -> tuple[int, int]:
        """The open checkpoint's place among those of its zone, and how many they are."""
        here = [c.code for c in self.checkpoints if c.zone == self.checkpoint.zone]
        return here.index(self.open) + 1, len(here)

    def needs_lighting(self) -> bool:
        """Whether answering now would say that something was lit, without the steps before it."""
        return self.checkpoint.flame and self.evidence is not Evidence.CLAIMED and not self.lit

    def smells_of_gas(self) -> bool:
        """Whether a smell of gas was found."""
        return any(a.finding is not None for a in self.answers(SMELL))

    def matching(self, words: str) -> list[Checkpoint]:
        """Checkpoints with all the words in name, zone, findings or how to tell; those by name first."""
        wanted = words.casefold().split()
        fit = [c for c in self.checkpoints if all(word in self._text_of(c) for word in wanted)]
        return sorted(fit, key=lambda c: sum(word not in c.name.casefold() for word in wanted))

    # Going about

    def go(self, code: str) -> None:
        """Opens a checkpoint; one that is not on this walk is passed over."""
        if code in {c.code for c in self.checkpoints}:
            self.open, self.count = code, 1

    def step(self, by: int) -> None:
        """Forward or back without answering; stops at either end."""
        place = min(max(self._place() + by, 0), len(self.checkpoints) - 1)
        self.go(self.checkpoints[place].code)

    def step_zone(self, by: int) -> None:
        """To the first checkpoint of the next or an earlier zone."""
        zones = list(dict.fromkeys(c.zone for c in self.checkpoints))
        place = min(max(zones.index(self.checkpoint.zone) + by, 0), len(zones) - 1)
        self.go_zone(zones[place])

    def go_zone(self, zone: str) -> None:
        """To the first checkpoint of a zone nobody came to yet, else its first."""
        self._go_first([c for c in self.checkpoints if c.zone == zone])

    def go_part(self, part: str) -> bool:
        """To a checkpoint of a part of the drawing; False when no checkpoint belongs to it."""
        wanted = "burners" if part.startswith("burner-") else part
        here = [c for c in self.checkpoints if c.part == wanted]
        if wanted == self.checkpoint.part:  # the next one of the same part
            after = [c.code for c in here].index(self.open) + 1
            here = here[after:] + here[:after]
        self._go_first(here)
        return bool(here)

    # Answering

    def sound(self) -> Change:
        """Nothing wrong found here."""
        return self._settle((Answer(self.open, None, 1, self.evidence, self._note_to_keep()),))

    def find(self, place: int, *, stay: bool = False) -> Change | None:
        """The finding at this place of the open checkpoint; given already, it is taken back."""
        if not 0 <= place < len(self.checkpoint.findings):
            return None
        finding = self.checkpoint.findings[place]
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
        self.checkpoints = self._order()
        if self.open not in {c.code for c in self.checkpoints}:
            self.open = self._place_to_go_on()

    def raise_smell(self) -> Change | None:
        """A strong smell of gas, from wherever one stands; None where the catalogue does not ask for it."""
        finding = self.catalogue.findings.get(STRONG)
        if finding is None or finding.checkpoint not in {c.code for c in self.checkpoints}:
            return None
        self.go(finding.checkpoint)
        if self.given(finding) is not None:
            return None
        return self.find(self.checkpoint.findings.index(finding), stay=True)

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
            self._go_on()
        return change

    def _put(self, code: str, answers: tuple[Answer, ...]) -> None:
        if answers:
            self._answers[code] = answers
        else:
            self._answers.pop(code, None)

    def _go_on(self) -> None:
        """To the next checkpoint nobody came to, else the first such, else one further."""
        place = self._place()
        onward = [*self.checkpoints[place + 1 :], *self.checkpoints[:place]]
        waiting = next((c.code for c in onward if not self.answers(c.code)), "")
        if waiting:
            self.go(waiting)
        else:
            self.step(1)

    def _go_first(self, here: Iterable[Checkpoint]) -> None:
        codes = [c.code for c in here]
        waiting = [code for code in codes if not self.answers(code)]
        for code in (waiting or codes)[:1]:
            self.go(code)

    def _place(self) -> int:
        return [c.code for c in self.checkpoints].index(self.open)

    def _order(self) -> list[Checkpoint]:
        return Look(self.view.build, self.purpose).walk(self.catalogue)

    def _place_to_go_on(self) -> str:
        """After the last answered checkpoint, where one left off."""
        codes = [c.code for c in self.checkpoints]
        last = max((n for n, code in enumerate(codes) if self.answers(code)), default=-1)
        onward = codes[last + 1 :] + codes[: last + 1]
        return next((code for code in onward if not self.answers(code)), codes[-1])

    def _standing(self, zone: str, here: list[Checkpoint]) -> Standing:
        codes = [c.code for c in here]
        place = codes.index(self.open) if self.open in codes else -1
        marks = tuple(self._mark(code) for code in codes)
        return Standing(zone, self.catalogue.zones[zone].name, marks, place)

    def _mark(self, code: str) -> str:
        here = self.answers(code)
        if not here:
            return ""
        if all(a.evidence is Evidence.NOT_SEEN for a in here):
            return "passed"
        worst = max((f.severity for f in findings_of(self.catalogue, here, self.purpose)),
                    key=lambda s: s.rank, default=None)  # fmt: skip
        return "sound" if worst is None else worst.value

    def _text_of(self, checkpoint: Checkpoint) -> str:
        zone = self.catalogue.zones[checkpoint.zone].name
        found = " ".join(f.name for f in checkpoint.findings)
        return f"{checkpoint.name} {zone} {found} {checkpoint.tell} {checkpoint.code}".casefold()
