"""Values of a work order: planned tasks, what caused them, what holds them."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.money import NOTHING, Spread


class CauseKind(StrEnum):
    """What may put a task on an order."""

    FINDING = "finding"
    TASK = "task"
    ROUTINE = "routine"
    NOT_SEEN = "not seen"
    HAND = "hand"  # added by a person
    CONVERSION = "conversion"  # the range is set to another gas


@dataclass(frozen=True, slots=True)
class Cause:
    """One reason for a task: `code` is a finding, task, checkpoint or the gases of a conversion."""

    kind: CauseKind
    code: str = ""

    @property
    def label(self) -> str:
        """The code, or the word "routine" where there is none."""
        return self.code or self.kind.value


ROUTINE = Cause(CauseKind.ROUTINE)


@dataclass(frozen=True, slots=True)
class PlannedPart:
    """A part the task uses up: `count` pieces at `each` cents, price in."""

    name: str
    each: Spread
    count: int

    @property
    def cents(self) -> Spread:
        return self.each.times(self.count)


@dataclass(frozen=True, slots=True)
class PlannedOutwork:
    """Pieces sent to another trade: `count` at `each` cents, away for `days`."""

    trade: str
    each: Spread
    days: Spread
    count: int

    @property
    def cents(self) -> Spread:
        return self.each.times(self.count)


@dataclass(frozen=True, slots=True)
class PlannedTask:
    """One task of one order.

    `minutes` are for the whole `count`. `after` names the tasks of this order that must be
    finished first. `holds` names the hold points it waits for. `zone` is where on the range,
    empty when no finding says so.
    """

    code: str
    name: str
    because: tuple[Cause, ...]
    after: tuple[str, ...]
    count: int
    minutes: Spread
    parts: tuple[PlannedPart, ...] = ()
    outwork: PlannedOutwork | None = None
    hazards: tuple[str, ...] = ()
    proofs: tuple[str, ...] = ()
    skills: tuple[str, ...] = ()
    station: str = "bench"
    stage: str = "repair"
    holds: tuple[str, ...] = ()
    group: str = ""
    zone: str = ""
    supplies: str = ""
    advice: str = ""

    @property
    def parts_cents(self) -> Spread:
        return total(part.cents for part in self.parts)

    @property
    def outwork_cents(self) -> Spread:
        return self.outwork.cents if self.outwork else NOTHING


@dataclass(frozen=True, slots=True)
class Hold:
    """A hold point: what raised it and which tasks wait for it."""

    code: str
    because: tuple[Cause, ...]
    tasks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WorkOrder:
    """The tasks of one job, each after what it needs; `left` are findings left as they are."""

    scope: Scope
    tasks: tuple[PlannedTask, ...]
    holds: tuple[Hold, ...] = ()
    left: tuple[str, ...] = ()

    @property
    def codes(self) -> tuple[str, ...]:
        return tuple(task.code for task in self.tasks)

    def task(self, code: str) -> PlannedTask:
        """The task by its code; KeyError when it is not on the order."""
        for task in self.tasks:
            if task.code == code:
                return task
        raise KeyError(code)

    def findings_behind(self, code: str) -> tuple[str, ...]:
        """The findings that a task goes back to, through the tasks that pulled it in."""
        seen, found, ahead = {code}, list[str](), [code]
        while ahead:
            for cause in self.task(ahead.pop(0)).because:
                if cause.kind is CauseKind.FINDING and cause.code not in found:
                    found.append(cause.code)
                elif cause.kind is CauseKind.TASK and cause.code not in seen:
                    seen.add(cause.code)
                    ahead.append(cause.code)
        return tuple(found)


def total(spreads: Iterable[Spread]) -> Spread:
    """Low with low, likely with likely, high with high: the bounds of a sum, not its likely range."""
    whole = NOTHING
    for spread in spreads:
        whole = whole.plus(spread)
    return whole
