"""What the sections of the Stores share: a list with its keys, and beside it words, buttons or one form."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QApplication, QWidget

from shopdesk.domain.changed import Seen
from shopdesk.domain.problem import Problem
from shopdesk.ui.context import Topics
from shopdesk.ui.drafts import Drafts
from shopdesk.ui.look import spacing
from shopdesk.ui.widgets.beside import Beside
from shopdesk.ui.widgets.boxes import STRETCH, upright
from shopdesk.ui.widgets.buttons import Button, fill_menu
from shopdesk.ui.widgets.headings import Heading, Note, ProblemText
from shopdesk.ui.widgets.list_table import ListTable
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say_problem

if TYPE_CHECKING:
    from shopdesk.ui.pages.page import Page


class Side(QWidget):
    """Beside a list: what the chosen row is, what can be done with it, and a form when one is open."""

    def __init__(self, drafts: Drafts) -> None:
        super().__init__()
        self._drafts = drafts
        self.title = Heading("")
        self.title.setWordWrap(True)
        self.note = Note()
        self.problem = ProblemText()
        self.buttons = upright(gap="small")
        self.more = upright(gap="small")
        self._room = upright()
        self._deeds = QWidget()
        inner = upright([self.buttons, self.more], gap="gap")
        self._deeds.setLayout(inner)
        self.form: SmallForm | None = None
        body = upright(
            [self.title, self.note, self.problem, self._deeds, self._room, STRETCH],
            gap="small", margin="gap",
        )  # fmt: skip
        self.area = PageScroll(body)
        self.setLayout(upright([self.area]))

    def say(self, title: str, note: str = "") -> None:
        self.title.setText(title)
        self.note.setText(note)
        self.title.setVisible(bool(title))
        self.note.setVisible(bool(note))
        self.problem.show_text("")

    def open_form(self, form: SmallForm) -> None:
        """A form in the place of the buttons, with the keyboard; what was typed in it before is there."""
        self.close_form()
        self.form = form
        if form.keeps_draft:
            form.form.remember(self._drafts, f"stores/{form.heading.text()}")
        for widget in (self._deeds, self.title, self.note):
            widget.hide()
        self.problem.show_text("")
        self._room.addWidget(form)
        form.show()
        form.focusFirst()

    def close_form(self) -> None:
        if self.form is not None:
            self._room.removeWidget(self.form)
            self.form.hide()
            self.form.deleteLater()
            self.form = None
        for widget in (self._deeds, self.title, self.note):
            widget.show()

    def form_saved(self) -> None:
        """What the open form says stands in the shop now."""
        if self.form is not None:
            self.form.form.saved()
        self.close_form()

    def show_problem(self, problem: Problem) -> None:
        """In the open form beside its field, else under the heading."""
        if self.form is not None:
            self.form.form.show_problem(problem)
        else:
            self.problem.show_text(say_problem(problem))


class Section(QWidget):
    """Derive from this: make `list` and call `assemble`; answer `refresh`; follow `show_current`."""

    rowsCame = Signal()
    topics: Topics = frozenset({"everything", "stores", "jobs", "ranges", "settings"})

    def __init__(self, page: "Page") -> None:
        super().__init__()
        self.page = page
        self.context = page.context
        self.side = Side(page.context.drafts)
        self._wants_keyboard = False
        self._deeds: list[Button] = []
        self.read: Seen | None = None  # the state of the shop its rows were read from
        self.list: ListTable

    def assemble(self, name: str, *above: QWidget, shares: tuple[int, int] = (2, 1)) -> None:
        """The list beside its side, with what stands above the list; `shares` of the width for each."""
        left = QWidget()
        inside = upright([*above, self.list], gap="small")
        inside.setStretchFactor(self.list, 1)
        left.setLayout(inside)
        both = Beside(left, self.side, self.context.memory, f"stores/{name}", shares=shares)
        body = upright([both])
        self.setLayout(body)
        self._fit_signs()
        self.list.chosen.connect(lambda _key: self._follow())
        self.list.menuAsked.connect(lambda _row, menu: fill_menu(menu, self._deeds))

    def key(self, letter: str, deed: Callable[[], object]) -> None:
        """A single key while the list has the keyboard."""
        shortcut = QShortcut(QKeySequence(letter), self.list.view)
        shortcut.setContext(Qt.ShortcutContext.WidgetShortcut)
        shortcut.activated.connect(deed)

    def add_deeds(self, deeds: Sequence[tuple[str, str, Callable[[], object], str]]) -> list[Button]:
        """Buttons in the side, each (text, key, deed, icon); the key shows behind the text."""
        made = []
        for text, letter, deed, icon_name in deeds:
            button = Button(f"{text} ({letter})", deed, icon_name=icon_name)
            self.key(letter, deed)
            made.append(button)
        self.side.buttons.addWidget(WrappedRow(made))
        self._deeds += made
        return made

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "list"):
            self._fit_signs()

    def _fit_signs(self) -> None:
        """The signs of standings grow with the letters."""
        side = spacing(QApplication.font()).icon
        self.list.view.setIconSize(QSize(side, side))

    def refresh(self, topics: Topics) -> None:
        """Asks anew for the rows."""

    def show_current(self) -> None:
        """Says beside the list what its current row is."""

    def show_list(self, rows: Sequence[Any]) -> None:
        """Shows rows, the first one chosen; takes the keyboard if it was asked to before they came."""
        self.read = self.context.reading or self.read
        self.list.show_rows(rows)
        if rows and not self.list.selected():
            key = self.list.current_key()
            self.list.select(self.list.model.key_at(0) if key is None else key)
        if rows and self._wants_keyboard and not self.isAncestorOf(QApplication.focusWidget() or self):
            self.list.focusFirst()
        self._wants_keyboard = False
        self.show_current()
        self.rowsCame.emit()

    def focusFirst(self) -> None:
        self._wants_keyboard = not self.list.model.rowCount()
        self.list.focusFirst()

    def close_form(self) -> None:
        self.side.close_form()
        self.list.focusFirst()

    def form_saved(self) -> None:
        """What the open form says stands in the shop; it goes, and its draft."""
        self.side.form_saved()
        self.list.focusFirst()

    def save(
        self, action: Callable[[Any], Any], said: Callable[[Any], str] | str = "",
        changes: Sequence[str] = ("stores", "jobs"),
    ) -> None:  # fmt: skip
        """Does it; then the form closes and the strip says what happened. A refusal stands in the form."""

        def stands(result: Any) -> None:
            self.form_saved()
            text = said(result) if callable(said) else said
            if text:
                self.context.tell(text)

        form = self.side.form.form if self.side.form is not None else None
        self.page.do(action, stands, self.side.show_problem, changes=changes, form=form)

    def _follow(self) -> None:
        """Another row: a form about the row before is put away."""
        if self.side.form is not None:
            self.side.close_form()
        self.show_current()
