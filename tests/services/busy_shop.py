"""A shop at work until it is killed: `python tests/faults/busy_shop.py SHOP SEED`.

Does deeds of every kind in an order of its own and says, for each that stands, how far the journal had come.
"""
# ruff: noqa: T201 - what it prints is the point

import random
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from fixed_clock import FixedClock

from shopdesk.demo import steps
from shopdesk.demo.workshop import Workshop, customer
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Purpose, Scope
from shopdesk.services import bench, intake, shops, work_orders
from shopdesk.services.seat import Seat, open_shop
from shopdesk.services.settings import Terms
from shopdesk.storage.tables.shop import Journal


class Stepping(FixedClock):
    """A clock of the tests that goes on as the steps of the demo want it."""

    def go_on(self, *, days: int = 0, minutes: int = 0) -> None:
        self.advance(days=days, minutes=minutes)


def told(seat: Seat) -> None:
    """What was confirmed to the person by now."""
    with seat.look() as session:
        last = session.query(Journal.id).order_by(Journal.id.desc()).limit(1).scalar()
    print(last, flush=True)


def one_job(shop: Workshop, chance: random.Random) -> None:
    seat = shop.seat
    who = customer(seat, f"Customer {chance.randrange(10_000)}", "12 Larder Lane", "555 0142")
    told(seat)
    draft = intake.RangeDraft(maker="Corvane", model="No. 40", build=Build(lamp=True))
    course = steps.take_on(shop, draft, intake.JobDraft(customer_id=who, purpose=Purpose.FULL))
    steps.bring_in(course)
    told(seat)
    steps.walk_round(course, {"lamp-cord.frayed": "cord", "oven-floor.worn": "rust"})
    told(seat)
    row = steps.quote(course, Scope.MECHANICAL)
    told(seat)
    steps.agree(course, row)
    told(seat)
    steps.goods_in(course, steps.order_parts(course))
    steps.send_out(course)
    steps.come_back(course)
    told(seat)
    for task in work_orders.task_lines(seat, course.job_id)[: chance.randrange(1, 6)]:
        bench.clock_on(course.technician(), task.id)
        shop.clock.go_on(minutes=20)
        bench.clock_off(course.technician())
        told(seat)
    shops.keep_setting(seat, Terms(deposit_percent=chance.randrange(10, 40)))
    told(seat)


def main(place: str, seed: int) -> None:
    seat = open_shop(place, Stepping())
    there = {row.role: row.id for row in shops.staff(seat)}
    shop = Workshop(seat, seat.file.clock, there["owner"], (there["technician"],), there["desk"])
    chance = random.Random(seed)
    print("ready", flush=True)
    while True:
        one_job(shop, chance)


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]))
