"""What stands beside the current task: why it waits, cautions, the keypad, a form when asked for."""

from collections.abc import Sequence

from PySide6.QtWidgets import QSizePolicy, QWidget

from shopdesk.domain.catalogue.model import Caution
from shopdesk.services.bench import TimeRow
from shopdesk.services.bench_day import TaskPart, TaskSheet
from shopdesk.ui.dialogs import Dialogs
from shopdesk.ui.pages.bench.cautions import Cautions
from shopdesk.ui.pages.bench.keypad import Deeds, Keypad
from shopdesk.ui.pages.bench.shown import TaskRow, task_name, wait_words
from shopdesk.ui.widgets.boxes import STRETCH, upright
from shopdesk.ui.widgets.headings import Heading, Note, ProblemText, Words
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.ui.widgets.photo_strip import Photo, PhotoStrip
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.wording import Region, say


class TaskPane(QWidget):
    """Shows one task; nothing of it is kept here."""

    def __init__(self, deeds: Deeds, dialogs: Dialogs, region: Region, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._region = region
        self.name = Words("", "title")
        self.where = Note()
        self.problem = ProblemText()
        self.waits = Words("", "body", "hold")
        self.cautions = Cautions()
        self.keypad = Keypad(deeds)
        self.deed: SmallForm | None = None
        self.deed_room = upright()
        self._facts = {key: (Heading(title, "strong"), Words()) for key, title in _titles().items()}
        self.strip = PhotoStrip(dialogs)
        parts: list[QWidget] = [widget for pair in self._facts.values() for widget in pair]
        body = upright(
            [self.name, self.where, self.problem, self.waits, self.cautions, self.keypad, self.deed_room,
             *parts, self.strip, STRETCH],
            gap="small", margin="gap",
        )  # fmt: skip
        self.area = PageScroll(body)
        whole = upright([self.area])
        self.setLayout(whole)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.show_task(None, ())

    def show_task(
        self, row: TaskRow | None, cautions: Sequence[Caution], *, laboratory: bool = False
    ) -> None:
        """The task at once, from the list; what stands under it follows by `show_sheet`."""
        self.area.setVisible(row is not None)
        if row is None:
            return
        task = row.task
        self.name.setText(task_name(task))
        where = say("{number}, {name}", number=task.range_number, name=row.range_name)
        self.where.setText(say("{where}. Usually {hours}.", where=where, hours=row.hours))
        self.problem.show_text(row.refused)
        waits = "\n".join(wait_words(w) for w in task.waits)
        self.waits.setText(waits)
        self.waits.setVisible(bool(waits))
        self.cautions.show_cautions(cautions)
        self.keypad.show_state(done=row.done, running=row.running, laboratory=laboratory)
        self._say("note", task.note)

    def show_sheet(self, sheet: TaskSheet | None) -> None:
        """Why it is there, how it is done, its parts, hours and pictures; None while it is asked for."""
        if sheet is None:
            for key in ("because", "advice", "proofs", "parts", "hours"):
                self._say(key, "")
            self.strip.show_photos([])
            return
        self._say("because", sheet.because)
        self._say("advice", sheet.advice)
        self._say("proofs", "\n".join(sheet.proofs))
        self._say("parts", "\n".join(_part_words(p) for p in sheet.parts))
        self._say("hours", "\n".join(self._time_words(t) for t in sheet.hours))
        self.strip.show_photos([Photo(p.id, p.caption, p.thumbnail) for p in sheet.photographs])

    def open_deed(self, deed: SmallForm) -> None:
        """Puts a form in the place of the keypad and the keyboard into it."""
        self.close_deed()
        self.deed = deed
        self.deed_room.addWidget(deed)
        self.keypad.hide()
        deed.show()
        deed.focusFirst()
        self.area.ensureWidgetVisible(deed)

    def close_deed(self) -> None:
        if self.deed is not None:
            self.deed_room.removeWidget(self.deed)
            self.deed.hide()
            self.deed.deleteLater()
            self.deed = None
            self.keypad.show()

    def _say(self, key: str, text: str) -> None:
        heading, words = self._facts[key]
        words.setText(text)
        heading.setVisible(bool(text))
        words.setVisible(bool(text))

    def _time_words(self, time: TimeRow) -> str:
        took = self._region.hours(time.minutes) if time.minutes is not None else say("the clock runs")
        day = self._region.day(self._region.local_day(time.started_at))
        words = say("{day}, {who}: {took}", day=day, who=time.who, took=took)
        return f"{words}. {time.note}" if time.note else words


def _titles() -> dict[str, str]:
    return {
        "note": say("Note"),
        "because": say("Why it is there"),
        "advice": say("How"),
        "parts": say("Parts"),
        "proofs": say("Proofs to redo after it"),
        "hours": say("Hours so far"),
    }


def _part_words(part: TaskPart) -> str:
    if part.called_off and part.here + part.called_off >= part.quantity:
        return say("{name}: called off", name=part.name)
    return say("{name}: {here} of {count} here", name=part.name, here=part.here, count=part.quantity)
