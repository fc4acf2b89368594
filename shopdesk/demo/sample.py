"""The sample shop, made by the services with a clock of its own: `python -m shopdesk.demo.sample FILE`.

An invented workshop on an invented day: ranges at every stage, donors, orders open and late,
outwork out, invoices settled, part settled and past due. The finished file says that its
calendar stands still.
"""

import datetime as dt
import sys
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from shopdesk.demo import steps, taking_off, telling
from shopdesk.demo.workshop import Workshop, customer, firm, make_workshop
from shopdesk.domain.adjust import Change
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Purpose, Scope
from shopdesk.domain.finishes import Finish, Grade
from shopdesk.domain.money import Spread
from shopdesk.domain.stage import Stage
from shopdesk.services import (
    bench,
    donors,
    finishes,
    intake,
    invoices,
    letters,
    part_cards,
    payments,
    quotes,
    sales,
    shops,
    stock,
    wants,
    withdrawals,
    work_orders,
)
from shopdesk.services.floor import floor
from shopdesk.services.planning import appointments, hours, making, plans, promises
from shopdesk.services.planning.morning import morning
from shopdesk.services.planning.outlook import ready_by
from shopdesk.services.seat import Seat
from shopdesk.services.settings import Sample

STARTS = dt.datetime(2026, 1, 12, 17, 0, tzinfo=dt.UTC)
STANDS_AT = dt.datetime(2026, 3, 17, 17, 30, tzinfo=dt.UTC)

_FOUR = {
    "lamp-cord.frayed": "cord",
    "burner-valves.seized": "valve",
    "broiler-screws.pulled-through": "hole",
    "oven-floor.worn": "rust",
}
_PEOPLE = (
    ("Ines Quillmark", "8 Saltern Street", "555 0111"),
    ("Teodor Vantongeren", "30 Orchard Rise", "555 0112"),
    ("Ruiz & Søn <b>", "12 Larder Lane", "555 0142"),
    ("Hesper Dunmarrow", "2 Ropewalk", "555 0114"),
    ("Łucja Wierzbo", "77 Tannery Road", "555 0115"),
    ("Alder Pennyfeather", "5 Mill Steps", "555 0116", "demo 2231"),
    ("Noor Castellane", "19 Gable Court", "555 0117"),
)


@dataclass(frozen=True, slots=True)
class Model:
    """An invented maker's range, as the sample's ranges are described."""

    maker: str
    name: str
    colour: str
    about: str
    build: Build


_MODELS = (
    Model(
        "Corvane", "No. 40", "white with grey marbling", "1938", Build(griddle=True, lamp=True, outlet=True)
    ),
    Model("Brasswick", "Six", "ivory", "1947", Build(burners=6, ovens=2, lamp=True, clock=True, shelf=True)),
    Model("Tilmont", "Cottage", "pale green", "1931", Build(back="low", base="legs", lighting="match")),
    Model(
        "Ostrava Vale", "Deepwell", "white", "1950", Build(deep_well=True, lamp=True, clock=True, window=True)
    ),
    Model(
        "Corvane", "No. 52", "cream", "1949", Build(griddle=True, fold_top=True, lamp=True, oven_side="left")
    ),
    Model("Hartle & Moss", "Range 3", "white", "1941", Build(shelf=True, lamp=True)),
)


def make_sample(place: Path) -> None:
    """Makes the sample; the same program makes the same shop."""
    shop = make_workshop(place, STARTS)
    try:
        people = [customer(shop.seat, *person) for person in _PEOPLE]
        _shelf(shop)
        for number, course in enumerate(_COURSES):
            course(shop, _MODELS[number % len(_MODELS)], people[number % len(people)], number)
            shop.clock.go_on(days=1, minutes=13 * number)
        _to(shop, STANDS_AT)
        _today(shop)
        shops.keep_setting(shop.seat, Sample(stands_at=shop.clock().isoformat()))
    finally:
        shop.seat.file.close()


def _to(shop: Workshop, at: dt.datetime) -> None:
    left = at - shop.clock()
    if left < dt.timedelta(0):
        raise RuntimeError(f"the sample's story runs past its day by {-left}")
    shop.clock.go_on(days=left.days, minutes=left.seconds // 60)


def _shelf(shop: Workshop) -> None:
    for name, cents, count, where in (
        ("gas-cock grease, tin", 1400, 6, "shelf A1"),
        ("spring clip, knob", 90, 60, "bin 7"),
        ("spud, brass, undrilled", 650, 24, "bin 2"),
        ("oven thermometer", 1800, 3, "shelf A2"),
        ("lamp socket, porcelain", 520, 5, "bin 9"),
    ):
        stock.keep_part(
            shop.seat, name, price_in_cents=cents, price_out_cents=cents * 13 // 10, count=count,
            lies_at=where, reason="counted in at the start",
        )  # fmt: skip


def _start(
    shop: Workshop, model: Model, owner: int | None, number: int, *, purpose: Purpose = Purpose.FULL,
    asking: int | None = None, complaint: str = "Wants to cook on it again.",
) -> steps.Course:  # fmt: skip
    draft = intake.RangeDraft(
        maker=model.maker,
        model=model.name,
        serial=f"{model.maker[:2].upper()} {1180 + 37 * number}",
        colour=model.colour,
        made_about=model.about,
        gas_on_plate="town gas" if number == 20 else "natural",  # drilled anew since; it says so nowhere
        spuds_found="natural",
        house_gas="" if owner is None else "propane" if number == 17 else "natural",
        set_to_gas="natural",
        width_in="39",
        weight_lb=str(380 + 11 * number),
        depth_in="27.5",
        height_in="48" if model.build.back == "high" else "37",
        **(_way(number) if owner else {}),
        stands_at=f"bay {1 + number % 4}",
        build=model.build,
    )
    job = intake.JobDraft(
        customer_id=owner, purpose=purpose, asking_cents=asking, complaint=complaint if owner else ""
    )
    return steps.take_on(shop, draft, job)


def _way(number: int) -> dict[str, str]:
    """The way to a customer's kitchen; one door is too narrow, and some were not measured yet."""
    if number % 4 == 1:
        return {}
    door = "27" if number % 6 == 2 else "32"
    return {"door_in": door, "opening_in": "40", "stairs": str(number % 3 * 4), "house_pressure_inwc": "7"}


def _found(build: Build, number: int) -> dict[str, str]:
    """Some of the usual faults, fitting the build, a little different for each range."""
    usual = [
        ("burner-valves.seized", "valve"),
        ("oven-floor.worn", "rust"),
        *([("lamp-cord.frayed", "cord")] if build.lamp else []),
        ("broiler-screws.pulled-through", "hole"),
    ]
    return dict(usual[: 2 + number % 3])


_BEHIND = (
    "burner-valves",
    "manifold",
    "spuds",
    "behind-burners",
    "broiler-screws",
    "oven-flue",
    "inner-wiring",
    "insulation-kind",
    "rear-panel",
    "lamp-cord",
)
"""What nobody sees in a kitchen without moving the range."""


def _looked_at(shop: Workshop, model: Model, _owner: int, number: int) -> None:
    course = _start(shop, model, None, number, purpose=Purpose.RESALE, asking=60000)
    steps.walk_round(
        course, _found(model.build, 4), place="Seller's garage", skip=("oven-burner", "well-liner"),
        marked=True,
    )  # fmt: skip


def _not_taken(shop: Workshop, model: Model, _owner: int, number: int) -> None:
    course = _start(shop, model, None, number, purpose=Purpose.RESALE, asking=180000)
    steps.walk_round(course, _found(model.build, 3), place="Seller's cellar", report=False)
    intake.end_job(shop.seat, course.job_id, Stage.NOT_TAKEN, "Asking price far above the offer.")


def _donor(shop: Workshop, model: Model, _owner: int, number: int) -> None:
    course = _start(shop, model, None, number, purpose=Purpose.DONOR, asking=12500)
    steps.walk_round(course, {**_found(model.build, 2), "overheat.general": "rust"}, report=False)
    intake.buy(shop.seat, course.job_id, 10000)
    intake.end_job(shop.seat, course.job_id, Stage.DONOR, "General overheat; kept for its parts.")
    donor_id = donors.open_donor(shop.seat, course.range_id)
    for name, cents in (("side panel, white", 9000), ("griddle plate", 12000), ("knobs, set of five", 4500)):
        donors.take_off(
            shop.seat, donors.add_to_donor(shop.seat, donor_id, name, cents), lies_at="donor rack"
        )
    here = next(d for d in donors.donors(shop.seat) if d.id == donor_id)
    lost = next((part for part in here.parts if part.standing == "on it"), None)
    if lost is not None and number % 2:
        donors.lose_on_donor(shop.seat, lost.id, "cracked at the lug when it came off")
    panel = stock.parts(shop.seat, "side panel")[0]
    if panel.in_stock > 1:
        stock.sell_part(shop.seat, panel.id, 1, 8500, "a restorer two towns on")


def _booked_in(shop: Workshop, model: Model, owner: int, number: int) -> None:
    steps.bring_in(
        _start(shop, model, owner, number, complaint="Smells of gas near the oven; shut off since.")
    )


def _inspected(shop: Workshop, model: Model, owner: int, number: int) -> None:
    """Looked at in its kitchen by torch, and again in the shop, where more was seen."""
    course = _start(shop, model, owner, number)
    steps.walk_round(
        course, dict.fromkeys(["grates.enamel-lost", "oven-floor.worn"], ""), skip=_BEHIND,
        place="The customer's kitchen", report=False,
    )  # fmt: skip
    course.go_on(minutes=240)
    steps.bring_in(course)
    found = {**_found(model.build, number), "grates.enamel-lost": ""}
    steps.walk_round(course, found, marked=True)


def _quoted(shop: Workshop, model: Model, owner: int, number: int) -> steps.Course:
    course = _start(shop, model, owner, number)
    steps.bring_in(course)
    steps.walk_round(course, _found(model.build, number))
    steps.quote(course, Scope.EVERYDAY, promised_in=70)
    return course


def _quoted_again(shop: Workshop, model: Model, owner: int, number: int) -> None:
    """A second version: every surface gone through, a discount, and bills by milestone."""
    course = _quoted(shop, model, owner, number)
    rows, _ = finishes.finishes(shop.seat, course.job_id)
    bright = Finish(surface="plated trim", grade=Grade.RE_PLATED, note="bright, as the sample")
    chosen = [bright if row.surface == bright.surface else row for row in rows]
    finishes.keep_finishes(shop.seat, course.job_id, chosen)
    quotes.write_quote(
        shop.seat, course.job_id,
        changes=[Change(why="Second range of this kitchen", percent=Decimal(-5))],
        milestones=[("Teardown done", 30), ("Plating is back", 40)],
    )  # fmt: skip


def _withdrawn(shop: Workshop, model: Model, owner: int, number: int) -> None:
    """Half-way: what was done is billed out of the deposit, the rest goes back."""
    course = _start(shop, model, owner, number)
    steps.bring_in(course)
    steps.walk_round(course, _found(model.build, number))
    steps.agree(course, steps.quote(course, Scope.MECHANICAL, promised_in=60))
    steps.work(course, most=2, stages=("intake",))
    bill = withdrawals.withdraw(shop.seat, course.job_id, "The customer moves away.")
    if bill is not None:
        invoices.issue_invoice(shop.seat, bill)
    held = withdrawals.reckon(shop.seat, course.job_id).held_cents
    if held:
        payments.refund(shop.seat, course.job_id, held, "card", reference="demo")


def _agreed(shop: Workshop, model: Model, owner: int, number: int, *, deposit: bool = True) -> steps.Course:
    course = _start(shop, model, owner, number)
    steps.bring_in(course)
    steps.walk_round(course, _found(model.build, number))
    row = steps.quote(course, Scope.MECHANICAL, promised_in=60)
    shop.clock.go_on(days=1)
    steps.agree(course, row, deposit=deposit)
    return course


def _waits_for_deposit(shop: Workshop, model: Model, owner: int, number: int) -> None:
    _agreed(shop, model, owner, number, deposit=False)


def _waits_for_parts(shop: Workshop, model: Model, owner: int, number: int) -> None:
    steps.order_parts(_agreed(shop, model, owner, number), days=number)


def _outwork_out(shop: Workshop, model: Model, owner: int, number: int) -> None:
    course = _agreed(shop, model, owner, number)
    steps.goods_in(course, steps.order_parts(course))
    steps.work(course, stages=("intake",))
    steps.send_out(course, days=18)


def _two_with_outwork(shop: Workshop, model: Model, owner: int, number: int) -> None:
    _outwork_out(shop, model, owner, number)
    _at_the_late_plater(shop, _MODELS[0], owner, number)


def _at_the_late_plater(shop: Workshop, model: Model, owner: int, number: int) -> None:
    """Promised at the shop's odds; then the plater keeps the trim longer than he said."""
    course = _start(shop, model, owner, number, complaint="The trim is worn; it stands in the window.")
    steps.bring_in(course)
    steps.walk_round(course, {**_found(model.build, number), "trim-strips.worn": "rust"})
    seat = shop.seat
    work_orders.write_order(seat, course.job_id, Scope.SHOW)
    quotes.write_quote(seat, course.job_id)
    steps.agree(course, quotes.quotes(seat, job_id=course.job_id)[0])
    steps.send_out(course, days=16)
    order = steps.order_parts(course)
    odds, whole = ready_by(seat, course.job_id, draws=100)
    promises.promise(seat, course.job_id, odds.chosen_on, told=(odds, whole))
    shop.clock.go_on(days=1)
    steps.goods_in(course, order)
    steps.come_back(course, but="plater")
    steps.work(course, stages=("intake",))
    morning(seat, draws=100)


def _on_the_bench(shop: Workshop, model: Model, owner: int, number: int) -> None:
    course = _ready_for_bench(shop, model, owner, number)
    steps.work(course, most=9)
    telling.show_work(course)
    if number % 2:
        telling.write_letter(course)
        course.go_on(minutes=5)
    steps.work(course, most=number % 4)
    taking_off.take_off(course, back=number % 2)
    if number % 2:
        bench.find_more(
            course.technician(), course.job_id, "Flue collar rusted through behind the back panel",
            Spread(40, 75, 150),
        )  # fmt: skip
    else:
        taking_off.begin_card(course)


def _ready_for_bench(shop: Workshop, model: Model, owner: int, number: int) -> steps.Course:
    course = _agreed(shop, model, owner, number)
    order = steps.order_parts(course)
    steps.send_out(course)
    shop.clock.go_on(days=2)
    steps.goods_in(course, order)
    steps.come_back(course)
    steps.work(course, stages=("intake",))
    return course


def _proving(shop: Workshop, model: Model, owner: int, number: int) -> steps.Course:
    course = _ready_for_bench(shop, model, owner, number)
    steps.work(course)
    steps.prove(course, but=("co-oven", "thermostat"))
    return course


def _released(shop: Workshop, model: Model, owner: int, number: int) -> steps.Course:
    course = _ready_for_bench(shop, model, owner, number)
    steps.work(course)
    steps.prove(course)
    steps.release(course)
    return course


def _ready(shop: Workshop, model: Model, owner: int, number: int) -> None:
    steps.bill(_released(shop, model, owner, number))


def _gone(shop: Workshop, model: Model, owner: int, number: int) -> None:
    course = _released(shop, model, owner, number)
    steps.pay(course, steps.bill(course), share=40)
    steps.leave(course)


def _past_due(shop: Workshop, model: Model, owner: int, number: int) -> None:
    course = _released(shop, model, owner, number)
    steps.bill(course)
    steps.leave(course)
    steps.prove_at_home(course)


def _settled(shop: Workshop, model: Model, owner: int, number: int) -> None:
    course = _released(shop, model, owner, number)
    invoice = steps.bill(course)
    steps.pay(course, invoice)
    steps.leave(course)
    steps.prove_at_home(course)
    if number == 0:
        telling.show_work(course)
        telling.give_to_keep(course)


def _corrected(shop: Workshop, model: Model, owner: int, number: int) -> None:
    """The first invoice is credited and written again; a part payment, then the rest."""
    course = _released(shop, model, owner, number)
    first = steps.bill(course)
    course.go_on(minutes=30)
    invoices.credit_invoice(shop.seat, first, "Addressed to the wrong name.")
    again = steps.bill(course)
    steps.pay(course, again, share=50)
    steps.leave(course)
    steps.prove_at_home(course)
    steps.pay(course, again)


def _sold(shop: Workshop, model: Model, owner: int, number: int) -> None:
    """A range the shop bought, restored and sold."""
    course = _start(shop, model, None, number, purpose=Purpose.RESALE, asking=40000)
    steps.walk_round(
        course, _FOUR if model.build.lamp else _found(model.build, number), place="Seller's barn"
    )
    intake.buy(shop.seat, course.job_id, 35000)
    work_orders.write_order(shop.seat, course.job_id, Scope.MECHANICAL)
    order = steps.order_parts(course)
    steps.send_out(course)
    shop.clock.go_on(days=2)
    steps.goods_in(course, order)
    steps.come_back(course)
    steps.work(course, stages=("intake",))
    steps.work(course)
    steps.prove(course)
    steps.release(course)
    sale = sales.draft_sale(shop.seat, course.job_id, owner, 420000)
    sales.add_outlay(shop.seat, course.job_id, "Haulage from the barn", 12000)
    invoices.issue_invoice(shop.seat, sale)
    payments.take_payment(shop.seat, course.job_id, 420000, "transfer", reference="demo sale")


def _stores(seat: Seat) -> None:
    """Consumables in bins, one of them running low, what is looked for, and what nobody sells any more."""
    for name, lies_at, cents, count in (
        ("valve grease, tin", "bin A1", 900, 4), ("gasket rope, metre", "bin A1", 320, 6),
        ("brass screws, box", "bin A2", 1100, 3),
    ):  # fmt: skip
        key = stock.keep_part(seat, name, lies_at=lies_at, price_in_cents=cents, price_out_cents=2 * cents,
                              count=count, reason="bought for the shelf")  # fmt: skip
        draft = part_cards.PartDraft(
            name=name, lies_at=lies_at, price_in_cents=cents, price_out_cents=2 * cents, consumable=True,
            lead_days=9, pack=4,
        )  # fmt: skip
        part_cards.change_part(seat, key, draft)
        stock.move_part(seat, key, -2, "used at the bench")
    firm(seat, "Cobble Lane Fittings", supplies=True)
    firm(seat, "Tannery Road Gas Parts", supplies=True)
    for name, worth in (("griddle plate", 14000), ("oven-door glass, curved", 6000), ("front panels", 9000)):
        wants.look_for(seat, wants.WantDraft(name=name, worth_cents=worth, note="white, no chips"))


def _today(shop: Workshop) -> None:
    """What stands open on the sample's own day: a late order, a clock that runs."""
    seat = shop.seat
    firm(seat, "Lustrewick Platers", trade="plater")
    _stores(seat)
    running = next((t for t in bench.tasks_today(seat) if not t.waits and t.stage == "repair"), None)
    if running is not None:
        bench.clock_on(seat.taken_by(shop.technicians[0]), running.id)
        shop.clock.go_on(minutes=25)
    for due in letters.due_letters(seat)[:2]:
        letters.write_letter(seat, due)
    _planned(shop)


def _planned(shop: Workshop) -> None:
    """Who is away, what is arranged, and a plan of all that is open."""
    seat, today = shop.seat, shop.seat.today
    hours.keep_leave(
        seat, shop.technicians[1], today + dt.timedelta(days=9), today + dt.timedelta(days=13), "Walking"
    )  # fmt: skip
    job = next(row for row in floor(seat) if row.stage is Stage.READY and row.customer)
    appointments.appoint(
        seat,
        appointments.AppointmentDraft(
            kind="delivery", day=today + dt.timedelta(days=2), minute=9 * 60, minutes=180, job_id=job.job_id,
            place="30 Orchard Rise", going=(shop.owner, shop.technicians[1]),
        ),
    )  # fmt: skip
    appointments.appoint(
        seat,
        appointments.AppointmentDraft(
            kind="viewing", day=today + dt.timedelta(days=3), minute=15 * 60, minutes=60,
            place="Seller's garage, Ferrow", note="A range with two ovens.", going=(shop.owner,),
        ),
    )  # fmt: skip
    made = making.make_plan(seat, seconds=60, workers=1, starts=60, rounds=0)
    plans.keep_plan(seat, made, "the week's planning")


_COURSES: tuple[Callable[[Workshop, Model, int, int], object], ...] = (
    _settled,
    _past_due,
    _sold,
    _gone,
    _donor,
    _corrected,
    _not_taken,
    _ready,
    _proving,
    _withdrawn,
    _two_with_outwork,
    _on_the_bench,
    _waits_for_parts,
    _on_the_bench,
    _donor,
    _waits_for_deposit,
    _quoted_again,
    _inspected,
    _looked_at,
    _booked_in,
    _looked_at,
)


if __name__ == "__main__":
    make_sample(Path(sys.argv[1]))
