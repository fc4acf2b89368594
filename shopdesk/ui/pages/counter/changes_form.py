"""Discounts and surcharges while a quote or an invoice is being made: given, listed, taken off again."""

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtWidgets import QWidget

from shopdesk.domain.adjust import Change
from shopdesk.domain.problem import Problem
from shopdesk.services.lines import Line
from shopdesk.ui.pages.counter import draft
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.fields import ChoiceField, TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Note
from shopdesk.wording import Region, say


def change_form(region: Region, lines: Sequence[Line], save: Callable[[Change], object]) -> Form:
    """One discount or surcharge on a line or on the whole paper."""
    form = Form(columns=2)
    form.add("way", say("&Give or add"), ChoiceField(draft.ways(), "discount"))
    form.add("amount", say("A&mount or percent"), TextField(), note=say("Such as 25.00 or 10 %."))
    form.add("line", say("&On"), ChoiceField(targets(lines)), wide=True)
    form.add("why", say("&Why"), TextField(), wide=True,
             required=say("Say why; a discount or surcharge prints with its reason."))  # fmt: skip

    def submit(values: dict[str, Any]) -> None:
        try:
            change = draft.read_change(region, values["way"], values["amount"], values["why"], values["line"])
        except Problem as problem:
            form.show_problem(problem)
            return
        save(change)

    form.on_save(say("&Put it on"), submit, icon_name="tick")
    return form


def targets(lines: Sequence[Line]) -> list[tuple[tuple[str, str] | None, str]]:
    """What a change may be on; lines of the same name are told apart by nothing, the first is meant."""
    found: dict[tuple[str, str], str] = {line.key: line.what for line in lines}
    return [(None, say("the whole paper")), *found.items()]


class Changes(QWidget):
    """Those given so far, in words, and the form of the next one; closed until it is asked for."""

    def __init__(self, region: Region, changed: Callable[[], object]) -> None:
        super().__init__()
        self._region, self._changed = region, changed
        self.given: list[Change] = []
        self.words = Note()
        self.form: Form | None = None
        self._box = upright([self.words], gap="small")
        self.setLayout(self._box)
        self.hide()

    def begin(self, lines: Sequence[Line]) -> None:
        """Opens the form over these lines."""
        if self.form is not None:
            self.form.deleteLater()
        self.form = change_form(self._region, lines, self._add)
        self._box.addWidget(self.form)
        self.show()
        self.form.focusFirst()

    def clear(self) -> None:
        """Takes all of them off."""
        self.given = []
        self._tell()

    def _add(self, change: Change) -> None:
        self.given.append(change)
        if self.form is not None:
            self.form.deleteLater()
            self.form = None
        self._tell()

    def _tell(self) -> None:
        self.words.setText("\n".join(change_words(self._region, change) for change in self.given))
        self.setVisible(bool(self.given))
        self._changed()


def change_words(region: Region, change: Change) -> str:
    if change.percent is not None:
        size = region.percent(abs(change.percent))
    else:
        size = region.money(abs(change.cents or 0))
    less = (change.percent or change.cents or 0) < 0
    where = say("on “{line}”", line=change.line[1]) if change.line else say("on the whole")
    words = say("{size} less {where}: {why}") if less else say("{size} more {where}: {why}")
    return words.format(size=size, where=where, why=change.why)
