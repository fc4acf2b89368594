"""The open checkpoint, large: what to look at, how to tell, why, and its answers on one key each."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QColor,
    QDragEnterEvent,
    QDropEvent,
    QFocusEvent,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
)
from PySide6.QtWidgets import QBoxLayout, QVBoxLayout, QWidget

from shopdesk.domain.catalogue.model import Evidence, Severity
from shopdesk.services.papers.words import evidence_word
from shopdesk.ui.dialogs import Dialogs
from shopdesk.ui.look import colours_of, spacing
from shopdesk.ui.pages.walk_round.answer_button import AnswerButton
from shopdesk.ui.pages.walk_round.draft import HOW, Walk
from shopdesk.ui.pages.walk_round.keys import deed_of, key_words
from shopdesk.ui.pages.walk_round.phone_offer import PhoneOffer
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.fields import TextField
from shopdesk.ui.widgets.headings import Note, Words
from shopdesk.ui.widgets.photo_strip import Photo, PhotoStrip
from shopdesk.wording import Region, say
from shopdesk.wording.guides import guide_in_units

_HOW_KEYS = {Evidence.CLAIMED: "C", Evidence.SEEN: "E", Evidence.TESTED: "T"}
_NOTE_PAUSE = 400  # ms after the last letter until a note is kept


class NoteLine(TextField):
    """Enter and Escape go back to the keys of the walk."""

    done = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Escape):
            self.done.emit()
        else:
            super().keyPressEvent(event)


class CheckpointView(QWidget):
    """`meant` tells what a key or a button means (see `keys`), with the place of a finding."""

    meant = Signal(str, int)
    noted = Signal(str)

    def __init__(self, dialogs: Dialogs, region: Callable[[], Region], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._region = region
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAcceptDrops(True)
        self.where = Note()
        self.name = Words("", "head")
        self.lit = Words(say("Not lit on a walk-round: claimed, or not seen."), "strong", "hold")
        self.tell = Words()
        self.why = Words("", "body", "muted")
        self.filed = Words("", "strong", "hold")
        self.sound = self._button("S", "sound")
        self.passed = self._button("N", "pass")
        self.found: list[AnswerButton] = []
        self.how = {how: self._button(_HOW_KEYS[how], how.value) for how in HOW}
        self.count = Note()
        self.note = NoteLine()
        self.note.setPlaceholderText(say("Note"))
        self.note.setAccessibleName(say("Note at this checkpoint"))
        self.photos = PhotoStrip(dialogs)
        self.offer = PhoneOffer()
        self.keys = Note(key_words())
        self._timer = QTimer(self, interval=_NOTE_PAUSE, singleShot=True)
        self._timer.timeout.connect(self.keep_note)
        self._typing = False  # in the note, and not told yet
        self.note.edited.connect(self._type_note)
        self.note.done.connect(self._leave_note)
        self._answers = QVBoxLayout()
        self.setLayout(self._laid_out())

    # What is shown

    def show_walk(self, walk: Walk, *, may_answer: bool) -> None:
        """The open checkpoint with what is answered there."""
        checkpoint = walk.checkpoint
        place, count = walk.place_in_zone()
        zone = walk.catalogue.zones[checkpoint.zone]
        number = walk.catalogue.number(checkpoint.code)
        self.where.setText(
            say("{number} {zone}, {place} of {count}", number=number, zone=say(zone.name), place=place,
                count=count)
        )  # fmt: skip
        self.name.setText(say(checkpoint.name))
        self.lit.setVisible(checkpoint.flame)
        region = self._region()
        self.tell.setText(guide_in_units(say(checkpoint.tell), region))
        self.why.setText(guide_in_units(say(checkpoint.why), region))
        self.why.setVisible(bool(checkpoint.why))
        self.filed.setText(
            say("Filed by itself: {facts} It goes again when they agree (I: particulars).",
                facts=walk.filed_for)
        )  # fmt: skip
        self.filed.setVisible(bool(walk.filed_for))
        self._show_answers(walk)
        self._show_how(walk)
        if not self._typing:
            self.note.setValue(walk.note)
        self.setAccessibleName(self.name.text())
        self.setAccessibleDescription(f"{self.where.text()}. {self.tell.text()}")
        for widget in (self.sound, self.passed, self.note, *self.found, *self.how.values()):
            widget.setEnabled(may_answer)
        for widget in (self.photos.add_button, self.photos.paste_button):
            widget.setVisible(may_answer)
        self.offer.show_rights(may_answer=may_answer)

    def show_photos(self, photos: Sequence[Photo]) -> None:
        self.photos.show_photos(photos)

    def _show_answers(self, walk: Walk) -> None:
        checkpoint, given, offered = walk.checkpoint, walk.answers(), walk.offered
        while len(self.found) < len(offered):
            place = len(self.found)
            button = self._button(str(place + 1), "found", place)
            self.found.append(button)
            self._answers.insertWidget(1 + place, button)
        for button in self.found[len(offered) :]:
            button.hide()
        self.sound.show_answer(say(checkpoint.sound), given=any(a.sound for a in given))
        for button, finding in zip(self.found, offered, strict=False):
            answer = walk.given(finding)
            severity = finding.severity.get(walk.purpose, Severity.NONE).value
            extent = answer.extent if answer else walk.count
            counted = bool(finding.per) and (answer is not None or extent > 1)
            count = say("{count} × {what}", count=extent, what=say(finding.per)) if counted else ""
            button.show_answer(say(finding.name), severity, given=answer is not None, count=count)
            button.setToolTip(say(finding.means) if finding.means else "")
            button.show()
        passed = any(a.evidence is Evidence.NOT_SEEN for a in given)
        self.passed.show_answer(say("Not seen"), given=passed)

    def _show_how(self, walk: Walk) -> None:
        for how, button in self.how.items():
            button.show_answer(evidence_word(how), given=how is walk.evidence)
        self.count.setVisible(walk.count > 1)
        self.count.setText(say("Counts {count} with the next finding.", count=walk.count))

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        deed, place = deed_of(event)
        if deed:
            self.meant.emit(deed, place)
        else:
            super().keyPressEvent(event)

    def write_note(self) -> None:
        """The keyboard goes to the note."""
        self.note.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.note.end(False)

    def keep_note(self) -> None:
        """Tells what was typed into the note, if it was not told yet."""
        self._timer.stop()
        if self._typing:
            self._typing = False
            self.noted.emit(self.note.value())

    def _type_note(self) -> None:
        self._typing = True
        self._timer.start()

    def _leave_note(self) -> None:
        self.keep_note()
        self.setFocus(Qt.FocusReason.OtherFocusReason)

    # Inside

    def _button(self, key: str, deed: str, place: int = 0) -> AnswerButton:
        button = AnswerButton(key)
        button.clicked.connect(lambda _checked: self.meant.emit(deed, place))
        return button

    def _laid_out(self) -> QVBoxLayout:
        self._answers.setSpacing(spacing(self.font()).hair)
        self._answers.addWidget(self.sound)
        self._answers.addWidget(self.passed)
        self._how_box = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._how_box.setSpacing(spacing(self.font()).hair)
        for button in self.how.values():
            self._how_box.addWidget(button)
        box = upright(
            [self.where, self.name, self.lit, self.tell, self.why, self.filed, self._answers, self.count,
             self._how_box,
             self.note, self.photos, self.offer, self.keys],
            gap="small", margin="small",
        )  # fmt: skip
        box.addStretch(1)
        return box

    def minimumSizeHint(self) -> QSize:
        """As narrow as the widest answer; how it is known then stands under each other."""
        buttons = (self.sound, self.passed, *self.found, *self.how.values())
        widest = max(button.minimumSizeHint().width() for button in buttons)
        return QSize(widest + 2 * spacing(self.font()).small, super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        needed = sum(button.minimumSizeHint().width() for button in self.how.values())
        beside = self.width() >= needed + 6 * spacing(self.font()).small
        directions = QBoxLayout.Direction
        self._how_box.setDirection(directions.LeftToRight if beside else directions.TopToBottom)

    def paintEvent(self, event: QPaintEvent) -> None:
        """A bar at the side says that the keys of the walk are heard."""
        if self.hasFocus():
            painter = QPainter(self)
            painter.fillRect(0, 0, 3, self.height(), QColor(colours_of(self.palette()).focus))
            painter.end()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        self.photos.dragEnterEvent(event)

    def dropEvent(self, event: QDropEvent) -> None:
        self.photos.dropEvent(event)
