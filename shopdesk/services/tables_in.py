"""Tables brought in: a trial run first, then all of it or what is good of it; it can be stopped.

One mechanism for whatever comes in lines. What a table is for is a `Target`: what it asks of a line
and what it makes of many. Runs in a worker; `Progress` is what the window looks at meanwhile.
"""

import threading
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Protocol

from sqlalchemy.orm import Session

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.exchange.tables_in import (
    Line,
    Matching,
    Table,
    Wanted,
    missing,
    open_table,
    read_lines,
    suggest,
)
from shopdesk.services import settings
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.price_lists import TableIn
from shopdesk.storage.unit_of_work import UnitOfWork

__all__ = [
    "BadLine",
    "Outcome",
    "Progress",
    "Stopped",
    "Table",
    "Target",
    "bring_in",
    "known_matching",
    "open_table",
    "trial",
]

BATCH = 1000
SHOWN = 500  # bad lines that are kept to be shown; all are counted


@dataclass(slots=True)
class Progress:
    """How far it is; another thread may look at it and ask it to stop."""

    lines: int = 0
    stopping: threading.Event = field(default_factory=threading.Event)

    def stop(self) -> None:
        self.stopping.set()


class Stopped(Problem):
    """A person stopped it; nothing was brought in."""


@dataclass(frozen=True, slots=True)
class BadLine:
    number: int
    problem: Problem


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came or would come of a table: lines that are new, changed, as they were, and bad."""

    lines: int
    new: int
    changed: int
    same: int
    bad: int
    bad_lines: tuple[BadLine, ...]


class Target(Protocol):
    """What a table is brought in for."""

    @property
    def kind(self) -> str:
        """Its name in the record of tables brought in."""

    @property
    def action(self) -> Action: ...

    @property
    def party_id(self) -> int | None: ...

    @property
    def wanted(self) -> tuple[Wanted, ...]:
        """What is asked of a line."""

    def begin(self, session: Session) -> None:
        """Reads what is there already."""

    def judge(self, line: Line) -> str:
        """New, changed or same; a Problem for a line that cannot stand."""

    def keep(self, work: UnitOfWork, lines: Sequence[Line]) -> None:
        """Keeps lines that are new or changed."""


def known_matching(seat: Seat, target: Target, table: Table) -> dict[str, int]:
    """The columns as they were matched for such a table before, else by their titles."""
    with seat.look() as session:
        kept = settings.read(session, settings.TableColumns).matched.get(_name(target), {})
    places = {title: at for at, title in reversed(list(enumerate(table.titles)))}
    before = {key: places[title] for key, title in kept.items() if title in places}
    return before if kept and len(before) == len(kept) else suggest(table.titles, target.wanted)


def trial(
    seat: Seat, target: Target, table: Table, matching: Matching, progress: Progress | None = None
) -> Outcome:
    """What would come of it; nothing is written."""
    _refuse_unmatched(target, matching)
    with seat.look(target.action) as session:
        target.begin(session)
        counted = _Counts()
        for line, verdict in _judged(target, table, matching, progress or Progress()):
            counted.note(line, verdict)
    return counted.outcome()


def bring_in(
    seat: Seat, target: Target, table: Table, matching: Matching, *, leave_out_bad: bool,
    progress: Progress | None = None,
) -> Outcome:  # fmt: skip
    """Brings a table in, in one transaction: the good lines, or nothing when one is bad, as chosen."""
    _refuse_unmatched(target, matching)
    with seat.change(target.action) as work:
        target.begin(work.session)
        counted, batch = _Counts(), list[Line]()
        for line, verdict in _judged(target, table, matching, progress or Progress()):
            counted.note(line, verdict)
            if line.problem is not None and not leave_out_bad:
                raise Problem(
                    "Line {number}: {what} Nothing was brought in.", number=line.number, what=line.problem
                )
            if verdict in ("new", "changed"):
                batch.append(line)
            if len(batch) == BATCH:
                target.keep(work, batch)
                batch = []
        if batch:
            target.keep(work, batch)
        _remember(work, target, table, matching)
        done = counted.outcome()
        kept = work.add(
            TableIn(
                at=work.now, kind=target.kind, file_name=table.name, sha256=table.sha256,
                party_id=target.party_id, taken=done.new + done.changed, refused=done.bad,
                staff_id=seat.acting.staff_id,
            )
        )  # fmt: skip
        work.session.flush()
        work.about(kept)
    return done


def _judged(
    target: Target, table: Table, matching: Matching, progress: Progress
) -> Iterator[tuple[Line, str]]:
    for line in read_lines(table, target.wanted, matching):
        if progress.stopping.is_set():
            raise Stopped("Stopped at line {number}. Nothing was brought in.", number=line.number)
        progress.lines += 1
        if line.problem is not None:
            yield line, "bad"
            continue
        try:
            verdict = target.judge(line)
        except Problem as problem:
            yield replace(line, problem=problem), "bad"
        else:
            yield line, verdict


class _Counts:
    def __init__(self) -> None:
        self._by: dict[str, int] = {"new": 0, "changed": 0, "same": 0, "bad": 0}
        self._bad: list[BadLine] = []

    def note(self, line: Line, verdict: str) -> None:
        self._by[verdict] += 1
        if line.problem is not None and len(self._bad) < SHOWN:
            self._bad.append(BadLine(line.number, line.problem))

    def outcome(self) -> Outcome:
        by = self._by
        return Outcome(sum(by.values()), by["new"], by["changed"], by["same"], by["bad"], tuple(self._bad))


def _refuse_unmatched(target: Target, matching: Matching) -> None:
    left = missing(target.wanted, matching)
    if left:
        raise Problem("Say which column is {what}.", field=left[0].key, what=left[0].title)


def _remember(work: UnitOfWork, target: Target, table: Table, matching: Mapping[str, int]) -> None:
    kept = settings.read(work.session, settings.TableColumns)
    named: dict[str, Any] = {key: table.titles[at] for key, at in matching.items() if at < len(table.titles)}
    if kept.matched.get(_name(target)) != named:
        settings.write(work, settings.TableColumns({**kept.matched, _name(target): named}))


def _name(target: Target) -> str:
    return f"{target.kind}/{target.party_id or ''}"
