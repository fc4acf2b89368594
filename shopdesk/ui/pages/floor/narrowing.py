"""What the Floor shows and in which order: search, stage, hold and sorting, remembered from day to day."""

from dataclasses import dataclass

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLabel, QWidget

from shopdesk.domain.stage import Hold, Stage
from shopdesk.services.floor import HELD, HERE, FloorOrder
from shopdesk.ui.memory import Memory
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.fields import ChoiceField
from shopdesk.ui.widgets.search_field import SearchField
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say

OPEN = (Stage.LOOKED_AT, *HERE)


@dataclass(frozen=True, slots=True)
class Narrowed:
    """What is asked of the shop."""

    words: str
    stages: tuple[Stage, ...]
    held: str
    order: FloorOrder

    @property
    def plain(self) -> bool:
        """Whether every open range is shown."""
        return not self.words and not self.held and self.stages == OPEN


def stages_of(key: str) -> tuple[Stage, ...]:
    """The stages behind a choice: `open`, `all` or one stage."""
    if key == "open":
        return OPEN
    return () if key == "all" else (Stage(key),)


class Narrowing(QWidget):
    """`changed` after any of them changed."""

    changed = Signal()

    def __init__(self, memory: Memory, list_below: QWidget) -> None:
        super().__init__()
        self._memory = memory
        self.search = SearchField(say("Search number, maker, serial, customer, telephone"), list_below)
        self.stages = ChoiceField(
            [
                ("open", say("Open ranges")),
                *((s.value, say(s.value)) for s in Stage),
                ("all", say("Every range")),
            ]
        )
        self.held = ChoiceField(
            [
                ("", say("Held or not")),
                (HELD, say("Held for anything")),
                *((h.value, say("held for {reason}", reason=h)) for h in Hold),
            ]
        )
        self.order = ChoiceField(_orders())
        self.search.setMinimumWidth(24 * self.fontMetrics().averageCharWidth())
        parts: list[QWidget] = [self.search]
        named = (
            ("stages", self.stages, say("Stage")),
            ("held", self.held, say("Held for")),
            ("order", self.order, say("Sort by")),
        )
        for name, field, title in named:
            field.setAccessibleName(title)
            field.setToolTip(title)
            field.setMinimumContentsLength(10)
            kept = memory.text(f"floor/{name}")
            if kept:
                field.setValue(FloorOrder(kept) if name == "order" and kept in tuple(FloorOrder) else kept)
            if field.currentIndex() < 0:
                field.setCurrentIndex(0)
            field.edited.connect(self._note)
            parts += [QLabel(title), field] if name == "order" else [field]
        self.search.searched.connect(lambda _words: self.changed.emit())
        self.setLayout(upright([WrappedRow(parts, growing=self.search)]))

    def now(self) -> Narrowed:
        return Narrowed(
            self.search.words(), stages_of(self.stages.value()), self.held.value(), self.order.value()
        )

    def show_everything(self) -> None:
        """Back to every open range."""
        self.search.clear()
        self.stages.setValue("open")
        self.held.setValue("")
        self._note()

    def _note(self) -> None:
        for name in ("stages", "held", "order"):
            self._memory.keep(f"floor/{name}", str(getattr(self, name).value()))
        self.changed.emit()


def _orders() -> list[tuple[FloorOrder, str]]:
    return [
        (FloorOrder.PROMISED, say("promised date")),
        (FloorOrder.HELD_SINCE, say("held since")),
        (FloorOrder.STAGE, say("stage")),
        (FloorOrder.NUMBER, say("number, newest first")),
        (FloorOrder.CUSTOMER, say("customer")),
    ]
