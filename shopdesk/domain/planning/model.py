"""The constraint model of some tasks while all others stay where they are (OR-Tools CP-SAT).

OR-Tools is optional and slow to load: nothing here imports it before a model is built.
"""

from collections.abc import Collection, Iterable
from importlib import import_module, util
from typing import Any

from shopdesk.domain.planning.instance import Span
from shopdesk.domain.planning.net import HALF_DAY, Draft, Net


def available() -> bool:
    """Whether OR-Tools is installed; without it list scheduling and many starts still plan."""
    return util.find_spec("ortools") is not None


def solver_module() -> Any:
    return import_module("ortools.sat.python.cp_model")


class Model:
    """Start slots and people of the `free` tasks; `draft` places the others and is the hint.

    `nudged` tasks keep their person and may move by up to half a day.
    """

    def __init__(
        self, net: Net, draft: Draft, free: Collection[int], horizon: int, nudged: Collection[int] = ()
    ) -> None:
        self.net, self.draft, self.horizon = net, draft, horizon
        self.nudged = set(nudged) - set(free)
        self.free = sorted(i for i in (*free, *self.nudged) if net.pin[i] is None)
        self._inside = set(self.free)
        self.ceiling = self._ceilings()
        self.cp = solver_module()
        self.model = self.cp.CpModel()
        self.start: dict[int, Any] = {}
        self.who: dict[int, dict[int, Any]] = {}
        self._hands: dict[int, dict[int, Any]] = {}
        self._people_rows: list[list[Any]] = [[] for _ in net.off]
        self._add_tasks()
        self._add_order()
        self._add_people()
        self._add_stations()
        self._add_costs()

    def _ceilings(self) -> dict[int, int]:
        """The slot each range need not be finished after: later, it and the others alone would cost more."""
        net, finish = self.net, self.net.finishes(self.draft)
        freed = {net.range_of[i] for i in self.free}
        spare = sum(net.late(r, finish[r]) - net.late(r, net.alone[r]) for r in freed)
        ceiling = {}
        for r in freed:
            due, weight = net.due[r], net.weight[r]
            bounded = due is not None and weight
            latest = max(due or 0, net.alone[r]) + spare // weight if bounded else self.horizon
            ceiling[r] = max(min(latest, self.horizon), net.alone[r], finish[r] if not bounded else 0)
        return ceiling

    def _window(self, i: int) -> Span:
        """First and last slot at which a task may begin, given what stays in place."""
        net, start = self.net, self.draft.start
        first, last = net.head[i], self.ceiling[net.range_of[i]] - net.tail[i]
        for j, lag in net.preds[i]:
            if j not in self._inside:
                first = max(first, start[j] + net.slots[j] + lag)
        for j, lag in net.succs[i]:
            if j not in self._inside:
                last = min(last, start[j] - lag - net.slots[i])
        if i in self.nudged:
            first, last = max(first, start[i] - HALF_DAY), min(last, start[i] + HALF_DAY)
        return first, last

    def _add_tasks(self) -> None:
        net, model = self.net, self.model
        for i in self.free:
            first, last = self._window(i)
            days = net.starts[i]
            if days is None:
                self.start[i] = model.new_int_var(first, last, "")
            else:
                domain = self.cp.Domain.from_values([day for day in days if first <= day <= last])
                self.start[i] = model.new_int_var_from_domain(domain, "")
            model.add_hint(self.start[i], self.draft.start[i])
            if net.eligible[i]:
                self.who[i] = self._choice(i)

    def _choice(self, i: int) -> dict[int, Any]:
        """One literal per person who may do the task; the sittings of one task share theirs."""
        net, model, leader = self.net, self.model, self.net.leader[i]
        if leader in self._hands:
            return self._hands[leader]
        held = [self.draft.person[j] for j in net.tied.get(leader, ()) if j not in self._inside]
        if i in self.nudged:
            held = [self.draft.person[i]]
        who = held[:1] or net.eligible[i]
        literals = {p: model.new_bool_var("") for p in who}
        model.add_exactly_one(literals.values())
        for p, literal in literals.items():
            model.add_hint(literal, self.draft.person[i] == p)
        if leader in net.tied:
            self._hands[leader] = literals
        return literals

    def _add_order(self) -> None:
        for i in self.free:
            for j, lag in self.net.preds[i]:
                if j in self._inside:
                    self.model.add(self.start[i] >= self.start[j] + self.net.slots[j] + lag)

    def _add_people(self) -> None:
        net, model = self.net, self.model
        for i, literals in self.who.items():
            if not net.slots[i]:
                continue
            for p, literal in literals.items():
                row = self._people_rows[p]
                if len(literals) == 1:
                    row.append(model.new_fixed_size_interval_var(self.start[i], net.slots[i], ""))
                else:
                    row.append(
                        model.new_optional_fixed_size_interval_var(self.start[i], net.slots[i], literal, "")
                    )
        for p, row in enumerate(self._people_rows):
            if row:
                model.add_no_overlap(row + self._fixed(self._busy(p)))

    def _busy(self, person: int) -> list[Span]:
        net, draft = self.net, self.draft
        spans = list(net.off[person])
        for i in range(net.size):
            if i not in self._inside and draft.person[i] == person and net.slots[i]:
                spans.append((draft.start[i], draft.start[i] + net.slots[i]))
        return joined(spans)

    def _fixed(self, spans: Iterable[Span]) -> list[Any]:
        return [self.model.new_fixed_size_interval_var(first, last - first, "") for first, last in spans]

    def _add_stations(self) -> None:
        net, model = self.net, self.model
        for station, capacity in enumerate(net.capacity):
            rows, needs, taken = [], [], list[tuple[int, int, int]]()
            for i in range(net.size):
                amount = sum(a for s, a in net.uses[i] if s == station)
                if not amount or not net.slots[i]:
                    continue
                if i in self._inside:
                    rows.append(model.new_fixed_size_interval_var(self.start[i], net.slots[i], ""))
                    needs.append(amount)
                else:
                    taken.append((self.draft.start[i], self.draft.start[i] + net.slots[i], amount))
            if not rows:
                continue
            taken += [(first, last, capacity) for first, last in net.closed[station]]
            for first, last, amount in profile(taken):
                rows.append(model.new_fixed_size_interval_var(first, last - first, ""))
                needs.append(min(amount, capacity))
            model.add_cumulative(rows, needs, capacity)

    def _add_costs(self) -> None:
        net, model = self.net, self.model
        lates, finishes = [], []
        for r in sorted({net.range_of[i] for i in self.free}):
            fixed = [self.draft.start[i] + net.slots[i] for i in net.members[r] if i not in self._inside]
            finish = model.new_int_var(max(fixed, default=0), max(self.ceiling[r], *fixed, 0), "")
            for i in net.members[r]:
                if i in self._inside and not any(net.range_of[j] == r for j, _ in net.succs[i]):
                    model.add(finish >= self.start[i] + net.slots[i])
            finishes.append(finish)
            due = net.due[r]
            if due is not None and net.weight[r]:
                late = model.new_int_var(0, max(0, self.ceiling[r] - due, *(end - due for end in fixed)), "")
                model.add(late >= finish - due)
                lates.append(net.weight[r] * late)
        self.lateness = sum(lates) if lates else 0
        self.finish = sum(finishes) if finishes else 0
        self.changes = sum(self._change(i) for i in self.free if net.before[i] is not None)

    def _change(self, i: int) -> Any:
        """A literal that is true when the task counts as changed against yesterday's plan."""
        net, model = self.net, self.model
        was = net.before[i]
        assert was is not None
        changed = model.new_bool_var("")
        start, person = was
        keep = changed.negated()
        model.add(self.start[i] >= start - HALF_DAY).only_enforce_if(keep)
        model.add(self.start[i] <= start + HALF_DAY).only_enforce_if(keep)
        if person >= 0 and i in self.who:
            if person in self.who[i]:
                model.add_implication(keep, self.who[i][person])
            else:
                model.add(changed == 1)
        model.add_hint(changed, net.changed(i, self.draft.start[i], self.draft.person[i]))
        return changed

    def read(self, value: Any) -> Draft:
        """The draft with the free tasks where a solution puts them; `value` reads one variable."""
        start, person = list(self.draft.start), list(self.draft.person)
        for i, variable in self.start.items():
            start[i] = value(variable)
        for i, literals in self.who.items():
            person[i] = next(p for p, literal in literals.items() if value(literal))
        return Draft(start, person)


def joined(spans: Iterable[Span]) -> list[Span]:
    """Stretches that touch or overlap made one."""
    result: list[Span] = []
    for first, last in sorted(spans):
        if result and first <= result[-1][1]:
            result[-1] = (result[-1][0], max(last, result[-1][1]))
        else:
            result.append((first, last))
    return result


def profile(taken: Iterable[tuple[int, int, int]]) -> list[tuple[int, int, int]]:
    """Stretches with an amount each, overlapping as they come, as steps that do not overlap."""
    change: dict[int, int] = {}
    for first, last, amount in taken:
        change[first] = change.get(first, 0) + amount
        change[last] = change.get(last, 0) - amount
    steps, level, since = [], 0, 0
    for slot in sorted(change):
        if level and slot > since:
            steps.append((since, slot, level))
        level, since = level + change[slot], slot
    return steps
