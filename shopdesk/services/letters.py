"""Letters by the shop's own clocks: which are due, written in their order, each kept as a paper."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.documents.facts import LetterFacts
from shopdesk.documents.papers import render
from shopdesk.domain.letters import Course, Due, next_letter
from shopdesk.domain.problem import NotFound, Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.stage import Stage
from shopdesk.services import settings, stages
from shopdesk.services.accounts import open_invoices, same_party
from shopdesk.services.letter_texts import default_text, filled, kind_of, subject
from shopdesk.services.owed import issued_invoices, open_of
from shopdesk.services.papers.heads import party_facts, range_facts, shop_head
from shopdesk.services.papers.keeping import keep_paper
from shopdesk.services.questions import open_question
from shopdesk.services.seat import Seat
from shopdesk.services.statements import open_bill
from shopdesk.services.storage_clock import StorageClock, storage_of
from shopdesk.storage.tables.counter import Invoice, Letter, Paper
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class DueLetter:
    """A letter whose day has come."""

    course: Course
    step: int
    last: bool
    on: dt.date
    since: dt.date
    job_id: int
    invoice_id: int | None
    party_id: int
    customer: str
    range_number: str
    number: str  # of the invoice
    open_cents: int


@dataclass(frozen=True, slots=True)
class SentLetter:
    """A letter that was written."""

    kind: str
    on_day: dt.date
    paper: str
    title: str
    job_id: int | None
    invoice_id: int | None


@dataclass(frozen=True, slots=True)
class Mail:
    """What a mail draft of a letter needs: whom it goes to, its subject and text, the paper to attach."""

    to: str
    name: str
    subject: str
    text: str
    paper: str


def due_letters(seat: Seat) -> list[DueLetter]:
    """Every letter whose day has come, the longest due first; none while a question is open."""
    with seat.look() as session:
        clocks = settings.read(session, settings.Clocks)
        found = [*_ready_letters(seat, session, clocks), *_reminders(seat, session, clocks)]
        return sorted(found, key=lambda each: (each.on, each.customer))


def preview_letter(seat: Seat, due: DueLetter) -> bytes:
    """The letter as it would be, without a number; nothing is written."""
    with seat.look() as session:
        return render(_facts(seat, session, due, ""))


def write_letter(seat: Seat, due: DueLetter) -> str:
    """Writes a due letter and keeps its paper; returns its number. Out of its order it is refused."""
    with seat.change(Action.WRITE_LETTER) as work:
        clocks = settings.read(work.session, settings.Clocks)
        job = work.get(Job, due.job_id, "job")
        if open_question(work.session, job.id) is not None:
            raise Problem(
                "The customer questions {number}. Close the question before a letter goes out.",
                number=job.range.number,
            )
        now = _due(work.session, clocks, due, seat.today)
        if now is None or now.step != due.step:
            raise Problem("This letter is not the next one any more. Look at the list again.")
        number = work.take_number("letter")
        facts = _facts(seat, work.session, due, number)
        title = say("{subject}, {number}", subject=facts.subject, number=number)
        paper = keep_paper(work, "letter", number, title, facts, job_id=due.job_id, party_id=due.party_id)
        row = work.add(
            Letter(
                kind=kind_of(due.course, due.step),
                job_id=due.job_id,
                invoice_id=due.invoice_id,
                party_id=due.party_id,
                on_day=seat.today,
                paper_id=paper.id,
            )
        )
        work.session.flush()
        work.about(row, due.job_id)
        return number


def letters(seat: Seat, *, job_id: int | None = None, party_id: int | None = None) -> list[SentLetter]:
    """Letters that were written, the newest first."""
    query = sa.select(Letter, Paper.number, Paper.title).join(Paper, Paper.id == Letter.paper_id)
    if job_id is not None:
        query = query.where(Letter.job_id == job_id)
    with seat.look() as session:
        if party_id is not None:
            query = query.where(Letter.party_id.in_(same_party(session, party_id)))
        rows = session.execute(query.order_by(Letter.id.desc()))
        return [
            SentLetter(row.kind, row.on_day, number, title, row.job_id, row.invoice_id)
            for row, number, title in rows
        ]


def mail_of(seat: Seat, paper: str) -> Mail:
    """What a mail draft of a written letter holds."""
    with seat.look() as session:
        found = session.execute(
            sa.select(Paper, Party).join(Letter, Letter.paper_id == Paper.id)
            .join(Party, Party.id == Letter.party_id).where(Paper.number == paper)
        ).first()  # fmt: skip
        if found is None:
            raise NotFound("There is no letter {number} in this shop. Check the number.", number=paper)
        kept, party = found
        text = "\n\n".join((*kept.facts["paragraphs"], kept.facts["shop"]["name"]))
        return Mail(party.email, party.name, kept.facts["subject"], text, paper)


def _ready_letters(seat: Seat, session: Session, clocks: settings.Clocks) -> list[DueLetter]:
    jobs = session.scalars(
        sa.select(Job)
        .where(Job.stage == Stage.READY.value, Job.customer_id.is_not(None))
        .options(sa.orm.joinedload(Job.customer), sa.orm.joinedload(Job.range))
        .order_by(Job.id)
    )
    found = []
    for job in jobs:
        since = ready_since(seat, session, job)
        if since is None or job.customer is None or open_question(session, job.id) is not None:
            continue
        due = next_letter(
            Course.READY, since, clocks.ready_days, _sent(session, Course.READY, job_id=job.id), seat.today
        )
        if due is not None:
            found.append(
                DueLetter(
                    due.course, due.step, due.last, due.on, since, job.id, None, job.customer.id,
                    job.customer.name, job.range.number, "", stages.balance(session, job.id),
                )
            )  # fmt: skip
    return found


def _reminders(seat: Seat, session: Session, clocks: settings.Clocks) -> list[DueLetter]:
    bills = session.scalars(
        issued_invoices(Invoice.due_on < seat.today).options(
            sa.orm.joinedload(Invoice.customer), sa.orm.joinedload(Invoice.job).joinedload(Job.range)
        )
    ).all()
    standing = open_of(session, bills)
    found = []
    for bill in bills:
        asked = standing[bill.id].asked_cents
        if asked <= 0 or bill.due_on is None or open_question(session, bill.job_id) is not None:
            continue
        sent = _sent(session, Course.REMINDER, invoice_id=bill.id)
        due = next_letter(Course.REMINDER, bill.due_on, clocks.reminder_days, sent, seat.today)
        if due is not None:
            found.append(
                DueLetter(
                    due.course, due.step, due.last, due.on, bill.due_on, bill.job_id, bill.id,
                    bill.customer.merged_into_id or bill.customer_id, bill.customer.name,
                    bill.job.range.number, bill.number or "", asked,
                )
            )  # fmt: skip
    return found


def ready_since(seat: Seat, session: Session, job: Job) -> dt.date | None:
    """The day the release was given that makes a range ready."""
    release = stages.last_release(session, job.id)
    return seat.region.local_day(release.at) if release is not None else None


def _due(session: Session, clocks: settings.Clocks, due: DueLetter, today: dt.date) -> Due | None:
    days = clocks.ready_days if due.course is Course.READY else clocks.reminder_days
    sent = _sent(session, due.course, job_id=due.job_id, invoice_id=due.invoice_id)
    return next_letter(due.course, due.since, days, sent, today)


def _sent(
    session: Session, course: Course, *, job_id: int | None = None, invoice_id: int | None = None
) -> list[dt.date]:
    query = sa.select(Letter.on_day).where(Letter.kind.startswith(course.value)).order_by(Letter.id)
    if course is Course.READY:
        return list(session.scalars(query.where(Letter.job_id == job_id)))
    return list(session.scalars(query.where(Letter.invoice_id == invoice_id)))


def _facts(seat: Seat, session: Session, due: DueLetter, number: str) -> LetterFacts:
    job, party = session.get_one(Job, due.job_id), session.get_one(Party, due.party_id)
    shop = shop_head(seat, session)
    storage = storage_of(seat, session, job)
    own = settings.read(session, settings.Letters).texts.get(kind_of(due.course, due.step), "")
    charged = due.course is Course.READY and storage.daily_cents > 0
    template = own or default_text(due.course, due.step, last=due.last, storage=charged)
    bills = [
        bill
        for bill in open_invoices(session, same_party(session, party.id))
        if due.invoice_id in (None, bill.id) and (due.invoice_id or bill.job_id == job.id)
    ]
    return LetterFacts(
        shop=shop,
        number=number,
        day=seat.today,
        customer=party_facts(party),
        subject=subject(due.course, due.step, last=due.last),
        paragraphs=filled(template, _words(seat, due, party, job, storage, shop.name)),
        range=range_facts(job.range, seat.region),
        bills=tuple(open_bill(bill) for bill in bills),
    )


def _words(
    seat: Seat, due: DueLetter, party: Party, job: Job, storage: StorageClock, shop: str
) -> dict[str, str]:  # fmt: skip
    region = seat.region
    free_until = storage.free_until
    return {
        "name": party.name,
        "range": job.range.number,
        "shop": shop,
        "amount": region.money(due.open_cents),
        "number": due.number,
        "due": region.day_long(due.since),
        "day": region.day_long(due.since),
        "free_until": region.day_long(free_until) if free_until else "",
        "daily": region.money(storage.daily_cents),
        "storage": region.money(storage.cents),
    }
