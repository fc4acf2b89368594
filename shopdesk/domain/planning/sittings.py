"""Long tasks cut into sittings, so that they fit around nights off, leave and half-days.

The planner does each task in one go. A task longer than its people's working stretches is
cut; the pieces follow each other and stay with one person.
"""

from collections.abc import Iterable
from dataclasses import replace

from shopdesk.domain.planning.instance import After, Task

HALF_DAY_SLOTS = 8


def in_sittings(tasks: Iterable[Task], longest: int = HALF_DAY_SLOTS) -> tuple[Task, ...]:
    """Handwork longer than `longest` slots as pieces `id/1`, `id/2`, ... and the last one as `id`.

    What comes after the task goes on waiting for `id`; pins and started work stay whole.
    """
    cut: list[Task] = []
    for task in tasks:
        whole = not task.by_hand or task.slots <= longest or task.pinned_start is not None or task.started
        cut += [task] if whole else _pieces(task, longest)
    return tuple(cut)


def _pieces(task: Task, longest: int) -> list[Task]:
    count = -(-task.slots // longest)
    sizes = [task.slots * (n + 1) // count - task.slots * n // count for n in range(count)]
    names = [f"{task.id}/{n + 1}" for n in range(count - 1)] + [task.id]
    pieces = []
    for n, (name, size) in enumerate(zip(names, sizes, strict=True)):
        after = task.after if n == 0 else (After(task=names[n - 1]),)
        hand = task.same_hand if n == 0 else names[0]
        pieces.append(replace(task, id=name, slots=size, after=after, same_hand=hand))
    return pieces
