"""Lines of a quote or an invoice with their causes, and the sums under them, tax apart."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from shopdesk.domain.adjust import Adjustment
from shopdesk.domain.totals import Totals
from shopdesk.services.lines import Line, adjustment_facts
from shopdesk.ui.look import spacing
from shopdesk.ui.pages.counter.shown import line_strip
from shopdesk.ui.widgets.boxes import STRETCH, emptied, level, upright
from shopdesk.ui.widgets.headings import Words
from shopdesk.ui.widgets.strip_list import StripList
from shopdesk.wording import Region, say

Figure = tuple[str, str, bool]  # name, amount, strong
_MOST = 7
_EXEMPT = "E"  # UNCL5305


class LinesView(QWidget):
    """The lines scroll in themselves; the sums are always in sight."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.list = StripList(name, empty=say("No lines."), most=_MOST)
        self.figures = Figures()
        self.setLayout(upright([self.list, level([STRETCH, self.figures])], gap="small"))

    def show_lines(
        self, region: Region, lines: Sequence[Line], totals: Totals, after: Sequence[Figure] = (),
        adjustments: Sequence[Adjustment] = (),
    ) -> None:  # fmt: skip
        """`after` are figures beside the sums, such as the deposit asked."""
        self.list.show_rows([line_strip(region, place, line) for place, line in enumerate(lines)])
        self.figures.show_figures([*_changes(region, totals, adjustments), *sums(region, totals), *after])


class Figures(QWidget):
    """Names and amounts under each other, the amounts to the right."""

    def __init__(self) -> None:
        super().__init__()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, spacing(self.font()).small, 0)
        self._grid.setHorizontalSpacing(spacing(self.font()).wide)
        self._grid.setVerticalSpacing(spacing(self.font()).hair)
        self._shown: list[Figure] = []

    def show_figures(self, figures: Sequence[Figure]) -> None:
        if self._shown == list(figures):
            return
        self._shown = list(figures)
        emptied(self._grid)
        for row, (name, amount, strong) in enumerate(figures):
            title = Words(name, "strong" if strong else "body", "text" if strong else "muted")
            figure = Words(amount, "strong" if strong else "body")
            title.setWordWrap(False)
            figure.setWordWrap(False)
            self._grid.addWidget(title, row, 0)
            self._grid.addWidget(figure, row, 1, Qt.AlignmentFlag.AlignRight)
        self.setAccessibleName("; ".join(f"{name} {amount}" for name, amount, _ in figures))

    def text(self) -> str:
        """Everything that stands here, for tests and screen readers."""
        return "\n".join(f"{name}: {amount}" for name, amount, _ in self._shown)


def _changes(region: Region, totals: Totals, adjustments: Sequence[Adjustment]) -> list[Figure]:
    """The lines' sum and what comes off or on the whole, when anything does."""
    if not adjustments:
        return []
    given = [(entry.why, region.money(entry.cents), False) for entry in adjustment_facts(adjustments)]
    return [(say("Lines"), region.money(totals.lines), False), *given]


def sums(region: Region, totals: Totals) -> list[Figure]:
    """Without tax, each tax with what it is on, and the whole."""
    figures: list[Figure] = [(say("Without tax"), region.money(totals.without_tax), False)]
    for group in totals.groups:
        kind = group.tax_kind
        if group.tax:
            name = say("{name} {percent} on {base}", name=kind.name or say("Tax"),
                       percent=region.percent(kind.percent), base=region.money(group.base))  # fmt: skip
            figures.append((name, region.money(group.tax), False))
        elif kind.category == _EXEMPT:
            figures.append((say("Exempt from tax"), region.money(0), False))
    figures.append((say("With tax"), region.money(totals.with_tax), True))
    return figures
