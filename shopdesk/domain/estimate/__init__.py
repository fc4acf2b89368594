"""How much and how long: three-point figures, their simulation, and what was not seen.

`three_point` is the closed form, `pert` the distribution drawn from, `streams` the seeded
random numbers, `unknown` what nobody saw, `simulate` puts them together, `result` makes
figures of it, `critical` finds what rules an order's length. Knows work, not worth.
"""

from shopdesk.domain.estimate.critical import network_of
from shopdesk.domain.estimate.result import Driver, DriverKind, Estimate, estimate

__all__ = ["Driver", "DriverKind", "Estimate", "estimate", "network_of"]
