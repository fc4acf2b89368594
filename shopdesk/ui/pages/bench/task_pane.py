"""What stands beside the current task: why it waits, cautions, the keypad, a form when asked for."""

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QSizePolicy, QWidget

from shopdesk.domain.catalogue.model import Caution
from shopdesk.services.bench import TimeRow
from shopdesk.services.bench_day import TaskPart
from shopdesk.ui.dialogs import Dialogs
from shopdesk.ui.pages.bench.cautions import Cautions
from shopdesk.ui.pages.bench.hours_warning import HoursWarning
from shopdesk.ui.pages.bench.keypad import Deeds, Keypad
from shopdesk.ui.pages.bench.shown import TaskRow, task_name, wait_words
from shopdesk.ui.pages.bench.task_facts import THERMOSTAT, TaskFacts, read_words, tag_line
from shopdesk.ui.widgets.boxes import STRETCH, upright
from shopdesk.ui.widgets.headings import Heading, Note, ProblemText, Words
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.ui.widgets.photo_strip import Photo, PhotoStrip
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.wording import Region, say
from shopdesk.wording.guides import guide_in_units


class TaskPane(QWidget):
    """Shows one task; nothing of it is kept here."""

    def __init__(self, deeds: Deeds, dialogs: Dialogs, region: Region, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._region = region
        self._shown: int | None = None  # the task whose facts stand here
        self.name = Words("", "title")
        self.where = Note()
        self.problem = ProblemText()
        self.waits = Words("", "body", "hold")
        self.hours = HoursWarning()
        self.cautions = Cautions(deeds["read"])
        self.keypad = Keypad(deeds)
        self.deed: SmallForm | None = None
        self.deed_room = upright()
        self._facts = {key: (Heading(title, "strong"), Words()) for key, title in _titles().items()}
        self.torn_title = Heading(say("Taken apart, the last picture first"), "strong")
        self.torn = PhotoStrip(dialogs, may_add=False)
        self.torn.list.setAccessibleName(self.torn_title.text())
        self.strip = PhotoStrip(dialogs)
        parts: list[QWidget] = [widget for pair in self._facts.values() for widget in pair]
        body = upright(
            [self.name, self.where, self.problem, self.waits, self.hours, self.cautions, self.keypad,
             self.deed_room, self.torn_title, self.torn, *parts, self.strip, STRETCH],
            gap="small", margin="gap",
        )  # fmt: skip
        self.area = PageScroll(body)
        whole = upright([self.area, self.keypad.first], gap="small")
        whole.setStretchFactor(self.area, 1)
        self.setLayout(whole)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.show_task(None, ())

    def show_task(self, row: TaskRow | None, cautions: Sequence[Caution]) -> None:
        """The task at once, from the list; what stands under it follows by `show_facts`."""
        self.area.setVisible(row is not None)
        self.keypad.first.setVisible(row is not None and self.deed is None)
        if row is None:
            return
        task = row.task
        if task.id != self._shown:
            self._shown = task.id
            self._forget()
            self.area.verticalScrollBar().setValue(0)
        self.name.setText(task_name(task))
        where = say("{number}, {name}", number=task.range_number, name=row.range_name)
        self.where.setText(say("{where}. Usually {hours}.", where=where, hours=row.hours))
        self.problem.show_text(row.refused)
        waits = "\n".join(wait_words(w) for w in task.waits)
        self.waits.setText(waits)
        self.waits.setVisible(bool(waits))
        self.cautions.show_cautions(
            [replace(each, text=guide_in_units(say(each.text), self._region)) for each in cautions]
        )
        kinds = {w.kind for w in task.waits}
        self.keypad.show_state(
            done=row.done, running=row.running, laboratory="laboratory" in kinds,
            card="card" in kinds or THERMOSTAT in task.code,
        )  # fmt: skip
        self._say("note", task.note)

    def show_hours(self, text: str, *, stop: bool) -> None:
        """What is to be said of the agreed hours; "" says nothing."""
        self.hours.show_text(text, stop=stop)

    def show_facts(self, facts: TaskFacts) -> None:
        """Why it is there, how it is done, its parts, what came off, hours and pictures."""
        sheet = facts.sheet
        self.cautions.show_read(read_words(self._region, facts.cautions), new=bool(facts.cautions.new))
        self._say("because", sheet.because)
        self._say("advice", guide_in_units(sheet.advice, self._region))
        self._say("proofs", "\n".join(sheet.proofs))
        self._say("parts", "\n".join(_part_words(p) for p in sheet.parts))
        self._say("off", "\n".join(tag_line(t) for t in facts.off))
        self._say("hours", "\n".join(self._time_words(t) for t in sheet.hours))
        self.strip.show_photos([Photo(p.id, p.caption, p.thumbnail) for p in sheet.photographs])
        self._show_torn([Photo(p.photograph_id, f"{p.of}, {p.caption}", p.thumbnail) for p in facts.torn])

    def open_deed(self, deed: SmallForm) -> None:
        """Puts a form in the place of the keypad and the keyboard into it."""
        self.close_deed()
        self.deed = deed
        self.deed_room.addWidget(deed)
        for widget in (self.keypad, self.keypad.first, self.strip):  # a form may have a strip of its own
            widget.hide()
        deed.show()
        deed.focusFirst()
        QTimer.singleShot(0, deed, lambda: self._bring(deed))

    def _bring(self, deed: SmallForm) -> None:
        """A form comes in sight from its heading on, once it has found its height."""
        bar = self.area.verticalScrollBar()
        top = deed.mapTo(self.area.viewport(), deed.rect().topLeft()).y()
        bar.setValue(bar.value() + top)

    def close_deed(self) -> None:
        if self.deed is not None:
            self.deed_room.removeWidget(self.deed)
            self.deed.hide()
            self.deed.deleteLater()
            self.deed = None
            for widget in (self.keypad, self.keypad.first, self.strip):
                widget.show()
            self.area.verticalScrollBar().setValue(0)  # cautions first again

    def _forget(self) -> None:
        """What stood under the task before is not this one's."""
        self.cautions.show_read("", new=False)
        for key in ("because", "advice", "proofs", "parts", "off", "hours"):
            self._say(key, "")
        self.strip.show_photos([])
        self._show_torn([])

    def _show_torn(self, photos: Sequence[Photo]) -> None:
        self.torn.show_photos(photos)
        self.torn_title.setVisible(bool(photos))
        self.torn.setVisible(bool(photos))

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
        "off": say("Off the range"),
        "proofs": say("Proofs to redo after it"),
        "hours": say("Hours so far"),
    }


def _part_words(part: TaskPart) -> str:
    if part.called_off and part.here + part.called_off >= part.quantity:
        return say("{name}: called off", name=part.name)
    return say("{name}: {here} of {count} here", name=part.name, here=part.here, count=part.quantity)
