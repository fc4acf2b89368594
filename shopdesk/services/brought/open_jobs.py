"""Open jobs of older books: ranges that stand in the shop already, as the target of a table."""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.folding import fold
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.exchange.tables_in import Line, Wanted
from shopdesk.exchange.tables_in.columns import read_text
from shopdesk.services import intake
from shopdesk.services.brought.customers import People, read_email
from shopdesk.services.brought.known_lines import (
    given,
    note_known,
    number_of,
    read_known,
    refuse_twice,
    verdict,
    write_on,
)
from shopdesk.services.intake import JobDraft, RangeDraft
from shopdesk.services.planning import promises
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.unit_of_work import UnitOfWork
from shopdesk.wording import say

_OF_RANGE = ("maker", "model", "serial", "colour", "stands_at")
_OF_JOB = ("complaint", "booked_in_on", "promised_on")
_TELLS = ("customer", "maker", "model", "serial")


class OpenJobs:
    """Each line a range booked in, for a customer who is known or written down with it.

    Known by the number of the older books, else by customer, maker, model and serial number. What was
    done on it before is not brought in: its walk-round says how it stands.
    """

    kind = "open jobs"
    action = Action.BOOK_IN
    party_id: int | None = None

    def __init__(self, seat: Seat) -> None:
        self._seat = seat
        self._known: dict[str, int] = {}
        self._people = People()
        self._by_id: dict[int, Job] = {}
        self._alike: dict[tuple[str, ...], Job] = {}
        self._seen: dict[str, int] = {}
        self._written: dict[str, int] = {}

    @property
    def wanted(self) -> tuple[Wanted, ...]:
        return (
            Wanted("customer", say("Customer"), ("name", "owner", "customer name"), read_text(200),
                   required=True),
            Wanted("phone", say("Telephone"), ("phone", "tel", "mobile", "cell"), read_text(60)),
            Wanted("email", say("E-mail"), ("email", "mail"), read_email),
            Wanted("maker", say("Maker"), ("make", "brand"), read_text(120), required=True),
            Wanted("model", say("Model"), (), read_text(120)),
            Wanted("serial", say("Serial number"), ("serial", "serial no"), read_text(120)),
            Wanted("colour", say("Colour"), ("color", "finish"), read_text(120)),
            Wanted("stands_at", say("Where it stands"), ("bay", "place", "location", "stands at"),
                   read_text(120)),
            Wanted("complaint", say("What is to be done"), ("complaint", "problem", "work", "description",
                   "note", "notes"), read_text(4000)),
            Wanted("booked_in_on", say("Came in on"), ("came in", "received", "date in", "in"),
                   self._read_day(past=True)),
            Wanted("promised_on", say("Promised for"), ("promised", "due", "due date", "date out"),
                   self._read_day(past=False)),
            Wanted("theirs", say("Number in the older books"), ("job number", "job no", "order no", "number",
                   "id"), read_text(60)),
        )  # fmt: skip

    def begin(self, session: Session) -> None:
        rows = session.scalars(
            sa.select(Job)
            .where(Job.gone_on.is_(None), Job.ended_as == "")
            .options(sa.orm.joinedload(Job.range), sa.orm.joinedload(Job.customer))
            .order_by(Job.id)
        ).all()
        self._known = read_known(session, self.kind)
        self._people = People.of(session)
        self._by_id = {job.id: job for job in rows}
        self._alike = {_tells(job): job for job in rows}
        self._seen, self._written = {}, {}

    def judge(self, line: Line) -> str:
        values = line.values
        refuse_twice(self._seen, line, _TELLS, " ".join((values["maker"], values.get("model") or "")).strip())
        number = number_of(line)
        if number in self._known and self._known[number] not in self._by_id:
            return "same"  # it has left, or ended, since it was brought in
        told = tuple(fold(str(values.get(name) or "")) for name in _TELLS)
        job = self._by_id.get(self._known.get(number, 0)) or self._alike.get(told)
        values["record"] = job.id if job else None
        if job is None:
            party = self._people.found(values["customer"], values.get("phone"), values.get("email"))
            values["party"] = party.id if party else None
            return "new"
        verdicts = (verdict(job.range, given(line, _OF_RANGE)), verdict(job, given(line, _OF_JOB)))
        return "changed" if "changed" in verdicts else "same"

    def keep(self, work: UnitOfWork, lines: Sequence[Line]) -> None:
        for line in lines:
            record: Any = line.values["record"]
            job = work.get(Job, record, "job") if record else self._opened(work, line)
            said = given(line, _OF_JOB)
            promised: dt.date | None = said.pop("promised_on", None)
            write_on(job.range, given(line, _OF_RANGE))
            write_on(job, said)
            if promised is not None:
                promises.record(self._seat, work, job, promised, say("as brought in from the older books"))
            work.session.flush()
            work.jobs.add(job.id)
            note_known(work, self.kind, self._known, line, job.id)

    def _opened(self, work: UnitOfWork, line: Line) -> Job:
        range_ = replace(RangeDraft(), **given(line, _OF_RANGE))
        wanted = JobDraft(
            customer_id=self._customer(work, line), complaint=line.values.get("complaint") or ""
        )
        taken = intake.write_down(self._seat, work, range_, wanted, booked_in=True)
        job = work.get(Job, taken.job_id, "job")
        job.opened_on = line.values.get("booked_in_on") or job.opened_on
        return job

    def _customer(self, work: UnitOfWork, line: Line) -> int:
        """Somebody known, or written down once for all lines of the table that name them."""
        values = line.values
        if values["party"] is not None:
            return int(values["party"])
        name = fold(" ".join((values["customer"], values.get("phone") or "")))
        if name not in self._written:
            party = work.add(Party(name=values["customer"], **given(line, ("phone", "email"))))
            work.session.flush()
            self._written[name] = party.id
        return self._written[name]

    def _read_day(self, *, past: bool) -> Callable[[str], dt.date]:
        def read(cell: str) -> dt.date:
            day = self._seat.region.parse_day(cell)
            if past and day > self._seat.today:
                raise Problem(
                    "{day} has not come yet. A range came in today or before.",
                    field="booked_in_on", day=self._seat.region.day(day),
                )  # fmt: skip
            return day

        return read


def _tells(job: Job) -> tuple[str, ...]:
    customer = job.customer.name if job.customer else ""
    return tuple(fold(word) for word in (customer, job.range.maker, job.range.model, job.range.serial))
