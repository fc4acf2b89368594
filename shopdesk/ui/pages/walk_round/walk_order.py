"""The order in which one walk-round goes, and the checkpoint that is open in it. No widgets, no shop."""

from collections.abc import Callable, Iterable

from shopdesk.domain.catalogue.model import Catalogue, Checkpoint


class WalkOrder:
    """Goes on by itself to what nobody came to yet; `answered` tells of a checkpoint whether somebody did."""

    def __init__(
        self, catalogue: Catalogue, checkpoints: list[Checkpoint], answered: Callable[[str], object]
    ) -> None:
        self.catalogue = catalogue
        self._answered = answered
        self.count = 1  # of the finding that is answered next
        self.open = ""
        self.take_checkpoints(checkpoints)

    def take_checkpoints(self, checkpoints: list[Checkpoint]) -> None:
        """Another list, for another purpose; what is open stays open where it is among them."""
        self.checkpoints = checkpoints
        if self.open not in {c.code for c in checkpoints}:
            self.open = self._place_to_go_on()

    @property
    def checkpoint(self) -> Checkpoint:
        return self.catalogue.checkpoints[self.open]

    def place_in_zone(self) -> tuple[int, int]:
        """The open checkpoint's place among those of its zone, and how many they are."""
        here = [c.code for c in self.checkpoints if c.zone == self.checkpoint.zone]
        return here.index(self.open) + 1, len(here)

    def matching(self, words: str) -> list[Checkpoint]:
        """Checkpoints with all the words in name, zone, findings or how to tell; those by name first."""
        wanted = words.casefold().split()
        fit = [c for c in self.checkpoints if all(word in self._text_of(c) for word in wanted)]
        return sorted(fit, key=lambda c: sum(word not in c.name.casefold() for word in wanted))

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

    def go_on(self) -> None:
        """To the next checkpoint nobody came to, else the first such, else one further."""
        place = self._place()
        onward = [*self.checkpoints[place + 1 :], *self.checkpoints[:place]]
        waiting = next((c.code for c in onward if not self._answered(c.code)), "")
        if waiting:
            self.go(waiting)
        else:
            self.step(1)

    def _go_first(self, here: Iterable[Checkpoint]) -> None:
        codes = [c.code for c in here]
        waiting = [code for code in codes if not self._answered(code)]
        for code in (waiting or codes)[:1]:
            self.go(code)

    def _place(self) -> int:
        return [c.code for c in self.checkpoints].index(self.open)

    def _place_to_go_on(self) -> str:
        """After the last answered checkpoint, where one left off."""
        codes = [c.code for c in self.checkpoints]
        last = max((n for n, code in enumerate(codes) if self._answered(code)), default=-1)
        onward = codes[last + 1 :] + codes[: last + 1]
        return next((code for code in onward if not self._answered(code)), codes[-1])

    def _text_of(self, checkpoint: Checkpoint) -> str:
        zone = self.catalogue.zones[checkpoint.zone].name
        found = " ".join(f.name for f in checkpoint.findings)
        return f"{checkpoint.name} {zone} {found} {checkpoint.tell} {checkpoint.code}".casefold()
