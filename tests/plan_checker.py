"""Says what is wrong with a plan, from the instance alone: none of the planner's own code.

Slot by slot, slow and plain on purpose. Each fault is a sentence; an empty list is a plan
that keeps order, lags, rooms, skills, working times, dates, pins and yesterday's counts.
"""

from collections import Counter

from shopdesk.domain.planning.instance import Instance, Plan, Task


def faults(instance: Instance, plan: Plan) -> list[str]:
    """Everything the plan breaks."""
    missing = [task.id for task in instance.tasks if task.id not in plan.placed]
    if missing:
        return [f"{name} is not placed" for name in missing]
    found = list[str]()
    if set(plan.placed) != {task.id for task in instance.tasks}:
        found.append("the plan places tasks that do not exist")
    for task in instance.tasks:
        found += _times(task, plan)
        found += _person(instance, task, plan)
    found += _order(instance, plan)
    found += _people(instance, plan)
    found += _rooms(instance, plan)
    found += _costs(instance, plan)
    return found


def _times(task: Task, plan: Plan) -> list[str]:
    at, found = plan.placed[task.id], list[str]()
    if at.end - at.start != task.slots:
        found.append(f"{task.id} takes {at.end - at.start} slots instead of {task.slots}")
    if at.start < 0:
        found.append(f"{task.id} begins before the plan")
    wanted = task.pinned_start if task.pinned_start is not None else (0 if task.started else None)
    if wanted is not None:
        if at.start != wanted:
            found.append(f"{task.id} left its pin at {wanted} for {at.start}")
        return found
    if task.earliest is None or at.start < task.earliest:
        found.append(f"{task.id} begins at {at.start}, before {task.earliest}")
    if task.starts is not None and at.start not in task.starts:
        found.append(f"{task.id} begins at {at.start}, not on one of its days")
    return found


def _person(instance: Instance, task: Task, plan: Plan) -> list[str]:
    who = plan.placed[task.id].person
    if not task.by_hand:
        return [] if who is None else [f"{task.id} needs nobody but has {who}"]
    person = next((each for each in instance.people if each.id == who), None)
    if person is None:
        return [f"{task.id} has nobody"]
    found = []
    # Work already begun stays with whoever began it, skill on paper or not.
    kept = task.started and task.pinned_person is not None
    if not kept and not task.skills <= person.skills:
        found.append(f"{task.id} is given to {who}, who lacks {task.skills - person.skills}")
    if not kept and task.people is not None and who not in task.people:
        found.append(f"{task.id} is given to {who}, who may not do it")
    if task.pinned_person is not None and who != task.pinned_person:
        found.append(f"{task.id} left its person {task.pinned_person}")
    if task.same_hand is not None and plan.placed[task.same_hand].person != who:
        found.append(f"{task.id} and {task.same_hand} have different people")
    return found


def _order(instance: Instance, plan: Plan) -> list[str]:
    found = []
    for task in instance.tasks:
        for link in task.after:
            ready = plan.placed[link.task].end + link.lag
            if not task.started and plan.placed[task.id].start < ready:
                found.append(f"{task.id} begins before {link.task} and its lag are over")
    return found


def _people(instance: Instance, plan: Plan) -> list[str]:
    busy: Counter[tuple[str, int]] = Counter()
    for at in plan.placed.values():
        if at.person is not None:
            busy.update((at.person, slot) for slot in range(at.start, at.end))
    away = {
        (each.id, slot) for each in instance.people for first, last in each.off for slot in range(first, last)
    }
    found = [f"{who} does two things in slot {slot}" for (who, slot), count in busy.items() if count > 1]
    return found + [f"{who} works in slot {slot} but is away" for who, slot in busy if (who, slot) in away]


def _rooms(instance: Instance, plan: Plan) -> list[str]:
    used: Counter[tuple[str, int]] = Counter()
    for task in instance.tasks:
        at = plan.placed[task.id]
        for station, amount in task.uses:
            for slot in range(at.start, at.end):
                used[station, slot] += amount
    room = {each.id: each.capacity for each in instance.stations}
    shut = {
        (each.id, slot)
        for each in instance.stations
        for first, last in each.off
        for slot in range(first, last)
    }
    return [
        f"{station} is over full or shut in slot {slot}"
        for (station, slot), amount in used.items()
        if amount > (0 if (station, slot) in shut else room[station])
    ]


def _costs(instance: Instance, plan: Plan) -> list[str]:
    ends: dict[str, int] = {each.id: 0 for each in instance.ranges}
    for task in instance.tasks:
        ends[task.range_id] = max(ends[task.range_id], plan.placed[task.id].end)
    late = sum(
        each.weight * max(0, ends[each.id] - each.due) for each in instance.ranges if each.due is not None
    )
    changes = 0
    for name, was in instance.yesterday.items():
        if name in plan.placed:
            now = plan.placed[name]
            other = was.person is not None and now.person != was.person
            changes += other or abs(now.start - was.start) > 8
    said = (plan.cost.lateness, plan.cost.changes, plan.cost.finish)
    meant = (late, changes, sum(ends.values()))
    found = [] if said == meant else [f"the plan says it costs {said}, but it costs {meant}"]
    if plan.least_lateness > late:
        found.append("the plan is less late than it claims possible")
    return found
