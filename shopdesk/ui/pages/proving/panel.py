"""The proofs of one range: the list in order, and beside it the form, the record, a deed or the tools."""

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QWidget

from shopdesk.domain.problem import Problem
from shopdesk.domain.proof_forms.oven import SETTINGS_F
from shopdesk.domain.quantity import Quantity
from shopdesk.domain.rights import Action
from shopdesk.services import loggers, proof_pictures, proving
from shopdesk.services.seat import Seat
from shopdesk.ui.context import Context
from shopdesk.ui.pages.proving import draft
from shopdesk.ui.pages.proving.live_result import Standing
from shopdesk.ui.pages.proving.proof_guide import ProofGuide
from shopdesk.ui.pages.proving.records import Records
from shopdesk.ui.pages.proving.release import Release
from shopdesk.ui.pages.proving.tools import Tools
from shopdesk.ui.proof_words import mark_of, next_due, standing_words
from shopdesk.ui.widgets.beside import Beside
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.ui.widgets.photo_strip import Brought
from shopdesk.ui.widgets.strip_list import Strip, StripList, strip_height
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say
from shopdesk.wording.bench_measures import shown

CSV = "*.csv *.txt *.tsv"


class ProofsPanel(QWidget):
    """Shows one job. `refreshAsked` when what it shows may have changed by its own doing."""

    refreshAsked = Signal()

    def __init__(self, context: Context, job_id: int) -> None:
        super().__init__()
        self._context, self.job_id = context, job_id
        self.room: draft.Room | None = None
        self.guide: ProofGuide | None = None
        self._wanted = ""  # a proof to open once it is known
        self._go_on = False
        self._wants_keyboard = False  # asked for before the rows were there
        self.head = Heading("", "head")
        self.head.setWordWrap(True)
        self.list = StripList(
            say("Proofs in the order of proving"), empty=say("No proof is due on this range.")
        )
        self.list.chosen.connect(self._show_chosen)
        self.list.opened.connect(lambda key: self.record(str(key)))
        self.record_button = Button(say("&Make this proof"), self.record, icon_name="proof")
        self.other_button = Button(say("A&nother test"), self.another, icon_name="add")
        self.tools_button = Button(say("&Instruments"), self.show_tools, icon_name="set-up")
        self.gas_button = Button(say("&Gas bench"), self._to_gas_bench, icon_name="gas")
        self.jacket_button = Button(say("&Jacket"), self._to_jacket, icon_name="jacket")
        self.release = Release(context, self.do, self._open_form, self.leave)
        self.records = Records(context)
        self.tools = Tools(context, self.do, self.leave)
        self._side = upright(gap="gap", margin="small")
        side = QWidget()
        side.setLayout(self._side)
        self._side_scroll = PageScroll(side)
        self.live = Standing()
        for part in (self.tools, self.records):
            self._side.addWidget(part)
        self._side.addStretch(1)
        self.tools.hide()
        self._deed: list[QWidget] = []
        self._lay(context)
        leave = QShortcut(QKeySequence("Esc"), self)
        leave.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        leave.activated.connect(self.leave)

    # Asking and doing, for this range only

    def refresh(self) -> None:
        job_id = self.job_id
        self._context.ask(
            lambda seat: draft.read_room(seat, job_id), self._show, key=f"proving/{id(self)}", owner=self
        )

    def do(
        self, action: Callable[[Seat], Any], then: Callable[[Any], None] | None = None,
        failed: Callable[[Problem], None] | None = None,
    ) -> None:  # fmt: skip
        range_id = self.room.range_id if self.room else 0
        topics = [f"job {self.job_id}", "jobs", f"range {range_id}", "ranges", "papers", "instruments"]
        self._context.do(action, then, failed, changes=topics, owner=self)

    def focusFirst(self) -> None:
        self._wants_keyboard = self.room is None
        if self.guide is not None:
            self.guide.focusFirst()
        elif self.tools.isVisible():
            self.tools.focusFirst()
        else:
            self.list.focusFirst()

    # Deeds

    def want(self, kind: str) -> None:
        """Opens a proof's form as soon as the range is known."""
        self._wanted = kind
        if self.room is not None:
            self._open_wanted()

    def record(self, kind: str = "") -> None:
        """The guided form of a proof: the chosen one, or the first that does not stand."""
        if self.room is None or not self._context.may(Action.PROVE):
            return
        here = self.list.current_key()
        chosen = kind or (str(here) if here is not None else next_due(self.room.due))
        if not chosen:
            return
        self.list.select(chosen)
        job_id = self.job_id
        self._context.ask(
            lambda seat: proving.guide(seat, job_id, chosen), self._open_guide,
            key=f"proving/{id(self)}/guide", owner=self,
        )  # fmt: skip

    def another(self) -> None:
        """A proof that is not due, such as clocking the meter."""
        if self.room is None or not self.room.others:
            return
        names = [name for _, name in self.room.others]
        chosen = self._context.dialogs.choose(say("Another test"), say("Which test is made?"), names)
        if chosen is not None:
            self.record(self.room.others[chosen][0])

    def show_tools(self) -> None:
        self._clear()
        self.records.hide()
        self.tools.show()
        self._make_room()
        self.tools.focusFirst()

    def leave(self) -> None:
        """Closes what is open; the keyboard goes back to the list. What was typed stays as a draft."""
        self._clear()
        self.records.show()
        self._make_room()
        self.list.focusFirst()

    # Inside: showing

    def _lay(self, context: Context) -> None:
        rows = WrappedRow([self.record_button, self.other_button, self.tools_button])
        ways = WrappedRow([self.gas_button, self.jacket_button])
        left = QWidget()
        box = upright([self.head, self.list, rows, self.release, ways], gap="small", margin="small")
        box.setStretchFactor(self.list, 1)
        left.setLayout(box)
        self.list.setMinimumHeight(strip_height(self.list.font(), 2) * 3)
        self._left = PageScroll(left)
        right = QWidget()
        stacked = upright([self.live, self._side_scroll], gap="hair")
        stacked.setStretchFactor(self._side_scroll, 1)
        right.setLayout(stacked)
        self._both = Beside(self._left, right, context.memory, "proving/both", shares=(2, 3))
        self.setLayout(upright([self._both]))

    def _show(self, room: draft.Room) -> None:
        self.room = room
        self.head.setText(say("Proofs of {number} {name}", number=room.number, name=room.named))
        may = self._context.may(Action.PROVE)
        self.list.show_rows([_strip(self._context.region, p) for p in room.due])
        if self._go_on or self.list.current_key() is None:
            self._go_on = False
            self.list.select(next_due(room.due))
        self.record_button.setVisible(may and bool(room.due))
        self.other_button.setVisible(may and bool(room.others) and not room.gone)
        self.release.show_room(room)
        self.tools.show_rows(room.instruments)
        self._show_chosen(self.list.current_key())
        if self._wants_keyboard and not self._wanted:
            self.focusFirst()
        self._open_wanted()

    def _show_chosen(self, key: object) -> None:
        if self.room is not None:
            kind = self.guide.guide.kind.code if self.guide is not None else str(key or "")
            self.records.show_records([r for r in self.room.records if r.kind == kind])

    def _open_wanted(self) -> None:
        kind, self._wanted = self._wanted, ""
        if kind:
            self.list.select(kind)
            self.record(kind)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        QTimer.singleShot(0, self, self._make_room)

    def _make_room(self) -> None:
        """Where both do not fit side by side, what is open takes the place of the list until it is left."""
        stacked = self._both.orientation() == Qt.Orientation.Vertical
        opened = self.guide is not None or bool(self._deed) or not self.tools.isHidden()
        self._left.setVisible(not (stacked and opened))

    # Inside: the form of a proof

    def _open_guide(self, guide: proving.Guide) -> None:
        if self.room is None:
            return
        self._clear()
        name = f"proof/{self.job_id}/{guide.kind.code}"
        self.guide = ProofGuide(self._context, guide, self.room.instruments, self._keep, name)
        self.guide.left.connect(self.leave)
        self.guide.loggerAsked.connect(self._read_logger)
        self.guide.judged.connect(self.live.show_live)
        self.guide.judge()
        self._side.insertWidget(0, self.guide)
        self.guide.show()
        self.records.show()
        self._show_chosen(None)
        self._side_scroll.verticalScrollBar().setValue(0)
        self._make_room()
        self.guide.focusFirst()
        QTimer.singleShot(0, self, lambda: self._side_scroll.verticalScrollBar().setValue(0))

    def _keep(self, guide: ProofGuide) -> None:
        values = guide.values()
        if values is None:
            return
        job_id, kind, seen = self.job_id, guide.guide.kind.code, guide.seen()
        tools, curves = guide.chosen_tools(), guide.curves()
        signed_by, note, brought = guide.text("signed_by"), guide.text("note"), tuple(guide.brought)

        def action(seat: Seat) -> str:
            key = proving.prove(
                seat, job_id, kind, values, seen=seen, with_instruments=tools, signed_by=signed_by, note=note,
                curves=curves,
            )  # fmt: skip
            _keep_pictures(seat, key, brought)
            return next(r.result for r in proving.records(seat, job_id, kind) if r.id == key)

        def kept(result: str) -> None:
            guide.form.saved()
            self._go_on = True
            self.leave()
            self._context.tell(say("{name}: {result}.", name=guide.guide.kind.name, result=say(result)))

        self.do(action, kept, guide.show_problem)

    def _read_logger(self) -> None:
        guide = self.guide
        path = self._context.dialogs.open_file(say("Read a logger’s file"), say("Logger’s csv"), CSV)
        if path is None or guide is None:
            return
        region = self._context.region
        names = [say("Dial at {set}", set=shown(f, Quantity.TEMPERATURE, region)) for f in SETTINGS_F]
        chosen = self._context.dialogs.choose(
            say("Read a logger’s file"), say("Where did the dial stand while it was logged?"), names
        )
        if chosen is None:
            return
        set_f = float(SETTINGS_F[chosen])
        self._context.ask(
            lambda _seat: loggers.read_logger_file(path, set_f),
            lambda logged: guide.show_logged(set_f, logged),
            guide.show_problem, key=f"proving/{id(self)}/logger", owner=guide,
        )  # fmt: skip

    # Inside: deeds of the release, and the way out

    def _open_form(self, title: str, form: Form, above: Sequence[QWidget]) -> None:
        self._clear()
        form.add_button(Button(say("Leave it"), self.leave))
        self._deed = [Heading(title), *above, form]
        for place, part in enumerate(self._deed):
            self._side.insertWidget(place, part)
        self.records.hide()
        self._make_room()
        form.focusFirst()

    def _clear(self) -> None:
        for part in (*self._deed, *([self.guide] if self.guide is not None else [])):
            part.hide()
            self._side.removeWidget(part)
            part.deleteLater()
        self._deed, self.guide = [], None
        self.tools.hide()
        self.live.hide()

    def _to_jacket(self) -> None:
        if self.room is not None:
            self._context.open_jacket(self.room.range_id)

    def _to_gas_bench(self) -> None:
        if self.room is not None:
            self._context.go("gas-bench", range_id=self.room.range_id)


def _keep_pictures(seat: Seat, proof_id: int, brought: Sequence[Brought]) -> None:
    for picture in brought:
        try:
            data = picture.read()
        except OSError as error:
            raise Problem(
                "The proof is on record, but the picture {name} cannot be read: {why}. Add it in the jacket.",
                name=picture.name,
                why=error.strerror,
            ) from error
        proof_pictures.photograph_proof(seat, proof_id, data, picture.name)


def _strip(region: Any, due: Any) -> Strip:
    standing = standing_words(region, due)
    tone = "muted" if due.stands or not due.last_result else "problem"
    return Strip(due.code, f"{mark_of(due)}  {due.name}", standing, tone=tone, strong=not due.stands)  # type: ignore[arg-type]
