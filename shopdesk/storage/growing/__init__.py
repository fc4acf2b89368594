"""A large shop grown from a small one: jobs copied many times over, in bulk, shifted in time.

For trying the program on twenty years of work. Knows tables and keys; what the jobs are is not its matter.
"""

from shopdesk.storage.growing.growing import Customer, grow
from shopdesk.storage.growing.patterns import Copy, Pattern, patterns_of

__all__ = ["Copy", "Customer", "Pattern", "grow", "patterns_of"]
