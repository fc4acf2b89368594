"""The rows of the Bench: words from facts, made once when the day comes. Knows no widgets.

What can be done now stands first, then what waits and why, then what was ticked today; in each part the
tasks stand under their range.
"""

import datetime as dt
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Catalogue
from shopdesk.services.bench import BenchTask
from shopdesk.services.bench_day import BenchDay, BenchRange
from shopdesk.services.waiting import Wait
from shopdesk.ui.range_picture import Wanted, wanted_pins
from shopdesk.ui.range_words import days_words, name_of
from shopdesk.wording import Region, say, say_n

FEW = 12  # so many waiting tasks are shown without being asked for
Key = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PartRow:
    """The heading of a part of the list: now, waits or done."""

    key: Key
    title: str

    def spoken(self) -> str:
        return self.title


@dataclass(frozen=True, slots=True)
class RangeRow:
    """A range over its tasks; `folds` when its tasks may be folded away, `open` when they are shown."""

    key: Key
    number: str
    name: str
    promise: str
    late: bool
    why: str
    build: Build
    pins: Wanted
    folds: bool = False
    open: bool = True
    hours: str = ""  # said of the agreed hours when they come to their end

    def spoken(self) -> str:
        told = (self.number, self.name, self.hours, self.promise, self.why)
        return ", ".join(part for part in told if part)


@dataclass(frozen=True, slots=True)
class TaskRow:
    """One task; `refused` is why the last tick of it was turned down."""

    key: Key
    task: BenchTask
    range_name: str
    state: str  # now, waits, done
    facts: str
    hours: str
    refused: str
    running: bool

    @property
    def done(self) -> bool:
        return self.state == "done"

    def spoken(self) -> str:
        ticked = say("ticked") if self.done else say("open")
        running = say("the clock runs") if self.running else ""
        parts = (task_name(self.task), ticked, running, self.facts, self.hours, self.refused)
        return "; ".join(part for part in parts if part)


Row = PartRow | RangeRow | TaskRow


@dataclass(frozen=True, slots=True)
class Words:
    """What rows are written with."""

    catalogue: Catalogue
    region: Region
    today: dt.date
    people: Mapping[int, str]
    acting_id: int
    refused: Mapping[int, str]
    running_task: int | None
    hours: Mapping[int, str]  # by job, what is to be said of its agreed hours


def task_key(task_id: int) -> Key:
    return ("task", str(task_id))


def task_name(task: BenchTask) -> str:
    return say("{name}, {count} times", name=task.name, count=task.count) if task.count > 1 else task.name


def shown_rows(day: BenchDay, words: Words, unfolded: Collection[int], *, one_range: bool) -> list[Row]:
    """The whole list; `unfolded` are the jobs whose waiting tasks are to be shown."""
    now = [t for t in day.tasks if not t.waits]
    waiting = [t for t in day.tasks if t.waits]
    all_open = one_range or len(waiting) <= FEW
    rows: list[Row] = []
    rows += _part("now", say_n("{count} task can be done now", "{count} tasks can be done now", len(now)),
                  now, day.ranges, words, None)  # fmt: skip
    rows += _part("waits", say_n("{count} task waits", "{count} tasks wait", len(waiting)), waiting,
                  day.ranges, words, None if all_open else unfolded)  # fmt: skip
    rows += _part("done", say_n("{count} task ticked today", "{count} tasks ticked today", len(day.done)),
                  list(day.done), day.ranges, words, None)  # fmt: skip
    return rows


def wait_words(wait: Wait) -> str:
    """Why a task cannot be done, as it follows its name."""
    sentences = {
        "agreement": say("waits for agreement to {what}", what=wait.what)
        if wait.what
        else say("waits for the customer’s agreement"),
        "unasked": say("came beside what is agreed: waits for consent"),
        "laboratory": say("waits for the laboratory’s answer"),
        "gas-off": say("waits for the gas to be off and capped: {what}", what=wait.what),
        "gas-train-out": say("waits for the gas train to be out: {what}", what=wait.what),
        "tightness": say("lights something: {what}", what=wait.what),
        "task": say("after “{what}”", what=wait.what),
        "part": say("waits for a part: {what}", what=wait.what),
        "outwork": say("waits for outwork: {what} is out", what=wait.what),
        "card": say("waits for the thermostat card: {what}", what=wait.what),
        "blocked": say("blocked: {what}", what=wait.what),
    }
    return sentences[wait.kind]


def waits_in_words(waits: Iterable[Wait]) -> str:
    """All reasons in one line: what only the bench can mend last, and of other tasks only the last named."""
    waits = list(waits)
    others = [wait_words(w) for w in waits if w.kind != "task"]
    tasks = [w for w in waits if w.kind == "task"]
    if tasks:
        last = wait_words(tasks[-1])
        more = len(tasks) - 1
        others.append(
            last if not more else say_n("{last} and {count} more", "{last} and {count} more", more, last=last)
        )
    return "; ".join(others)


def why_a_range_waits(tasks: Iterable[BenchTask]) -> str:
    """`3 for a part, 1 for the laboratory, 12 after other tasks`: each task by its first reason."""
    counts: dict[str, int] = {}
    for task in tasks:
        kinds = [w.kind for w in task.waits]
        first = next((kind for kind in kinds if kind != "task"), "task")
        counts[first] = counts.get(first, 0) + 1
    words = {
        "agreement": say("for agreement"),
        "unasked": say("for consent"),
        "laboratory": say("for the laboratory"),
        "gas-off": say("for gas off and capped"),
        "gas-train-out": say("for the gas train to be out"),
        "tightness": say("for proven tightness"),
        "part": say("for a part"),
        "outwork": say("for outwork"),
        "card": say("for the thermostat card"),
        "blocked": say("blocked"),
        "task": say("after other tasks"),
    }
    return ", ".join(f"{counts[kind]} {text}" for kind, text in words.items() if kind in counts)


def hazard_words(catalogue: Catalogue, hazards: Iterable[str]) -> str:
    return ", ".join(catalogue.cautions[code].name for code in hazards if code in catalogue.cautions)


def _part(
    state: str, title: str, tasks: list[BenchTask], ranges: Iterable[BenchRange], words: Words,
    unfolded: Collection[int] | None,
) -> list[Row]:  # fmt: skip
    if not tasks:
        return []
    rows: list[Row] = [PartRow(("part", state), title)]
    for range_ in ranges:
        own = [t for t in tasks if t.job_id == range_.job_id]
        if not own:
            continue
        shown = unfolded is None or range_.job_id in unfolded
        rows.append(_range_row(state, range_, own, words, unfolded is not None, shown))
        if shown:
            rows += [_task_row(state, task, range_, words) for task in own]
    return rows


def _range_row(
    state: str, range_: BenchRange, tasks: list[BenchTask], words: Words, folds: bool, shown: bool
) -> RangeRow:
    promise = ""
    late = range_.promised_on is not None and range_.promised_on < words.today
    if range_.promised_on is not None:
        day = words.region.day_short(range_.promised_on, words.today)
        off = days_words(range_.promised_on, words.today)
        promise = say("promised {day}, {off}", day=day, off=off)
    return RangeRow(
        ("range", state, str(range_.job_id)),
        range_.number,
        name_of(range_.maker, range_.model, range_.colour),
        promise,
        late,
        why_a_range_waits(tasks) if state == "waits" else "",
        range_.build,
        wanted_pins(words.catalogue, range_.findings),
        folds,
        shown,
        words.hours.get(range_.job_id, "") if state == "now" else "",
    )


def _task_row(state: str, task: BenchTask, range_: BenchRange, words: Words) -> TaskRow:
    return TaskRow(
        task_key(task.id),
        task,
        name_of(range_.maker, range_.model, range_.colour),
        state,
        _facts(state, task, words),
        hours_words(task, words.region),
        words.refused.get(task.id, ""),
        words.running_task == task.id,
    )


def _facts(state: str, task: BenchTask, words: Words) -> str:
    """The second line: why it waits, or where it is done, by whom, and what to mind."""
    if state == "waits":
        return waits_in_words(task.waits)
    facts = []
    if state == "now" and task.done_share:
        facts.append(say("{share} % done", share=task.done_share))
    if task.assigned_to_id is not None:
        name = words.people.get(task.assigned_to_id, "")
        facts.append(say("yours") if task.assigned_to_id == words.acting_id else say("for {name}", name=name))
    if task.station != "bench":
        facts.append(say("at the {station}", station=say(task.station)))
    mind = hazard_words(words.catalogue, task.hazards)
    if mind and state == "now":
        facts.append(say("mind: {hazards}", hazards=mind))
    if task.note:
        facts.append(task.note.replace("\n", " "))
    return "; ".join(facts)


def hours_words(task: BenchTask, region: Region) -> str:
    """What it should take, and what was clocked: `1 h (0.4–3), 40 min so far`."""
    usual = region.hours_range(task.minutes)
    if not task.clocked:
        return usual
    return say("{usual}, {clocked} so far", usual=usual, clocked=region.hours(task.clocked))
