"""A whole range for another gas: gases, spuds found, the plan, and the licensed fitter's decision."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QWidget

from shopdesk.domain.gas.whole_range import conversion_fields
from shopdesk.domain.problem import Problem
from shopdesk.services import gas_tables
from shopdesk.ui.bench_fields import AskedForm
from shopdesk.ui.pages.gas_bench import draft
from shopdesk.ui.pages.gas_bench.answers import PlanShown
from shopdesk.ui.pages.gas_bench.calculator_view import KEEP_AFTER_MS, Kept
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.fields import DayField, TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading, Note, Words
from shopdesk.wording import Region, say
from shopdesk.wording.guides import guide_in_units

Decide = Callable[[dict[str, Any], dict[str, Any], Callable[[Problem], None]], object]


class ConvertView(QWidget):
    """`decide` gets the inputs and the decision; without a range there is nothing to decide."""

    def __init__(
        self, region: Region, burners: Sequence[str], kept: Kept, decide: Decide | None, today: Any
    ) -> None:
        super().__init__()
        self._burners, self._kept, self._decide = tuple(burners), kept, decide
        self._region = region
        self.form = AskedForm(conversion_fields(gas_tables.gases(), burners), region)
        self.missing = Note("")
        self.plan = PlanShown(region)
        self.decided = Words("", "strong")
        self.decided.hide()
        caution = gas_tables.cautions()["convert"]
        text = guide_in_units(say(caution.text), region)
        careful = Words(say("Caution: {text} Defer to: {whom}", text=text, whom=say(caution.defer_to)))
        parts: list[QWidget] = [
            Heading(say("A whole range for another gas")), careful, self.decided, self.form,
            self.missing, self.plan,
        ]  # fmt: skip
        self.decision = self._decision(region, today) if decide is not None else None
        if self.decision is not None:
            parts += [Heading(say("The licensed fitter’s decision")), self.decision]
        self.setLayout(upright(parts))
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(KEEP_AFTER_MS)
        self._rest.timeout.connect(self.keep_now)
        self.form.edited.connect(self._reckon)
        self.form.edited.connect(self._rest.start)
        self._reckon()

    def show_inputs(self, inputs: Mapping[str, Any]) -> None:
        """What the range kept."""
        if not self._rest.isActive():
            self.form.show_known({n: v for n, v in inputs.items() if n in {a.name for a in self.form.asked}})
            self._reckon()

    def show_decided(self, words: str) -> None:
        self.decided.setText(words)
        self.decided.setVisible(bool(words))

    def focusFirst(self) -> None:
        self.form.focusFirst()

    def keep_now(self) -> None:
        self._rest.stop()
        self._kept("convert", self.form.readable())

    def keep_waiting(self) -> None:
        if self._rest.isActive():
            self.keep_now()

    def _decision(self, region: Region, today: Any) -> Form:
        form = Form(columns=2)
        form.add("decided_by", say("Decided by"), TextField(), note=say("The licensed fitter, by name."))
        day = form.add("on", say("On"), DayField(region))
        day.setValue(today)
        form.add("note", say("Note"), TextField(), wide=True)
        form.on_save(say("Put it on the work order"), lambda values: self._put(form, values), icon_name="gas")
        return form

    def _put(self, form: Form, values: dict[str, Any]) -> None:
        inputs = self.form.asked_values()
        if inputs is None or self._decide is None:
            return

        def failed(problem: Problem) -> None:
            (form if problem.field in ("decided_by", "on", "note", "") else self.form).show_problem(problem)

        self._decide(inputs, values, failed)

    def _reckon(self) -> None:
        told = draft.planned(self.form.readable(), self._burners, self._region)
        self.plan.setVisible(not isinstance(told, str))
        self.missing.setText(told if isinstance(told, str) else "")
        self.missing.setVisible(isinstance(told, str))
        if not isinstance(told, str):
            self.plan.show_plan(told, gas_tables.also_changes()[told.coming.family])
