"""Hours that learn: what the shop's own work says about the catalogue's hours.

The owner takes or leaves it; the catalogue keeps both.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, replace

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.catalogue.model import Task as CatalogueTask
from shopdesk.domain.learning import Done, Learned, Pooled, learn, scaled
from shopdesk.domain.money import Spread
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import settings, shops
from shopdesk.services.seat import Seat, changed_catalogue
from shopdesk.storage.tables.bench import HoursWord
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.tables.work import Task, TimeEntry

FEWEST_JOBS = 3
LEAST_CHANGE = 0.1
"""Hours that would move by less than a tenth are not proposed: nobody plans so finely."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """New hours for a kind of task, in minutes each; `own` is None while the shipped ones stand.

    `jobs` stand behind it; `ratio` is actual over shipped, pooled; `plain` without pooling.
    """

    task_code: str
    name: str
    jobs: int
    shipped: Spread
    own: Spread | None
    proposed: Spread
    ratio: float
    plain: float


@dataclass(frozen=True, slots=True)
class PersonPace:
    """How a person's hours compare with the shop's on the same kinds of task; 1 is the same."""

    name: str
    jobs: int
    ratio: float
    beyond_doubt: bool


@dataclass(frozen=True, slots=True)
class OwnHours:
    """Both hours of a kind of task, and the owner's last word on them."""

    task_code: str
    name: str
    shipped: Spread
    own: Spread
    since: dt.datetime | None
    by: str


def before_own_hours(session: Session) -> Mapping[str, CatalogueTask]:
    """The catalogue's tasks with the hours they came with, the shop's own tasks among them."""
    kept = settings.read(session, settings.CatalogueChanges)
    rest = {kind: change for kind, change in kept.catalogue.items() if kind != "hours"}
    return changed_catalogue(replace(kept, catalogue=rest)).tasks


def proposals(seat: Seat) -> list[Proposal]:
    """Hours worth changing, the largest change first; what was left comes again with new jobs only."""
    with seat.look(Action.SEE_COSTS) as session:
        shipped = before_own_hours(session)
        learned = learn(done_tasks(session, shipped))
        last = _last_words(session)
    found = []
    for code, pooled in learned.kinds.items():
        proposal = _proposal(seat, shipped[code], pooled)
        word = last.get(code)
        fresh = word is None or pooled.jobs >= word.jobs + FEWEST_JOBS
        if proposal is not None and fresh:
            found.append(proposal)
    return sorted(found, key=lambda p: (-abs(p.proposed.likely - _now(p).likely), p.task_code))


def people_pace(seat: Seat) -> list[PersonPace]:
    """Each person's pace, for planning; pooled, so that a few tasks say little."""
    with seat.look(Action.SEE_COSTS) as session:
        learned: Learned = learn(done_tasks(session, before_own_hours(session)))
    return [PersonPace(name, p.jobs, p.ratio, p.beyond_doubt()) for name, p in sorted(learned.people.items())]


def take_proposal(seat: Seat, task_code: str) -> None:
    """The proposed hours become the shop's own; the shipped ones stay beside them."""
    _decide(seat, task_code, taken=True)


def leave_proposal(seat: Seat, task_code: str) -> None:
    """The hours stay; the same proposal does not come again before more jobs were done."""
    _decide(seat, task_code, taken=False)


def back_to_shipped(seat: Seat, task_code: str) -> None:
    """The shop's own hours of a task go; the shipped ones hold again."""
    changes = shops.setting(seat, settings.CatalogueChanges)
    hours = {code: minutes for code, minutes in _own(changes).items() if code != task_code}
    shops.keep_setting(seat, replace(changes, catalogue={**changes.catalogue, "hours": hours}))


def own_hours(seat: Seat) -> list[OwnHours]:
    """Tasks whose hours are the shop's own, with the shipped ones beside them."""
    changes = shops.setting(seat, settings.CatalogueChanges)
    with seat.look() as session:
        shipped = before_own_hours(session)
        last = _last_words(session)
        names = dict(session.execute(sa.select(Staff.id, Staff.name)).all())
    rows = []
    for code, minutes in sorted(_own(changes).items()):
        if code in shipped:
            word = last.get(code)
            rows.append(
                OwnHours(
                    code, shipped[code].name, shipped[code].minutes, Spread(*minutes),
                    word.at if word else None, names.get(word.staff_id, "") if word else "",
                )
            )  # fmt: skip
    return rows


def done_tasks(session: Session, shipped: Mapping[str, CatalogueTask]) -> list[Done]:
    """Finished tasks with hours on them, split ones together, against the shipped hours."""
    minutes, most = _worked(session)
    family: dict[int, list[Task]] = {}
    for task in session.scalars(sa.select(Task).where(Task.dropped == False).order_by(Task.id)):
        family.setdefault(task.split_from_id or task.id, []).append(task)
    done = []
    for root_id, tasks in family.items():
        root = next((t for t in tasks if t.id == root_id), None)
        entry = shipped.get(root.code) if root else None
        if root is None or entry is None or any(t.done_share < 100 for t in tasks):
            continue
        actual = sum(minutes.get(t.id, 0) for t in tasks)
        if actual:
            estimate = entry.minutes.likely * root.count
            done.append(Done(root.code, most.get(root.id, ""), estimate, actual))
    return done


def _worked(session: Session) -> tuple[dict[int, int], dict[int, str]]:
    """Minutes by task, and the person with two thirds of them or more."""
    by_task: dict[int, dict[str, int]] = {}
    for task_id, name, minutes in session.execute(
        sa.select(TimeEntry.task_id, Staff.name, sa.func.sum(TimeEntry.minutes))
        .join(Staff, Staff.id == TimeEntry.staff_id)
        .where(TimeEntry.minutes.is_not(None))
        .group_by(TimeEntry.task_id, Staff.name)
    ):
        by_task.setdefault(task_id, {})[name] = int(minutes or 0)
    total = {task_id: sum(of.values()) for task_id, of in by_task.items()}
    mostly = {
        task_id: name
        for task_id, of in by_task.items()
        for name, worked in of.items()
        if worked * 3 >= total[task_id] * 2
    }
    return total, mostly


def _proposal(seat: Seat, shipped: CatalogueTask, pooled: Pooled) -> Proposal | None:
    code = shipped.code
    now = seat.catalogue.tasks[code].minutes if code in seat.catalogue.tasks else shipped.minutes
    proposed = scaled(shipped.minutes, pooled.ratio)
    moved = abs(proposed.likely - now.likely) >= max(1, LEAST_CHANGE * now.likely)
    own = now if now != shipped.minutes else None
    if pooled.jobs < FEWEST_JOBS or not moved or (own is None and not pooled.beyond_doubt()):
        return None
    plain = Pooled(code, pooled.jobs, pooled.own, pooled.own, 0.0, 1.0).ratio
    return Proposal(code, shipped.name, pooled.jobs, shipped.minutes, own, proposed, pooled.ratio, plain)


def _now(proposal: Proposal) -> Spread:
    return proposal.own or proposal.shipped


def _decide(seat: Seat, task_code: str, *, taken: bool) -> None:
    proposal = next((p for p in proposals(seat) if p.task_code == task_code), None)
    if proposal is None:
        raise Problem("Nothing is proposed for {task} now.", task=task_code)
    with seat.change(Action.SET_UP) as work:
        word = work.add(
            HoursWord(
                task_code=task_code, at=work.now, staff_id=seat.acting.staff_id, taken=taken,
                jobs=proposal.jobs, shipped=_minutes(proposal.shipped), proposed=_minutes(proposal.proposed),
            )
        )  # fmt: skip
        if taken:
            changes = settings.read(work.session, settings.CatalogueChanges)
            hours = {**_own(changes), task_code: _minutes(proposal.proposed)}
            settings.write(work, replace(changes, catalogue={**changes.catalogue, "hours": hours}))
        work.session.flush()
        work.about(word)


def _own(changes: settings.CatalogueChanges) -> Mapping[str, list[int]]:
    hours: Mapping[str, list[int]] = changes.catalogue.get("hours", {})
    return hours


def _minutes(spread: Spread) -> list[int]:
    return [spread.low, spread.likely, spread.high]


def _last_words(session: Session) -> dict[str, HoursWord]:
    return {row.task_code: row for row in session.scalars(sa.select(HoursWord).order_by(HoursWord.id))}
