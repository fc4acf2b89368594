"""The gas bench: one calculator at a time, alone or for a range, whose inputs the range then keeps."""

from collections.abc import Callable
from typing import Any, ClassVar

from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QTabWidget, QWidget

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import gas_bench
from shopdesk.services.gas_bench import BenchRange, OnOrder
from shopdesk.services.gas_tables import gas_code
from shopdesk.ui.context import Context, Topics
from shopdesk.ui.pages.gas_bench import draft
from shopdesk.ui.pages.gas_bench.calculator_view import CalculatorView
from shopdesk.ui.pages.gas_bench.convert_view import ConvertView
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.headings import Heading, Note, Words
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say
from shopdesk.wording.bench_measures import say_sentence

_FACTS = {
    "gas_on_plate": "on the plate", "spuds_found": "spuds", "house_gas": "house", "set_to_gas": "set to",
    "gas_label": "label",
}  # fmt: skip


class GasBenchPage(Page):
    """`context.go("gas-bench", range_id=...)` for a range; without one it stands alone."""

    place: ClassVar[str] = "gas-bench"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.range_id: int | None = None
        self.range: BenchRange | None = None
        self.head = Heading("", "head")
        self.facts = Note("")
        self.warning = Words("", "strong", "problem")
        self.jacket_button = Button(say("&Jacket"), self._to_jacket, icon_name="jacket")
        self.proofs_button = Button(say("P&roofs"), self._to_proofs, icon_name="proof")
        self.alone_button = Button(say("Without a &range"), self.stand_alone, icon_name="close")
        self.tabs = QTabWidget()
        self.tabs.setDocumentMode(True)
        self.tabs.tabBar().setAccessibleName(say("Calculators"))
        self.views: dict[str, CalculatorView] = {}
        self.convert: ConvertView | None = None
        for calculator in draft.all_calculators():
            view = CalculatorView(calculator, context.region, self._keep)
            self.views[calculator.kind] = view
            self._add_tab(view, say(calculator.title))
        ways = WrappedRow([self.jacket_button, self.proofs_button, self.alone_button])
        body = upright([self.head, self.facts, self.warning, ways, self.tabs], gap="small", margin="gap")
        body.setStretchFactor(self.tabs, 1)
        self.setLayout(body)
        for place in range(6):
            keys = QShortcut(QKeySequence(f"Ctrl+{place + 1}"), self)
            keys.activated.connect(lambda place=place: self._show_tab(place))
        self.stand_alone()

    # What a page fills in

    def refresh(self, topics: Topics) -> None:
        if self.range_id is not None and topics & {"everything", "ranges", "jobs", "settings"}:
            range_id = self.range_id
            self.ask(lambda seat: gas_bench.bench_range(seat, range_id), self._show_range, key="range")

    def open_on(self, **what: Any) -> None:
        range_id = what.get("range_id")
        if range_id is None:
            self.stand_alone()
            return
        self.range_id = int(range_id)
        self.refresh(Page.everything)

    def focusFirst(self) -> None:
        view = self._current()
        if view is not None:
            view.focusFirst()

    def keep_draft(self) -> None:
        for view in self._all():
            view.keep_waiting()

    # Deeds

    def stand_alone(self) -> None:
        """The calculators for themselves; nothing is kept with a range."""
        self.keep_draft()
        had_range, self.range_id, self.range = self.range is not None, None, None
        self.head.setText(say("Gas bench"))
        self.facts.setText(
            say("Figures by themselves. Open it from a range’s jacket to keep them with the range.")
        )
        self.warning.hide()
        for button in (self.jacket_button, self.proofs_button, self.alone_button):
            button.hide()
        if had_range:
            for view in self.views.values():
                view.show_inputs({})
        self._make_convert(draft.ALONE, None)

    def decide(
        self, inputs: dict[str, Any], decision: dict[str, Any], failed: Callable[[Problem], None]
    ) -> None:
        """The fitter decided: the conversion's tasks go on the order."""
        job_id = self.range.job_id if self.range is not None else None
        if job_id is None:
            return

        def done(result: OnOrder) -> None:
            self.context.tell(draft.on_order_words(result))

        self.do(
            lambda seat: gas_bench.decide_conversion(
                seat, job_id, inputs, decision["decided_by"], on=decision["on"], note=decision["note"]
            ),
            done, failed, changes=[f"job {job_id}", "jobs", "ranges", "money"],
        )  # fmt: skip

    # Inside

    def _show_range(self, found: BenchRange) -> None:
        fresh = self.range is None or self.range.range_id != found.range_id
        self.range = found
        self.head.setText(say("Gas bench for {number}", number=found.number))
        unknown = say("not known")
        self.facts.setText(
            "; ".join(
                say("{fact}: {gas}", fact=say(words), gas=found.facts[name] or unknown)
                for name, words in _FACTS.items()
            )
        )
        self.warning.setText(say_sentence(found.warning, self.context.region) if found.warning else "")
        self.warning.setVisible(found.warning is not None)
        self.jacket_button.show()
        self.alone_button.show()
        self.proofs_button.setVisible(found.job_id is not None)
        if fresh:
            self._make_convert(found.burners, self.decide if self._may_decide(found) else None)
        for kind, view in self.views.items():
            view.show_inputs(found.inputs.get(kind, {}))
        if self.convert is not None:
            self.convert.show_inputs(found.inputs.get("convert") or _first_guess(found))
            self.convert.show_decided(found.decided)

    def _may_decide(self, found: BenchRange) -> bool:
        return found.job_id is not None and self.context.may(Action.CONVERT_GAS)

    def _make_convert(self, burners: tuple[str, ...], decide: Any) -> None:
        here = self.convert is not None and self._current() is self.convert
        if self.convert is not None:
            place = self._place_of(self.convert)
            holder = self.tabs.widget(place)
            self.tabs.removeTab(place)
            if holder is not None:
                holder.deleteLater()
        view = ConvertView(self.context.region, burners, self._keep, decide, self.context.seat.today)
        self.convert = view
        place = self.tabs.insertTab(2, PageScroll(upright([view, "stretch"], margin="small")), say("Convert"))
        if here:
            self.tabs.setCurrentIndex(place)

    def _add_tab(self, view: QWidget, title: str) -> None:
        self.tabs.addTab(PageScroll(upright([view, "stretch"], margin="small")), title)

    def _place_of(self, view: QWidget) -> int:
        return next(
            place for place in range(self.tabs.count())
            if (holder := self.tabs.widget(place)) is not None and holder.isAncestorOf(view)
        )  # fmt: skip

    def _all(self) -> list[CalculatorView | ConvertView]:
        return [*self.views.values(), *([self.convert] if self.convert is not None else [])]

    def _current(self) -> CalculatorView | ConvertView | None:
        here = self.tabs.currentIndex()
        return next((view for view in self._all() if self._place_of(view) == here), None)

    def _show_tab(self, place: int) -> None:
        self.tabs.setCurrentIndex(place)
        self.focusFirst()

    def _keep(self, kind: str, inputs: dict[str, Any]) -> None:
        if self.range_id is None or not self.context.may(Action.RECKON_GAS):
            return
        range_id = self.range_id
        self.do(lambda seat: gas_bench.keep_inputs(seat, range_id, kind, inputs))

    def _to_jacket(self) -> None:
        if self.range_id is not None:
            self.context.open_jacket(self.range_id)

    def _to_proofs(self) -> None:
        if self.range is not None and self.range.job_id is not None:
            self.context.go("proving", job_id=self.range.job_id)


def _first_guess(found: BenchRange) -> dict[str, Any]:
    """The gases the shop knows of the range, until somebody typed others."""
    spuds, house = (gas_code(found.facts[name]) for name in ("spuds_found", "house_gas"))
    return {name: code for name, code in (("from_gas", spuds), ("to_gas", house)) if code}
