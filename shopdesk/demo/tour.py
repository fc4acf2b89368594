"""The tour: one invented range carried through the whole job, by the services the window uses.

It is also the self-check of a new machine: every paper is written, every stage is passed.
"""

import datetime as dt
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Any

from shopdesk.demo.drawn_pictures import picture
from shopdesk.domain.answers import Answer
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Evidence, Purpose, Scope
from shopdesk.domain.clock import SteppedClock
from shopdesk.domain.problem import Problem
from shopdesk.domain.proving import Result
from shopdesk.domain.rights import Role
from shopdesk.domain.stage import Stage
from shopdesk.services import (
    agreements,
    bench,
    handovers,
    intake,
    invoices,
    outwork,
    payments,
    people,
    proofs,
    quotes,
    reports,
    shops,
    stores,
    walks,
    work_orders,
)
from shopdesk.services.jacket import jacket
from shopdesk.services.papers.keeping import paper_bytes, papers
from shopdesk.services.seat import Seat
from shopdesk.services.settings import ShopIdentity, Texts
from shopdesk.wording.region import Region

SHOP = "tour_shop.db"
FOUND = {
    "lamp-cord.frayed": "cord",
    "burner-valves.seized": "valve",
    "broiler-screws.pulled-through": "hole",
    "oven-floor.worn": "rust",
}


@dataclass
class Tour:
    """What the tour saw on its way."""

    seat: Seat
    clock: SteppedClock
    job_id: int = 0
    range_id: int = 0
    stages: list[str] = field(default_factory=list)
    verdict: str = ""
    offer_cents: int = 0
    quoted_cents: int = 0
    agreed_cents: int = 0

    def note_stage(self) -> None:
        self.stages.append(jacket(self.seat, self.range_id).stage.value)


def run_tour(folder: Path) -> dict[str, Any]:
    """Runs the tour in a folder and returns what `tour.json` holds. Problem if a tour lies there."""
    if (folder / SHOP).exists():
        raise Problem("There is a tour in {folder} already. Give an empty folder.", folder=str(folder))
    folder.mkdir(parents=True, exist_ok=True)
    clock = SteppedClock(dt.datetime(2026, 3, 2, 17, 0, tzinfo=dt.UTC))
    identity = ShopIdentity(
        name="Emberlow Range Works",
        street="4 Kiln Row",
        town="Quarrel Bend",
        region="OR",
        postcode="00000",
        country="USA",
        phone="555 0100",
        email="desk@emberlow.example",
        registration="Demo registration 0000",
    )
    seat = shops.new_shop(folder / SHOP, clock, identity, Region(), "Odile Fennimarsh")
    try:
        tour = Tour(seat, clock)
        for step in (_set_up, _look_over, _come_in, _walk, _agree, _stock, _work, _prove, _bill, _leave):
            step(tour)
        told = _tell(tour, folder)
    finally:
        seat.file.close()
    (folder / "tour.json").write_text(json.dumps(told, indent=2, ensure_ascii=False), encoding="utf-8")
    return told


def _set_up(tour: Tour) -> None:
    seat = tour.seat
    shops.keep_staff(seat, shops.StaffDraft("Bram Tollgate", Role.TECHNICIAN))
    shops.keep_staff(seat, shops.StaffDraft("Ysolde Marchbank", Role.DESK, skills=("desk",)))
    kinds = (
        ("part", Decimal("6.5")),
        ("charge", Decimal("6.5")),
        ("labour", Decimal(0)),
        ("outwork", Decimal(0)),
    )
    shops.keep_taxes(
        seat,
        [
            shops.TaxRow(kind, seat.today, "Sales tax" if rate else "No tax", "S" if rate else "Z", rate)
            for kind, rate in (*kinds, ("delivery", Decimal(0)))
        ],
    )
    shops.keep_setting(
        seat,
        Texts(
            warranty="90 days on our labour and on the parts we fitted; finishes left as found are excluded.",
            local_law="Local codes and the gas supplier decide; connection is for a licensed fitter.",
        ),
    )


def _look_over(tour: Tour) -> None:
    build = Build(griddle=True, lamp=True, outlet=True)
    draft = intake.RangeDraft(
        maker="Corvane",
        model="No. 40",
        serial="CV 118-204",
        colour="white with grey marbling",
        made_about="1938",
        gas_on_plate="natural",
        spuds_found="natural",
        house_gas="natural",
        width_in="39",
        weight_lb="420",
        stands_at="garage of the customer",
        build=build,
    )
    customer = people.keep_party(
        tour.seat,
        people.PartyDraft(
            name="Ruiz & Søn <b>",
            phone="555 0142",
            email="kitchen@ruiz.example",
            street="12 Larder Lane",
            town="Quarrel Bend",
            region="OR",
            postcode="00000",
        ),
    )
    job = intake.JobDraft(
        customer_id=customer,
        purpose=Purpose.RESALE,
        scope=Scope.MECHANICAL,
        asking_cents=45000,
        complaint="One burner will not turn on. The lamp has not been lit for years.",
    )
    taken = intake.take_on(tour.seat, draft, job, booked_in=False)
    tour.range_id, tour.job_id = taken.range_id, taken.job_id
    tour.note_stage()


def _come_in(tour: Tour) -> None:
    tour.clock.go_on(days=1)
    intake.book_in(tour.seat, tour.job_id)
    handovers.print_intake_receipt(tour.seat, tour.job_id)
    tour.note_stage()


def _walk(tour: Tour) -> None:
    seat = tour.seat
    walk_id = walks.open_walk(
        seat, tour.job_id, place="In the shop, bay 1", circumstances="Daylight, cold, unlit."
    )
    walks.set_terms(
        seat, walk_id, accessories=("baking-insert",) if "baking-insert" in seat.catalogue.accessories else ()
    )
    at = {code.split(".")[0]: code for code in FOUND}
    for checkpoint in seat.catalogue.walk(walks.walk_view(seat, walk_id).build):
        tour.clock.go_on(minutes=1)
        if checkpoint.code in at:
            code = at[checkpoint.code]
            key = walks.answer(seat, walk_id, Answer(checkpoint.code, code, evidence=Evidence.TESTED))
            shot = picture(FOUND[code], 1)
            intake.attach_photograph(seat, tour.range_id, shot, observation_id=key, caption=checkpoint.name)
        elif not checkpoint.flame:
            walks.answer(seat, walk_id, Answer(checkpoint.code))
    verdict = walks.record_verdict(seat, walk_id)
    tour.verdict, tour.offer_cents = verdict.route.value, verdict.offer_cents
    walks.finish(seat, walk_id)
    reports.print_condition_report(seat, walk_id)
    tour.note_stage()


def _agree(tour: Tour) -> None:
    seat = tour.seat
    work_orders.write_order(seat, tour.job_id, Scope.MECHANICAL)
    quote_id = quotes.write_quote(seat, tour.job_id)
    quote = quotes.quotes(seat, job_id=tour.job_id)[0]
    tour.quoted_cents = quote.net_cents
    intake.promise(seat, tour.job_id, seat.today + dt.timedelta(days=42))
    tour.note_stage()
    tour.clock.go_on(days=2)
    agreements.agree(seat, quote_id, who="Ruiz & Søn <b>", how="telephone", number_called="555 0142")
    payments.take_payment(seat, tour.job_id, quote.deposit_cents, "card", reference="demo 1", deposit=True)
    reports.print_traveller(seat, tour.job_id)
    tour.note_stage()


def _stock(tour: Tour) -> None:
    seat = tour.seat
    supplier = people.keep_party(
        seat, people.PartyDraft(name="Brindle & Tack Supply", is_firm=True, supplies=True, town="Ferrow")
    )
    lines = [
        stores.OrderLine(need.name, need.short, need.cost_cents, need_id=need.id)
        for need in stores.needs(seat, job_id=tour.job_id, short_only=True)
    ]
    if lines:
        stores.order_parts(seat, supplier, lines, expected_on=seat.today + dt.timedelta(days=9))
        tour.clock.go_on(days=8)
        for order in stores.orders(seat):
            for line in order.lines:
                stores.take_goods_in(seat, line.id, line.quantity, lies_at="bin 3")
    _send_out(tour)


def _send_out(tour: Tour) -> None:
    """Samples and pieces that go to other trades, and their answers."""
    seat = tour.seat
    sent = [t for t in work_orders.task_lines(seat, tour.job_id) if t.outwork_trade]
    for trade in dict.fromkeys(t.outwork_trade for t in sent):
        firm = people.keep_party(
            seat, people.PartyDraft(name=f"Demo {trade}", is_firm=True, trade=trade, town="Ferrow")
        )
        pieces = [
            outwork.PieceDraft(task_id=t.id, name=t.name, count=t.count, cost_cents=0)
            for t in sent
            if t.outwork_trade == trade
        ]
        outwork.send_out(seat, firm, pieces, expected_on=seat.today + dt.timedelta(days=5))
    tour.clock.go_on(days=5)
    for consignment in outwork.consignments(seat):
        for piece in consignment.pieces:
            outwork.take_back(seat, piece.id, piece.count_out)
    if any("laboratory" in t.holds for t in work_orders.task_lines(seat, tour.job_id)):
        bench.answer_hold(seat, tour.job_id, "negative", "Demo laboratory, report 0000")


def _work(tour: Tour) -> None:
    """Every task up to refitting, ticked in order with its hours."""
    seat = tour.seat
    for task in work_orders.task_lines(seat, tour.job_id):
        if task.stage not in ("proving", "delivery"):
            _do(tour, task)
            if Stage.ON_THE_BENCH.value not in tour.stages:
                before = len(tour.stages)
                tour.note_stage()
                if tour.stages[before] == tour.stages[before - 1]:
                    tour.stages.pop()
    tour.note_stage()


def _do(tour: Tour, task: work_orders.TaskLine) -> None:
    bench.clock_on(tour.seat, task.id)
    tour.clock.go_on(minutes=max(1, task.minutes.likely))
    bench.clock_off(tour.seat)
    bench.tick(tour.seat, task.id)


def _prove(tour: Tour) -> None:
    seat = tour.seat
    for task in work_orders.task_lines(seat, tour.job_id):
        if task.stage == "proving":
            _do(tour, task)
    for due in proofs.proofs_due(seat, tour.job_id):
        tour.clock.go_on(minutes=5)
        readings = dict.fromkeys(due.readings, "as the method asks") or {"seen": "yes"}
        proofs.record_proof(
            seat,
            tour.job_id,
            due.code,
            Result.MEETS,
            readings,
            instrument="demo instrument, not a real reading",
        )
    proofs.release(seat, tour.job_id)
    proofs.print_proof_sheet(seat, tour.job_id)
    tour.note_stage()


def _bill(tour: Tour) -> None:
    seat = tour.seat
    for task in work_orders.task_lines(seat, tour.job_id):
        if task.stage == "delivery":
            _do(tour, task)
    invoice_id = invoices.draft_invoice(seat, tour.job_id)
    invoices.issue_invoice(seat, invoice_id)
    owing = invoices.invoice_view(seat, invoice_id).row.open_cents
    tour.clock.go_on(days=1)
    payments.take_payment(seat, tour.job_id, owing, "transfer", reference="demo 2")


def _leave(tour: Tour) -> None:
    seat = tour.seat
    tour.clock.go_on(days=1)
    handovers.hand_over(seat, tour.job_id)
    tour.note_stage()
    tour.clock.go_on(minutes=180)
    home = next(k for k in seat.catalogue.proofs.values() if k.at_home)
    readings = dict.fromkeys(home.readings, "as the method asks") or {"seen": "yes"}
    proofs.record_proof(
        seat, tour.job_id, home.code, Result.MEETS, readings, signed_by="Demo licensed fitter"
    )
    tour.note_stage()


def _tell(tour: Tour, folder: Path) -> dict[str, Any]:
    seat = tour.seat
    told = jacket(seat, tour.range_id)
    tasks = work_orders.task_lines(seat, tour.job_id)
    issued = sorted(papers(seat), key=lambda p: p.id)
    kept = []
    for paper in issued:
        name = f"{paper.kind.replace(' ', '-')}-{paper.number}.pdf"
        (folder / name).write_bytes(paper_bytes(seat, paper.number, paper.kind))
        kept.append({"number": paper.number, "kind": paper.kind, "file": name, "sha256": paper.sha256})
    lines = [
        line
        for row in invoices.invoices(seat, job_id=tour.job_id)
        for line in invoices.invoice_view(seat, row.id).lines
    ]
    paid = sum(p.amount_cents for p in payments.payments(seat, job_id=tour.job_id))
    return {
        "range": {"number": told.number, "maker": told.described.maker, "serial": told.described.serial},
        "stages": tour.stages,
        "verdict": tour.verdict,
        "offer_cents": tour.offer_cents,
        "tasks": [_told_task(t) for t in tasks],
        "quoted_cents": tour.quoted_cents,
        "agreed_cents": told.money.agreed_cents,
        "billed_cents": told.money.billed_cents,
        "paid_cents": paid,
        "balance_cents": told.money.balance_cents,
        "minutes": sum(t.clocked for t in tasks),
        "invoice_lines": [_told_line(line, {t.id: t.code for t in tasks}) for line in lines],
        "papers": kept,
    }


def _told_task(task: work_orders.TaskLine) -> dict[str, Any]:
    return {"code": task.code, "name": task.name, "because": [cause.label for cause in task.because]}


def _told_line(line: invoices.Line, codes: Mapping[int, str]) -> dict[str, Any]:
    """A line with what caused it: a task, a part, outwork or a charge."""
    if line.kind == "part":
        cause = {"kind": "part", "name": line.what}
    elif line.kind == "outwork":
        cause = {"kind": "outwork", "name": line.what}
    elif line.task_id is not None:
        cause = {"kind": "task", "name": line.what}
    else:
        cause = {"kind": "charge", "name": line.what}
    if line.task_id is not None:
        cause["task"] = codes.get(line.task_id, "")
    return {
        "what": line.what,
        "kind": line.kind,
        "quantity": line.quantity,
        "unit_cents": line.unit_cents,
        "net_cents": line.net_cents,
        "because": {**cause, "words": line.because},
    }
