"""The form of one test: how it is done, its caution, what was read, and the result in three words."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from shopdesk.domain.catalogue.model import Catalogue
from shopdesk.services.proofs import ProofDue
from shopdesk.ui.look import spacing
from shopdesk.ui.pages.jacket import proof_draft
from shopdesk.ui.widgets.fields import ChoiceField, NoteField, TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Note, Words
from shopdesk.wording import say


def proof_guide(catalogue: Catalogue, due: ProofDue) -> list[QWidget]:
    """What one must know before the test."""
    guide: list[QWidget] = [
        Words(due.how),
        Words(say("It meets when: {what}", what=due.meets)),
        Note(due.basis),
    ]
    found = proof_draft.cautions(catalogue, due)
    return [*guide, Cautions(found)] if found else guide


class Cautions(QWidget):
    """The usual cautions: the name of each, its text, and whom to defer to."""

    def __init__(self, cautions: Sequence[proof_draft.Caution]) -> None:
        super().__init__()
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(spacing(self.font()).wide)
        grid.setColumnStretch(1, 1)
        for row, caution in enumerate(cautions):
            name = Words(say("Caution: {name}", name=caution.name), "strong")
            name.setWordWrap(False)
            text = Words(say("{text} Defer to: {whom}", text=caution.text, whom=caution.defer_to))
            grid.addWidget(name, row, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(text, row, 1, Qt.AlignmentFlag.AlignTop)


def proof_form(catalogue: Catalogue, due: ProofDue) -> Form:
    """The fields of one proof; its readings are those the catalogue names."""
    form = Form(columns=2)
    form.heading(say("What was read"))
    for name in proof_draft.reading_names(due):
        form.add(proof_draft.READING + name, name[:1].upper() + name[1:], TextField())
    form.add(
        "instrument", say("Instrument"), TextField(), note=say("Which one, and when it was last checked.")
    )
    form.add("result", say("&Result"), ChoiceField(proof_draft.results()),
             required=say("Say what it showed: meets, does not meet or cannot tell."))  # fmt: skip
    if proof_draft.is_at_home(catalogue, due):
        form.add("signed_by", say("The licensed fitter’s name"), TextField())
    form.add("note", say("Note"), NoteField(lines=2), wide=True)
    return form
