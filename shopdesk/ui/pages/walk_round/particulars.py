"""The form of this range and of this visit, from the walk-round."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from shopdesk.domain.catalogue.model import Catalogue
from shopdesk.services import intake, walks
from shopdesk.services.intake import RangeDraft
from shopdesk.services.seat import Seat
from shopdesk.services.walks import WalkView
from shopdesk.ui.context import Context
from shopdesk.ui.pages.range_form.form import RangeForm
from shopdesk.ui.pages.range_form.ticks import Ticks
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading
from shopdesk.wording import say


@dataclass(frozen=True, slots=True)
class Visit:
    """What belongs to the walk-round rather than to the range; None: it is finished and stays."""

    walk_id: int
    place: str
    circumstances: str
    accessories: tuple[str, ...]


def describe(seat: Seat, range_id: int, draft: RangeDraft, visit: Visit | None) -> None:
    """Writes range and visit down anew."""
    intake.describe(seat, range_id, draft)
    if visit is not None:
        walks.set_terms(
            seat, visit.walk_id, place=visit.place, circumstances=visit.circumstances,
            accessories=visit.accessories,
        )  # fmt: skip


class Particulars(QWidget):
    """This range and this visit; `written` says that they stand."""

    written = Signal()
    left = Signal()

    def __init__(
        self, context: Context, view: WalkView, draft: RangeDraft, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._context, self._view = context, view
        self.range_form = RangeForm(context.region, before=self._ask_visit)
        self.range_form.show_draft(draft)
        self.form = self.range_form.form
        self.form.on_save(say("Keep it and go on"), self._save, icon_name="tick")
        self.form.add_button(Button(say("Back to the walk-round"), self.left.emit))
        self.form.read_from(context.reading)
        title = Heading(say("Particulars of {number}", number=view.range_number), "head")
        box = upright([title, self.range_form], margin="wide")
        box.setStretchFactor(self.range_form, 1)
        self.setLayout(box)

    def focusFirst(self) -> None:
        self.form["serial"].setFocus()

    def _ask_visit(self, form: Form) -> None:
        if self._view.finished:
            return
        form.add("place", say("Where it is looked at"), TextField(self._view.place))
        form.add("circumstances", say("How"), TextField(self._view.circumstances))
        names = _accessories(self._context.seat.catalogue)
        ticks = Ticks(names, frozenset(self._view.accessories))
        form.add("accessories", say("What comes with it"), ticks, wide=True)

    def _save(self, values: Mapping[str, Any]) -> None:
        draft, range_id = self.range_form.draft_of(values), self._view.range_id
        visit = None
        if not self._view.finished:
            comes = tuple(sorted(values["accessories"]))
            visit = Visit(self._view.id, values["place"], values["circumstances"], comes)
        self._context.do(
            lambda seat: describe(seat, range_id, draft, visit), lambda _done: self.written.emit(),
            self.form.show_problem,
            changes=[f"job {self._view.job_id}", f"range {range_id}", "jobs", "ranges"], owner=self,
            form=self.form,
        )  # fmt: skip


def _accessories(catalogue: Catalogue) -> dict[str, str]:
    return {code: say(accessory.name) for code, accessory in catalogue.accessories.items()}
