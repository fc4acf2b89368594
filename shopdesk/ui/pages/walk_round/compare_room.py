"""Two walk-rounds side by side: before and after of one range, or two ranges one may buy."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QSizePolicy, QWidget

from shopdesk.domain.catalogue.model import Evidence
from shopdesk.domain.comparing import Difference, Differs, Side
from shopdesk.services.comparing import Beside, Comparison, WalkChoice, compare, to_compare
from shopdesk.services.walks import WalkView
from shopdesk.ui.context import Context
from shopdesk.ui.pages.walk_round.difference_rows import DifferenceRow, DifferenceRows
from shopdesk.ui.pages.walk_round.pinned_drawing import PinnedDrawing
from shopdesk.ui.pages.walk_round.worth_words import (
    capital,
    offer_words,
    scope_name,
    span_words,
    verdict_words,
)
from shopdesk.ui.range_words import name_of
from shopdesk.ui.widgets.boxes import level, upright
from shopdesk.ui.widgets.buttons import QuietButton
from shopdesk.ui.widgets.fields import ChoiceField
from shopdesk.ui.widgets.headings import Heading, Note, Words
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.wording import Region, say, say_n

_DRAWING = 260  # pixels, the least height of a drawing


class SidePanel(QWidget):
    """One walk-round: its drawing with pins, and what it comes to."""

    def __init__(self, region: Region, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._region = region
        self.title = Heading("", "title")
        self.drawing = PinnedDrawing()
        self.worth = Words()
        box = upright([self.title, self.drawing, self.worth], gap="small")
        box.setStretchFactor(self.drawing, 1)
        self.setLayout(box)
        # It takes what room there is and asks for no more than its least.
        self.drawing.drawing.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Ignored)
        self.drawing.drawing.setMinimumHeight(_DRAWING)

    def show_side(self, side: Beside) -> None:
        region = self._region
        self.title.setText(say("{number}, {day}", number=side.number, day=region.day(side.on_day)))
        self.drawing.show_range(side.build)
        self.drawing.show_found(side.found)
        self.worth.setText("\n".join(_lines(region, side)))

    def lines(self) -> int:
        """Lines of what it comes to, as written."""
        return self.worth.text().count("\n") + 1

    def pad(self, lines: int) -> None:
        """As many lines as the other has, so that both drawings are of one height."""
        self.worth.setText(self.worth.text() + "\n" * (lines - self.lines()))


class CompareRoom(QWidget):
    """`left` is the way back; `checkpointAsked` the checkpoint of a difference."""

    left = Signal()
    checkpointAsked = Signal(str)

    def __init__(self, context: Context, view: WalkView, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._context, self._view = context, view
        self.choice = ChoiceField()
        self.choice.setAccessibleName(say("The walk-round to set beside this one"))
        self.choice.edited.connect(self._compare)
        self.sides = (SidePanel(context.region), SidePanel(context.region))
        self.guide = Note(say("The same range on another day, or another range, can stand beside this one."))
        self.list = DifferenceRows(say("Where they differ"))
        self.list.opened.connect(lambda place: self.checkpointAsked.emit(self.list.rows[place].code))
        self.list.hide()
        back = QuietButton(say("Back"), self.left.emit, icon_name="back", tip=say("Escape"))
        self._drawn = QWidget()
        self._drawn.setLayout(level(self.sides, gap="wide"))
        self._drawn.hide()
        head = level([back, Heading(say("Side by side"), "head"), self.choice])
        head.setStretchFactor(self.choice, 1)
        box = upright([head, self.guide, self._drawn, self.list], margin="wide", gap="small")
        box.addStretch(1)
        self.setLayout(upright([PageScroll(box)]))
        context.ask(lambda seat: to_compare(seat, view.id), self._offer, key=f"beside/{id(self)}", owner=self)

    def focusFirst(self) -> None:
        self.choice.setFocus(Qt.FocusReason.OtherFocusReason)

    # Inside

    def _offer(self, found: Sequence[WalkChoice]) -> None:
        if not found:
            self.guide.setText(say("There is no other walk-round yet to set beside this one."))
            return
        region = self._context.region
        self.choice.setChoices([(one.walk_id, _choice_words(region, one)) for one in found])
        self._compare()

    def _compare(self) -> None:
        mine, other = self._view.id, self.choice.value()
        if other is not None:
            self._context.ask(
                lambda seat: compare(seat, mine, other),
                self._show,
                key=f"side by side/{id(self)}",
                owner=self,
            )

    def _show(self, found: Comparison) -> None:
        for panel, side in zip(self.sides, (found.first, found.second), strict=True):
            panel.show_side(side)
        most = max(panel.lines() for panel in self.sides)
        for panel in self.sides:
            panel.pad(most)
        self._drawn.show()
        self.guide.setText(_summary(found))
        self.list.show_rows([_row(difference) for difference in found.differences])


def _choice_words(region: Region, one: WalkChoice) -> str:
    day = region.day(one.on_day)
    if one.same_range:
        return say("{number} on {day}, the same range", number=one.number, day=day)
    return say(
        "{number} on {day}, {name}", number=one.number, day=day, name=name_of(one.maker, one.model, "")
    )


def _summary(found: Comparison) -> str:
    count = len(found.differences)
    if not count:
        return say("They say the same at every checkpoint.")
    told = say_n("They differ at {count} checkpoint.", "They differ at {count} checkpoints.", count)
    if found.same_range:
        gone = sum(1 for d in found.differences if d.how is Differs.GONE)
        new = sum(1 for d in found.differences if d.how is Differs.NEW)
        told += " " + say("{gone} no longer found, {new} newly found.", gone=gone, new=new)
    return told


def _lines(region: Region, side: Beside) -> list[str]:
    verdict = side.verdict
    if side.charges:
        lines = [
            say("{scope}: charged {cost}, worth {value} then", scope=capital(scope_name(charge.scope)),
                cost=span_words(region, charge.charge), value=span_words(region, charge.value))
            for charge in side.charges
        ]  # fmt: skip
    else:
        lines = [
            say("{verdict}: {offer}", verdict=verdict_words(verdict), offer=offer_words(region, verdict)),
            say("Cost {cost}, brings {value}", cost=span_words(region, verdict.cost),
                value=span_words(region, side.value)),
        ]  # fmt: skip
    lines.append(say("{found} findings, {count} not seen", found=len(side.found), count=side.not_seen))
    if side.asking_cents is not None and not side.charges and verdict.spent_cents is None:
        lines.append(say("Asked: {price}", price=region.money_whole(side.asking_cents)))
    return lines


def side_words(side: Side) -> str:
    """What one walk-round says at a checkpoint, severity in words."""
    if not side.asked:
        return say("has none")
    if side.found:
        return "; ".join(
            say("{finding} ({severity})", finding=say(f.finding.name), severity=say(f.severity.value))
            for f in side.found
        )
    return say("not seen") if side.evidence is Evidence.NOT_SEEN else say("sound")


def _row(difference: Difference) -> DifferenceRow:
    return DifferenceRow(
        code=difference.checkpoint.code,
        checkpoint=say(difference.checkpoint.name),
        how=say(difference.how.value),
        first=capital(side_words(difference.first)),
        second=capital(side_words(difference.second)),
    )
