"""The instance turned into numbered lists, as the searches need it, with its longest paths."""

from dataclasses import dataclass

from shopdesk.domain.planning.instance import Cost, Instance, Placed, Plan, Task

HALF_DAY = 8
"""Slots a task may move before it counts as a change (half of an eight-hour day)."""

NEVER = 1 << 20
"""Stands for the due slot of a range without a promise."""


@dataclass(frozen=True, slots=True)
class Draft:
    """A plan in numbers: start slot and person (-1: nobody) of every task."""

    start: list[int]
    person: list[int]


class Net:
    """Tasks, people, stations and ranges by number. Built once per instance, read only after that."""

    def __init__(self, instance: Instance) -> None:
        self.instance = instance
        tasks = instance.tasks
        self.size = len(tasks)
        self.number = {task.id: i for i, task in enumerate(tasks)}
        range_number = {each.id: i for i, each in enumerate(instance.ranges)}
        self.range_of = [range_number[task.range_id] for task in tasks]
        self.slots = [task.slots for task in tasks]
        self.earliest = [task.earliest or 0 for task in tasks]
        self.pin = [_pin(task) for task in tasks]
        self.starts = [task.starts for task in tasks]
        self._link(tasks)
        self._equip(instance)
        self.due = [each.due for each in instance.ranges]
        self.weight = [each.weight for each in instance.ranges]
        self.members: list[list[int]] = [[] for _ in instance.ranges]
        for i, r in enumerate(self.range_of):
            self.members[r].append(i)
        self.order = self._ordered()
        self.head = self._heads()
        self.tail = self._tails()
        self.latest = self._latest()
        self.before = self._yesterday(instance)
        self.alone = self._alone()
        self.least = sum(self.late(r, finish) for r, finish in enumerate(self.alone))
        """Weighted lateness no plan can go below: every range alone in the shop."""

    def _link(self, tasks: tuple[Task, ...]) -> None:
        self.preds: list[list[tuple[int, int]]] = [[] for _ in tasks]
        self.succs: list[list[tuple[int, int]]] = [[] for _ in tasks]
        for i, task in enumerate(tasks):
            if task.started:
                continue
            for link in task.after:
                self.preds[i].append((self.number[link.task], link.lag))
                self.succs[self.number[link.task]].append((i, link.lag))

        self.crosses = any(
            self.range_of[i] != self.range_of[j] for i, before in enumerate(self.preds) for j, _ in before
        )
        """Whether some range waits for work on another."""

    def _equip(self, instance: Instance) -> None:
        self.off = [each.off for each in instance.people]
        self.closed = [each.off for each in instance.stations]
        self.capacity = [each.capacity for each in instance.stations]
        station = {each.id: k for k, each in enumerate(instance.stations)}
        self.uses = [
            tuple((station[name], amount) for name, amount in task.uses if amount) for task in instance.tasks
        ]
        self.eligible = [eligible(instance, task) for task in instance.tasks]
        self.leader = list(range(self.size))
        for i, task in enumerate(instance.tasks):
            if task.same_hand is not None:
                self.leader[i] = self.number[task.same_hand]
        for i in range(self.size):
            while self.leader[i] != self.leader[self.leader[i]]:
                self.leader[i] = self.leader[self.leader[i]]
        self._agree_on_hands()

    def _agree_on_hands(self) -> None:
        """Sittings of one task can only be done by people who may do all of them."""
        sharing: dict[int, list[int]] = {}
        for i, leader in enumerate(self.leader):
            sharing.setdefault(leader, []).append(i)
        self.tied = {leader: tuple(group) for leader, group in sharing.items() if len(group) > 1}
        common: dict[int, set[int]] = {}
        for i, who in enumerate(self.eligible):
            common.setdefault(self.leader[i], set(who)).intersection_update(who)
        self.eligible = [
            tuple(p for p in who if p in common[self.leader[i]]) for i, who in enumerate(self.eligible)
        ]

    def _ordered(self) -> list[int]:
        """Every task after what it needs; tasks in a circle are left out."""
        need = [len(before) for before in self.preds]
        order = [i for i, count in enumerate(need) if not count]
        for i in order:
            for j, _ in self.succs[i]:
                need[j] -= 1
                if not need[j]:
                    order.append(j)
        return order

    def _heads(self) -> list[int]:
        """The earliest slot each task could begin were nobody ever busy."""
        head = list(self.earliest)
        for i in self.order:
            for j, lag in self.preds[i]:
                head[i] = max(head[i], head[j] + self.slots[j] + lag)
            days = self.starts[i]
            if days is not None:
                head[i] = next((day for day in days if day >= head[i]), head[i])
            if self.pin[i] is not None:
                head[i] = self.pin[i] or 0
        return head

    def _tails(self) -> list[int]:
        """Slots from each task's start to the end of all that follows it on the same range."""
        tail = list(self.slots)
        for i in reversed(self.order):
            for j, lag in self.succs[i]:
                if self.range_of[i] == self.range_of[j]:
                    tail[i] = max(tail[i], self.slots[i] + lag + tail[j])
        return tail

    def _latest(self) -> list[int]:
        """The slot by which each task must begin for no range that needs it to be late."""
        due = [NEVER if each is None else each for each in self.due]
        latest = [due[r] - self.slots[i] for i, r in enumerate(self.range_of)]
        for i in reversed(self.order):
            for j, lag in self.succs[i]:
                latest[i] = min(latest[i], latest[j] - lag - self.slots[i])
        return latest

    def _alone(self) -> list[int]:
        """When each range would be finished were it alone in the shop."""
        finish = [0] * len(self.due)
        for i, r in enumerate(self.range_of):
            finish[r] = max(finish[r], self.head[i] + self.slots[i])
        return finish

    def longest(self) -> int:
        """Slots within which a plan without idle stretches surely ends.

        In every slot either something that needs people or stations is worked on, or someone
        is away, or the ranges left only wait, as they would were each alone in the shop.
        """
        work = sum(self.slots[i] for i in range(self.size) if self.eligible[i] or self.uses[i])
        away = sum(last - first for spans in (*self.off, *self.closed) for first, last in spans)
        days = max((max(days) for days in self.starts if days), default=0)
        pins = max((pin + self.slots[i] for i, pin in enumerate(self.pin) if pin is not None), default=0)
        alone = max((self.head[i] + self.tail[i] for i in range(self.size)), default=0)
        return work + away + alone + days + pins

    def _yesterday(self, instance: Instance) -> list[tuple[int, int] | None]:
        people = {each.id: p for p, each in enumerate(instance.people)}
        before: list[tuple[int, int] | None] = [None] * self.size
        for name, placed in instance.yesterday.items():
            if name in self.number:
                before[self.number[name]] = (placed.start, people.get(placed.person or "", -1))
        for i, was in enumerate(before):
            if was is not None and was[1] in self.eligible[i]:
                rest = (p for p in self.eligible[i] if p != was[1])
                self.eligible[i] = (was[1], *rest)
        return before

    def changed(self, i: int, start: int, person: int) -> bool:
        """Whether a task placed so counts as a change to yesterday's plan."""
        was = self.before[i]
        return was is not None and (abs(start - was[0]) > HALF_DAY or (was[1] >= 0 and person != was[1]))

    def finishes(self, draft: Draft) -> list[int]:
        """The slot after the last work on each range."""
        finish = [0] * len(self.due)
        for i, r in enumerate(self.range_of):
            finish[r] = max(finish[r], draft.start[i] + self.slots[i])
        return finish

    def late(self, r: int, finish: int) -> int:
        """Weighted slots a range is late when it is finished at `finish`."""
        due = self.due[r]
        return 0 if due is None else self.weight[r] * max(0, finish - due)

    def cost(self, draft: Draft) -> Cost:
        finish = self.finishes(draft)
        changes = sum(self.changed(i, draft.start[i], draft.person[i]) for i in range(self.size))
        return Cost(sum(self.late(r, f) for r, f in enumerate(finish)), changes, sum(finish))

    def plan(self, draft: Draft, found_by: str, least: int, *, proven: bool = False) -> Plan:
        """The draft with names on it."""
        people = self.instance.people
        placed = {
            task.id: Placed(
                start=draft.start[i],
                end=draft.start[i] + task.slots,
                person=people[draft.person[i]].id if draft.person[i] >= 0 else None,
            )
            for i, task in enumerate(self.instance.tasks)
        }
        cost = self.cost(draft)
        return Plan(
            placed=placed,
            cost=cost,
            found_by=found_by,
            proven=proven or cost.lateness <= least,
            least_lateness=min(least, cost.lateness),
        )

    def draft(self, plan: Plan) -> Draft:
        """A plan of this instance in numbers again."""
        people = {each.id: p for p, each in enumerate(self.instance.people)}
        placed = [plan.placed[task.id] for task in self.instance.tasks]
        return Draft([each.start for each in placed], [people.get(each.person or "", -1) for each in placed])


def eligible(instance: Instance, task: Task) -> tuple[int, ...]:
    """Numbers of those who may do a task, those with the fewest skills first; empty for no handwork.

    Who can do less is asked first, so that the one who can do everything stays free.
    """
    if not task.by_hand:
        return ()
    if task.pinned_person is not None and task.started:
        found = [p for p, each in enumerate(instance.people) if each.id == task.pinned_person]
        return tuple(found)
    able = [
        p
        for p, each in enumerate(instance.people)
        if task.skills <= each.skills
        and (task.people is None or each.id in task.people)
        and task.pinned_person in (None, each.id)
    ]
    return tuple(sorted(able, key=lambda p: (len(instance.people[p].skills), p)))


def _pin(task: Task) -> int | None:
    if task.pinned_start is None and task.started:
        return 0
    return task.pinned_start
