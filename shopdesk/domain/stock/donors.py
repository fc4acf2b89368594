"""What a donor cost, shared over the parts on it by what they should bring."""

from collections.abc import Sequence
from dataclasses import dataclass

from shopdesk.domain.money import share
from shopdesk.domain.problem import Problem


@dataclass(frozen=True, slots=True)
class DonorShare:
    """A part of a donor: what it should bring, its share of the cost, and whether that is settled.

    A share is settled once the part is taken or lost; the rest is shared anew over what is left.
    """

    value_cents: int
    cost_cents: int
    settled: bool


def shared_cost(cost_cents: int, parts: Sequence[DonorShare]) -> list[int]:
    """Every part's share, in their order; they sum to the donor's cost whenever there are parts.

    Raises a Problem when nothing is left on the donor to carry what was not carried before.
    """
    settled = sum(part.cost_cents for part in parts if part.settled)
    left = [at for at, part in enumerate(parts) if not part.settled]
    shares = [part.cost_cents for part in parts]
    if not left:
        if parts and settled != cost_cents:
            raise Problem(
                "Everything of this donor is taken and its cost is shared already. "
                "Write down something that is still on it first.",
                field="cost",
            )
        return shares
    if cost_cents < settled:
        raise Problem("The parts taken already carry more than that.", field="cost")
    for at, cents in zip(
        left, share(cost_cents - settled, [parts[i].value_cents for i in left]), strict=True
    ):
        shares[at] = cents
    return shares
