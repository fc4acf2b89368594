"""Refusing what must wait, in a sentence: a tick while anything is waited for, a start at a hold point."""

from sqlalchemy.orm import Session

from shopdesk.domain.problem import Problem
from shopdesk.services.waiting import Wait, Waiting
from shopdesk.storage.tables.work import Task

_SENTENCES = {
    "agreement": "“{name}” waits for the customer's agreement {what}. Ask the counter.",
    "unasked": "“{name}” came onto the order beside what is agreed. Ask by a change order first.",
    "laboratory": "“{name}” waits for the laboratory's answer. Nobody judges old insulation by eye.",
    "gas-off": "“{name}” waits for the gas to be off and capped: “{what}” is not ticked. No drill and no "
    "heat near a gas train before that; local code and licensed practice decide.",
    "gas-train-out": "“{name}” is done on the bench, with the gas train out of the range: “{what}” is not "
    "ticked. What is seized is never forced.",
    "tightness": "“{name}” lights something: {what}. Prove the assembled range tight first, and record it.",
    "task": "“{name}” stands after “{what}”. Tick that first.",
    "part": "“{name}” waits for a part: {what}. Take it in at Stores, or call it off.",
    "outwork": "“{name}” waits for {what}, which is out. Take it back at Stores.",
    "card": "“{name}” waits for the thermostat card: {what}. Fill it in first.",
    "blocked": "“{name}” is blocked: {what}. Free it first.",
}


def refuse_if_waiting(session: Session, task: Task, job_id: int) -> None:
    """Refuses to tick a task, in part too, while it waits; the first reason speaks."""
    waits = Waiting(session, {job_id}).of(task, job_id)
    if waits:
        raise _refusal(task, waits[0])


def refuse_start(session: Session, task: Task, job_id: int) -> None:
    """Refuses to start the clock at a hold point or before anything is agreed; nothing else stops it."""
    stopping = [w for w in Waiting(session, {job_id}).of(task, job_id) if w.stops_the_start]
    if stopping:
        raise _refusal(task, stopping[0])


def _refusal(task: Task, wait: Wait) -> Problem:
    return Problem(_SENTENCES[wait.kind], name=task.name, what=wait.what)
