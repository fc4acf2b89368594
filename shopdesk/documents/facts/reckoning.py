"""Facts of the reckoning of a year: tables already written, charts already laid out."""

from dataclasses import dataclass
from datetime import date

from shopdesk.documents.facts.parties import ShopHead
from shopdesk.drawing.bars import Bars
from shopdesk.drawing.chart import Chart


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureTable:
    """A section: what it is about, how it is reckoned, a chart, and rows whose last is their sum.

    `heads` and `rows` are texts; all but the first column are figures.
    """

    title: str
    note: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    total: tuple[str, ...] = ()
    bars: Bars | None = None
    chart: Chart | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ReckoningFacts:
    """A year in its sections, in the order in which an owner asks; the year is its number."""

    shop: ShopHead
    number: str
    day: date
    in_short: tuple[tuple[str, str], ...]
    sections: tuple[FigureTable, ...]
