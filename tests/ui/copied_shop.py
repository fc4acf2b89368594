"""A shop at work made once for a whole file of tests and copied for each of them: making it takes long."""

import shutil
from dataclasses import dataclass
from pathlib import Path

from fixed_clock import FixedClock
from shop_at_work import ShopAtWork, make_shop_at_work

from shopdesk.services.seat import Seat, open_shop
from shopdesk.services.settings import ShopIdentity
from shopdesk.services.shops import new_shop
from shopdesk.wording import Region


@dataclass(frozen=True, slots=True)
class MadeShop:
    """The file that is copied, and the keys of what stands in it."""

    place: Path
    work: ShopAtWork

    def copy(self, place: Path, clock: FixedClock) -> Seat:
        """The owner's seat at a copy of its own."""
        shutil.copyfile(self.place, place)
        return open_shop(place, clock)


def make_shop(place: Path) -> MadeShop:
    seat = new_shop(place, FixedClock(), ShopIdentity(name="Hearth and Damper"), Region(), "Ida Kessler")
    try:
        return MadeShop(place, make_shop_at_work(seat))
    finally:
        seat.file.close()
