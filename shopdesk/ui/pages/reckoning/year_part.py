"""A year at a glance: its months, the bills of the chosen month beneath, and the year as a paper."""

from shopdesk.services.papers.reckoning_of_year import reckoning_of_year
from shopdesk.services.reckoning.charts import months_bars
from shopdesk.services.reckoning.chosen import Chosen
from shopdesk.services.reckoning.months import Month, months, papers_of
from shopdesk.services.reckoning.words import month_name
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.reckoning.figures_view import FiguresView, Listed
from shopdesk.ui.pages.reckoning.words import money_or_dash
from shopdesk.ui.widgets.rows import Column
from shopdesk.wording import Region, say


class YearPart(FiguresView):
    """Twelve months; those to come are empty."""

    def __init__(self, page: Page) -> None:
        self._year = page.context.seat.today.year
        region = page.context.region
        note = say(
            "Bills on their day, without tax, credits taken off; hours as they were worked, at their wage; "
            "parts when they were set aside, outwork when it came back. Purchases of ranges are not in "
            "here."
        )
        super().__init__(page, "year", _months(region), _papers(region), note=note)
        self.chosen.connect(lambda _key: self._ask_papers())

    def ask(self, chosen: Chosen) -> None:
        year = self._year = chosen.year or self._page.context.seat.today.year
        self._page.ask(lambda seat: months(seat, year), self._show, key="year")

    def show_paper(self) -> None:
        """The reckoning of the year as a paper, to look at, print or save."""
        year = self._year
        self._page.ask(
            lambda seat: reckoning_of_year(seat, year),
            lambda pdf: self._page.context.show_paper(pdf, say("Reckoning of {year}", year=year)),
            key="paper",
        )  # fmt: skip

    def _show(self, rows: list[Month]) -> None:
        region = self._page.context.region
        billed, spent = sum(row.billed_cents for row in rows), sum(row.spent_cents for row in rows)
        sums = say(
            "{year}: billed {billed}, spent {spent}, left {left}; {hours} were worked.",
            year=self._year,
            billed=region.money(billed),
            spent=region.money(spent),
            left=region.money(billed - spent),
            hours=region.hours(sum(row.minutes for row in rows)),
        )
        self.show_figures(rows, bars=months_bars(region, rows), sums=sums)
        self._ask_papers()

    def _ask_papers(self) -> None:
        row: Month | None = self.current()
        if row is None:
            return
        name = month_name(self._page.context.region, row.month)
        self._page.ask(
            lambda seat: papers_of(seat, row.year, row.month), lambda papers: self.show_records(name, papers),
            key="papers",
        )  # fmt: skip


def _months(region: Region) -> Listed:
    columns = [
        Column("month", say("Month"), lambda m: month_name(region, m.month), stretch=True,
               sort=lambda m: m.month),
        Column("bills", say("Bills"), lambda m: region.number(m.bills), width=7, figures=True,
               sort=lambda m: m.bills),
        Column("billed", say("Billed"), lambda m: money_or_dash(region, m.billed_cents), width=12,
               figures=True,
               sort=lambda m: m.billed_cents),
        Column("hours", say("Hours"), lambda m: region.hours(m.minutes), width=10, figures=True,
               sort=lambda m: m.minutes),
        Column("wages", say("Wages"), lambda m: money_or_dash(region, m.hours_cents), width=12, figures=True,
               sort=lambda m: m.hours_cents),
        Column("parts", say("Parts"), lambda m: money_or_dash(region, m.parts_cents), width=12, figures=True,
               sort=lambda m: m.parts_cents),
        Column("outwork", say("Outwork"), lambda m: money_or_dash(region, m.outwork_cents), width=12,
               figures=True,
               sort=lambda m: m.outwork_cents),
        Column("left", say("Left"), lambda m: money_or_dash(region, m.left_cents), width=12, figures=True,
               sort=lambda m: m.left_cents, strong=True),
        Column("taken", say("Money taken"), lambda m: money_or_dash(region, m.taken_cents), width=12,
               figures=True,
               sort=lambda m: m.taken_cents),
    ]  # fmt: skip
    return Listed(say("Months of the year"), columns, lambda m: m.month, "")


def _papers(region: Region) -> Listed:
    columns = [
        Column("number", say("Number"), lambda p: p.number, width=10),
        Column("kind", say("Kind"), lambda p: say("Invoice") if p.kind == "invoice" else say("Credit"),
               width=10),
        Column("day", say("Day"), lambda p: region.day(p.on_day), width=14, sort=lambda p: p.on_day),
        Column("range", say("Range"), lambda p: p.range_number, stretch=True, sort=lambda p: p.range_id),
        Column("cents", say("Without tax"), lambda p: region.money(p.cents), width=14, figures=True,
               strong=True,
               sort=lambda p: p.cents),
    ]  # fmt: skip
    return Listed(
        say("Bills and credits"), columns, lambda p: p.number, say("Nothing was billed in this month.")
    )
