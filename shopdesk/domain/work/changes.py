"""What a second walk, a surprise or another scope does to an order: added, gone, changed."""

from collections.abc import Iterable
from dataclasses import dataclass

from shopdesk.domain.work.order import Cause, PlannedTask


@dataclass(frozen=True, slots=True)
class TaskChange:
    """One task that stays but differs; `fields` names what differs."""

    old: PlannedTask
    new: PlannedTask
    fields: tuple[str, ...]

    @property
    def causes_added(self) -> tuple[Cause, ...]:
        return tuple(c for c in self.new.because if c not in self.old.because)

    @property
    def causes_gone(self) -> tuple[Cause, ...]:
        return tuple(c for c in self.old.because if c not in self.new.because)


@dataclass(frozen=True, slots=True)
class Changes:
    """The difference between two orders, each part in its order."""

    added: tuple[PlannedTask, ...]
    gone: tuple[PlannedTask, ...]
    changed: tuple[TaskChange, ...]

    def __bool__(self) -> bool:
        return bool(self.added or self.gone or self.changed)


_COMPARED = ("name", "count", "minutes", "parts", "outwork", "because", "after", "proofs", "holds", "hazards")


def changes(old: Iterable[PlannedTask], new: Iterable[PlannedTask]) -> Changes:
    """The shown difference between two lists of tasks, matched by code."""
    before = {task.code: task for task in old}
    now = {task.code: task for task in new}
    return Changes(
        added=tuple(task for code, task in now.items() if code not in before),
        gone=tuple(task for code, task in before.items() if code not in now),
        changed=tuple(
            TaskChange(before[code], task, differing)
            for code, task in now.items()
            if code in before and (differing := _differing(before[code], task))
        ),
    )


def _differing(old: PlannedTask, new: PlannedTask) -> tuple[str, ...]:
    return tuple(name for name in _COMPARED if _value(old, name) != _value(new, name))


def _value(task: PlannedTask, name: str) -> object:
    value = getattr(task, name)
    return frozenset(value) if name in ("because", "after", "holds") else value
