"""The reckoning of a year: figures in tables with their charts, for the owner's own shelf."""

from reportlab.platypus import Flowable, Spacer

from shopdesk.documents.facts.reckoning import FigureTable, ReckoningFacts
from shopdesk.documents.layout.barred import DrawnBars
from shopdesk.documents.layout.blocks import labelled, section
from shopdesk.documents.layout.charted import DrawnChart
from shopdesk.documents.layout.look import BODY, GAP, SMALL, STRONG, STRONG_RIGHT
from shopdesk.documents.layout.page import printed, width
from shopdesk.documents.layout.tables import Column, Grid
from shopdesk.documents.layout.text import para
from shopdesk.documents.layout.typeface import BOLD, width_of
from shopdesk.wording import say

_HIGH = 190.0  # points of a line chart
_FIRST = 0.26  # of the width, at least, for the names of the rows


def render(facts: ReckoningFacts) -> bytes:
    """The paper as PDF bytes."""
    wide = width(facts.shop)
    day = facts.shop.region.day_long(facts.day)
    story: list[Flowable] = [
        para(
            say("As the records stood on {day}. Amounts without tax, where nothing else is said.", day=day),
            SMALL,
        ),
        *labelled(say("In short"), facts.in_short, wide),
    ]
    for table in facts.sections:
        story += section(table.title, _section(table, wide), _HIGH + 110 if table.chart else 200)
    title = say("Reckoning of the year")
    return printed(facts.shop, title, facts.number, story, about=facts.shop.name)


def _section(table: FigureTable, wide: float) -> list[Flowable]:
    content: list[Flowable] = [para(table.note, SMALL), Spacer(0, GAP)] if table.note else []
    if table.bars is not None and table.bars.groups:
        content += [DrawnBars(table.bars, wide, 128), Spacer(0, GAP)]
    if table.chart is not None:
        content += [DrawnChart(table.chart, wide * 0.62, _HIGH), Spacer(0, GAP)]
    if not table.rows:
        return [*content, para(say("Nothing to reckon here in this year."))]
    grid = Grid(_columns(table, wide), close=True)
    for row in table.rows:
        grid.row(*row)
    if table.total:
        name, *figures = table.total
        grid.row(para(name, STRONG), *(para(figure, STRONG_RIGHT) for figure in figures))
    return [*content, grid.table(wide)]


def _columns(table: FigureTable, wide: float) -> list[Column]:
    """Figures take what their longest text needs, names the rest."""
    first, *rest = table.heads
    lines = [table.heads, *table.rows, *([table.total] if table.total else [])]
    needed = [
        max(width_of(line[at], BOLD, BODY.fontSize) for line in lines) + GAP * 1.5
        for at in range(1, len(table.heads))
    ]
    least = wide * _FIRST
    scale = min(1.0, (wide - least) / sum(needed))
    return [
        Column(first),
        *(Column(head, room * scale, True) for head, room in zip(rest, needed, strict=True)),
    ]
