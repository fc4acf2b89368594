"""The order of a work order's rows: places that follow what tasks wait for, split tasks kept together."""

from shopdesk.storage.tables.work import Task, TaskAfter, WorkOrder


def settle_places(order: WorkOrder) -> None:
    """Numbers the tasks anew: each after what it waits for, split ones beside what they came from."""
    tasks = {t.id: t for t in order.tasks if not t.dropped}
    ranks = {key: _rank(tasks, task) for key, task in tasks.items()}
    left = {key: {a.after_task_id for a in t.after if a.after_task_id in tasks} for key, t in tasks.items()}
    place = 0
    while left:
        free = [key for key, earlier in left.items() if not earlier] or list(left)
        key = min(free, key=lambda k: ranks[k])
        del left[key]
        place += 1
        tasks[key].place = place
        for earlier in left.values():
            earlier.discard(key)


def put_where_moved(order: WorkOrder) -> None:
    """Tasks moved by hand stand at the places they were moved to; the others keep their order around them."""
    live = sorted((t for t in order.tasks if not t.dropped), key=lambda t: (t.place, t.id))
    row = [task for task in live if "place" not in task.by_hand]
    for task in live:
        if "place" in task.by_hand:
            row.insert(min(task.place - 1, len(row)), task)
    for place, task in enumerate(row, 1):
        task.place = place


def _rank(tasks: dict[int, Task], task: Task) -> tuple[int, int, int]:
    root = tasks.get(task.split_from_id or task.id, task)
    return root.place, int(task.split_from_id is not None), task.id


def link_split_parts(order: WorkOrder) -> None:
    """What waits for a task waits for its split parts too, and for nothing of them otherwise."""
    parts: dict[int, list[int]] = {}
    for task in order.tasks:
        if task.split_from_id is not None:
            parts.setdefault(task.split_from_id, []).append(task.id)
    for task in order.tasks:
        root = task.split_from_id
        waits = {a.after_task_id for a in task.after}
        for of, keys in parts.items():
            if root == of:
                continue  # parts of one task stand among themselves as they were split
            for key in keys:
                if of in waits and key not in waits:
                    task.after.append(TaskAfter(after_task_id=key))
                elif of not in waits and key in waits:
                    task.after.remove(next(a for a in task.after if a.after_task_id == key))


def waits_for(order: WorkOrder, late: Task, early: Task) -> bool:
    """Whether one task of an order stands after another, however far."""
    tasks = {t.id: t for t in order.tasks}
    ahead, seen = [late.id], {late.id}
    while ahead:
        for after in tasks[ahead.pop()].after:
            if after.after_task_id == early.id:
                return True
            if after.after_task_id in tasks and after.after_task_id not in seen:
                seen.add(after.after_task_id)
                ahead.append(after.after_task_id)
    return False
