"""How a range is built: the features that decide which checkpoints, tasks and proofs it has."""

from dataclasses import dataclass
from typing import Literal

from shopdesk.domain.problem import Problem

Back = Literal["high", "low", "none"]
Base = Literal["legs", "base"]
Side = Literal["left", "right"]
OvenLighting = Literal["match", "match with safety pilot", "standing pilot", "spark"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Build:
    """One range's build; the defaults are the commonest range of the period."""

    back: Back = "high"
    burners: int = 4
    ovens: int = 1
    oven_side: Side = "right"
    broiler: bool = True
    griddle: bool = False
    deep_well: bool = False
    lamp: bool = False
    clock: bool = False
    outlet: bool = False
    shelf: bool = False
    fold_top: bool = False
    window: bool = False
    thermostat: bool = True
    lighting: OvenLighting = "standing pilot"
    base: Base = "base"

    def __post_init__(self) -> None:
        if self.burners not in range(2, 9):
            raise Problem("A range has 2 to 8 top burners, not {count}.", count=self.burners)
        if self.ovens not in range(1, 4):
            raise Problem("A range has 1 to 3 ovens, not {count}.", count=self.ovens)

    @property
    def valves(self) -> int:
        """Gas valves on the manifold: top burners, well, griddle, broiler and ovens."""
        return self.burners + self.ovens + self.deep_well + self.griddle + self.broiler

    @property
    def electrical(self) -> bool:
        return self.lamp or self.clock or self.outlet

    @property
    def features(self) -> frozenset[str]:
        """Feature words that `Checkpoint.applies` may ask for."""
        words = {f"{self.back} back", self.base}
        for word in ("broiler", "griddle", "lamp", "clock", "outlet", "shelf", "window", "thermostat"):
            if getattr(self, word):
                words.add(word)
        if self.back == "none":
            words.discard("none back")
        else:
            words.add("back")
        if self.deep_well:
            words.add("deep well")
        if self.fold_top:
            words.add("fold top")
        if self.electrical:
            words.add("electrical")
        if self.ovens > 1:
            words.add("two ovens")
        if self.lighting != "match":
            words.add("oven pilot")
        return frozenset(words)
