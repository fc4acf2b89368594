"""Opens the small forms for the current task and hands what they say to the services."""

from typing import TYPE_CHECKING, Any

from shopdesk.domain.problem import Problem
from shopdesk.domain.work.holds import LABORATORY
from shopdesk.services import bench, bench_pictures, cautions, tags
from shopdesk.services.bench import BenchTask
from shopdesk.services.tags import TagRow
from shopdesk.ui.dialogs import PICTURES
from shopdesk.ui.pages.bench import deeds
from shopdesk.ui.pages.bench.draft import found_more, hours_afterwards
from shopdesk.ui.tag_form import TagForm, draft_of, parts_of, show_labels
from shopdesk.ui.widgets.photo_strip import Brought, read_picture
from shopdesk.wording import say, say_n

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat
    from shopdesk.ui.pages.bench.page import BenchPage
    from shopdesk.ui.pages.bench.shown import TaskRow


class TaskDeeds:
    """Belongs to one page; a form closes when it was saved, or when another task is chosen."""

    def __init__(self, page: "BenchPage") -> None:
        self._page = page
        self._of: int | None = None  # the task an open form is about

    def follow(self, row: "TaskRow | None") -> None:
        """Another task is current: what was half typed for the one before is put away."""
        task_id = row.task.id if row else None
        if task_id != self._of and self._page.pane.deed is not None:
            self._page.pane.close_deed()
        self._of = task_id

    def hours(self) -> None:
        seat = self._page.context.seat

        def save(task: BenchTask, values: dict[str, Any]) -> None:
            given = hours_afterwards(values, seat.today)
            said = say("{number}: {hours} written down.", number=task.range_number,
                       hours=seat.region.hours(given.minutes))  # fmt: skip
            self._do(
                task,
                lambda s: bench.log_minutes(s, task.id, given.minutes, on=given.on, note=given.note),
                said,
            )

        self._open(lambda _task, save_, close: deeds.hours_deed(seat.region, seat.today, save_, close), save)

    def note(self) -> None:
        def save(task: BenchTask, values: dict[str, Any]) -> None:
            self._do(task, lambda s: bench.note(s, task.id, values["note"]))

        phrases = self._page.context.seat.catalogue.phrases
        self._open(
            lambda task, save_, close: deeds.note_deed(phrases, task.note, save_, close),
            save,
            overwrites=True,
        )

    def block(self) -> None:
        def save(task: BenchTask, values: dict[str, Any]) -> None:
            self._do(task, lambda s: bench.block(s, task.id, values["because"]))

        phrases = self._page.context.seat.catalogue.phrases
        self._open(
            lambda task, save_, close: deeds.block_deed(phrases, _blocked(task), save_, close),
            save,
            overwrites=True,
        )

    def give(self) -> None:
        def save(task: BenchTask, values: dict[str, Any]) -> None:
            self._do(task, lambda s: bench.assign(s, task.id, values["staff_id"]))

        people = self._page.people
        self._open(
            lambda task, save_, close: deeds.give_deed(people, task.assigned_to_id, save_, close), save
        )

    def part_done(self) -> None:
        def save(task: BenchTask, values: dict[str, Any]) -> None:
            self._do(task, lambda s: bench.tick(s, task.id, values["share"]))

        self._open(lambda task, save_, close: deeds.part_done_deed(task.done_share, save_, close), save)

    def answer(self) -> None:
        def save(task: BenchTask, values: dict[str, Any]) -> None:
            self._do(
                task,
                lambda s: bench.answer_hold(
                    s, task.job_id, values["answer"], values["reference"], LABORATORY
                ),
                say("{number}: the laboratory’s answer is recorded.", number=task.range_number),
            )

        row = self._page.current()
        if row is not None and any(w.kind == "laboratory" for w in row.task.waits):
            self._open(lambda _task, save_, close: deeds.answer_deed(save_, close), save)

    def found_more(self) -> None:
        context = self._page.context
        phrases = context.seat.catalogue.phrases

        def save(task: BenchTask, values: dict[str, Any]) -> None:
            given = found_more(values)
            open_deed = self._page.pane.deed
            pictures = list(open_deed.pictures) if isinstance(open_deed, deeds.FoundMoreDeed) else []

            def act(seat: "Seat") -> None:
                read = [(p.name, read_picture(p)) for p in pictures]
                change_id = bench.find_more(seat, task.job_id, given.what, given.minutes)
                bench_pictures.photograph_found(seat, change_id, read, given.what)

            self._do(task, act, say("{number}: the counter has been told. It waits for the customer’s word.",
                                    number=task.range_number))  # fmt: skip

        self._open(
            lambda _task, save_, close: deeds.FoundMoreDeed(
                phrases, context.region, context.dialogs, save_, close
            ),
            save,
        )

    def take_off(self) -> None:
        """A tag for what this task takes off its range; the form is there at once, as one types on."""
        build, places = self._page.build_and_places()
        self._open(
            lambda _task, save, close: TagForm(
                say("Took off"), say("Make the tag"), parts_of(build), places, save, close
            ),
            self._tag,
        )

    def _tag(self, task: BenchTask, values: dict[str, Any]) -> None:
        context, draft = self._page.context, draft_of(values, task.id)

        def act(seat: "Seat") -> TagRow:
            key = tags.tag_off(seat, task.job_id, draft)
            return next(tag for tag in tags.tags(seat, job_id=task.job_id) if tag.id == key)

        def stands(tag: TagRow) -> None:
            self._page.close_deed()
            told = say("{tag} is out: {count} × {what}.", tag=tag.number, count=tag.how_many, what=tag.what)
            context.tell(told, say("Print its label"), lambda: show_labels(context, [tag]))
            if values["label"]:
                show_labels(context, [tag])

        self._page.do(act, stands, lambda problem: self._failed(task, problem),
                      changes=("jobs", f"job {task.job_id}", "tags"))  # fmt: skip

    def photograph(self) -> None:
        """Asks for picture files and keeps them with the task."""
        if self._page.current() is None:
            return
        files = self._page.context.dialogs.open_files(
            say("Photograph to the task"), say("Pictures"), PICTURES
        )
        self.keep_pictures([Brought(path.name, path) for path in files])

    def keep_pictures(self, pictures: list[Brought]) -> None:
        row = self._page.current()
        if row is None or not pictures:
            return
        task = row.task

        def act(seat: "Seat") -> None:
            for picture in pictures:
                bench_pictures.photograph_task(
                    seat, task.id, read_picture(picture), picture.name, caption=task.name
                )

        count = say_n("{count} picture is kept", "{count} pictures are kept", len(pictures))
        self._do(task, act, say("{number}: {count} with “{task}”.", number=task.range_number, count=count,
                                task=task.name))  # fmt: skip

    def _open(self, make: Any, save: Any, *, overwrites: bool = False) -> None:
        """Opens a form about the current task; `save` gets that task and the values.

        `overwrites`: it shows a text that stands, and another seat may write another one meanwhile.
        """
        row = self._page.current()
        if row is None:
            if self._page.list.model.rowCount():
                self._page.context.tell_problem(say("Choose a task first; this is the heading of a range."))
            return
        task = row.task

        def keep(values: dict[str, Any]) -> None:
            try:
                save(task, values)
            except Problem as problem:
                self._failed(task, problem)

        deed = make(task, keep, self._page.close_deed)
        deed.form.read_from(self._page.read if overwrites else None)
        self._page.pane.open_deed(deed)

    def _do(self, task: BenchTask, act: Any, said: str = "") -> None:
        def stands(_result: object) -> None:
            self._page.close_deed()
            if said:
                self._page.context.tell(said)

        deed = self._page.pane.deed
        self._page.do(act, stands, lambda problem: self._failed(task, problem),
                      changes=("jobs", f"job {task.job_id}", "ranges"),
                      form=deed.form if deed is not None else None)  # fmt: skip

    def _failed(self, task: BenchTask, problem: Problem) -> None:
        if isinstance(problem, cautions.Unread):
            self._page.close_deed()
        if self._page.pane.deed is not None:
            self._page.pane.deed.form.show_problem(problem)
        else:
            self._page.refuse(task.id, problem)


def _blocked(task: BenchTask) -> str:
    return next((w.what for w in task.waits if w.kind == "blocked"), "")
