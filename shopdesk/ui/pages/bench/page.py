"""The Bench: the technician's day across ranges. Assembles list, clock and task; calls the services."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any, ClassVar

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLabel

from shopdesk.domain.build import Build
from shopdesk.domain.changed import Seen
from shopdesk.domain.problem import Problem
from shopdesk.domain.sides import Side
from shopdesk.services.bench import Clock
from shopdesk.services.bench_day import BenchDay
from shopdesk.ui.context import Context, Topics
from shopdesk.ui.pages.bench.acts import Acts
from shopdesk.ui.pages.bench.clock_strip import ClockStrip
from shopdesk.ui.pages.bench.shown import TaskRow, Words, shown_rows, task_key
from shopdesk.ui.pages.bench.task_deeds import TaskDeeds
from shopdesk.ui.pages.bench.task_facts import Day, ask_day, ask_facts, hours_in_short, hours_warning
from shopdesk.ui.pages.bench.task_list import TaskList
from shopdesk.ui.pages.bench.task_pane import TaskPane
from shopdesk.ui.pages.bench.ways import Ways
from shopdesk.ui.pages.page import Page
from shopdesk.ui.today_list import TodayList
from shopdesk.ui.widgets.beside import Beside
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.fields import ChoiceField
from shopdesk.ui.widgets.headings import Heading
from shopdesk.wording import say

MINE, EVERYBODY = "mine", "everybody"
_SHOWN = frozenset({"everything", "jobs", "tags", "ranges", "stores", "staff", "settings", "catalogue"})


class BenchPage(Page):
    """Keys are those of the keypad; arrows move; Escape goes back to the list."""

    place: ClassVar[str] = "bench"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._found: Day | None = None
        self.read: Seen | None = None  # the state of the shop the tasks were read from
        self._unfolded: set[int] = set()
        self._leave = False
        self._wanted_task: int | None = None
        self.filter = ChoiceField([(MINE, say("Mine")), (EVERYBODY, say("Everybody’s"))], MINE)
        self.filter.setAccessibleName(say("Whose tasks"))
        self.filter.edited.connect(self._ask_rows)
        title = QLabel(say("&Tasks"))
        title.setBuddy(self.filter)
        self.clock = ClockStrip(context)
        self.list = TaskList(self._show_everybodys)
        self.acts, self._deeds = Acts(self), TaskDeeds(self)
        self._ways = Ways(context, self.current)
        deeds = self._by_name()
        self.pane = TaskPane(deeds, context.dialogs, context.region)
        head = level([Heading(say("Bench"), "head"), STRETCH, title, self.filter])
        self.day = TodayList(self, Side.BENCH)
        both = Beside(self.list, self.pane, context.memory, "bench/tasks", shares=(5, 4))
        body = upright([head, self.clock, self.day, both], margin="gap")
        body.setStretchFactor(both, 1)
        self.setLayout(body)
        self.list.chosen.connect(self._show_task)
        self.list.ticked.connect(self.acts.tick)
        self.list.opened.connect(lambda _row: self._ways.jacket())
        self.list.folded.connect(self._fold)
        self.clock.stopped.connect(self.acts.stop_clock)
        self.clock.taskAsked.connect(self._find_task)
        self.pane.strip.brought.connect(self._deeds.keep_pictures)
        self._keys = {Qt.Key[f"Key_{letter}"]: deeds[name] for letter, name in _LETTERS.items()}
        self._keys |= {
            Qt.Key.Key_Space: self.acts.tick, Qt.Key.Key_U: self.acts.take_back,
            Qt.Key.Key_Escape: self.focusFirst,
        }  # fmt: skip

    # What a page fills in

    def refresh(self, topics: Topics) -> None:
        if topics & _SHOWN:
            if "everything" in topics:
                self.acts.forget()
            self._ask_rows()
            self.day.refresh(topics)

    def focusFirst(self) -> None:
        if self.clock.asks:
            self.clock.focusFirst()
        else:
            self.list.focusFirst()

    def open_on(self, **what: Any) -> None:
        """`job_id` narrows to one range's tasks; `task_id` puts the keyboard on one."""
        self._wanted_task = what.get("task_id")
        job_id = what.get("job_id")
        if job_id is not None:
            keys = [MINE, EVERYBODY, job_id]
            texts = [say("Mine"), say("Everybody’s"), say("this range’s")]
            self.filter.setChoices(list(zip(keys, texts, strict=True)))
            self.filter.setValue(job_id)
        self._ask_rows()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        deed = self._keys.get(Qt.Key(event.key()))
        plain = event.modifiers() in (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier)
        if deed is not None and plain:
            deed()
        else:
            super().keyPressEvent(event)

    # What the deeds of this page ask of it

    def current(self) -> TaskRow | None:
        """The task the keyboard is on."""
        return self.list.current()

    @property
    def running(self) -> Clock | None:
        """The acting person's clock."""
        return self._found.day.clock if self._found else None

    @property
    def people(self) -> tuple[tuple[int, str], ...]:
        return self._found.day.people if self._found else ()

    def build_and_places(self) -> tuple[Build, tuple[str, ...]]:
        """How the current task's range is built, and where tagged things lie in this shop."""
        row, found = self.current(), self._found
        if row is None or found is None:
            return Build(), ()
        build = next((r.build for r in found.day.ranges if r.job_id == row.task.job_id), Build())
        return build, found.places

    def refuse(self, task_id: int, problem: Problem) -> None:
        """A refusal stands beside its task."""
        self.acts.refuse(task_id, problem)

    def close_deed(self) -> None:
        self.pane.close_deed()
        self.list.focusFirst()

    def leave_row(self) -> None:
        """The current row goes from its place; the keyboard stays there, on the next one."""
        self._leave = True

    def want(self, task_id: int) -> None:
        """The keyboard goes to this task when rows come next."""
        self._wanted_task = task_id

    def show_rows(self) -> None:
        """Draws the list anew from the day as it was last read."""
        if self._found is None:
            return
        day, seat = self._narrowed(self._found.day), self.context.seat
        if self._wanted_task is not None:
            self._unfolded |= {t.job_id for t in day.tasks if t.id == self._wanted_task}
        short = {job: hours_in_short(seat.region, hours) for job, hours in self._found.agreed.items()}
        clock = day.clock
        words = Words(
            seat.catalogue, seat.region, seat.today, dict(day.people), seat.acting.staff_id,
            self.acts.refused, clock.task_id if clock else None, short,
        )  # fmt: skip
        rows = shown_rows(day, words, self._unfolded, one_range=self._one_range() is not None)
        self.list.show_rows(rows, leave=self._leave)
        self._leave = False
        self.pane.setVisible(bool(rows))
        if self._wanted_task is not None and self.list.select(task_key(self._wanted_task)):
            self._wanted_task = None

    # Inside

    def _by_name(self) -> dict[str, Callable[[], object]]:
        acts, deeds, ways = self.acts, self._deeds, self._ways
        return {
            "tick": acts.tick, "read": acts.read, "clock": acts.toggle_clock,
            "hours": deeds.hours, "note": deeds.note,
            "part_done": deeds.part_done, "block": deeds.block, "found_more": deeds.found_more,
            "photograph": deeds.photograph, "take_off": deeds.take_off, "give": deeds.give,
            "answer": deeds.answer, "card": ways.card, "tags": ways.tags, "proofs": ways.proofs,
            "order": ways.order, "jacket": ways.jacket, "gas_bench": ways.gas_bench,
        }  # fmt: skip

    def _show_everybodys(self) -> None:
        self.filter.setValue(EVERYBODY)
        self._ask_rows()

    def _fold(self, job_id: int) -> None:
        self._unfolded ^= {job_id}
        self.show_rows()

    def _find_task(self, task_id: int) -> None:
        self._wanted_task = task_id
        if self.list.model.place_of(task_key(task_id)) is None:
            self.filter.setValue(EVERYBODY)
        self._ask_rows()

    def _ask_rows(self) -> None:
        whose = self.filter.value()
        staff_id = self.context.seat.acting.staff_id if whose == MINE else None
        self.ask(lambda seat: ask_day(seat, staff_id), self._take_day, key="day")

    def _take_day(self, found: Day) -> None:
        self._found, self.read = found, self.context.reading
        day = found.day
        ranges = [(r.job_id, say("{number} only", number=r.number)) for r in day.ranges]
        known = {job_id for job_id, _ in ranges}
        chosen = self.filter.value()
        if chosen not in (MINE, EVERYBODY) and chosen not in known:
            chosen = EVERYBODY
        choices: list[tuple[Any, str]] = [(MINE, say("Mine")), (EVERYBODY, say("Everybody’s")), *ranges]
        self.filter.setChoices(choices)
        self.filter.setValue(chosen)
        self.clock.show_clock(day.clock)
        self.show_rows()
        self._show_warning(self.current())
        self._ask_facts(self.current())

    def _one_range(self) -> int | None:
        whose = self.filter.value()
        return None if whose in (MINE, EVERYBODY) else whose

    def _narrowed(self, day: BenchDay) -> BenchDay:
        job = self._one_range()
        if job is None:
            return day
        return replace(
            day, tasks=tuple(t for t in day.tasks if t.job_id == job),
            done=tuple(t for t in day.done if t.job_id == job),
        )  # fmt: skip

    def _show_task(self, row: TaskRow | None) -> None:
        texts = self.context.seat.catalogue.cautions
        known = [texts[code] for code in row.task.hazards if code in texts] if row else []
        self.pane.show_task(row, known)
        self._show_warning(row)
        self._deeds.follow(row)
        if self.acts.refused.keys() - ({row.task.id} if row else set()):
            QTimer.singleShot(0, self, self.acts.forget_others)
        self._ask_facts(row)

    def _show_warning(self, row: TaskRow | None) -> None:
        hours = self._found.agreed.get(row.task.job_id) if self._found and row else None
        text = hours_warning(self.context.region, hours)
        self.pane.show_hours(text, stop=hours is not None and hours.stop)

    def _ask_facts(self, row: TaskRow | None) -> None:
        """What stands under the task follows it a moment later."""
        if row is None:
            return
        task = row.task
        self.ask(lambda seat: ask_facts(seat, task), self.pane.show_facts, key="sheet")


_LETTERS = {
    "T": "tick", "K": "read", "R": "clock", "H": "hours", "N": "note", "D": "part_done",
    "B": "block", "M": "found_more",
    "P": "photograph", "O": "take_off", "A": "give", "L": "answer", "C": "card", "W": "tags", "V": "proofs",
    "E": "order", "J": "jacket", "G": "gas_bench",
}  # fmt: skip
