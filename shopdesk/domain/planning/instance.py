"""What there is to plan: tasks in order, people, stations, ranges. Values only, no search.

The same values hold a plain resource-constrained project: stations with a capacity, tasks
that use some of it, no people, and one range due at slot 0, so that its lateness is the
length of the project.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

Span = tuple[int, int]
"""Half-open stretch of working half-hours: first slot, slot after the last."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Someone at the bench, with the slots of the shop's week in which they are not there."""

    id: str
    name: str
    skills: frozenset[str] = frozenset()
    off: tuple[Span, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """A place with room for so many at once (bays, bench, oven), closed in the slots of `off`."""

    id: str
    name: str
    capacity: int = 1
    off: tuple[Span, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """One range in the shop. `due` is the slot by which it should be finished, None if not promised."""

    id: str
    name: str
    due: int | None = None
    weight: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class After:
    """A task that must be finished first, and for how many slots longer one must wait (cure, cooling)."""

    task: str
    lag: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One piece of work, done in one go of `slots` half-hours by one person or by nobody.

    `by_hand` False is time without people: outwork, curing, a part on its way.
    `skills` must all be found in the one person; `people` narrows who may do it.
    `uses` names stations and how much room of each. `earliest` is the first slot it may
    begin (a part's date); None says nobody knows, and `waits_for` what it waits for.
    `starts` are the only slots at which it may begin (days on which the plater collects).
    `pinned_start` and `pinned_person` are kept as they are. `started` work stays where it
    is pinned (slot 0 if not said) and no longer waits for what comes before it.
    `same_hand` names the task whose person must do this one as well (a task cut into sittings).
    """

    id: str
    name: str
    range_id: str
    slots: int
    by_hand: bool = True
    skills: frozenset[str] = frozenset()
    people: frozenset[str] | None = None
    uses: tuple[tuple[str, int], ...] = ()
    after: tuple[After, ...] = ()
    earliest: int | None = 0
    waits_for: str = ""
    starts: tuple[int, ...] | None = None
    pinned_start: int | None = None
    pinned_person: str | None = None
    started: bool = False
    same_hand: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """Where a task stands in a plan: slots from `start` up to `end`, and who does it."""

    start: int
    end: int
    person: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Instance:
    """Everything a plan is made from. `yesterday` is the plan in force, in today's slots."""

    tasks: tuple[Task, ...]
    ranges: tuple[Range, ...]
    people: tuple[Person, ...] = ()
    stations: tuple[Station, ...] = ()
    yesterday: Mapping[str, Placed] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, order=True)
class Cost:
    """What makes one plan better than another, in this order.

    `lateness`: slots late times weight, summed over ranges. `changes`: tasks that another
    person does or that move by more than half a day against yesterday's plan. `finish`:
    the ranges' last slots, summed.
    """

    lateness: int
    changes: int
    finish: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Every task placed. `found_by` says which search made it; `proven`: no plan has less lateness."""

    placed: Mapping[str, Placed]
    cost: Cost
    found_by: str
    proven: bool = False
    least_lateness: int = 0

    def finish(self, instance: Instance, range_id: str) -> int:
        """The slot after the last work on a range; 0 when it has no task."""
        ends = [self.placed[task.id].end for task in instance.tasks if task.range_id == range_id]
        return max(ends, default=0)
