"""Each range with its estimate, agreed price, cost and margin; and the cash that stands in those here now."""

from collections.abc import Sequence

from shopdesk.services.reckoning.charts import cash_bars, margins_bars
from shopdesk.services.reckoning.chosen import Chosen
from shopdesk.services.reckoning.ranges import RangeFigures, range_figures
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.reckoning.figures_view import FiguresView, Listed
from shopdesk.ui.pages.reckoning.words import hours_of, money, money_or_dash, spread
from shopdesk.ui.range_words import owner_of
from shopdesk.ui.widgets.rows import Column
from shopdesk.wording import Region, say


class RangesPart(FiguresView):
    """The chosen ranges, the newest first."""

    def __init__(self, page: Page) -> None:
        region = page.context.region
        note = say(
            "Ranges that left in the year, or are still here. Amounts without tax. The estimate is what the "
            "last verdict thought the work would cost the customer. The cost is what it cost the shop: "
            "hours at their wage, parts, outwork, outlays, the purchase."
        )
        super().__init__(page, "ranges", _ranges(region), note=note)

    def ask(self, chosen: Chosen) -> None:
        self._page.ask(lambda seat: range_figures(seat, chosen), self._show, key="ranges")

    def _show(self, rows: list[RangeFigures]) -> None:
        region = self._page.context.region
        self.show_figures(rows, bars=margins_bars(region, rows), sums=_ranges_sums(region, rows))


class CashPart(FiguresView):
    """What the shop has laid out in each range that is here, less what was paid for it."""

    def __init__(self, page: Page) -> None:
        note = say(
            "Spent less paid, of the ranges here now. Below nothing, the customer has paid ahead. What was "
            "paid has its tax in it; what was spent has none."
        )
        super().__init__(page, "cash", _cash(page.context.region), note=note)

    def ask(self, _chosen: Chosen) -> None:
        self._page.ask(lambda seat: range_figures(seat, Chosen()), self._show, key="cash")

    def _show(self, rows: list[RangeFigures]) -> None:
        region = self._page.context.region
        standing = sorted((r for r in rows if r.cost.whole or r.paid_cents), key=lambda row: -row.cash_cents)
        out = sum(row.cash_cents for row in standing if row.cash_cents > 0)
        ahead = -sum(row.cash_cents for row in standing if row.cash_cents < 0)
        sums = say(
            "{out} of the shop's money stands in ranges; customers have paid {ahead} ahead.",
            out=region.money(out),
            ahead=region.money(ahead),
        )
        self.show_figures(standing, bars=cash_bars(region, standing), sums=sums)


def _ranges(region: Region) -> Listed:
    columns = [
        Column("range", say("Range"), lambda r: f"{r.number}  {r.name}", width=22, sort=lambda r: r.job_id),
        Column("stage", say("Stage"), lambda r: say(r.stage.value), width=9, sort=lambda r: r.stage.value),
        Column("estimate", say("Estimate"), lambda r: spread(region, r.estimate), width=20, figures=True,
               sort=lambda r: r.estimate.likely if r.estimate else None),
        Column("agreed", say("Agreed"), lambda r: money_or_dash(region, r.agreed_cents), width=9,
               figures=True,
               sort=lambda r: r.agreed_cents),
        Column("billed", say("Billed"), lambda r: money_or_dash(region, r.billed_cents), width=9,
               figures=True,
               sort=lambda r: r.billed_cents),
        Column("cost", say("Cost"), lambda r: money_or_dash(region, r.cost.whole), width=9, figures=True,
               sort=lambda r: r.cost.whole),
        Column("margin", say("Margin"), lambda r: money(region, r.margin_cents), width=9, figures=True,
               sort=lambda r: r.margin_cents, strong=True),
        Column("hours", say("Hours, of thought"), lambda r: hours_of(region, r.minutes, r.minutes_thought),
               width=20, figures=True, sort=lambda r: r.minutes),
        Column("whose", say("Whose"), lambda r: owner_of(r.customer), width=15, sort=lambda r: r.customer),
    ]  # fmt: skip
    empty = say("Ranges that fit the choice above will stand here. Choose another year or stage.")
    return Listed(say("Ranges with their figures"), columns, lambda r: r.job_id, empty)


def _cash(region: Region) -> Listed:
    columns = [
        Column("range", say("Range"), lambda r: f"{r.number}  {r.name}", width=28, sort=lambda r: r.job_id),
        Column("whose", say("Whose"), lambda r: owner_of(r.customer), stretch=True,
               sort=lambda r: r.customer),
        Column("stage", say("Stage"), lambda r: say(r.stage.value), width=12, sort=lambda r: r.stage.value),
        Column("spent", say("Spent"), lambda r: region.money(r.cost.whole), width=13, figures=True,
               sort=lambda r: r.cost.whole),
        Column("paid", say("Paid"), lambda r: money_or_dash(region, r.paid_cents), width=13, figures=True,
               sort=lambda r: r.paid_cents),
        Column("cash", say("Stands in it"), lambda r: region.money(r.cash_cents), width=14, figures=True,
               sort=lambda r: r.cash_cents, strong=True),
    ]  # fmt: skip
    empty = say("Ranges with work on them will stand here, with the money that is in them.")
    return Listed(say("Cash standing in ranges"), columns, lambda r: r.job_id, empty)


def _ranges_sums(region: Region, rows: Sequence[RangeFigures]) -> str:
    """All of the list in one line; the margin over what is billed."""
    if not rows:
        return ""
    billed = [row for row in rows if row.margin_cents is not None]
    return say(
        "{count} ranges: agreed {agreed}, billed {billed}, cost {cost}. On the {of} that are billed, "
        "{margin} is left.",
        count=len(rows), agreed=region.money(sum(row.agreed_cents for row in rows)),
        billed=region.money(sum(row.billed_cents for row in rows)),
        cost=region.money(sum(row.cost.whole for row in rows)), of=len(billed),
        margin=region.money(sum(row.margin_cents or 0 for row in billed)),
    )  # fmt: skip
