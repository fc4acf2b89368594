"""A customer: found while one types the name or the telephone, or written anew in the same place."""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QModelIndex, QStringListModel, Qt, QTimer, Signal
from PySide6.QtWidgets import QCompleter, QGridLayout, QLabel, QWidget

from shopdesk.domain.problem import Problem
from shopdesk.services.people import PartyDraft, PartyRow
from shopdesk.ui.look import spacing
from shopdesk.ui.pages.range_form.booking_draft import Customer
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.fields import TextField
from shopdesk.ui.widgets.headings import Note
from shopdesk.wording import say

Find = Callable[[str, Callable[[list[PartyRow]], None]], None]  # words, and who gets the answer
REST = ("phone", "email", "street", "town")


class CustomerField(QWidget):
    """A field of a form; `find` looks people up in a worker. Its value is a Customer or None."""

    edited = Signal()

    def __init__(self, find: Find, empty: str) -> None:
        super().__init__()
        self._find, self._empty = find, empty
        self._found: list[PartyRow] = []
        self._party_id: int | None = None
        self.name = TextField()
        self.name.setAccessibleName(say("Customer’s name"))
        self.name.setPlaceholderText(say("Name or telephone"))
        self.rest = {name: TextField() for name in REST}
        self.standing = Note(empty)
        self._names = QStringListModel(self)
        self.completer = QCompleter(self._names, self)
        self.completer.setCompletionMode(QCompleter.CompletionMode.UnfilteredPopupCompletion)
        self.completer.setWidget(self.name)
        self.completer.activated[QModelIndex].connect(self._take)  # type: ignore[index]  # chosen by its place
        self._timer = QTimer(self, interval=150, singleShot=True)
        self._timer.timeout.connect(self._look_up)
        self.name.edited.connect(self._typed_name)
        for field in self.rest.values():
            field.edited.connect(self.edited)
        self.setLayout(upright([self.name, self.standing, self._grid()], gap="hair"))
        self.setFocusProxy(self.name)
        self._tell()

    def value(self) -> Customer | None:
        """Someone known, someone new, or nobody. Problem when there is a telephone and no name."""
        phone, email, street, town = (self.rest[key].value() for key in REST)
        written = PartyDraft(name=self.name.value(), phone=phone, email=email, street=street, town=town)
        if not written.name:
            if any(f.value() for f in self.rest.values()):
                raise Problem("Write the customer’s name as well.")
            return None
        return Customer(self._party_id, written)

    def setValue(self, value: Customer | None) -> None:
        self._party_id = value.party_id if value else None
        self.name.setValue(value.written.name if value else "")
        for key, field in self.rest.items():
            field.setValue(getattr(value.written, key) if value else "")
        self._tell()

    def typed(self) -> dict[str, Any]:
        return {
            "party_id": self._party_id,
            "name": self.name.typed(),
            **{k: f.typed() for k, f in self.rest.items()},
        }

    def setTyped(self, typed: Any) -> None:
        kept = typed if isinstance(typed, dict) else {}
        self._party_id = kept.get("party_id")
        self.name.setTyped(kept.get("name", ""))
        for key, field in self.rest.items():
            field.setTyped(kept.get(key, ""))
        self._tell()

    def selectAll(self) -> None:
        self.name.selectAll()

    def take(self, row: PartyRow) -> None:
        """Someone known."""
        self._party_id = row.id
        self.name.setValue(row.name)
        for key, text in (("phone", row.phone), ("email", row.email), ("street", ""), ("town", row.town)):
            self.rest[key].setValue(text)
        self._tell()
        self.edited.emit()

    # Inside

    def _grid(self) -> QGridLayout:
        grid = QGridLayout()
        gaps = spacing(self.font())
        grid.setHorizontalSpacing(gaps.gap)
        grid.setVerticalSpacing(gaps.hair)
        titles = {
            "phone": say("Telephone"),
            "email": say("E-mail"),
            "street": say("Street"),
            "town": say("Town"),
        }
        for place, (key, title) in enumerate(titles.items()):
            label = QLabel(title)
            label.setBuddy(self.rest[key])
            self.rest[key].setAccessibleName(say("Customer: {what}", what=title))
            row, column = divmod(place, 2)
            grid.addWidget(label, 2 * row, column)
            grid.addWidget(self.rest[key], 2 * row + 1, column)
        return grid

    def _typed_name(self) -> None:
        if self._party_id is not None:  # another name is another person
            self._party_id = None
            for field in self.rest.values():
                field.setValue("")
        self._tell()
        self._timer.start()
        self.edited.emit()

    def _look_up(self) -> None:
        words = self.name.value()
        if len(words) < 2:
            self._hide_found()
            return
        self._find(words, self._show_found)

    def _show_found(self, rows: list[PartyRow]) -> None:
        self._found = rows
        self._names.setStringList(
            [", ".join(word for word in (r.name, r.phone, r.town) if word) for r in rows]
        )
        if rows and self._party_id is None and self.name.hasFocus():
            self.completer.complete()
        else:
            self._hide_found()

    def _hide_found(self) -> None:
        popup = self.completer.popup()
        if popup is not None:
            popup.hide()

    def _take(self, chosen: QModelIndex) -> None:
        if 0 <= chosen.row() < len(self._found):
            self.take(self._found[chosen.row()])

    def _tell(self) -> None:
        known = self._party_id is not None
        for field in self.rest.values():
            field.setReadOnly(known)
            field.setFocusPolicy(Qt.FocusPolicy.ClickFocus if known else Qt.FocusPolicy.StrongFocus)
        if known:
            self.standing.setText(say("Known to the shop."))
        else:
            self.standing.setText(say("New to the shop; is written down with the range.")
                                  if self.name.value() else self._empty)  # fmt: skip
