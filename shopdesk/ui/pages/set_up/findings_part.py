"""The findings of one checkpoint as this shop offers them: left out, or in words of its own."""

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QWidget

from shopdesk.domain.catalogue.model import Checkpoint, Finding
from shopdesk.domain.changed import Seen
from shopdesk.services.settings import CatalogueChanges
from shopdesk.ui.widgets.boxes import emptied, upright
from shopdesk.ui.widgets.fields import NoteField, TextField, TickField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading
from shopdesk.ui.widgets.strip_list import Strip, StripList
from shopdesk.wording import say

Keep = Callable[[Form, Finding, bool, dict[str, str]], None]


class FindingsPart(QWidget):
    """A list of findings and the form of the chosen one; `keep` gets what it says."""

    def __init__(self, keep: Keep, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._keep = keep
        self._checkpoint: Checkpoint | None = None
        self._changes = CatalogueChanges()
        self._read: Seen | None = None
        self.form: Form | None = None
        self.list = StripList(say("Findings"), empty=say("The findings will stand here."), most=5)
        self.list.chosen.connect(self._choose)
        self.list.opened.connect(lambda _key: self._go_to_form())
        self._form_box = upright()
        self.setLayout(upright([Heading(say("Findings")), self.list, self._form_box]))

    def show_checkpoint(
        self, checkpoint: Checkpoint, changes: CatalogueChanges, read: Seen | None = None
    ) -> None:
        """The shipped findings with what the shop changed in them, as it was `read`."""
        self._checkpoint, self._changes, self._read = checkpoint, changes, read
        emptied(self._form_box)
        self.form = None
        self.list.show_rows([self._strip(finding) for finding in checkpoint.findings])

    def _asked(self, code: str) -> bool:
        return code not in self._changes.catalogue.get("off", ())

    def _words(self, code: str) -> dict[str, str]:
        return dict(self._changes.catalogue.get("reword", {}).get(code, {}))

    def _strip(self, finding: Finding) -> Strip:
        words = self._words(finding.code)
        return Strip(
            finding.code, words.get("name", finding.name), words.get("means", finding.means),
            "" if self._asked(finding.code) else say("not offered"), say("in your words") if words else "",
        )  # fmt: skip

    def _go_to_form(self) -> None:
        if self.form is not None:
            self.form.focusFirst()

    def _choose(self, key: Any) -> None:
        checkpoint = self._checkpoint
        found = [f for f in checkpoint.findings if f.code == key] if checkpoint is not None else []
        for finding in found:
            self._show_form(finding)

    def _show_form(self, finding: Finding) -> None:
        emptied(self._form_box)
        words, form = self._words(finding.code), Form()
        form.add("asked", "", TickField(say("&Offer it on walk-rounds"), self._asked(finding.code)))
        for name, label, field in (
            ("name", say("What was &found"), TextField()),
            ("means", say("What it &means"), NoteField(lines=2)),
        ):  # fmt: skip
            field.setValue(words.get(name, getattr(finding, name)))
            shipped = say("shipped: {figure}", figure=getattr(finding, name) or say("nothing"))
            form.add(name, label, field, wide=True, note=shipped)
        form.on_save(say("Keep the finding"), lambda values: self._save(finding, values), icon_name="tick")
        form.read_from(self._read)
        self.form = form
        self._form_box.addWidget(form)

    def _save(self, finding: Finding, values: dict[str, Any]) -> None:
        assert self.form is not None, "a form that is not made cannot be kept"
        words = {n: values[n] for n in ("name", "means") if values[n] != getattr(finding, n)}
        self._keep(self.form, finding, values["asked"], words)
