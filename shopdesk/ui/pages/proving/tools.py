"""The shop's instruments: a list, and the form of one."""

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QWidget

from shopdesk.domain.instruments import DIVISIONS, KINDS
from shopdesk.services import instruments
from shopdesk.services.instruments import InstrumentDraft, InstrumentRow
from shopdesk.ui.context import Context
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import DayField, ParsedField, TextField, TickField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading, Note
from shopdesk.ui.widgets.strip_list import Strip, StripList
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import Region, say
from shopdesk.wording.bench_measures import bare, parsed, shown, unit_of

Do = Callable[..., None]


class Tools(QWidget):
    """Opens beside the proofs; `close` goes back to them."""

    def __init__(self, context: Context, do: Do, close: Callable[[], object]) -> None:
        super().__init__()
        self._context, self._do = context, do
        self._rows: dict[int, InstrumentRow] = {}
        self.form: Form | None = None
        self.list = StripList(
            say("Instruments"),
            empty=say("Gauges, thermometers and analysers will stand here, each with its calibration."),
            first=(say("Write an instrument down"), lambda: self.edit(None)), most=8,
        )  # fmt: skip
        self.list.opened.connect(lambda key: self.edit(int(key)))
        self.add_button = Button(say("Another instrument"), lambda: self.edit(None), icon_name="add")
        buttons = WrappedRow([self.add_button, Button(say("&Back to the proofs"), close, icon_name="back")])
        note = Note(say("A proof made with an instrument past its calibration says so, here and on paper."))
        self._holder = upright()
        self.setLayout(upright([Heading(say("Instruments")), note, self.list, buttons, self._holder]))

    def show_rows(self, rows: tuple[InstrumentRow, ...]) -> None:
        self._rows = {row.id: row for row in rows}
        self.list.show_rows([_strip(row, self._context.region) for row in rows])
        self.add_button.setVisible(bool(rows))

    def focusFirst(self) -> None:
        self.list.focusFirst()

    def edit(self, key: int | None) -> None:
        """The form of one instrument, or of a new one."""
        self._leave()
        row = self._rows.get(key) if key is not None else None
        form = instrument_form(self._context.region)
        if row is not None:
            form.show_values(values_of(row))
        form.on_save(say("Keep the instrument"), lambda values: self._keep(form, key, values))
        if row is not None:
            form.add_button(Button(say("Take it out of use"), lambda: self._retire(row)))
        form.add_button(Button(say("Leave it"), self._leave))
        self.form = form
        self._holder.addWidget(form)
        form.focusFirst()

    def _keep(self, form: Form, key: int | None, values: dict[str, Any]) -> None:
        wanted = draft_of(values)

        def kept(_key: int) -> None:
            self._leave()
            self._context.tell(say("{name} is on the list.", name=wanted.name))
            self.list.focusFirst()

        self._do(lambda seat: instruments.keep_instrument(seat, wanted, key), kept, form.show_problem)

    def _retire(self, row: InstrumentRow) -> None:
        def gone(_none: None) -> None:
            self._leave()
            self._context.tell(say("{name} is out of use.", name=row.named))

        self._do(lambda seat: instruments.retire(seat, row.id), gone)

    def _leave(self) -> None:
        if self.form is not None:
            self.form.hide()
            self.form.deleteLater()
            self.form = None
            self.list.focusFirst()


def instrument_form(region: Region) -> Form:
    form = Form(columns=2)
    form.add("name", say("&Name"), TextField(), required=say("Give it a name, such as manometer 2."))
    form.add("serial", say("Serial number"), TextField())
    form.add(
        "calibration_due", say("Calibration due"), DayField(region),
        note=say("Without a day its proofs say that it is not on record."),
    )  # fmt: skip
    form.heading(say("It measures"))
    for kind, words in KINDS.items():
        form.add(f"measures_{kind}", "", TickField(say(words)))
    form.heading(say("Smallest step it shows"))
    for kind, quantity in DIVISIONS.items():
        label = say(
            "{what}, {unit}", what=say(kind)[:1].upper() + say(kind)[1:], unit=unit_of(quantity, region)
        )
        form.add(f"division_{kind}", label, _step_field(kind, region))
    return form


def _step_field(kind: str, region: Region) -> ParsedField:
    quantity = DIVISIONS[kind]
    return ParsedField(
        lambda typed: parsed(typed, quantity, region), lambda value: bare(value, quantity, region)
    )


def draft_of(values: dict[str, Any]) -> InstrumentDraft:
    return InstrumentDraft(
        name=values["name"],
        serial=values["serial"],
        measures=tuple(kind for kind in KINDS if values[f"measures_{kind}"]),
        divisions={kind: step for kind in DIVISIONS if (step := values[f"division_{kind}"]) is not None},
        calibration_due=values["calibration_due"],
    )


def values_of(row: InstrumentRow) -> dict[str, Any]:
    return {
        "name": row.name,
        "serial": row.serial,
        "calibration_due": row.calibration_due,
        **{f"measures_{kind}": kind in row.measures for kind in KINDS},
        **{f"division_{kind}": row.divisions.get(kind) for kind in DIVISIONS},
    }


def _strip(row: InstrumentRow, region: Region) -> Strip:
    if row.calibration_due is None:
        due = say("calibration not on record")
    elif row.past:
        due = say("past its calibration, {day}", day=region.day(row.calibration_due))
    else:
        due = say("calibration due {day}", day=region.day(row.calibration_due))
    steps = [
        shown(step, DIVISIONS[kind], region) for kind, step in row.divisions.items() if kind in DIVISIONS
    ]
    measures = ", ".join(say(kind) for kind in row.measures)
    second = say("{measures}; to {steps}", measures=measures, steps=", ".join(steps)) if steps else measures
    return Strip(row.id, row.named, second, below=due, tone="problem" if row.past else "muted")
