"""Two people wrote over the same record: both texts side by side, and the choice of one for each field.

It lies over the open page, which stays as it is. What was typed is kept as a draft until it is saved or
thrown away; a shop that is opened again offers it.
"""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import (
    QGuiApplication,
    QKeySequence,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPalette,
    QPen,
    QShortcut,
)
from PySide6.QtWidgets import QButtonGroup, QFrame, QRadioButton, QSizePolicy, QWidget

from shopdesk.domain.changed import Path
from shopdesk.ui.both_words import BothTexts, both_texts, record_name, who_and_when
from shopdesk.ui.context import Conflict, Context
from shopdesk.ui.side_by_side import SideBySide
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.buttons import Button, MainButton
from shopdesk.ui.widgets.headings import Heading, Note, Words
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say

DRAFTS = "kept text/"


class Side(QFrame):
    """One of the two texts; the whole of it is the target."""

    def __init__(self, text: str, name: str) -> None:
        super().__init__()
        self.radio = QRadioButton()
        self.radio.setAccessibleName(name)
        self.words = Words(text)
        self.words.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        beside = upright([self.words, STRETCH])
        row = level([upright([self.radio, STRETCH]), beside], margin="small")
        row.setStretchFactor(beside, 1)
        self.setLayout(row)
        self.radio.toggled.connect(lambda _on: self.update())

    def paintEvent(self, event: QPaintEvent) -> None:
        """A line around it; a stronger one around the text that is to stand."""
        super().paintEvent(event)
        painter = QPainter(self)
        chosen = self.radio.isChecked()
        role = QPalette.ColorRole.Highlight if chosen else QPalette.ColorRole.PlaceholderText
        painter.setPen(QPen(self.palette().color(role), 2 if chosen else 1))
        painter.drawRect(self.rect().adjusted(1, 1, -2, -2))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self.radio.setChecked(True)
        self.radio.setFocus(Qt.FocusReason.MouseFocusReason)
        super().mouseReleaseEvent(event)


class Choice:
    """Theirs or mine in one field; arrows go from one to the other."""

    def __init__(self, texts: BothTexts) -> None:
        self.texts = texts
        self.theirs = Side(texts.theirs, say("{field}, theirs: {text}", field=texts.label, text=texts.theirs))
        self.mine = Side(texts.mine, say("{field}, mine: {text}", field=texts.label, text=texts.mine))
        self._group = QButtonGroup(self.theirs)
        for side in (self.theirs, self.mine):
            self._group.addButton(side.radio)
        self.take(theirs=texts.take_theirs)

    def take(self, *, theirs: bool) -> None:
        (self.theirs if theirs else self.mine).radio.setChecked(True)

    def focusFirst(self) -> None:
        (self.theirs if self.is_theirs else self.mine).radio.setFocus()

    @property
    def is_theirs(self) -> bool:
        return self.theirs.radio.isChecked()


class ConflictPane(QFrame):
    """Over the whole workspace until it is saved or left; `closed` when it goes."""

    closed = Signal()

    def __init__(self, context: Context, conflict: Conflict, over: QWidget) -> None:
        super().__init__(over)
        self._context, self._conflict, self._over = context, conflict, over
        changed, region = conflict.changed, context.region
        texts = both_texts(region, changed, conflict.labels)
        self.choices = [Choice(each) for each in texts]
        self._draft = f"{DRAFTS}{changed.differences[0].key}"
        who = who_and_when(region, changed.who, changed.at)
        record = record_name(changed.differences[0].key)
        context.drafts.keep(self._draft, kept_text(record, who, texts))
        self.save_button = MainButton(say("&Save it so"), self._save, icon_name="tick")
        buttons = [
            self.save_button,
            Button(say("All &theirs"), lambda: self._take(theirs=True)),
            Button(say("All &mine"), lambda: self._take(theirs=False)),
            Button(say("Back to what I typed (Esc)"), self._leave),
        ]
        told = say(
            "{who} saved this while you had it open. Choose for each line what is to stand: "
            "arrow keys go from one text to the other. Nothing is saved yet, and nothing you typed is lost.",
            who=changed.who,
        )
        head = [Heading(say("{record}: two texts", record=record), "head"), Words(told)]
        body = _page([*head, _choices(self.choices, who), WrappedRow(buttons)])
        _lie_over(self, over, body)
        _keys(self, {"Ctrl+Return": self._save, "Ctrl+Enter": self._save, "Esc": self._leave})
        self.choices[0].focusFirst()

    def _take(self, *, theirs: bool) -> None:
        for choice in self.choices:
            choice.take(theirs=theirs)

    def _save(self) -> None:
        """Theirs in a record that mine would take away leaves everything as they have it."""
        theirs: frozenset[tuple[str, Path]] = frozenset(
            (choice.texts.key, choice.texts.path) for choice in self.choices if choice.is_theirs
        )
        if any(not path for _key, path in theirs):
            self._leave()
            return
        self._conflict.answer(theirs)
        self._context.drafts.drop(self._draft)
        self.closed.emit()

    def _leave(self) -> None:
        self.closed.emit()
        self._context.tell(
            say("What you typed is kept, and nothing was saved."),
            say("Show both texts"),
            lambda: self._context.conflicted.emit(self._conflict),
        )

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self._over and event.type() == QEvent.Type.Resize:
            self.setGeometry(self._over.rect())
        return False


class KeptTextPane(QFrame):
    """What was typed and never saved, beside what somebody else saved: to be read and copied."""

    closed = Signal()

    def __init__(self, context: Context, name: str, over: QWidget) -> None:
        super().__init__(over)
        self._context, self._name, self._over = context, name, over
        kept = context.drafts.kept(name)
        rows = [row for row in kept.get("fields", ()) if isinstance(row, list) and len(row) == 3]
        self._mine = "\n".join(f"{label}: {mine}" for label, _theirs, mine in rows)
        told = say("This was typed and not saved, because somebody else had saved another text. "
                   "Open the record to write it again, or throw it away.")  # fmt: skip
        buttons = [
            MainButton(say("&Copy what I typed"), self._copy),
            Button(say("&Throw it away"), self._throw_away),
            Button(say("Keep it for later (Esc)"), self.closed.emit),
        ]
        texts = SideBySide(
            str(kept.get("who", "")),
            [
                (Words(str(label), "strong"), Words(str(theirs)), Words(str(mine)))
                for label, theirs, mine in rows
            ],
        )
        title = Heading(say("{record}: a text of yours", record=kept.get("record", "")), "head")
        self.buttons = buttons
        _lie_over(self, over, _page([title, Words(told), texts, WrappedRow(buttons)]))
        _keys(self, {"Esc": self.closed.emit})
        buttons[0].setFocus()

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self._mine)
        self._context.tell(say("What you typed is copied."))

    def _throw_away(self) -> None:
        self._context.drafts.drop(self._name)
        self.closed.emit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self._over and event.type() == QEvent.Type.Resize:
            self.setGeometry(self._over.rect())
        return False


def kept_text(record: str, who: str, texts: list[BothTexts]) -> dict[str, Any]:
    """Both texts as a draft keeps them: in words, to be read again."""
    return {"record": record, "who": who, "fields": [[t.label, t.theirs, t.mine] for t in texts]}


def _choices(choices: list[Choice], who: str) -> SideBySide:
    rows = []
    for choice in choices:
        texts = choice.texts
        before = [Note(say("before: {text}", text=texts.before))] if texts.before else []
        label = QWidget()
        label.setLayout(upright([Words(texts.label, "strong"), *before, STRETCH], gap="hair"))
        rows.append((label, choice.theirs, choice.mine))
    return SideBySide(who, rows)


def _page(parts: list[Any]) -> PageScroll:
    return PageScroll(upright([*parts, STRETCH], gap="gap", margin="wide"))


def _lie_over(pane: QFrame, over: QWidget, body: PageScroll) -> None:
    pane.setAutoFillBackground(True)
    pane.setLayout(upright([body]))
    over.installEventFilter(pane)
    pane.setGeometry(over.rect())
    pane.show()
    pane.raise_()


def _keys(pane: QFrame, deeds: dict[str, Callable[[], object]]) -> None:
    for keys, deed in deeds.items():
        shortcut = QShortcut(QKeySequence(keys), pane)
        shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        shortcut.activated.connect(deed)
