"""Seeded random numbers: one stream of normal scores for each name, whatever else is drawn.

Because a stream depends on nothing but seed and name, adding a task shifts no other, two
scopes are compared on the same numbers, and two processes draw the same.
"""

import hashlib
import math
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from shopdesk.domain.estimate.pert import Floats

DRAWS = 20_000

Places = npt.NDArray[np.intp]
"""Numbers of the draws in which something happens."""


def stream_seed(seed: int, name: str) -> int:
    """A stable number from seed and name (BLAKE2b; never the salted `hash`)."""
    return int.from_bytes(hashlib.blake2b(f"{seed}:{name}".encode(), digest_size=16).digest())


@lru_cache(maxsize=700)
def _own(seed: int, name: str, draws: int) -> Floats:
    numbers = np.random.Generator(np.random.PCG64(stream_seed(seed, name)))
    scores = numbers.standard_normal(draws, dtype=np.float32)
    scores.setflags(write=False)
    return scores


class Streams:
    """The scores of one range: each name's own stream mixed with one factor common to all.

    Any two names correlate by `correlation` (one-factor Gaussian copula): a bad range is bad
    all over. 0: every name by itself; 1: all together.
    """

    __slots__ = ("_own_weight", "common", "draws", "seed")

    def __init__(self, seed: int, correlation: float, draws: int = DRAWS) -> None:
        self.seed = seed
        self.draws = draws
        self._own_weight = np.float32(math.sqrt(1.0 - correlation))
        self.common: Floats = _own(seed, "the range", draws) * np.float32(math.sqrt(correlation))

    def scores(self, name: str, at: Places | None = None) -> Floats:
        """Standard normal scores that share the common factor; only those `at` some draws."""
        own = _own(self.seed, name, self.draws)
        if at is None:
            return self.common + self._own_weight * own
        return self.common[at] + self._own_weight * own[at]

    def apart(self, name: str) -> Floats:
        """Standard normal scores independent of the common factor."""
        return _own(self.seed, name, self.draws)
