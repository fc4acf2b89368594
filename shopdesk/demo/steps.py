"""One range taken through a job, a step at a time, by the services the window uses."""

import datetime as dt
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from shopdesk.demo.drawn_pictures import picture
from shopdesk.demo.readings import readings_of
from shopdesk.demo.workshop import Workshop, firm
from shopdesk.domain.answers import Answer
from shopdesk.domain.catalogue.model import Evidence, Scope
from shopdesk.domain.picture_changes import Mark, MarkKind, PictureChanges
from shopdesk.domain.proof_forms.identity import NO_HOUSE
from shopdesk.domain.proving import Result
from shopdesk.domain.worth import Verdict
from shopdesk.services import (
    agreements,
    bench,
    cautions,
    handovers,
    instruments,
    intake,
    invoices,
    outwork,
    payments,
    photographs,
    proofs,
    proving,
    quotes,
    reports,
    stores,
    walks,
    work_orders,
)
from shopdesk.services.planning import promises
from shopdesk.services.seat import Seat

MARKS = {
    "valve": Mark(MarkKind.ARROW, (0.78, 0.16), (0.55, 0.42)),
    "hole": Mark(MarkKind.CIRCLE, (0.36, 0.32), (0.64, 0.68)),
}
"""What a drawn picture of a fault is marked with, by its kind."""

_WORK = ("intake", "teardown", "repair", "refit")


@dataclass
class Course:
    """A range on its way through the shop."""

    shop: Workshop
    range_id: int
    job_id: int
    number: str

    @property
    def seat(self) -> Seat:
        return self.shop.seat

    def technician(self) -> Seat:
        return self.seat.taken_by(self.shop.technicians[0])

    def go_on(self, *, days: int = 0, minutes: int = 0) -> None:
        self.shop.clock.go_on(days=days, minutes=minutes)


def take_on(shop: Workshop, range_: intake.RangeDraft, job: intake.JobDraft) -> Course:
    """A range looked at, not in the shop yet."""
    taken = intake.take_on(shop.seat, range_, job, booked_in=False)
    return Course(shop, taken.range_id, taken.job_id, taken.number)


def bring_in(course: Course, *, receipt: bool = True) -> None:
    intake.book_in(course.seat, course.job_id)
    if receipt:
        handovers.print_intake_receipt(course.seat, course.job_id)


def walk_round(
    course: Course, found: Mapping[str, str], *, place: str = "In the shop, bay 1", skip: Iterable[str] = (),
    accessories: tuple[str, ...] = (), report: bool = True, marked: bool = False,
) -> Verdict:  # fmt: skip
    """A whole walk-round: `found` maps findings to the kind of picture taken of them.

    `marked`: the pictures show by arrow and circle what is meant.
    Everything else is seen and sound, but what needs a flame or stands in `skip` is not seen.
    """
    seat = course.seat
    walk_id = walks.open_walk(seat, course.job_id, place=place, circumstances="By daylight, unlit.")
    walks.set_terms(seat, walk_id, accessories=accessories)
    skipped = set(skip)
    by_checkpoint: dict[str, list[str]] = {}
    for code in found:
        by_checkpoint.setdefault(code.split(".")[0], []).append(code)
    begun = walks.walk_view(seat, walk_id)
    skipped |= {given.answer.checkpoint for given in begun.given}  # filed by itself
    for checkpoint in seat.catalogue.walk(begun.build):
        for code in by_checkpoint.get(checkpoint.code, ()):
            key = walks.answer(seat, walk_id, Answer(checkpoint.code, code, evidence=Evidence.TESTED))
            if found[code]:
                shot = picture(found[code], course.range_id)
                shown = intake.attach_photograph(
                    seat, course.range_id, shot, observation_id=key, caption=checkpoint.name
                )
                if marked and found[code] in MARKS:
                    changes = PictureChanges((MARKS[found[code]],))
                    photographs.change_picture(seat, course.range_id, shown, changes)
        known = checkpoint.code in by_checkpoint or checkpoint.flame or checkpoint.code in skipped
        if not known:
            walks.answer(seat, walk_id, Answer(checkpoint.code))
    course.go_on(minutes=40)
    verdict = walks.record_verdict(seat, walk_id)
    walks.finish(seat, walk_id)
    if report:
        reports.print_condition_report(seat, walk_id)
    return verdict


def quote(course: Course, scope: Scope, *, promised_in: int = 42) -> quotes.QuoteRow:
    """The work order of a scope, its price, and a date."""
    seat = course.seat
    work_orders.write_order(seat, course.job_id, scope)
    quotes.write_quote(seat, course.job_id)
    promises.promise(seat, course.job_id, seat.today + dt.timedelta(days=promised_in))
    return quotes.quotes(seat, job_id=course.job_id)[0]


def agree(course: Course, row: quotes.QuoteRow, *, number: str = "555 0142", deposit: bool = True) -> None:
    agreements.agree(course.seat, row.id, who=row.customer, how="telephone", number_called=number)
    if deposit and row.deposit_cents:
        payments.take_payment(
            course.seat, course.job_id, row.deposit_cents, "card", reference="demo", deposit=True
        )
    reports.print_traveller(course.seat, course.job_id)


def order_parts(course: Course, supplier: str = "Brindle & Tack Supply", *, days: int = 9) -> int | None:
    """One order for all that is short; None when nothing is."""
    seat = course.seat
    lines = [
        stores.OrderLine(need.name, need.short, need.cost_cents, need_id=need.id)
        for need in stores.needs(seat, job_id=course.job_id, short_only=True)
    ]
    if not lines:
        return None
    key = firm(seat, supplier, supplies=True)
    return stores.order_parts(seat, key, lines, expected_on=seat.today + dt.timedelta(days=days))


def goods_in(course: Course, order_id: int | None, *, but: int = 0) -> None:
    """What was ordered comes in, except for the last `but` lines."""
    for order in stores.orders(course.seat):
        if order.id == order_id:
            for line in order.lines[: len(order.lines) - but]:
                stores.take_goods_in(course.seat, line.id, line.quantity, lies_at="bin 3")


def send_out(course: Course, *, days: int = 21) -> None:
    """Samples and pieces leave for other trades, a consignment to each."""
    seat = course.seat
    tasks = [t for t in work_orders.task_lines(seat, course.job_id) if t.outwork_trade]
    for trade in dict.fromkeys(t.outwork_trade for t in tasks):
        pieces = [
            outwork.PieceDraft(task_id=t.id, name=t.name, count=t.count, insured_cents=15000)
            for t in tasks
            if t.outwork_trade == trade
        ]
        key = firm(seat, _FIRMS.get(trade, f"Demo {trade}"), trade=trade)
        outwork.send_out(seat, key, pieces, expected_on=seat.today + dt.timedelta(days=days))


def come_back(course: Course, *, but: str = "") -> None:
    """What is out comes back and is accepted, but not from one trade; the laboratory has answered."""
    seat = course.seat
    for sent in outwork.consignments(seat, out_only=True):
        if but and sent.firm == _FIRMS[but]:
            continue
        for piece in sent.pieces:
            if piece.back_on is None and piece.range_number == course.number:
                outwork.take_back(seat, piece.id, piece.count_out)
    if any("laboratory" in t.holds for t in work_orders.task_lines(seat, course.job_id)):
        bench.answer_hold(seat, course.job_id, "negative", "Demo laboratory, report 0000")


def do(course: Course, task: work_orders.TaskLine) -> None:
    """A task clocked for its likely time and ticked."""
    seat = course.technician()
    bench.clock_on(seat, task.id)
    course.go_on(minutes=max(1, task.minutes.likely))
    bench.clock_off(seat)
    cautions.acknowledge(seat, task.id)
    bench.tick(seat, task.id)


def work(course: Course, *, most: int | None = None, stages: tuple[str, ...] = _WORK) -> None:
    """The open tasks of some stages in order, at `most` so many."""
    lines = [
        t
        for t in work_orders.task_lines(course.seat, course.job_id)
        if t.stage in stages and t.done_share < 100
    ]
    for task in lines[:most]:
        do(course, task)


def prove(course: Course, *, but: Iterable[str] = ()) -> None:
    """The proving tasks in order, each with the proofs it makes, then every other due one; not those named.

    Tightness first: nothing is lit before its proof is on record.
    """
    left = set(but)
    for task in work_orders.task_lines(course.seat, course.job_id):
        if task.stage == "proving" and task.done_share < 100:
            do(course, task)
            _prove_due(course, set(task.proofs) - left)
    _prove_due(course, {due.code for due in proofs.proofs_due(course.seat, course.job_id)} - left)


def _prove_due(course: Course, kinds: Collection[str]) -> None:
    """Those of some kinds of proof that are due and do not stand, in the order of proving."""
    seat = course.technician()
    for due in proofs.proofs_due(seat, course.job_id):
        if due.code in kinds and not due.stands:
            course.go_on(minutes=5)
            key = make(seat, course.job_id, due.code)
            if due.code == "gas-identity":
                shot = picture("plate", course.range_id)
                caption = "Rating plate and gas label"
                intake.attach_photograph(seat, course.range_id, shot, proof_id=key, caption=caption)


def make(seat: Seat, job_id: int, kind: str, *, signed_by: str = "", note: str = "", **other: object) -> int:
    """One proof with good readings, `other` ones in their place; the eye says meets."""
    guide = proving.guide(seat, job_id, kind)
    house = {"house_gas": NO_HOUSE} if guide.known.get("house_gas") == NO_HOUSE else {}
    values = {**readings_of(guide.form), **house, **other}
    seen = Result.MEETS if guide.form.by_eye else None
    gauges = instruments.instruments(seat, guide.form.measures) if guide.form.measures else []
    used = [gauge.id for gauge in gauges]
    return proving.prove(
        seat, job_id, kind, values, seen=seen, with_instruments=used, signed_by=signed_by, note=note
    )


def release(course: Course) -> None:
    proofs.release(course.seat, course.job_id)
    proofs.print_proof_sheet(course.seat, course.job_id)


def bill(course: Course) -> int:
    """The job's invoice, issued; returns its key."""
    work(course, stages=("delivery",))
    invoice_id = invoices.draft_invoice(course.seat, course.job_id)
    invoices.issue_invoice(course.seat, invoice_id)
    return invoice_id


def pay(course: Course, invoice_id: int, *, share: int = 100) -> None:
    """A share (percent) of what the invoice still owes."""
    owing = invoices.invoice_view(course.seat, invoice_id).row.open_cents
    payments.take_payment(course.seat, course.job_id, owing * share // 100, "transfer", reference="demo")


def leave(course: Course) -> None:
    handovers.hand_over(course.seat, course.job_id)


def prove_at_home(course: Course) -> None:
    home = next(k for k in course.seat.catalogue.proofs.values() if k.at_home)
    make(course.technician(), course.job_id, home.code, signed_by="Demo licensed fitter")


_FIRMS = {
    "plater": "Lustrewick Platers",
    "enameller": "Glazemark Enamel",
    "laboratory": "Finchfield Laboratory",
    "blaster": "Gritstone Blasting",
    "welder": "Arcady Welding",
}
