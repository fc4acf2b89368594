"""The jobs a large shop is grown from: one of each kind, taken by the services as far as it goes."""

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from shopdesk.demo import steps
from shopdesk.demo.drawn_pictures import picture
from shopdesk.demo.workshop import Workshop, customer, make_workshop
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Purpose, Scope
from shopdesk.domain.clock import SteppedClock
from shopdesk.domain.money import Spread
from shopdesk.domain.stage import Stage
from shopdesk.services import (
    bench,
    cautions,
    intake,
    invoices,
    order_by_hand,
    payments,
    progress,
    quotes,
    work_orders,
)
from shopdesk.services.seat import open_shop
from shopdesk.storage.backup import copy_shop
from shopdesk.storage.growing import Pattern, patterns_of

BEGINS = dt.datetime(2026, 1, 12, 17, 0, tzinfo=dt.UTC)
_BUILD = Build(griddle=True, lamp=True, outlet=True)
_FAULTS = {
    "lamp-cord.frayed": "cord",
    "burner-valves.seized": "valve",
    "broiler-screws.pulled-through": "hole",
    "oven-floor.worn": "rust",
}
_WORK = ("intake", "teardown", "repair", "refit")


class Cutting:
    """The small shop while its jobs go their way, and the patterns cut from them so far."""

    def __init__(self, place: Path) -> None:
        self.place = place
        self.shop = make_workshop(place, BEGINS)
        self.patterns: list[Pattern] = []

    def cut(self, name: str, course: steps.Course) -> None:
        """What the job is now becomes a pattern."""
        self.patterns += patterns_of(Path(course.seat.file.url.database or ""), {name: course.job_id})

    def branch(self, name: str, course: steps.Course, on: Callable[[steps.Course], None]) -> None:
        """Lets the job go another way in a copy of the shop, and cuts what comes of it."""
        copy = self.place.with_name(f"{name}.db")
        copy_shop(self.place, copy)
        clock = SteppedClock(self.shop.clock())
        seat = open_shop(copy, clock)
        try:
            other = replace(course, shop=replace(self.shop, seat=seat, clock=clock))
            on(other)
            self.cut(name, other)
        finally:
            seat.file.close()


def cut_patterns(place: Path) -> tuple[list[Pattern], dt.datetime]:
    """Makes the small shop and a pattern of every kind of job; returns when the last of it was done."""
    cutting = Cutting(place)
    try:
        who = customer(cutting.shop.seat, "Ines Quillmark", "8 Saltern Street", "555 0111")
        _not_taken(cutting)
        _from_door_to_door(cutting, who)
        _large(cutting, who)
        return cutting.patterns, cutting.shop.clock()
    finally:
        cutting.shop.seat.file.close()


def _start(shop: Workshop, who: int | None, *, maker: str = "Corvane", model: str = "No. 40") -> steps.Course:
    draft = intake.RangeDraft(
        maker=maker, model=model, serial="CV 118", colour="white with grey marbling", made_about="1938",
        gas_on_plate="natural", spuds_found="natural", house_gas="natural" if who else "",
        set_to_gas="natural", width_in="39", weight_lb="420", depth_in="27.5", height_in="48",
        door_in="32", opening_in="40", stairs="0", house_pressure_inwc="7", stands_at="bay 1", build=_BUILD,
    )  # fmt: skip
    purpose = Purpose.FULL if who else Purpose.RESALE
    complaint = "Wants to cook on it again." if who else ""
    return steps.take_on(shop, draft, intake.JobDraft(customer_id=who, purpose=purpose, complaint=complaint))


def _not_taken(cutting: Cutting) -> None:
    course = _start(cutting.shop, None, maker="Tilmont", model="Cottage")
    steps.walk_round(course, dict(list(_FAULTS.items())[:2]), place="Seller's garage", report=False)
    cutting.cut("looked at", course)
    intake.end_job(course.seat, course.job_id, Stage.NOT_TAKEN, "Asking price far above the offer.")
    cutting.cut("not taken", course)


def _from_door_to_door(cutting: Cutting, who: int) -> None:
    """One job all the way, with two bills for a share, cut at every stage."""
    course = _start(cutting.shop, who)
    steps.bring_in(course)
    cutting.cut("booked in", course)
    steps.walk_round(course, dict(list(_FAULTS.items())[:3]))
    cutting.cut("inspected", course)
    cutting.branch("withdrawn", course, _withdraw)
    row = steps.quote(course, Scope.MECHANICAL, promised_in=60)
    cutting.cut("quoted", course)
    course.go_on(days=1)
    steps.agree(course, row)
    cutting.cut("agreed", course)
    _at_the_bench(cutting, course)
    cutting.branch("corrected", course, _bill_twice)
    _out_of_the_door(cutting, course)


def _withdraw(course: steps.Course) -> None:
    intake.end_job(course.seat, course.job_id, Stage.WITHDRAWN, "The customer moved away.")


def _at_the_bench(cutting: Cutting, course: steps.Course) -> None:
    order = steps.order_parts(course)
    cutting.cut("waits for parts", course)
    steps.send_out(course)
    course.go_on(days=6)
    steps.goods_in(course, order)
    steps.come_back(course)
    _share(course, 30)
    _work(course, stages=("intake",))
    _work(course, most=9)
    cutting.cut("on the bench", course)
    _work(course)
    _share(course, 30)
    steps.prove(course, but=("co-oven", "thermostat"))
    cutting.cut("proving", course)
    steps.prove(course)
    steps.release(course)
    cutting.cut("ready", course)


def _bill_twice(course: steps.Course) -> None:
    """Settled after a bill that was credited and written anew."""
    invoices.credit_invoice(course.seat, steps.bill(course), "The address was wrong.")
    again = invoices.draft_invoice(course.seat, course.job_id)
    invoices.issue_invoice(course.seat, again)
    steps.pay(course, again)
    steps.leave(course)
    steps.prove_at_home(course)


def _out_of_the_door(cutting: Cutting, course: steps.Course) -> None:
    bill = steps.bill(course)
    steps.pay(course, bill, share=40)
    steps.leave(course)
    cutting.cut("gone", course)
    steps.prove_at_home(course)
    cutting.cut("past due", course)
    steps.pay(course, bill)
    cutting.cut("settled", course)


def _work(course: steps.Course, *, stages: tuple[str, ...] = _WORK, most: int | None = None) -> None:
    """Ticks the open tasks in order, the clock running for every fourth one."""
    open_ = [
        t
        for t in work_orders.task_lines(course.seat, course.job_id)
        if t.stage in stages and t.done_share < 100
    ]
    seat = course.technician()
    for number, task in enumerate(open_[:most]):
        if number % 4 == 0:
            steps.do(course, task)
        else:
            cautions.acknowledge(seat, task.id)
            bench.tick(seat, task.id)


def _share(course: steps.Course, percent: int) -> None:
    """A bill for a share of what is agreed, paid at once."""
    share = progress.draft_share(course.seat, course.job_id, percent=percent)
    invoices.issue_invoice(course.seat, share)
    owing = invoices.invoice_view(course.seat, share).row.open_cents
    if owing:
        payments.take_payment(course.seat, course.job_id, owing, "transfer", reference="a share")


def _large(cutting: Cutting, who: int) -> None:
    """Sixty tasks and thirty pictures, agreed on."""
    course = _start(cutting.shop, who, maker="Ostrava Vale", model="Deepwell")
    steps.bring_in(course)
    steps.walk_round(course, {**_FAULTS, "trim-strips.worn": "rust"}, report=False)
    seat = course.seat
    for number in range(30 - len(_FAULTS)):  # two of the faults share one
        shot = picture("chip", 900 + number, (240, 180))
        intake.attach_photograph(seat, course.range_id, shot, caption=f"Chip {number + 1}")
    work_orders.write_order(seat, course.job_id, Scope.SHOW)
    _fill_up(course, 60)
    quotes.write_quote(seat, course.job_id)
    steps.agree(course, quotes.quotes(seat, job_id=course.job_id)[0])
    cutting.cut("large", course)


def _fill_up(course: steps.Course, tasks: int) -> None:
    """Splits the longest tasks until there are so many."""
    lines = work_orders.task_lines(course.seat, course.job_id)
    while len(lines) < tasks:
        longest = max(lines, key=lambda task: task.minutes.likely)
        half = Spread(*(minutes // 2 for minutes in _minutes(longest)))
        order_by_hand.split_task(course.seat, longest.id, f"{longest.name}, second part", half)
        lines = work_orders.task_lines(course.seat, course.job_id)


def _minutes(task: work_orders.TaskLine) -> tuple[int, int, int]:
    return task.minutes.low, task.minutes.likely, task.minutes.high
