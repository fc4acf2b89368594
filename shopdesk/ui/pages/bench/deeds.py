"""The small forms of the Bench, one at a time beside the task: hours, note, blocked, found more and so on.

Each is made when asked for; Return saves where there is one line to type, Escape closes. They know fields
and words; the page calls the services.
"""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QListWidget, QListWidgetItem

from shopdesk.ui.dialogs import Dialogs
from shopdesk.ui.look import spacing
from shopdesk.ui.pages.bench.draft import with_phrase
from shopdesk.ui.span_fields import add_span, tapped_hours
from shopdesk.ui.widgets.fields import ChoiceField, DayField, NoteField, TextField
from shopdesk.ui.widgets.headings import Heading
from shopdesk.ui.widgets.photo_strip import Brought, PhotoStrip
from shopdesk.ui.widgets.small_form import Close, Save, SmallForm
from shopdesk.wording import Region, say


class Phrases(QListWidget):
    """Short notes of the catalogue; a click or Return sets one after what was typed."""

    def __init__(self, phrases: Sequence[str], note: NoteField, edited: Close) -> None:
        super().__init__()
        self._note, self._edited = note, edited
        self.setAccessibleName(say("Phrases: Return sets one into the note"))
        self.addItems(list(phrases))
        high = spacing(self.font()).target
        for place in range(self.count()):  # for fingers, not for the tip of a mouse
            self.item(place).setSizeHint(QSize(100, high))
        self.setFixedHeight(high * 7)
        self.itemClicked.connect(self._take)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.currentItem() is not None:
            self._take(self.currentItem())
        else:
            super().keyPressEvent(event)

    def _take(self, item: QListWidgetItem) -> None:
        self._note.setPlainText(with_phrase(self._note.toPlainText(), item.text()))
        self._edited()


def hours_deed(region: Region, today: Any, save: Save, close: Close) -> SmallForm:
    deed = SmallForm(say("Hours afterwards"), say("Write the hours down"), save, close)
    deed.form.add("minutes", say("Time worked"), tapped_hours(region))
    on = deed.form.add("on", say("On"), DayField(region))
    on.setValue(today)
    deed.form.add("note", say("What it was"), TextField())
    return deed.ready()


def note_deed(phrases: Sequence[str], text: str, save: Save, close: Close) -> SmallForm:
    deed = SmallForm(say("Note"), say("Keep the note"), save, close)
    field = deed.form.add(
        "note", say("Note to this task"), NoteField(text), note=say("Ctrl+Return keeps it.")
    )
    deed.box.addWidget(Phrases(phrases, field, field.setFocus))
    return deed.ready()


def block_deed(phrases: Sequence[str], text: str, save: Save, close: Close) -> SmallForm:
    deed = SmallForm(say("Blocked because"), say("Say that it is blocked"), save, close)
    field = deed.form.add(
        "because", say("What stops it"), NoteField(text, lines=2),
        note=say("Ctrl+Return keeps it. Empty frees the task."),
    )  # fmt: skip
    deed.box.addWidget(Phrases(phrases, field, field.setFocus))
    return deed.ready()


class FoundMoreDeed(SmallForm):
    """What was found and what it takes, with pictures that are kept when it is saved."""

    def __init__(
        self, phrases: Sequence[str], region: Region, dialogs: Dialogs, save: Save, close: Close
    ) -> None:
        super().__init__(say("Found more"), say("Tell the counter"), save, close, columns=2)
        self.pictures: list[Brought] = []
        what = self.form.add(
            "what", say("What was found"), NoteField(lines=2),
            note=say("It becomes a change order and waits for the customer’s word."), wide=True,
        )  # fmt: skip
        add_span(self.form, region)
        self.box.addWidget(Phrases(phrases, what, what.setFocus))
        self.strip = PhotoStrip(dialogs)
        self.strip.brought.connect(self._bring)
        self._brought = Heading("", "body")
        self.box.addWidget(self.strip)
        self.box.addWidget(self._brought)
        self._brought.hide()
        self.ready()

    def _bring(self, pictures: list[Brought]) -> None:
        self.pictures += pictures
        names = ", ".join(p.name for p in self.pictures)
        self._brought.setText(say("To be kept with it: {names}", names=names))
        self._brought.show()


def give_deed(people: Sequence[tuple[int, str]], given: int | None, save: Save, close: Close) -> SmallForm:
    deed = SmallForm(say("Give the task to"), say("Give it"), save, close)
    choices = [(None, say("nobody in particular")), *people]
    field = deed.form.add("staff_id", say("Person"), ChoiceField(choices))
    field.setValue(given)
    return deed.ready()


def part_done_deed(share: int, save: Save, close: Close) -> SmallForm:
    deed = SmallForm(say("Part done"), say("Keep it so"), save, close)
    choices = [
        (0, say("not begun")),
        (25, say("a quarter")),
        (50, say("half")),
        (75, say("three quarters")),
        (90, say("nearly all")),
    ]
    nearest = min((key for key, _ in choices), key=lambda key: abs(key - share))
    field = deed.form.add("share", say("How far it is"), ChoiceField(choices))
    field.setValue(nearest)
    return deed.ready()


def answer_deed(save: Save, close: Close) -> SmallForm:
    deed = SmallForm(say("The laboratory’s answer"), say("Record the answer"), save, close)
    deed.form.add(
        "reference", say("Laboratory and report number"), TextField(),
        note=say("Only a laboratory tells. Nobody judges old insulation by eye."),
    )  # fmt: skip
    choices = [
        (None, say("choose what the report says")),
        ("negative", say("negative: no asbestos found in the sample")),
        ("positive", say("positive: asbestos found; a licensed firm takes it out")),
    ]
    deed.form.add("answer", say("What the report says"), ChoiceField(choices),
                  required=say("Choose what the report says."))  # fmt: skip
    return deed.ready()
