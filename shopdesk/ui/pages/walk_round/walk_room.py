"""One walk-round in the window: keys go to the walk, what changed goes to the shop, and all parts follow."""

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QStackedLayout, QWidget

from shopdesk.domain.catalogue.model import Purpose
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.services import walks
from shopdesk.services.inspection import Worth
from shopdesk.services.walks import WalkView
from shopdesk.ui.context import Context
from shopdesk.ui.pages.walk_round.answering import Answering
from shopdesk.ui.pages.walk_round.checkpoint_view import CheckpointView
from shopdesk.ui.pages.walk_round.columns import Columns
from shopdesk.ui.pages.walk_round.draft import Change, Walk
from shopdesk.ui.pages.walk_round.finder import Finder
from shopdesk.ui.pages.walk_round.judging import Judging
from shopdesk.ui.pages.walk_round.keeping import Keeper
from shopdesk.ui.pages.walk_round.pictures import Pictures
from shopdesk.ui.pages.walk_round.pinned_drawing import PinnedDrawing
from shopdesk.ui.pages.walk_round.standing import standings
from shopdesk.ui.pages.walk_round.stop_panel import StopPanel
from shopdesk.ui.pages.walk_round.verdict_panel import VerdictPanel
from shopdesk.ui.pages.walk_round.zone_list import ZoneList
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.photo_strip import Brought
from shopdesk.wording import say


class WalkRoom(QWidget):
    """`moved` says that the walk stands differently; the others that another room is wanted.

    `pictureAsked` carries the key of a photograph.
    """

    moved = Signal()
    particularsAsked = Signal()
    pictureAsked = Signal(int)

    def __init__(self, context: Context, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._context = context
        self.walk: Walk | None = None
        self.worth: Worth | None = None
        seat = context.seat
        self.drawing = PinnedDrawing()
        self.zones = ZoneList()
        self.finder = Finder(seat.catalogue)
        self.checkpoint = CheckpointView(context.dialogs, lambda: context.region)
        self.stop = StopPanel()
        self.verdict = VerdictPanel(seat.catalogue, seat.region)
        self.judging = Judging(context, self)
        self.answering = Answering(context.dialogs, self)
        self.keeper = Keeper(context, self)
        self._refused_before = False
        self._deeds = self._deed_table()
        self.pictures = Pictures(context, self.checkpoint, self)
        self._join()
        left = upright([self.drawing, self.zones], gap="small")
        left.setStretchFactor(self.drawing, 3)
        left.setStretchFactor(self.zones, 4)
        side = QWidget()
        side.setLayout(left)
        self.columns = Columns(side, self._middle(), self.verdict)
        self.setLayout(upright([self.columns]))

    # A walk-round comes in

    def show_walk(self, view: WalkView, *, at: str = "") -> None:
        """Takes a walk-round up where it was left, or `at` a checkpoint."""
        known = self.walk
        self.walk = Walk(self._context.seat.catalogue, view)
        self.keeper.read = self._context.reading
        if known is not None and known.view.id == view.id:
            self.walk.evidence, self.walk.lit = known.evidence, known.lit
        else:
            self.worth = None
            self.verdict.clear()
        if at:
            self.walk.go(at)
        self.pictures.take(view)
        self.drawing.show_range(view.build)
        self._room.setCurrentIndex(0)
        self._show()
        self._show_photos()
        if view.given:
            self.judging.judge(view.id)

    def leave(self) -> None:
        """Keeps what is being typed, and tells the other places what changed since one came here."""
        self.checkpoint.keep_note()
        if self.walk is not None:
            self.keeper.tell_others(self.walk.view)

    def focusFirst(self) -> None:
        """The keyboard on the checkpoint; while the walk is stopped, on the words that say so."""
        here = self.stop if self._room.currentIndex() else self.checkpoint
        here.setFocus(Qt.FocusReason.OtherFocusReason)

    @property
    def may_answer(self) -> bool:
        return self.walk is not None and not self.walk.view.finished and self._context.may(Action.WALK)

    def go(self, code: str) -> None:
        """Opens a checkpoint and puts the keyboard there."""
        if code:
            self._step(lambda walk: walk.go(code))
        self.focusFirst()

    # Keys and buttons

    def _do(self, deed: str, place: int) -> None:
        """What a key or a button means."""
        if self.walk is None:
            return
        self.checkpoint.keep_note()
        if deed in self._deeds:
            self._deeds[deed]()
        elif self.may_answer:
            self.answering.answer(self.walk, deed, place)
        else:
            self._context.tell(
                say("This walk-round is a record now. A second look is a walk-round of its own.")
            )

    def _settle(self, change: Change | None, before: str) -> None:
        walk = self.walk
        assert walk is not None
        if change is not None:
            self.keeper.keep(walk.view, change)
        self._show()
        if walk.open != before:
            self.columns.show_middle()
            self._show_photos()

    def _step(self, go: Callable[[Walk], object]) -> None:
        walk = self.walk
        assert walk is not None
        before = walk.open
        go(walk)
        self._settle(None, before)

    def _deed_table(self) -> dict[str, Callable[[], None]]:
        """What may be done on a finished walk-round as well."""
        return {
            "on": lambda: self._step(lambda walk: walk.step(1)),
            "back": lambda: self._step(lambda walk: walk.step(-1)),
            "zone on": lambda: self._step(lambda walk: walk.step_zone(1)),
            "zone back": lambda: self._step(lambda walk: walk.step_zone(-1)),
            "find": self._find,
            "note": lambda: self._if_open(self.checkpoint.write_note),
            "photograph": lambda: self._if_open(self.checkpoint.photos.add_files),
            "paste": lambda: self._if_open(self.checkpoint.photos.paste),
            "offered": lambda: self._if_open(self.pictures.take_offered),
            "view": self.drawing.next_view,
            "drawing": lambda: self.drawing.drawing.setFocus(Qt.FocusReason.ShortcutFocusReason),
            "zones": lambda: self.zones.setFocus(Qt.FocusReason.ShortcutFocusReason),
            "worth": self.verdict.focus_figures,
            "look at": self.checkpoint.photos.focus_list,
            "particulars": self.particularsAsked.emit,
        }

    def _if_open(self, deed: Callable[[], object]) -> None:
        if self.may_answer:
            deed()

    def _find(self) -> None:
        if self.walk is not None:
            self.finder.ask(self.walk.matching)

    def _go_part(self, part: str) -> None:
        self._step(lambda walk: walk.go_part(part))
        self.focusFirst()

    def _go_zone(self, zone: str) -> None:
        self._step(lambda walk: walk.go_zone(zone))
        self.focusFirst()

    def _note(self, text: str) -> None:
        if self.walk is not None and self.may_answer:
            self._settle(self.walk.write_note(text), self.walk.open)

    # The stop

    def _stop_walk(self) -> None:
        self._room.setCurrentIndex(1)
        self.stop.setFocus(Qt.FocusReason.OtherFocusReason)

    def _go_on(self) -> None:
        self._room.setCurrentIndex(0)
        self.focusFirst()

    # To the shop

    def _kept(self, walk_id: int) -> None:
        if self.walk is not None and self.walk.view.id == walk_id:
            self.judging.judge(walk_id)
            if self._refused_before:  # two texts met, and what was chosen stands now
                self._refused_before = False
                self.read_again()

    def _refused(self, problem: Problem) -> None:
        """The shop did not take it: says why, and shows again what the shop holds."""
        self._refused_before = True
        self._context.tell_problem(problem)
        self.read_again()

    def read_again(self) -> None:
        """Shows what the shop holds of this walk-round; the open checkpoint stays open."""
        walk = self.walk
        if walk is None:
            return
        walk_id, at = walk.view.id, walk.open
        self._context.ask(
            lambda seat: walks.walk_view(seat, walk_id), lambda view: self.show_walk(view, at=at),
            key=f"walk/{id(self)}", owner=self,
        )  # fmt: skip

    def _choose_purpose(self, purpose: Purpose) -> None:
        walk = self.walk
        if walk is None or not self.may_answer:
            return
        walk.take_purpose(purpose)
        walk_id = walk.view.id
        self.keeper.do(walk.view, lambda seat: walks.set_terms(seat, walk_id, purpose=purpose))
        self._show()

    def _write_asking(self, cents: int | None) -> None:
        walk = self.walk
        if walk is not None and self.may_answer:
            walk.asking_cents = cents
            walk_id = walk.view.id
            self.keeper.do(walk.view, lambda seat: walks.set_terms(seat, walk_id, asking_cents=cents))

    # Photographs

    def _bring(self, pictures: list[Brought]) -> None:
        walk = self.walk
        if walk is not None and self.may_answer:
            self.pictures.bring(walk.view, walk.open, pictures)

    def _pictured_now(self, walk_id: int, code: str) -> None:
        if self.walk is not None and self.walk.view.id == walk_id:
            self.walk.came_to(code)
            self._show()
            self._show_photos()

    def _show_photos(self) -> None:
        if self.walk is not None:
            self.pictures.show(self.walk.view, self.walk.open)

    # What is shown

    def _show(self) -> None:
        walk = self.walk
        assert walk is not None
        self.checkpoint.show_walk(walk, may_answer=self.may_answer)
        self.zones.show_zones(standings(walk))
        self.drawing.show_found(walk.found())
        self.drawing.turn_to(walk.checkpoint.part)
        self.verdict.show_terms(walk.purpose, walk.asking_cents, may_change=self.may_answer)
        self.moved.emit()

    def _show_worth(self, worth: Worth) -> None:
        self.worth = worth
        if self.walk is not None:
            self.verdict.show_worth(worth, self.walk.not_seen())
        self.moved.emit()

    def _middle(self) -> QWidget:
        walking = QWidget()
        walking.setLayout(upright([self.finder, self.checkpoint], gap="hair"))
        middle = QWidget()
        self._room = QStackedLayout(middle)
        self._room.addWidget(walking)
        self._room.addWidget(self.stop)
        return middle

    def _join(self) -> None:
        self.checkpoint.meant.connect(self._do)
        self.checkpoint.noted.connect(self._note)
        self.checkpoint.photos.brought.connect(self._bring)
        self.checkpoint.photos.opened.connect(self.pictureAsked)
        self.answering.settled.connect(self._settle)
        self.answering.stopped.connect(self._stop_walk)
        self.keeper.kept.connect(self._kept)
        self.keeper.refused.connect(self._refused)
        self.pictures.kept.connect(self._pictured_now)
        self.pictures.offered.connect(self._bring)
        self.finder.chosen.connect(self.go)
        self.zones.zoneChosen.connect(self._go_zone)
        self.drawing.partChosen.connect(self._go_part)
        self.stop.released.connect(self._go_on)
        self.verdict.purposeChosen.connect(self._choose_purpose)
        self.verdict.askingWritten.connect(self._write_asking)
        self.verdict.checkpointAsked.connect(self.go)
        self.judging.came.connect(self._show_worth)
        self.judging.under_way.connect(self.verdict.show_behind)
        self.judging.wrong.connect(self._context.tell_problem)
