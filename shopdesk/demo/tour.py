"""The tour: one invented range carried through the whole job, by the services the window uses.

It is also the self-check of a new machine: every stage is passed, every paper is written.
"""

import datetime as dt
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from shopdesk.demo import steps, telling
from shopdesk.demo.workshop import Workshop, customer, make_workshop
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Purpose, Scope
from shopdesk.domain.problem import Problem
from shopdesk.services import intake, invoices, payments, work_orders
from shopdesk.services.jacket import jacket
from shopdesk.services.lines import Line
from shopdesk.services.papers.keeping import paper_bytes, papers
from shopdesk.services.quotes import QuoteRow

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

    course: steps.Course
    stages: list[str] = field(default_factory=list)

    def after(self, step: Callable[..., Any], *args: Any, **more: Any) -> Any:
        """Takes a step and notes the stage it led to."""
        result = step(self.course, *args, **more)
        self.note()
        return result

    def note(self) -> None:
        self.stages.append(jacket(self.course.seat, self.course.range_id).stage.value)


def run_tour(folder: Path) -> dict[str, Any]:
    """Runs the tour in a folder and returns what `tour.json` holds. Problem if a tour lies there."""
    if (folder / SHOP).exists():
        raise Problem("There is a tour in {folder} already. Give an empty folder.", folder=str(folder))
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise Problem(
            "The folder {folder} cannot be made ({why}).", folder=str(folder), why=error.strerror
        ) from None
    shop = make_workshop(folder / SHOP, dt.datetime(2026, 3, 2, 17, 0, tzinfo=dt.UTC))
    try:
        told = _whole_job(Tour(_looked_over(shop)), folder)
    finally:
        shop.seat.file.close()
    (folder / "tour.json").write_text(json.dumps(told, indent=2, ensure_ascii=False), encoding="utf-8")
    return told


def _looked_over(shop: Workshop) -> steps.Course:
    key = customer(shop.seat, "Ruiz & Søn <b>", "12 Larder Lane", "555 0142")
    draft = intake.RangeDraft(
        maker="Corvane",
        model="No. 40",
        serial="CV 118-204",
        colour="white with grey marbling",
        made_about="1938",
        gas_on_plate="natural",
        spuds_found="natural",
        house_gas="natural",
        set_to_gas="natural",
        gas_label="natural, 4 in w.c.",
        width_in="39",
        weight_lb="420",
        depth_in="27.5",
        height_in="48",
        door_in="32",
        opening_in="40",
        stairs="0",
        house_pressure_inwc="7",
        stands_at="the customer's garage",
        build=Build(griddle=True, lamp=True, outlet=True),
    )
    job = intake.JobDraft(
        customer_id=key,
        purpose=Purpose.RESALE,
        asking_cents=45000,
        complaint="One burner will not turn on. The lamp has not been lit for years.",
    )
    return steps.take_on(shop, draft, job)


def _whole_job(tour: Tour, folder: Path) -> dict[str, Any]:
    course = tour.course
    tour.note()
    course.go_on(days=1)
    tour.after(steps.bring_in)
    verdict = tour.after(steps.walk_round, FOUND, accessories=("baking-insert",), marked=True)
    quote = tour.after(steps.quote, Scope.MECHANICAL)
    course.go_on(days=2)
    tour.after(steps.agree, quote)
    order = steps.order_parts(course)
    steps.send_out(course)
    course.go_on(days=8)
    steps.goods_in(course, order)
    steps.come_back(course)
    steps.work(course, stages=("intake",))
    tour.after(steps.work, most=1)
    tour.after(steps.work)
    telling.show_work(course)
    telling.write_letter(course)
    steps.prove(course)
    tour.after(steps.release)
    invoice = steps.bill(course)
    course.go_on(days=1)
    steps.pay(course, invoice)
    tour.after(steps.leave)
    course.go_on(minutes=180)
    tour.after(steps.prove_at_home)
    telling.give_to_keep(course)
    return _tell(tour, folder, verdict.route.value, verdict.offer_cents, quote)


def _tell(tour: Tour, folder: Path, verdict: str, offer_cents: int, quote: QuoteRow) -> dict[str, Any]:
    seat, job_id = tour.course.seat, tour.course.job_id
    told = jacket(seat, tour.course.range_id)
    tasks = work_orders.task_lines(seat, job_id)
    kept = []
    for paper in sorted(papers(seat), key=lambda p: p.id):
        name = f"{paper.kind.replace(' ', '-')}-{paper.number}.pdf"
        (folder / name).write_bytes(paper_bytes(seat, paper.number, paper.kind))
        kept.append({"number": paper.number, "kind": paper.kind, "file": name, "sha256": paper.sha256})
    lines = [
        line
        for row in invoices.invoices(seat, job_id=job_id)
        for line in invoices.invoice_view(seat, row.id).lines
    ]
    paid = sum(p.amount_cents for p in payments.payments(seat, job_id=job_id))
    return {
        "range": {"number": told.number, "maker": told.described.maker, "serial": told.described.serial},
        "stages": tour.stages,
        "verdict": verdict,
        "offer_cents": offer_cents,
        "tasks": [_told_task(t) for t in tasks],
        "quoted_cents": quote.net_cents,
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


def _told_line(line: Line, codes: Mapping[int, str]) -> dict[str, Any]:
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
