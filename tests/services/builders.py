"""Shops, ranges and jobs for the tests, each as far along as the test wants it."""

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal

from fixed_clock import FixedClock

from shopdesk.demo.readings import readings_of
from shopdesk.domain.answers import Answer
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Evidence, Purpose, Scope
from shopdesk.domain.proving import Result
from shopdesk.domain.rights import Action, Role
from shopdesk.domain.stage import Stage
from shopdesk.domain.work.holds import LABORATORY, hold_at
from shopdesk.services import (
    agreements,
    intake,
    invoices,
    observing,
    people,
    proofs,
    proving,
    quotes,
    shops,
    stages,
    stores,
    taxes,
    walks,
    work_orders,
)
from shopdesk.services.intake import Taken
from shopdesk.services.jacket import jacket
from shopdesk.services.seat import Seat, open_shop
from shopdesk.services.settings import ShopIdentity
from shopdesk.storage.tables.bench import CautionSeen
from shopdesk.wording.region import Region

IDENTITY = ShopIdentity(name="Emberlow Range Works", street="4 Kiln Row", town="Quarrel Bend")
FOUR = ("lamp-cord.frayed", "burner-valves.seized", "broiler-screws.pulled-through", "oven-floor.worn")
WORK = ("intake", "teardown", "repair", "refit")
TAX = Decimal("6.5")


@dataclass(frozen=True)
class Shop:
    """An opened shop with a seat for each role."""

    owner: Seat
    technician: Seat
    desk: Seat
    clock: FixedClock


def a_shop(place: str, clock: FixedClock) -> Shop:
    """A shop with an owner, a technician, a desk and taxes on parts and charges."""
    seat = open_shop(place, clock)
    owner = shops.set_up(seat, IDENTITY, Region(timezone="UTC"), "Odile Fennimarsh")
    bram = shops.keep_staff(owner, shops.StaffDraft("Bram Tollgate", Role.TECHNICIAN))
    desk = shops.keep_staff(owner, shops.StaffDraft("Ysolde Marchbank", Role.DESK))
    taxed = [taxes.TaxRow(kind, owner.today, "Sales tax", "S", TAX) for kind in ("part", "charge")]
    taxes.keep_taxes(owner, taxed)
    made = Shop(owner, owner.taken_by(bram), owner.taken_by(desk), clock)
    every_caution_read(made.owner)
    every_caution_read(made.technician)
    return made


def every_caution_read(seat: Seat) -> None:
    """This person has read the cautions of every kind of task in the catalogue."""
    with seat.change(Action.READ_CAUTIONS) as work:
        for task in seat.catalogue.tasks.values():
            if task.hazards:
                work.add(
                    CautionSeen(
                        staff_id=seat.acting.staff_id,
                        task_kind=task.code,
                        hazards=list(task.hazards),
                        at=work.now,
                    )
                )


def reopened(place: str, clock: FixedClock) -> Shop:
    """The shop of `a_shop`, opened again."""
    owner = open_shop(place, clock)
    people_here = {row.role: row.id for row in shops.staff(owner)}
    technician, desk = (owner.taken_by(people_here[role]) for role in (Role.TECHNICIAN, Role.DESK))
    return Shop(owner, technician, desk, clock)


def a_customer(seat: Seat, name: str = "Ruiz & Søn <b>", **more: object) -> int:
    fields = {"street": "12 Larder Lane", "town": "Quarrel Bend", "phone": "555 0142", **more}
    return people.keep_party(seat, people.PartyDraft(name=name, **fields))


def a_firm(seat: Seat, name: str = "Brindle & Tack Supply", **more: object) -> int:
    return people.keep_party(seat, people.PartyDraft(name=name, is_firm=True, **more))


def a_range(
    seat: Seat, *, own: bool = False, booked_in: bool = True, purpose: Purpose = Purpose.FULL, **build: object
) -> Taken:
    """A customer's range (or the shop's `own`) with a lamp; `build` as in `Build`."""
    draft = intake.RangeDraft(
        maker="Corvane", model="No. 40", serial="CV 118-204", build=Build(**{"lamp": True, **build})
    )
    job = intake.JobDraft(customer_id=None if own else a_customer(seat), purpose=purpose)
    return intake.take_on(seat, draft, job, booked_in=booked_in)


def walked(seat: Seat, job_id: int, *findings: str, finished: bool = True, suspected: bool = False) -> int:
    """A walk-round with these findings; unless `suspected` no old insulation is in doubt."""
    walk_id = walks.open_walk(seat, job_id)
    with seat.change(Action.WALK) as work:
        walk = work.get(walks.rows.WalkRound, walk_id, "walk-round")
        at = {code.partition(".")[0] for code in findings}
        if not suspected:
            for checkpoint in seat.catalogue.walk(walks.view_of(work.session, walk).build):
                if hold_at(checkpoint, LABORATORY) and checkpoint.code not in at:
                    observing.give(seat, work, walk, Answer(checkpoint.code, evidence=Evidence.TESTED))
        for code in findings:
            observing.give(seat, work, walk, found(code))
        work.about(walk, job_id)
    if finished:
        walks.finish(seat, walk_id)
    return walk_id


def found(code: str, **more: object) -> Answer:
    return Answer(code.partition(".")[0], code, **{"evidence": Evidence.TESTED, **more})


def quoted(shop: Shop, *findings: str, scope: Scope = Scope.MECHANICAL) -> tuple[Taken, int]:
    """A range inspected, ordered and quoted; the quote's key beside it."""
    taken = a_range(shop.owner)
    walked(shop.owner, taken.job_id, *findings)
    work_orders.write_order(shop.owner, taken.job_id, scope)
    return taken, quotes.write_quote(shop.desk, taken.job_id)


def agreed(shop: Shop, *findings: str, scope: Scope = Scope.MECHANICAL) -> Taken:
    taken, quote_id = quoted(shop, *findings, scope=scope)
    agreements.agree(shop.desk, quote_id, who="Mr Ruiz", how="signed")
    return taken


def owned(shop: Shop, *findings: str) -> Taken:
    """A range of the shop's own with its work order."""
    taken = a_range(shop.owner, own=True)
    walked(shop.owner, taken.job_id, *findings)
    work_orders.write_order(shop.owner, taken.job_id, Scope.MECHANICAL)
    return taken


def covered(shop: Shop, job_id: int) -> None:
    """Every need of a job taken from the shelf."""
    for need in stores.needs(shop.owner, job_id=job_id, short_only=True):
        part = stores.keep_part(shop.owner, need.name, price_in_cents=need.cost_cents, count=need.quantity)
        stores.cover_from_stock(shop.owner, need.id, part)


def done(shop: Shop, job_id: int, *of_stages: str) -> None:
    """All tasks of some stages (up to refit unless said) ticked at once, as far as the rows go."""
    with shop.technician.change(Action.WORK) as work:
        for task in stages.tasks_of(work.session, job_id):
            if task.stage in (of_stages or WORK) and task.done_share < 100:
                task.done_share, task.done_at = 100, work.now
                task.done_by_id = shop.technician.acting.staff_id
        work.about(task, job_id)


def proved(shop: Shop, job_id: int, *, but: tuple[str, ...] = ()) -> None:
    """Every due proof recorded as met, except those named."""
    shop.clock.advance(minutes=1)
    for due in proofs.proofs_due(shop.technician, job_id):
        if due.code not in but and not due.stands:
            prove(shop, job_id, due.code)


def prove(shop: Shop, job_id: int, kind: str, result: Result = Result.MEETS, **more: object) -> int:
    """A proof with good readings; another `result` is the eye's, where one judges."""
    guide = proving.guide(shop.technician, job_id, kind)
    seen = result if guide.form.by_eye else None
    return proving.prove(shop.technician, job_id, kind, readings_of(guide.form), seen=seen, **more)


def released(shop: Shop, *findings: str, own: bool = False) -> Taken:
    taken = owned(shop, *findings) if own else agreed(shop, *findings)
    covered(shop, taken.job_id)
    done(shop, taken.job_id)
    done(shop, taken.job_id, "proving")
    proved(shop, taken.job_id)
    proofs.release(shop.owner, taken.job_id)
    return taken


def billed(shop: Shop, job_id: int) -> int:
    """An issued invoice over all agreed work, delivery included; returns its key."""
    covered(shop, job_id)
    done(shop, job_id)
    done(shop, job_id, "proving", "delivery")
    invoice_id = invoices.draft_invoice(shop.desk, job_id)
    invoices.issue_invoice(shop.desk, invoice_id)
    return invoice_id


def stage_of(seat: Seat, taken: Taken) -> Stage:
    return jacket(seat, taken.range_id, taken.job_id).stage


def held_of(seat: Seat, taken: Taken) -> list[str]:
    """What a job is held for, most pressing first."""
    return [held.hold.value for held in jacket(seat, taken.range_id, taken.job_id).held]


def task_of(seat: Seat, job_id: int, code: str) -> work_orders.TaskLine:
    return next(t for t in work_orders.task_lines(seat, job_id) if t.code == code)


def in_days(seat: Seat, days: int) -> dt.date:
    return seat.today + dt.timedelta(days=days)
