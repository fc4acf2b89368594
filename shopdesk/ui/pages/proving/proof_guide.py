"""The guided form of one proof: how it is done, its caution, readings, instruments, the live result."""

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QWidget

from shopdesk.domain.curve import Curve
from shopdesk.domain.instruments import KINDS
from shopdesk.domain.problem import Problem
from shopdesk.domain.proof_forms.oven import cycles_field
from shopdesk.domain.proving import Result
from shopdesk.services.instruments import InstrumentRow
from shopdesk.services.loggers import Logged
from shopdesk.services.proving import Guide
from shopdesk.ui.bench_fields import AskedForm
from shopdesk.ui.context import Context
from shopdesk.ui.look import spacing
from shopdesk.ui.pages.proving import draft
from shopdesk.ui.pages.proving.live_result import LiveResult
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import ChoiceField, NoteField, TextField
from shopdesk.ui.widgets.headings import Heading, Note, Words
from shopdesk.ui.widgets.photo_strip import Brought, PhotoStrip
from shopdesk.wording import Region, say, say_n
from shopdesk.wording.bench_measures import say_sentence
from shopdesk.wording.guides import guide_in_units

Record = Callable[["ProofGuide"], object]
TOOL = "instrument/"  # a chooser of instruments is this and what it measures


class ProofGuide(QWidget):
    """`left` when the person turns away; `loggerAsked` when a logger's file is to be read."""

    left = Signal()
    loggerAsked = Signal()
    judged = Signal(object)  # draft.Live

    def __init__(
        self, context: Context, guide: Guide, tools: Sequence[InstrumentRow], record: Record, draft_name: str
    ) -> None:
        super().__init__()
        self._context, self.guide = context, guide
        self._tools = {row.id: row for row in tools}
        self.logged: dict[str, Curve] = {}
        self.brought: list[Brought] = []
        self.form = AskedForm(guide.form.fields, context.region)
        self.live = LiveResult(context.region)
        self._add_tools()
        self._add_closing()
        self.form.on_save(say("Record it (Ctrl+Return)"), lambda _values: record(self), icon_name="proof")
        if guide.form.logger:
            self.form.add_button(
                Button(say("Read a &logger’s file"), self.loggerAsked.emit, icon_name="open")
            )
        self.form.add_button(Button(say("Leave it (Esc)"), self.left.emit))
        self.form.show_known(guide.known)
        self._take_divisions()
        self.form.remember(context.drafts, draft_name)
        self.form.show_asked()
        self.strip = PhotoStrip(context.dialogs)
        self.strip.brought.connect(self._take_pictures)
        self.pictures = Note("")
        self.pictures.hide()
        self.logger_says = Note("")
        self.logger_says.hide()
        kind = guide.kind
        parts = [
            Heading(kind.name), Words(guide_in_units(kind.how, context.region)),
            Words(say("It meets when: {what}", what=guide_in_units(kind.meets, context.region))),
            Note(kind.basis), Cautions(draft.cautions(context.seat.catalogue, kind.hazards), context.region),
            self.form, self.logger_says, self.live, self.pictures, self.strip,
        ]  # fmt: skip
        self.setLayout(upright(parts, gap="small"))
        self.form.edited.connect(self.judge)
        self.judge()

    def focusFirst(self) -> None:
        self.form.focusFirst()

    def values(self) -> dict[str, Any] | None:
        """The readings, or None when one cannot be read, which is then shown."""
        found = self.form.asked_values()
        if found is None:
            return None
        names = {asked.name for asked in self.guide.form.fields}
        return {name: value for name, value in found.items() if name in names}

    def seen(self) -> Result | None:
        """The person's word, where an eye judges."""
        return self.form["result"].value() if self.guide.form.by_eye else None

    def chosen_tools(self) -> list[int]:
        return [
            key for kind in self.guide.form.measures
            if self._may_choose(kind) and (key := self.form[TOOL + kind].value())
        ]  # fmt: skip

    def text(self, name: str) -> str:
        if name == "signed_by" and not self.guide.kind.at_home:
            return ""
        return str(self.form[name].value())

    def show_logged(self, set_f: float, logged: Logged) -> None:
        """Fills the cycles of a setting in from a logger's file and draws its curve."""
        name = cycles_field(set_f)
        self.form.show_values({name: logged.cycles})
        self.logged[name] = logged.curve
        region = self._context.region
        self.logger_says.setText(" ".join(say_sentence(told, region) for told in logged.says))
        self.logger_says.show()
        self.judge()
        self.form[name].setFocus(Qt.FocusReason.OtherFocusReason)

    def curves(self) -> tuple[Curve, ...]:
        """What is kept with the proof: the logger's curves in place of those of its settings."""
        told = self._live_now().curves
        if not self.logged:
            return ()
        drawn = {curve.level: curve for curve in self.logged.values()}
        return tuple(drawn.get(curve.level, curve) for curve in told) or tuple(self.logged.values())

    def show_problem(self, problem: Problem) -> None:
        self.form.show_problem(problem)

    # Inside

    def _add_tools(self) -> None:
        kinds = [kind for kind in self.guide.form.measures if self._may_choose(kind)]
        if self.guide.form.measures:
            self.form.heading(say("Instruments"))
        if self.guide.form.measures and not kinds:
            none = say("No instrument for this is on record; write yours down under Instruments.")
            self.form.add_words(Note(none))
        for kind in kinds:
            rows = [row for row in self._tools.values() if kind in row.measures]
            choices = [(0, say("none named")), *((row.id, self._tool_in_words(row)) for row in rows)]
            field = self.form.add(
                TOOL + kind,
                say(KINDS[kind])[:1].upper() + say(KINDS[kind])[1:],
                ChoiceField(choices),
                wide=True,
            )
            if len(rows) == 1:
                field.setValue(rows[0].id)
            field.edited.connect(self._take_divisions)

    def _may_choose(self, kind: str) -> bool:
        return any(kind in row.measures for row in self._tools.values())

    def _tool_in_words(self, row: InstrumentRow) -> str:
        if not row.past:
            return row.named
        if row.calibration_due is None:
            return say("{name} - calibration not on record", name=row.named)
        day = self._context.region.day(row.calibration_due)
        return say("{name} - past its calibration, {day}", name=row.named, day=day)

    def _take_divisions(self) -> None:
        chosen = [self._tools[key] for key in self.chosen_tools() if key in self._tools]
        self.form.show_values(draft.divisions(self.guide.form, chosen))

    def _add_closing(self) -> None:
        self.form.heading(say("Result"))
        if self.guide.form.by_eye:
            words = [(None, say("choose")), *((result, say(result.value)) for result in Result)]
            self.form.add("result", say("&What it showed"), ChoiceField(words))
        if self.guide.kind.at_home:
            self.form.add("signed_by", say("The licensed fitter’s name"), TextField())
        self.form.add("note", say("Note"), NoteField(lines=2), wide=True)

    def _live_now(self) -> draft.Live:
        return draft.live(self.guide.form, self._readings_now(), self.seen(), self._context.region)

    def _readings_now(self) -> dict[str, Any]:
        return self.form.readable()

    def judge(self) -> None:
        """Says anew what the readings amount to."""
        live = self._live_now()
        if self.logged and live.curves:
            live = draft.Live(live.result, live.says, live.missing, live.stop, self.curves())
        self.live.show_live(live)
        self.judged.emit(live)

    def _take_pictures(self, brought: list[Brought]) -> None:
        self.brought += brought
        self.pictures.setText(
            say_n(
                "{count} picture will be kept with it: {names}.",
                "{count} pictures will be kept with it: {names}.",
                len(self.brought),
                names=", ".join(picture.name for picture in self.brought),
            )
        )
        self.pictures.show()


class Cautions(QWidget):
    """The usual cautions: the name of each, its text, and whom to defer to."""

    def __init__(self, cautions: Sequence[draft.Caution], region: Region) -> None:
        super().__init__()
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(spacing(self.font()).wide)
        grid.setColumnStretch(1, 1)
        for row, caution in enumerate(cautions):
            name = Words(say("Caution: {name}", name=caution.name), "strong")
            name.setWordWrap(False)
            told = guide_in_units(caution.text, region)
            text = Words(say("{text} Defer to: {whom}", text=told, whom=caution.defer_to))
            grid.addWidget(name, row, 0, Qt.AlignmentFlag.AlignTop)
            grid.addWidget(text, row, 1, Qt.AlignmentFlag.AlignTop)
