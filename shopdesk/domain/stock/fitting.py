"""Which ranges a part goes on, and whether two names mean the same part."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from shopdesk.domain.folding import fold

_SMALL = frozenset({"a", "an", "and", "for", "in", "of", "on", "or", "set", "the", "with"})


class Fitting(StrEnum):
    """What is known of a part on a range; `NOT_SAID` when nobody wrote down what it goes on."""

    FITS = "fits"
    MAY_FIT = "may fit"
    NOT_SAID = "not said"
    NO = "does not fit"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fit:
    """Ranges a part goes on; what is empty asks nothing. `build`: feature words, all needed."""

    maker: str = ""
    model: str = ""
    build: tuple[str, ...] = ()
    certain: bool = True
    note: str = ""

    def covers(self, maker: str, model: str, features: frozenset[str]) -> bool:
        same_maker = not self.maker or fold(self.maker) == fold(maker)
        same_model = not self.model or fold(self.model) == fold(model)
        return same_maker and same_model and set(self.build) <= features


def fitting(fits: Iterable[Fit], maker: str, model: str, features: frozenset[str]) -> Fitting:
    """The best that any of the fits says of a range."""
    said = list(fits)
    if not said:
        return Fitting.NOT_SAID
    here = [fit for fit in said if fit.covers(maker, model, features)]
    if not here:
        return Fitting.NO
    return Fitting.FITS if any(fit.certain for fit in here) else Fitting.MAY_FIT


def one_name(one: str, other: str) -> bool:
    """Whether two names mean the same kind of part: the words of one are all in the other.

    "griddle plate" is "griddle plates, cast"; "knob" is "knobs, set of five"; "oven door" is not
    "oven burner". Counts and small words do not matter.
    """
    here, there = _words(one), _words(other)
    return bool(here and there) and (here <= there or there <= here)


def _words(name: str) -> frozenset[str]:
    return frozenset(_single(w) for w in fold(name).split() if w not in _SMALL and not w.isdigit())


def _single(word: str) -> str:
    """A word without its plural, roughly: the same roughness on both sides."""
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith("s") and not word.endswith("ss") and len(word) > 3:
        return word[:-1]
    return word
