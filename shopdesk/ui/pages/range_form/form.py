"""The form of a range: who made it, how it is built with the drawing changing as one says it, gas, access.

A page puts what else it asks into `form`, gives it its deed with `form.on_save`, and makes what services
take of the values by `range_draft` (see `draft`).
"""

from collections.abc import Callable, Mapping
from typing import Any

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QCompleter, QWidget

from shopdesk.domain.access import SIZES, access, sizes_of
from shopdesk.domain.build import Build
from shopdesk.domain.gas_facts import FACTS
from shopdesk.domain.problem import Problem
from shopdesk.drawing import compose
from shopdesk.services.intake import RangeDraft
from shopdesk.ui.access_words import access_words
from shopdesk.ui.look import spacing
from shopdesk.ui.pages.range_form.draft import (
    BUILD,
    build_of,
    choices,
    feature_names,
    gas_names,
    gases_disagree,
    plain_number,
    range_draft,
    range_values,
)
from shopdesk.ui.pages.range_form.ticks import Ticks
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.fields import (
    ChoiceField,
    CountField,
    MeasureField,
    NoteField,
    NumberField,
    TextField,
)
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Note, Words
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.ui.widgets.range_drawing import RangeDrawing
from shopdesk.wording import Region, say
from shopdesk.wording.bench_measures import say_sentence
from shopdesk.wording.measures import LENGTH, PRESSURE, WEIGHT

SIDE_BY_SIDE = 74  # letters of width from which the drawing stands beside the form
MOST = 16_777_215  # Qt's own "no limit"


class RangeForm(QWidget):
    """`before` puts a page's own fields above those of the range, `after` below them."""

    edited = Signal()

    def __init__(
        self, region: Region, *, before: Callable[[Form], object] | None = None,
        after: Callable[[Form], object] | None = None, parent: QWidget | None = None,
    ) -> None:  # fmt: skip
        super().__init__(parent)
        self._region = region
        self.form = Form(columns=2)
        if before is not None:
            before(self.form)
        self._ask_identity()
        self._ask_build()
        self._ask_gas(region)
        self._ask_access(region)
        if after is not None:
            after(self.form)
        self.drawing = RangeDrawing()
        self.drawing.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.gas_note = Note()
        self.gas_note.hide()
        side = upright([self.drawing, self.gas_note])
        side.setStretchFactor(self.drawing, 1)
        inside = self.form.layout()
        assert inside is not None
        inside.setContentsMargins(0, 0, spacing(self.font()).gap, 0)
        self._scroll = PageScroll(self.form)
        self._box = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setSpacing(spacing(self.font()).wide)
        self._box.addWidget(self._scroll, 4)
        self._box.addLayout(side, 2)
        self.form.edited.connect(self._was_edited)
        self.follow()

    # Using

    def draft(self) -> RangeDraft | None:
        """What is written, or None when a field is wrong, which is then shown and has the keyboard."""
        values = self.form.values()
        return None if values is None else self.draft_of(values)

    def draft_of(self, values: Mapping[str, Any]) -> RangeDraft:
        """What services take of the range, from the values `form.on_save` hands over."""
        return range_draft(self._flat(values))

    def show_draft(self, draft: RangeDraft) -> None:
        """Fills the form with what is written down of a range."""
        values = range_values(draft)
        ticked = frozenset(name for name in feature_names() if values[name])
        self.form.show_values({**values, "features": ticked})
        self.follow()

    def follow(self) -> None:
        """Draws the range as the fields say; call it after a kept draft was put back."""
        self._show_build()
        self._show_gas()
        self._show_access()

    def focusFirst(self) -> None:
        self.form.focusFirst()

    # The fields

    def _ask_identity(self) -> None:
        form = self.form
        form.heading(say("Identity"))
        form.add("maker", say("Maker"), TextField())
        form.add("model", say("Model"), TextField())
        form.add("serial", say("Serial number"), TextField())
        form.add("colour", say("Colour"), TextField())
        form.add("made_about", say("Made about"), TextField(), note=say("A year, or a guess at one."))
        form.add("stands_at", say("Stands at"), TextField(), note=say("Bay, floor, or the seller’s place."))

    def _ask_build(self) -> None:
        form, usual, words = self.form, Build(), choices()
        form.heading(say("Build"))
        form.add("burners", say("Top burners"), CountField(2, 8)).setValue(usual.burners)
        form.add("ovens", say("Ovens"), CountField(1, 3)).setValue(usual.ovens)
        form.add("oven_side", say("Oven"), ChoiceField(words["oven_side"], usual.oven_side))
        form.add("lighting", say("How the oven is lit"), ChoiceField(words["lighting"], usual.lighting))
        form.add("back", say("Back"), ChoiceField(words["back"], usual.back))
        form.add("base", say("Stands on"), ChoiceField(words["base"], usual.base))
        ticked = frozenset(name for name in feature_names() if getattr(usual, name))
        form.add("features", say("It has"), Ticks(feature_names(), ticked), wide=True)

    def _ask_gas(self, region: Region) -> None:
        form = self.form
        titles = {
            "gas_on_plate": (say("Gas on the rating plate"), ""),
            "spuds_found": (say("Gas the spuds are drilled for"), ""),
            "house_gas": (say("Gas in the house"), say("As the supplier or the meter says.")),
            "set_to_gas": (say("Set to"), say("What the shop set it to, once it has.")),
            "gas_label": (say("Label on the range"), say("What it says of a conversion.")),
        }
        form.heading(say("Gas: five facts, kept apart"))
        for name, (title, note) in titles.items():
            completer = QCompleter(list(gas_names()), self)
            completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            form.add(name, title, TextField(), note=note).setCompleter(completer)
            completer.activated.connect(lambda _text: self._was_edited())
            if name == "house_gas":
                form.add(
                    "house_pressure_inwc", say("Its pressure in the house"), MeasureField(region, PRESSURE)
                )

    def _ask_access(self, region: Region) -> None:
        form = self.form
        form.heading(say("Size and the way there"))
        form.add("width_in", say("Width"), MeasureField(region, LENGTH))
        form.add("depth_in", say("Depth"), MeasureField(region, LENGTH), note=say("Without the handles."))
        form.add("height_in", say("Height"), MeasureField(region, LENGTH))
        form.add("weight_lb", say("Weight"), MeasureField(region, WEIGHT))
        form.add("door_in", say("Narrowest door or turn on the way"), MeasureField(region, LENGTH))
        form.add("opening_in", say("The kitchen’s opening"), MeasureField(region, LENGTH))
        form.add("stairs", say("Steps on the way"), NumberField(region), note=say("0 when there are none."))
        self.access = form.add_words(Words())
        form.add("note", say("Anything else about it or the way"), NoteField(lines=2), wide=True)

    # The drawing

    def _flat(self, values: Mapping[str, Any]) -> dict[str, Any]:
        ticked = values["features"]
        return {**values, **{name: name in ticked for name in feature_names()}}

    def _was_edited(self) -> None:
        self.follow()
        self.edited.emit()

    def _show_build(self) -> None:
        plain = {name: self.form[name].value() for name in BUILD if name not in feature_names()}
        values = self._flat({**plain, "features": self.form["features"].value()})
        drawing = compose(build_of(values), "front")
        if drawing is not self.drawing.drawing:
            self.drawing.setDrawing(drawing)

    def _show_gas(self) -> None:
        told = gases_disagree(
            {name: self.form[name].text() for name in FACTS}, self._typed_number("house_pressure_inwc")
        )
        if told:
            facts = " ".join(say_sentence(each, self._region) for each in told)
            self.gas_note.setText(
                say("These facts do not agree: {facts} That is a finding of its own on the walk-round, "
                    "until they do.", facts=facts)
            )  # fmt: skip
        self.gas_note.setVisible(bool(told))

    def _show_access(self) -> None:
        """Whether it gets to where it is to stand, from what is typed so far."""
        kept = {name: plain_number(self._typed_number(name)) for name in SIZES}
        self.access.setText(access_words(access(sizes_of(kept)), self._region))

    def _typed_number(self, name: str) -> float | None:
        try:
            number: float | None = self.form[name].value()
        except Problem:
            return None
        return number

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        beside = self.width() >= self.fontMetrics().averageCharWidth() * SIDE_BY_SIDE
        directions = QBoxLayout.Direction
        self._box.setDirection(directions.LeftToRight if beside else directions.BottomToTop)
        self._box.setStretch(1, 2 if beside else 0)
        self.drawing.setMaximumHeight(MOST if beside else self.height() // 4)

    def sizeHint(self) -> QSize:
        return QSize(super().sizeHint().width(), spacing(self.font()).row * 24)
