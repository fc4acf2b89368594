"""When what a task waits for is expected: answers, deposits, parts, the laboratory, a word of the bench.

A day somebody wrote down counts; where nobody did, the shop's terms of planning say how long
it usually takes, and the plan says that it assumed so. What nobody can tell has no day.
"""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.work.holds import LABORATORY
from shopdesk.services.settings import PlanTerms
from shopdesk.services.waiting import Waiting
from shopdesk.storage.tables import work as rows
from shopdesk.storage.tables.counter import Agreement, ChangeOrder, Payment, Quote
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.stores import GoodsIn, Need, PurchaseLine, PurchaseOrder
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class Until:
    """The first day a task may begin as far as its waits go; `never` names what nobody knows the day of."""

    day: dt.date | None = None
    never: str = ""


NOW = Until()


class Waits:
    """Asked of the shop once for all open jobs."""

    def __init__(
        self, session: Session, jobs: set[int], terms: PlanTerms, today: dt.date, as_agreed: frozenset[int]
    ) -> None:
        self.terms, self.today = terms, today
        self.waiting = Waiting(session, jobs)
        self.waiting.agreed |= as_agreed
        self._as_agreed = as_agreed
        self._deposits = _open_deposits(session, jobs)
        self._parts = _part_days(session, jobs)
        self._changes = dict(
            session.execute(
                sa.select(ChangeOrder.id, ChangeOrder.found_on).where(ChangeOrder.job_id.in_(jobs))
            ).all()
        )
        self._sampled = dict(
            session.execute(
                sa.select(rows.WorkOrder.job_id, sa.func.max(rows.Task.done_at))
                .join(rows.Task)
                .where(rows.WorkOrder.job_id.in_(jobs), rows.Task.outwork_trade == "laboratory")
                .group_by(rows.WorkOrder.job_id)
            ).all()
        )
        self._assumed: dict[str, None] = {}
        self.causes: dict[int, dict[str, int]] = {}
        """Job -> what it waits for ("part", "answer", ... and its name, parted by a bar) -> days overdue."""

    def assumed(self) -> tuple[str, ...]:
        return tuple(self._assumed)

    def for_the_answer(self, task: rows.Task, job_id: int) -> bool:
        """Whether the whole job (or its teardown) is not agreed, so that this task is not to be planned."""
        begins = task.stage == "intake" or (task.stage == "teardown" and job_id in self.waiting.teardown)
        return not begins and job_id not in self.waiting.agreed

    def until(self, task: rows.Task, job_id: int, number: str) -> Until:
        """The day from which the task may begin."""
        days: list[dt.date] = []
        for day in (
            self._answer(task, job_id, number),
            self._deposit(task, job_id, number),
            self._laboratory(task, job_id, number),
        ):
            if isinstance(day, str):
                return Until(None, day)
            days += [day] if day else []
        for name, expected in self._parts.get(task.id, ()):
            self._cause(job_id, "part", name, expected.day or self.today)
            part = self._part(name, expected, number)
            if part is None:
                return Until(None, name)
            days.append(part)
        if task.blocked_because:
            return Until(None, task.blocked_because)
        return Until(max(days, default=None))

    def _cause(self, job_id: int, kind: str, name: str, expected: dt.date) -> None:
        mine = self.causes.setdefault(job_id, {})
        late = max(0, (self.today - expected).days)
        mine[f"{kind}|{name}"] = max(late, mine.get(f"{kind}|{name}", 0))

    def _answer(self, task: rows.Task, job_id: int, number: str) -> dt.date | None:
        change = task.change_order_id
        if change is None or change in self.waiting.consented:
            return None
        day = self._changes[change] + dt.timedelta(days=self.terms.answer_days)
        self._cause(job_id, "answer", "", day)
        text = say("{range} waits for the answer to what was found more.", range=number)
        return self._from_now(day, text)

    def _deposit(self, task: rows.Task, job_id: int, number: str) -> dt.date | None:
        agreed_on = self._deposits.get(job_id)
        if agreed_on is None or task.stage == "intake":
            return None
        day = agreed_on + dt.timedelta(days=self.terms.deposit_days)
        self._cause(job_id, "deposit", "", day)
        return self._from_now(day, say("{range} waits for the deposit.", range=number))

    def _laboratory(self, task: rows.Task, job_id: int, number: str) -> dt.date | str | None:
        if LABORATORY not in task.holds:
            return None
        answers = self.waiting.answers[job_id]
        if answers.worst == "positive":
            return say("the removal of asbestos by a licensed firm")
        sampled = self._sampled.get(job_id)
        if answers.clear or sampled is None:
            return None  # answered, or the order's own sampling task has the days still to come
        day = sampled.date() + dt.timedelta(days=self.terms.laboratory_days)
        self._cause(job_id, "laboratory", "", day)
        return self._from_now(day, say("{range} waits for the laboratory.", range=number))

    def _part(self, name: str, expected: "PartDay", number: str) -> dt.date | None:
        """The day a part comes; None when it is on order and nobody wrote down a day."""
        if not expected.ordered:
            self._assume(
                say(
                    "{range} waits for {part}, not ordered yet; reckoned to be here in {days} days.",
                    range=number, part=name, days=self.terms.part_days,
                )
            )  # fmt: skip
            return self.today + dt.timedelta(days=self.terms.part_days)
        if expected.day is None:
            return None
        text = say("{range} waits for {part}.", range=number, part=name)
        return self._from_now(expected.day, text) if expected.day < self.today else expected.day

    def _from_now(self, day: dt.date, text: str) -> dt.date:
        """An assumed day; one that is past is taken to be as much later as the shop's terms say."""
        if day < self.today:
            day = self.today + dt.timedelta(days=self.terms.late_days)
            self._assume(say("{what} It is overdue; reckoned with in {days} days.", what=text,
                             days=self.terms.late_days))  # fmt: skip
        else:
            self._assume(say("{what} Reckoned with in {days} days.", what=text, days=(day - self.today).days))
        return day

    def _assume(self, text: str) -> None:
        self._assumed[text] = None


@dataclass(frozen=True, slots=True)
class PartDay:
    ordered: bool
    day: dt.date | None


def _part_days(session: Session, jobs: set[int]) -> dict[int, list[tuple[str, PartDay]]]:
    """Task -> its parts that are short, each with the day its order is expected."""
    came = (
        sa.select(sa.func.coalesce(sa.func.sum(GoodsIn.quantity), 0))
        .where(GoodsIn.line_id == PurchaseLine.id)
        .correlate(PurchaseLine)
        .scalar_subquery()
    )
    ordered: dict[int, dt.date | None] = {}
    for need_id, expected in session.execute(
        sa.select(PurchaseLine.need_id, PurchaseOrder.expected_on)
        .join(PurchaseOrder)
        .where(
            PurchaseOrder.cancelled_on.is_(None),
            PurchaseLine.need_id.is_not(None),
            PurchaseLine.quantity > came,
        )
        .order_by(PurchaseOrder.id)
    ):
        assert need_id is not None  # as the query asked
        known = ordered.get(need_id)
        ordered[need_id] = max(known, expected) if known and expected else expected or known
    found: dict[int, list[tuple[str, PartDay]]] = {}
    for need_id, task_id, name in session.execute(
        sa.select(Need.id, Need.task_id, Need.name)
        .join(rows.Task)
        .join(rows.WorkOrder)
        .where(rows.WorkOrder.job_id.in_(jobs), Need.covered + Need.called_off < Need.quantity)
        .order_by(Need.id)
    ):
        day = PartDay(need_id in ordered, ordered.get(need_id))
        found.setdefault(task_id, []).append((name, day))
    return found


def _open_deposits(session: Session, jobs: set[int]) -> dict[int, dt.date]:
    """Jobs whose deposit is not there, with the day they were agreed."""
    paid: dict[int, int] = {
        job_id: int(total or 0)
        for job_id, total in session.execute(
            sa.select(Payment.job_id, sa.func.sum(Payment.amount_cents))
            .where(Payment.job_id.in_(jobs))
            .group_by(Payment.job_id)
        )
        if job_id is not None
    }
    found: dict[int, dt.date] = {}
    for job_id, deposit, at in session.execute(
        sa.select(Agreement.job_id, Quote.deposit_cents, Agreement.at)
        .join(Quote, Quote.id == Agreement.quote_id)
        .join(Job, Job.id == Agreement.job_id)
        .where(Agreement.job_id.in_(jobs), Job.customer_id.is_not(None))
        .order_by(Agreement.id)
    ):
        if deposit > paid.get(job_id, 0):
            found[job_id] = at.date()
    return found
