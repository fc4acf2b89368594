"""A small shop at work for the tests of Bench and Stores: two ranges with their orders, firms and parts."""

import datetime as dt
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from fixed_clock import FixedClock

from shopdesk.domain.answers import Answer
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Evidence, Scope
from shopdesk.domain.rights import Role
from shopdesk.services import agreements, intake, people, quotes, shops, walks, work_orders
from shopdesk.services.planning import promises
from shopdesk.services.seat import Seat
from shopdesk.services.settings import ShopIdentity
from shopdesk.wording import Region

MUCH = ("lamp-cord.frayed", "burner-valves.seized", "trim-strips.worn", "top-enamel.chipped")
LITTLE = ("knobs.cracked", "burner-valves.stiff")


@dataclass(frozen=True, slots=True)
class ShopAtWork:
    """Keys of what was made; `agreed` may be worked on, `waiting` waits for its customer."""

    agreed: intake.Taken
    waiting: intake.Taken
    technician: int
    supplier: int
    second_supplier: int
    plater: int


def range_with_work(
    seat: Seat, maker: str, findings: tuple[str, ...], *, scope: Scope = Scope.MECHANICAL, agree: bool = True,
    promised_in: int = 30,
) -> intake.Taken:  # fmt: skip
    """A customer's range walked round, with its work order, quoted and (or not) agreed."""
    owner = people.keep_party(seat, people.PartyDraft(name=f"Owner of the {maker}", phone="555 0190"))
    taken = intake.take_on(
        seat,
        intake.RangeDraft(maker=maker, model="No. 40", colour="ivory", build=Build()),
        intake.JobDraft(customer_id=owner, scope=scope),
    )
    walk_id = walks.open_walk(seat, taken.job_id, place="In the shop")
    by_checkpoint = {seat.catalogue.findings[code].checkpoint: code for code in findings}
    for checkpoint in seat.catalogue.walk(walks.walk_view(seat, walk_id).build):
        code = by_checkpoint.get(checkpoint.code)
        walks.answer(seat, walk_id, Answer(checkpoint.code, code, evidence=Evidence.SEEN))
    walks.finish(seat, walk_id)
    work_orders.write_order(seat, taken.job_id, scope)
    quote_id = quotes.write_quote(seat, taken.job_id)
    promises.promise(seat, taken.job_id, seat.today + dt.timedelta(days=promised_in))
    if agree:
        agreements.agree(seat, quote_id, who="the owner", how="telephone", number_called="555 0190")
    return taken


@cache
def shop_file(folder: Path) -> tuple[Path, ShopAtWork]:
    """The shop on a closed file, made once; copy it for each test."""
    place = folder / "shop-at-work.db"
    seat = shops.new_shop(
        place, FixedClock(), ShopIdentity(name="Hearth and Damper"), Region(), "Ida Kessler"
    )
    made = make_shop_at_work(seat)
    seat.file.close()
    return place, made


def make_shop_at_work(seat: Seat) -> ShopAtWork:
    technician = shops.keep_staff(seat, shops.StaffDraft("Bram Tollgate", Role.TECHNICIAN))
    supplier = _firm(seat, "Brindle & Tack Supply", supplies=True)
    second = _firm(seat, "Cobble Lane Fittings", supplies=True)
    plater = _firm(seat, "Lustrewick Platers", trade="plater")
    agreed = range_with_work(seat, "Corvane", MUCH, scope=Scope.SHOW)
    waiting = range_with_work(seat, "Hollimont", LITTLE, agree=False, promised_in=-3)
    return ShopAtWork(agreed, waiting, technician, supplier, second, plater)


def _firm(seat: Seat, name: str, *, supplies: bool = False, trade: str = "") -> int:
    return people.keep_party(
        seat, people.PartyDraft(name=name, is_firm=True, supplies=supplies, trade=trade, town="Ferrow")
    )
