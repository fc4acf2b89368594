"""One calculator: its fields, and its answer under them as they are typed."""

from collections.abc import Callable, Mapping
from typing import Any

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QWidget

from shopdesk.domain.gas.calculators import Calculator
from shopdesk.services import gas_tables
from shopdesk.ui.bench_fields import AskedForm
from shopdesk.ui.pages.gas_bench import draft
from shopdesk.ui.pages.gas_bench.answers import Answer
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.headings import Heading
from shopdesk.wording import Region, say

KEEP_AFTER_MS = 800  # inputs go to the range once typing rests
Kept = Callable[[str, dict[str, Any]], object]


class CalculatorView(QWidget):
    """`kept` gets what was typed once typing rests."""

    def __init__(self, calculator: Calculator, region: Region, kept: Kept) -> None:
        super().__init__()
        self.calculator = calculator
        self._kept = kept
        self._region = region
        self.form = AskedForm(calculator.fields, region)
        self.answer = Answer(region, gas_tables.cautions()[calculator.subject])
        self.setLayout(upright([Heading(say(calculator.asks)), self.form, self.answer]))
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(KEEP_AFTER_MS)
        self._rest.timeout.connect(self.keep_now)
        self.form.edited.connect(self._reckon)
        self.form.edited.connect(self._rest.start)
        self._reckon()

    def show_inputs(self, inputs: Mapping[str, Any]) -> None:
        """What the range kept, or nothing."""
        if self._rest.isActive():
            return  # what is being typed is newer
        names = {asked.name for asked in self.form.asked}
        wanted = dict.fromkeys(names) | {n: v for n, v in inputs.items() if n in names}
        self.form.show_known(
            {n: "" if v is None and _is_text(self.form, n) else v for n, v in wanted.items()}
        )
        self._reckon()

    def focusFirst(self) -> None:
        self.form.focusFirst()

    def keep_now(self) -> None:
        self._rest.stop()
        self._kept(self.calculator.kind, self.form.readable())

    def keep_waiting(self) -> None:
        """Keeps at once what would have been kept in a moment."""
        if self._rest.isActive():
            self.keep_now()

    def _reckon(self) -> None:
        told = draft.reckoned(self.calculator, self.form.readable(), self._region)
        if isinstance(told, str):
            self.answer.show_missing(told)
        else:
            self.answer.show_answer(told)


def _is_text(form: AskedForm, name: str) -> bool:
    return next(a.kind for a in form.asked if a.name == name) in ("text", "choice")
