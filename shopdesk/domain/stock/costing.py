"""What goods cost when they leave the shelf: the average of what lies there, and never a cent lost."""

from fractions import Fraction

from shopdesk.domain.money import round_half_up


def cost_out(there: int, value_cents: int, quantity: int, each_cents: int) -> int:
    """What `quantity` pieces cost of `there` pieces that are worth `value_cents` together.

    The last piece takes what is left of the value, so that what went out and what is left always
    sum to what came in. Pieces beyond what is there (a shelf may be told to go below nothing)
    cost `each_cents`, the last known cost of one.
    """
    if quantity < 1:
        raise ValueError("nothing goes out")
    if there <= 0:
        return quantity * each_cents
    if quantity >= there:
        return value_cents + (quantity - there) * each_cents
    return round_half_up(Fraction(value_cents * quantity, there))
