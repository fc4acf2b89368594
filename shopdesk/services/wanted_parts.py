"""What a range's sound parts are worth beyond their usual price, because the shop looks for them."""

from collections.abc import Sequence

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.answers import Look
from shopdesk.domain.catalogue.model import Catalogue, Checkpoint, Figures
from shopdesk.domain.money import round_half_up
from shopdesk.domain.stock import one_name
from shopdesk.domain.worth.donor import exact_share, sound_parts
from shopdesk.storage.tables.donors import Want

Priced = tuple[tuple[Checkpoint, int], ...]


def open_wants() -> sa.Select[Want]:
    """The query for wants that are still looked for."""
    return sa.select(Want).where(Want.ended_on.is_(None))


def priced_parts(catalogue: Catalogue, look: Look, figures: Figures) -> Priced:
    """The parts of a look that count towards a donor, with what each usually brings (cents)."""
    sold = exact_share(figures.donor_sold_share)
    return tuple(
        (checkpoint, round_half_up(checkpoint.donor.likely * exact_share(share) * sold))
        for checkpoint, share in sound_parts(catalogue, look, figures)
    )


def wanted_of(parts: Priced, wants: Sequence[Want]) -> tuple[tuple[str, ...], int]:
    """Names of the wants that are among the parts, each part once, and what they add in cents."""
    names, more, taken = [], 0, set[str]()
    for want in wants:
        for checkpoint, cents in parts:
            if checkpoint.code not in taken and one_name(want.name, checkpoint.name):
                taken.add(checkpoint.code)
                names.append(want.name)
                more += max(0, want.worth_cents - cents)
                break
    return tuple(names), more


def more_wanted(session: Session, catalogue: Catalogue, look: Look, figures: Figures) -> int:
    """What the open wants add to what a range is worth as a donor (cents)."""
    found = list(session.scalars(open_wants().order_by(Want.id)))
    return wanted_of(priced_parts(catalogue, look, figures), found)[1] if found else 0
