"""What one seat does in the load, from a seeded script; every confirmed deed is written into its log.

A log is lines of JSON: what was done, and the record or number that has to stand in the shop afterwards.
"""

import json
import random
import time
from collections import Counter
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any

from fixed_clock import FixedClock

from shopdesk.demo.workshop import customer
from shopdesk.domain.answers import Answer
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Evidence, Purpose, Scope
from shopdesk.domain.problem import ChangedMeanwhile, Problem, Unavailable
from shopdesk.domain.rights import Action
from shopdesk.domain.totals import Tax
from shopdesk.services import (
    agreements,
    bench,
    cautions,
    intake,
    invoices,
    payments,
    people,
    quotes,
    shops,
    stores,
    walks,
    work_orders,
)
from shopdesk.services.invoice_drafts import keep_draft
from shopdesk.services.lines import Line
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job


class Hand:
    """One seat at work: a chance of its own, and a log of what was confirmed to it."""

    def __init__(self, seat: Seat, log: Path, seed: int, shared: int) -> None:
        self.seat, self.chance, self.shared = seat, random.Random(seed), shared
        self.log = log.open("a", encoding="utf-8")
        self.jobs: list[tuple[int, int]] = []  # job, customer
        self.tasks: list[int] = []
        self.bills: list[tuple[int, int, int]] = []  # job, invoice, what it asks
        self.told: Counter[str] = Counter()
        self.parts: list[int] = []

    def confirmed(self, what: str, **facts: Any) -> None:
        self.log.write(json.dumps({"what": what, **facts}) + "\n")
        self.log.flush()
        self.told[what] += 1

    def work(self, until: float) -> Counter[str]:
        """Deeds one after another until then; a conflict is told and counted, anything else ends the seat."""
        deeds: list[Callable[[], None]] = [
            self.take_on, self.take_on, self.quote, self.agree, self.tick, self.time, self.bill, self.pay,
            self.move, self.edit_the_same, self.edit_the_same,
        ]  # fmt: skip
        while time.monotonic() < until:
            deed = self.chance.choice(deeds)
            try:
                deed()
            except ChangedMeanwhile:
                self.told["conflicts told"] += 1
            except Unavailable as problem:
                self.told[f"refused by the surroundings: {problem}"] += 1
            except Problem:
                self.told["refused with a sentence"] += 1
            clock = self.seat.file.clock
            assert isinstance(clock, FixedClock)
            clock.advance(minutes=1)
        return self.told

    def take_on(self) -> None:
        seat = self.seat
        who = customer(seat, f"Customer {self.chance.randrange(10**9)}", "12 Larder Lane", "555 0142")
        draft = intake.RangeDraft(maker="Corvane", model="No. 40", build=Build(lamp=True))
        taken = intake.take_on(seat, draft, intake.JobDraft(customer_id=who, purpose=Purpose.FULL))
        self.confirmed("range", number=taken.number, job=taken.job_id)
        walk = walks.open_walk(seat, taken.job_id)
        walks.answer(seat, walk, Answer("lamp-cord", "lamp-cord.frayed", evidence=Evidence.TESTED))
        walks.finish(seat, walk)
        self.jobs.append((taken.job_id, who))

    def _job(self) -> tuple[int, int]:
        if not self.jobs:
            self.take_on()
        return self.chance.choice(self.jobs)

    def quote(self) -> None:
        job, _ = self._job()
        work_orders.write_order(self.seat, job, Scope.MECHANICAL)
        key = quotes.write_quote(self.seat, job)
        self.confirmed("quote", id=key)

    def agree(self) -> None:
        job, _ = self._job()
        for row in quotes.quotes(self.seat, job_id=job)[:1]:
            agreements.agree(self.seat, row.id, who="Mr Ruiz", how="signed")
            self.confirmed("agreement", quote=row.id)
            self.tasks += [task.id for task in work_orders.task_lines(self.seat, job)]

    def tick(self) -> None:
        if self.tasks:
            task = self.chance.choice(self.tasks)
            cautions.acknowledge(self.seat, task)
            bench.tick(self.seat, task)
            self.confirmed("tick", task=task)
            self.tasks.remove(task)

    def time(self) -> None:
        if self.tasks:
            clock = self.seat.file.clock
            assert isinstance(clock, FixedClock)
            task = self.chance.choice(self.tasks)
            cautions.acknowledge(self.seat, task)
            bench.clock_on(self.seat, task)
            clock.advance(minutes=self.chance.randrange(5, 60))
            self.confirmed("time", task=task, minutes=bench.clock_off(self.seat))

    def bill(self) -> None:
        job_id, _ = self._job()
        line = Line(kind="charge", what="Visit", quantity=1, unit_cents=9_900, because="asked for",
                    tax=Tax("Z", Decimal(0), "Not taxed"))  # fmt: skip
        with self.seat.change(Action.INVOICE) as work:
            job = work.get(Job, job_id, "job")
            key = keep_draft(self.seat, work, job, job.customer, [line])
        number = invoices.issue_invoice(self.seat, key)
        row = invoices.invoice_view(self.seat, key).row
        self.confirmed("invoice", id=key, number=row.number, cents=row.gross_cents)
        assert number is not None
        self.bills.append((job_id, key, row.gross_cents))

    def pay(self) -> None:
        if self.bills:
            job, _, cents = self.bills.pop()
            payments.take_payment(self.seat, job, cents, "cash", reference="load")
            self.confirmed("payment", job=job, cents=cents)

    def move(self) -> None:
        if not self.parts:
            name = f"valve {self.chance.randrange(10**9)}"
            self.parts.append(stores.keep_part(self.seat, name, price_in_cents=900, count=50))
        part = self.chance.choice(self.parts)
        stores.move_part(self.seat, part, self.chance.choice((-1, 2)), "counted")
        self.confirmed("movement", part=part)

    def edit_the_same(self) -> None:
        """A record every seat edits: read, thought over, saved with the version that was read."""
        with self.seat.change(Action.BOOK_IN) as work:
            row = work.get(Party, self.shared, "customer")
            count = int(row.note or 0) + 1
            time.sleep(self.chance.uniform(0, 0.02))
            row.note = str(count)
            work.about(row)
        self.confirmed("edit", count=count)


def staff_of(seat: Seat, name: str) -> Seat:
    """The same shop with this person acting."""
    return seat.taken_by(next(row.id for row in shops.staff(seat) if row.name == name))


def people_at_work(seat: Seat, count: int) -> list[str]:
    """So many owners of the shop, one for each seat, and the customer they all edit, last."""
    names = [f"Seat {n + 1}" for n in range(count)]
    for name in names:
        shops.keep_staff(seat, shops.StaffDraft(name, seat.acting.role))
    return names


def shared_customer(seat: Seat) -> int:
    return people.keep_party(seat, people.PartyDraft(name="Everybody's customer", note="0"))
