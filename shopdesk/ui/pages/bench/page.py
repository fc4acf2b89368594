"""The Bench: the technician's day across ranges. Assembles list, clock and task; calls the services."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, ClassVar

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLabel

from shopdesk.domain.problem import Problem
from shopdesk.services import bench, bench_day, cautions
from shopdesk.ui.context import Context, Topics
from shopdesk.ui.pages.bench.clock_strip import ClockStrip
from shopdesk.ui.pages.bench.keypad import Deeds
from shopdesk.ui.pages.bench.shown import TaskRow, Words, shown_rows, task_key
from shopdesk.ui.pages.bench.task_deeds import TaskDeeds
from shopdesk.ui.pages.bench.task_list import TaskList
from shopdesk.ui.pages.bench.task_pane import TaskPane
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.beside import Beside
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.fields import ChoiceField
from shopdesk.ui.widgets.headings import Heading
from shopdesk.wording import say, say_problem

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat

MINE, EVERYBODY = "mine", "everybody"
Keys = Qt.Key


class BenchPage(Page):
    """Keys are those of the keypad; arrows move; Escape goes back to the list."""

    place: ClassVar[str] = "bench"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._day: bench_day.BenchDay | None = None
        self._refused: dict[int, str] = {}
        self._to_read: set[int] = set()  # tasks whose unread cautions were pointed at
        self._unfolded: set[int] = set()
        self._leave = False
        self._wanted_task: int | None = None
        self._last_ticked: int | None = None
        self.filter = ChoiceField([(MINE, say("Mine")), (EVERYBODY, say("Everybody’s"))], MINE)
        self.filter.setAccessibleName(say("Whose tasks"))
        self.filter.edited.connect(self._ask_rows)
        title = QLabel(say("&Tasks"))
        title.setBuddy(self.filter)
        self.clock = ClockStrip(context)
        self.list = TaskList(self._show_everybodys)
        self._deeds = TaskDeeds(self)
        d = self._deeds
        self.pane = TaskPane(
            Deeds(self.tick, self.toggle_clock, d.hours, d.note, d.block, d.found_more, d.photograph, d.give,
                  d.part_done, d.answer, self.open_proofs, self.open_gas_bench, self.open_jacket),
            context.dialogs, context.region,
        )  # fmt: skip
        head = level([Heading(say("Bench"), "head"), STRETCH, title, self.filter])
        both = Beside(self.list, self.pane, context.memory, "bench/tasks", shares=(5, 4))
        body = upright([head, self.clock, both], margin="gap")
        body.setStretchFactor(both, 1)
        self.setLayout(body)
        self.list.chosen.connect(self._show_task)
        self.list.ticked.connect(self.tick)
        self.list.opened.connect(lambda _row: self.open_jacket())
        self.list.folded.connect(self._fold)
        self.clock.stopped.connect(self._stop_clock)
        self.clock.taskAsked.connect(self._find_task)
        self.pane.strip.brought.connect(self._deeds.keep_pictures)
        self._keys = {
            Keys.Key_Space: self.tick, Keys.Key_T: self.tick, Keys.Key_U: self.take_back,
            Keys.Key_R: self.toggle_clock, Keys.Key_H: d.hours, Keys.Key_N: d.note, Keys.Key_B: d.block,
            Keys.Key_M: d.found_more, Keys.Key_P: d.photograph, Keys.Key_A: d.give, Keys.Key_D: d.part_done,
            Keys.Key_L: d.answer, Keys.Key_V: self.open_proofs, Keys.Key_G: self.open_gas_bench,
            Keys.Key_J: self.open_jacket, Keys.Key_Escape: self.focusFirst,
        }  # fmt: skip

    # What a page fills in

    def refresh(self, topics: Topics) -> None:
        if topics & {"everything", "jobs", "ranges", "stores", "staff", "settings", "catalogue"}:
            if "everything" in topics:
                self._refused.clear()
                self._to_read.clear()
            self._ask_rows()

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

    # Acts

    def current(self) -> TaskRow | None:
        return self.list.current()

    def tick(self) -> None:
        """Ticks the current task, or takes its tick back; unread cautions are pointed at first."""
        row = self.current()
        if row is None:
            return
        if row.done:
            self._tick(row, 0)
        else:
            self._tick(row, 100)

    def take_back(self) -> None:
        """Takes the tick of the current task back, or the one set last."""
        row = self.current()
        if row is not None and row.done:
            self._tick(row, 0)
        elif self._last_ticked is not None:
            self._untick(self._last_ticked)

    def toggle_clock(self) -> None:
        """Starts the clock on the current task, or stops the one that runs on it."""
        row, clock = self.current(), self._day.clock if self._day else None
        if clock is not None and (row is None or row.task.id == clock.task_id):
            if self.clock.asks:
                self.clock.focusFirst()
                return
            self._stop_clock(None)
        elif row is not None and not row.done:
            task = row.task
            self.do(lambda seat: bench.clock_on(seat, task.id), failed=lambda p: self.refuse(task.id, p),
                    changes=("jobs", f"job {task.job_id}"))  # fmt: skip

    def open_jacket(self) -> None:
        row = self.current()
        if row is not None:
            self.context.open_jacket(row.task.range_id)

    def open_proofs(self) -> None:
        """The proofs of the current task's range; at a task of proving the form of its first proof."""
        row = self.current()
        if row is None:
            return
        known = self.context.seat.catalogue.tasks.get(row.task.code)
        proofs = known.proofs if known is not None and row.task.stage == "proving" else ()
        kind = {"kind": proofs[0]} if proofs else {}
        self.context.go("proving", job_id=row.task.job_id, **kind)

    def open_gas_bench(self) -> None:
        """The gas bench for the current task's range, or by itself."""
        row = self.current()
        if row is not None:
            self.context.go("gas-bench", range_id=row.task.range_id)
        else:
            self.context.go("gas-bench")

    def done_by(self, task_id: int, share: int) -> Callable[["Seat"], None]:
        """What sets how far a task is; ticking again says that its cautions are read."""
        read = task_id in self._to_read

        def act(seat: "Seat") -> None:
            if read and share:
                cautions.acknowledge(seat, task_id)
            bench.tick(seat, task_id, share)

        return act

    def refuse(self, task_id: int, problem: Problem) -> None:
        """A refusal stands beside its task."""
        if isinstance(problem, cautions.Unread):
            self._to_read.add(task_id)
        self._refuse(task_id, say_problem(problem))

    def close_deed(self) -> None:
        self.pane.close_deed()
        self.list.focusFirst()

    # Inside

    def _tick(self, row: TaskRow, share: int) -> None:
        task = row.task

        def stands(_nothing: None) -> None:
            self._refused.pop(task.id, None)
            self._leave = True
            if share:
                self._last_ticked = task.id
                self.context.tell(
                    say("{number}: “{task}” is ticked.", number=task.range_number, task=task.name),
                    say("Take it back"), lambda: self._untick(task.id),
                )  # fmt: skip

        self.do(self.done_by(task.id, share), stands, lambda p: self.refuse(task.id, p),
                changes=("jobs", f"job {task.job_id}"))  # fmt: skip

    def _untick(self, task_id: int) -> None:
        self._wanted_task = task_id
        self._last_ticked = None
        self.do(lambda seat: bench.tick(seat, task_id, 0), changes=("jobs",))

    def _stop_clock(self, until: Any) -> None:
        clock = self._day.clock if self._day else None
        if clock is None:
            return

        def stands(minutes: int) -> None:
            self.context.tell(
                say("{number}: {hours} on “{task}”.", number=clock.range_number, task=clock.task_name,
                    hours=self.context.region.hours(minutes))
            )  # fmt: skip
            self.list.focusFirst()

        self.do(lambda seat: bench.clock_off(seat, until=until), stands, self.clock.show_problem,
                changes=("jobs", f"job {clock.job_id}"))  # fmt: skip

    def _refuse(self, task_id: int, text: str) -> None:
        self._refused[task_id] = text
        self._show_rows()

    def _forget_refusals(self) -> None:
        """What was refused is said while its task is current, no longer."""
        row = self.current()
        kept = {row.task.id} if row else set()
        if self._refused.keys() - kept:
            self._refused = {key: text for key, text in self._refused.items() if key in kept}
            self._show_rows()

    def _show_everybodys(self) -> None:
        self.filter.setValue(EVERYBODY)
        self._ask_rows()

    def _fold(self, job_id: int) -> None:
        self._unfolded ^= {job_id}
        self._show_rows()

    def _find_task(self, task_id: int) -> None:
        self._wanted_task = task_id
        if self.list.model.place_of(task_key(task_id)) is None:
            self.filter.setValue(EVERYBODY)
        self._ask_rows()

    def _ask_rows(self) -> None:
        whose = self.filter.value()
        staff_id = self.context.seat.acting.staff_id if whose == MINE else None
        self.ask(lambda seat: bench_day.bench_day(seat, staff_id), self._take_day, key="day")

    def _take_day(self, day: bench_day.BenchDay) -> None:
        self._day = day
        ranges = [(r.job_id, say("{number} only", number=r.number)) for r in day.ranges]
        known = {job_id for job_id, _ in ranges}
        chosen = self.filter.value()
        if chosen not in (MINE, EVERYBODY) and chosen not in known:
            chosen = EVERYBODY
        choices: list[tuple[Any, str]] = [(MINE, say("Mine")), (EVERYBODY, say("Everybody’s")), *ranges]
        self.filter.setChoices(choices)
        self.filter.setValue(chosen)
        self.clock.show_clock(day.clock)
        self._show_rows()
        self._ask_sheet(self.current())

    def _show_rows(self) -> None:
        if self._day is None:
            return
        day, seat = self._narrowed(self._day), self.context.seat
        if self._wanted_task is not None:
            self._unfolded |= {t.job_id for t in day.tasks if t.id == self._wanted_task}
        clock = day.clock
        words = Words(
            seat.catalogue, seat.region, seat.today, dict(day.people), seat.acting.staff_id, self._refused,
            clock.task_id if clock else None,
        )  # fmt: skip
        rows = shown_rows(day, words, self._unfolded, one_range=self._one_range() is not None)
        self.list.show_rows(rows, leave=self._leave)
        self._leave = False
        self.pane.setVisible(bool(rows))
        if self._wanted_task is not None and self.list.select(task_key(self._wanted_task)):
            self._wanted_task = None

    def _one_range(self) -> int | None:
        whose = self.filter.value()
        return None if whose in (MINE, EVERYBODY) else whose

    def _narrowed(self, day: bench_day.BenchDay) -> bench_day.BenchDay:
        job = self._one_range()
        if job is None:
            return day
        return bench_day.BenchDay(
            day.ranges, tuple(t for t in day.tasks if t.job_id == job),
            tuple(t for t in day.done if t.job_id == job), day.people, day.clock,
        )  # fmt: skip

    @property
    def people(self) -> tuple[tuple[int, str], ...]:
        return self._day.people if self._day else ()

    def _show_task(self, row: TaskRow | None) -> None:
        texts = self.context.seat.catalogue.cautions
        known = [texts[code] for code in row.task.hazards if code in texts] if row else []
        laboratory = row is not None and any(w.kind == "laboratory" for w in row.task.waits)
        self.pane.show_task(row, known, laboratory=laboratory)
        self._deeds.follow(row)
        if self._refused.keys() - ({row.task.id} if row else set()):
            QTimer.singleShot(0, self, self._forget_refusals)
        self._ask_sheet(row)

    def _ask_sheet(self, row: TaskRow | None) -> None:
        """What stands under the task follows it a moment later."""
        if row is None:
            return
        task_id = row.task.id
        self.ask(lambda seat: bench_day.task_sheet(seat, task_id), self.pane.show_sheet, key="sheet")
