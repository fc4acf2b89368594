"""The traveller: the job's tasks in order, with what the bench needs to know at each."""

from collections.abc import Mapping

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.documents.facts import CautionFacts, TagFacts, TaskFacts, TravellerFacts
from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.money import Spread
from shopdesk.domain.work.holds import LABORATORY
from shopdesk.services import stages
from shopdesk.services.because import because, telling
from shopdesk.services.papers.heads import range_facts, shop_head
from shopdesk.services.papers.quote import scope_name
from shopdesk.services.papers.words import cautions_for, shortened, stage_name
from shopdesk.services.seat import Seat
from shopdesk.services.tag_words import lies_words, out_of, place_words
from shopdesk.storage.tables.ranges import Job
from shopdesk.storage.tables.stores import Need
from shopdesk.storage.tables.work import HoldAnswer, Task
from shopdesk.wording import say
from shopdesk.wording.guides import guide_in_units

_CAUSES = 4  # as many as a technician reads before the work


def traveller_facts(seat: Seat, session: Session, job: Job, number: str) -> TravellerFacts:
    tasks = list(stages.tasks_of(session, job.id))
    places = {task.id: place for place, task in enumerate(tasks, start=1)}
    needs = _needs(session, [task.id for task in tasks])
    answered = session.scalar(
        sa.select(HoldAnswer.id).where(HoldAnswer.job_id == job.id, HoldAnswer.hold == LABORATORY).limit(1)
    )
    hazards = {code for task in tasks for code in task.hazards}
    due = sorted(stages.proofs_due(session, seat.catalogue, job), key=lambda kind: kind.order)
    return TravellerFacts(
        shop=shop_head(seat, session),
        number=number,
        day=seat.today,
        range=range_facts(job.range, seat.region),
        scope=scope_name(Scope(job.scope)),
        tasks=tuple(
            _task(seat, task, places, needs.get(task.id, []), waits=answered is None) for task in tasks
        ),
        cautions=tuple(
            CautionFacts(c.code, c.name, guide_in_units(c.text, seat.region), c.defer_to)
            for c in cautions_for(seat.catalogue, hazards)
        ),
        proofs=tuple(kind.name for kind in due),
        promised_on=job.promised_on,
        qr=f"shopdesk:range/{job.range.number}",
        notes=_notes(job),
        tags=tuple(
            TagFacts(
                number=tag.number,
                what=tag.what,
                how_many=tag.how_many,
                goes_back=place_words(tag),
                lies_at=lies_words(tag),
                task=places.get(tag.task_id or 0),
            )
            for tag in out_of(session, job.id)
        ),
    )


def _task(seat: Seat, task: Task, places: Mapping[int, int], needs: list[Need], *, waits: bool) -> TaskFacts:
    proving = task.stage == "proving"
    return TaskFacts(
        place=places[task.id],
        name=task.name if task.count == 1 else f"{task.name} × {task.count}",
        minutes=Spread(task.minutes_low, task.minutes_likely, task.minutes_high),
        stage=stage_name(task.stage),
        station=say(task.station),
        skill=", ".join(say(skill) for skill in task.skills),
        because=_causes(seat, task),
        after=tuple(sorted(places[a.after_task_id] for a in task.after if a.after_task_id in places)),
        cautions=tuple(c.code for c in cautions_for(seat.catalogue, task.hazards)),
        parts=tuple(_part(need) for need in needs),
        outwork=_outwork(task),
        readings=_readings(seat, task) if proving else (),
        advice=_advice(seat, task, waits),
        reopens=() if proving else _proof_names(seat, task),
        done=task.done_share == 100,
    )


def _causes(seat: Seat, task: Task) -> tuple[str, ...]:
    told = (because(seat.catalogue, c.kind, c.code) for c in telling(task.causes))
    return shortened(told, _CAUSES)


def _part(need: Need) -> str:
    left = need.quantity - need.covered - need.called_off
    name = f"{need.quantity} × {need.name}"
    return say("{part} ({count} still to come)", part=name, count=left) if left > 0 else name


def _outwork(task: Task) -> str:
    if not task.outwork_trade:
        return ""
    trade = say(task.outwork_trade)
    if not task.outwork_days:
        return trade
    return say("{trade}, about {days} days away", trade=trade, days=task.outwork_days)


def _readings(seat: Seat, task: Task) -> tuple[str, ...]:
    """What the task's proofs ask to be read, each once."""
    kinds = [seat.catalogue.proofs[code] for code in task.proofs if code in seat.catalogue.proofs]
    names = (name for kind in sorted(kinds, key=lambda k: k.order) for name in kind.readings)
    return tuple(dict.fromkeys(names))


def _proof_names(seat: Seat, task: Task) -> tuple[str, ...]:
    kinds = [seat.catalogue.proofs[code] for code in task.proofs if code in seat.catalogue.proofs]
    return tuple(kind.name for kind in sorted(kinds, key=lambda k: k.order))


def _advice(seat: Seat, task: Task, waits: bool) -> str:
    known = seat.catalogue.tasks.get(task.code)
    held = say("Not before the laboratory has answered.") if waits and LABORATORY in task.holds else ""
    blocked = say("Blocked: {because}.", because=task.blocked_because) if task.blocked_because else ""
    return " ".join(text for text in (held, known.advice if known else "", task.note, blocked) if text)


def _needs(session: Session, task_ids: list[int]) -> dict[int, list[Need]]:
    by_task: dict[int, list[Need]] = {}
    for need in session.scalars(sa.select(Need).where(Need.task_id.in_(task_ids)).order_by(Need.id)):
        by_task.setdefault(need.task_id, []).append(need)
    return by_task


def _notes(job: Job) -> tuple[str, ...]:
    told = say("The customer's account: {trouble}", trouble=job.complaint) if job.complaint else ""
    stands = say("It stands at: {place}", place=job.range.stands_at) if job.range.stands_at else ""
    return tuple(text for text in (told, stands, job.range.note) if text)
