"""The work order of a jacket: what is asked of the shop, its rows and sentences. Makes no widgets."""

from collections.abc import Iterable
from dataclasses import dataclass

from shopdesk.domain.catalogue.model import Scope
from shopdesk.services import bench, order_by_hand, order_difference, order_timing
from shopdesk.services.bench import BenchTask
from shopdesk.services.order_by_hand import DroppedTask
from shopdesk.services.order_difference import OrderDifference, TaskBrief
from shopdesk.services.order_timing import OrderTiming, TaskTiming
from shopdesk.services.seat import Seat
from shopdesk.wording import Region, say, say_n

NO_DIFFERENCE = OrderDifference((), (), (), ())


@dataclass(frozen=True, slots=True)
class OrderFacts:
    """`difference` is what writing the order again would do; nothing where there is no walk-round."""

    tasks: tuple[BenchTask, ...]
    timing: OrderTiming
    dropped: tuple[DroppedTask, ...]
    difference: OrderDifference


@dataclass(frozen=True, slots=True)
class OrderRow:
    """A task in its place with the time it lies in; `length` is that of the whole order, minutes."""

    key: int
    place: int
    name: str
    second: str
    state: str  # done, now, waits
    timing: TaskTiming | None
    length: int
    when: str

    def spoken(self) -> str:
        return say("{place}. {name}; {facts}; {when}", place=self.place, name=self.name, facts=self.second,
                   when=self.when)  # fmt: skip


def ask_order(seat: Seat, job_id: int, walked: bool) -> OrderFacts:
    tasks = tuple(bench.job_tasks(seat, job_id))
    difference = order_difference.preview_changes(seat, job_id) if walked and tasks else NO_DIFFERENCE
    dropped = tuple(order_by_hand.dropped_tasks(seat, job_id)) if tasks else ()
    return OrderFacts(tasks, order_timing.order_timing(seat, job_id), dropped, difference)


def order_rows(region: Region, facts: OrderFacts) -> list[OrderRow]:
    timings = {row.task_id: row for row in facts.timing.rows}
    return [
        _row(region, place, task, timings.get(task.id), facts.timing.length)
        for place, task in enumerate(facts.tasks, 1)
    ]


def path_words(region: Region, facts: OrderFacts) -> str:
    """How long the longest chain of what is left takes, and how the bars are to be read."""
    if not facts.tasks:
        return ""
    if not facts.timing.length:
        return say("Everything on this order is done.")
    left = [row for row in facts.timing.rows if row.critical and row.length]
    chain = say_n("{count} task", "{count} tasks", len(left))
    return say(
        "The longest chain of what is left is {chain} and takes {hours}, with hands enough and days away "
        "counted as bench days. A filled bar lies on it: if that takes longer, the end moves. The dotted "
        "line behind a hollow bar is how long it may wait.",
        chain=chain, hours=region.hours(facts.timing.length),
    )  # fmt: skip


def difference_line(difference: OrderDifference) -> str:
    """One line for under the heading; "" when the order says what is asked for."""
    if not difference:
        return ""
    counts = (
        (len(difference.added), say("to come")),
        (len(difference.gone), say("to go")),
        (len(difference.changed), say("to change")),
    )
    told = ", ".join(say("{count} {what}", count=count, what=what) for count, what in counts if count)
    return say("The newest walk-round and the scope ask for another order: {told}.", told=told)


def difference_words(region: Region, difference: OrderDifference) -> list[tuple[str, str]]:
    """Heading and lines of each part of a difference."""
    changed = "\n".join(
        f"{task.name}. "
        + "; ".join(
            say("{name}: {was} becomes {new}", name=f.name, was=f.was or say("nothing"),
                new=f.becomes or say("nothing"))
            for f in task.fields
        )
        for task in difference.changed
    )  # fmt: skip
    parts = (
        (say("Would come"), _briefs(region, difference.added)),
        (say("Would go"), _briefs(region, difference.gone)),
        (say("Would go, but stays: something was done on it"), _briefs(region, difference.stays)),
        (say("Would change"), changed),
    )
    return [(title, text) for title, text in parts if text]


def scope_choices() -> list[tuple[Scope, str]]:
    return [
        (Scope.MECHANICAL, say("Mechanical-only")),
        (Scope.EVERYDAY, say("Everyday finish")),
        (Scope.SHOW, say("Show finish")),
    ]


def _briefs(region: Region, tasks: Iterable[TaskBrief]) -> str:
    return "\n".join(
        say("{name}, {hours}. {why}", name=t.name, hours=region.hours_range(t.minutes),
            why="; ".join(t.because[:2]))
        for t in tasks
    )  # fmt: skip


def _row(region: Region, place: int, task: BenchTask, timing: TaskTiming | None, length: int) -> OrderRow:
    state = "done" if task.done_share == 100 else "waits" if task.waits else "now"
    facts = [region.hours_range(task.minutes)]
    if task.clocked:
        facts.append(say("{hours} clocked", hours=region.hours(task.clocked)))
    if 0 < task.done_share < 100:
        facts.append(say("{share} % done", share=task.done_share))
    if task.station != "bench":
        facts.append(say("at the {station}", station=say(task.station)))
    if not task.code:
        facts.append(say("made by hand"))
    words = {"done": say("done"), "now": say("can be done now"), "waits": _first_wait(task)}
    facts.append(words[state])
    name = say("{name}, {count} times", name=task.name, count=task.count) if task.count > 1 else task.name
    return OrderRow(
        task.id, place, name, " · ".join(facts), state, timing, length, _when(region, state, timing)
    )


def _first_wait(task: BenchTask) -> str:
    if not task.waits:
        return ""
    words = {
        "agreement": say("waits for agreement"), "unasked": say("waits for consent"),
        "laboratory": say("waits for the laboratory"), "gas-off": say("waits for gas off and capped"),
        "gas-train-out": say("waits for the gas train to be out"),
        "tightness": say("waits for proven tightness"),
        "part": say("waits for a part"), "outwork": say("waits for outwork"),
        "card": say("waits for the thermostat card"), "blocked": say("blocked"),
        "task": say("waits for another task"),
    }  # fmt: skip
    kinds = [wait.kind for wait in task.waits]
    return words.get(next((kind for kind in kinds if kind != "task"), kinds[0]), say("waits"))


def _when(region: Region, state: str, timing: TaskTiming | None) -> str:
    if state == "done" or timing is None:
        return ""
    if timing.critical:
        return say("moves the end")
    return say("may wait {hours}", hours=region.hours(timing.slack))
