"""What is owed by age, what the stores are worth, and how promises were kept, each over its records."""

from typing import Any

from shopdesk.services.reckoning.charts import owed_bars, promises_chart, stock_bars
from shopdesk.services.reckoning.chosen import Chosen
from shopdesk.services.reckoning.kept_promises import GivenDay, OddsBand, bands, given_days
from shopdesk.services.reckoning.standing import OnShelf, OwedBill, on_shelf, owed_bills
from shopdesk.services.reckoning.words import age_name, band_name
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.reckoning.figures_view import FiguresView, Listed
from shopdesk.ui.pages.reckoning.words import NOTHING
from shopdesk.ui.widgets.rows import Column
from shopdesk.wording import Region, say


class OwedPart(FiguresView):
    """Every bill with something asked for, the longest past due first."""

    def __init__(self, page: Page) -> None:
        note = say("Open on issued bills today, with tax.")
        super().__init__(page, "owed", _bills(page.context.region), note=note)

    def ask(self, _chosen: Chosen) -> None:
        self._page.ask(owed_bills, self._show, key="owed")

    def _show(self, bills: list[OwedBill]) -> None:
        region = self._page.context.region
        sums = (
            say(
                "{count} bills, {amount} in all.",
                count=len(bills),
                amount=region.money(sum(bill.asked_cents for bill in bills)),
            )
            if bills
            else ""
        )
        self.show_figures(bills, bars=owed_bars(region, bills) if bills else None, sums=sums)


class StoresPart(FiguresView):
    """What lies on the shelf at what it cost, the dearest first."""

    def __init__(self, page: Page) -> None:
        note = say(
            "What lies in the stores today, at what it cost, freight in. What is set aside is not in here."
        )
        super().__init__(page, "stores", _shelf(page.context.region), note=note)

    def open_record(self, row: Any) -> None:
        """A part lies on the shelf of the Stores."""
        self._page.context.go("stores", section="shelf")

    def ask(self, _chosen: Chosen) -> None:
        self._page.ask(on_shelf, self._show, key="stores")

    def _show(self, parts: list[OnShelf]) -> None:
        region = self._page.context.region
        sums = (
            say(
                "{count} kinds of part, worth {amount}.",
                count=len(parts),
                amount=region.money(sum(part.value_cents for part in parts)),
            )
            if parts
            else ""
        )
        self.show_figures(parts, bars=stock_bars(region, parts) if parts else None, sums=sums)


class PromisesPart(FiguresView):
    """Beneath: the days that were promised at such odds."""

    def __init__(self, page: Page) -> None:
        region = page.context.region
        note = say(
            "Every day that was promised and can be judged by now; one that was moved counts as it was "
            "given. Kept means ready by then. A handful of days says little: look at how many stand behind "
            "a figure."
        )
        super().__init__(page, "promises", _bands(region), _days(region), note=note)
        self.chosen.connect(lambda _key: self._show_days())

    def ask(self, chosen: Chosen) -> None:
        year = chosen.year or None
        self._page.ask(lambda seat: bands(given_days(seat, year)), self._show, key="promises")

    def _show(self, rows: list[OddsBand]) -> None:
        region = self._page.context.region
        kept, count = sum(band.kept for band in rows), sum(len(band.days) for band in rows)
        sums = say("{kept} of {count} days were kept.", kept=kept, count=count) if rows else ""
        self.show_figures(rows, chart=promises_chart(region, rows), sums=sums)
        self._show_days()

    def _show_days(self) -> None:
        row: OddsBand | None = self.current()
        if row is not None:
            self.show_records(band_name(row), row.days)


def _bills(region: Region) -> Listed:
    columns = [
        Column("bill", say("Bill"), lambda b: b.number, width=9, sort=lambda b: b.invoice_id),
        Column("whose", say("Customer"), lambda b: b.customer, stretch=True, sort=lambda b: b.customer),
        Column("range", say("Range"), lambda b: b.range_number, width=9, sort=lambda b: b.range_id),
        Column("due", say("Due"), lambda b: region.day(b.due_on) if b.due_on else NOTHING, width=14,
               sort=lambda b: b.due_on),
        Column("age", say("Age"), lambda b: age_name(b.age), width=26, sort=lambda b: b.age),
        Column("gross", say("Billed"), lambda b: region.money(b.gross_cents), width=13, figures=True,
               sort=lambda b: b.gross_cents),
        Column("open", say("Open"), lambda b: region.money(b.asked_cents), width=13, figures=True,
               sort=lambda b: b.asked_cents, strong=True),
    ]  # fmt: skip
    empty = say("Nothing is owed. Bills with something open will stand here.")
    return Listed(say("Bills with something open"), columns, lambda b: b.invoice_id, empty)


def _shelf(region: Region) -> Listed:
    columns = [
        Column("number", say("Number"), lambda p: p.number, width=9, sort=lambda p: p.part_id),
        Column("name", say("Part"), lambda p: p.name, stretch=True, sort=lambda p: p.name),
        Column("from", say("Where from"), lambda p: say(p.condition), width=12, sort=lambda p: p.condition),
        Column("lies", say("Lies at"), lambda p: p.lies_at, width=14, sort=lambda p: p.lies_at),
        Column("count", say("Pieces"), lambda p: region.number(p.quantity), width=8, figures=True,
               sort=lambda p: p.quantity),
        Column("value", say("Worth"), lambda p: region.money(p.value_cents), width=13, figures=True,
               sort=lambda p: p.value_cents, strong=True),
    ]  # fmt: skip
    empty = say("Parts on the shelf will stand here with what they cost.")
    return Listed(say("Worth of the stores"), columns, lambda p: p.part_id, empty)


def _bands(region: Region) -> Listed:
    columns = [
        Column("odds", say("Promised at"), band_name, stretch=True, sort=lambda b: b.low),
        Column("days", say("Days"), lambda b: region.number(len(b.days)), width=8, figures=True,
               sort=lambda b: len(b.days)),
        Column("kept", say("Kept"), lambda b: region.number(b.kept), width=8, figures=True,
               sort=lambda b: b.kept),
        Column("said", say("Said, in the mean"), lambda b: _percent(b.said), width=18, figures=True,
               sort=lambda b: b.said),
        Column("was", say("Was"), lambda b: _percent(b.kept_percent), width=9, figures=True, strong=True,
               sort=lambda b: b.kept_percent),
    ]  # fmt: skip
    empty = say("Promised days will stand here once they have passed or the range is ready.")
    return Listed(say("Promises by their odds"), columns, lambda b: b.low, empty)


def _percent(value: int | None) -> str:
    return say("{percent} %", percent=value) if value is not None else NOTHING


def _days(region: Region) -> Listed:
    columns = [
        Column("range", say("Range"), lambda d: d.number, width=9, sort=lambda d: d.range_id),
        Column("told", say("Promised on"), lambda d: region.day(d.told_on), width=14,
               sort=lambda d: d.told_on),
        Column("for", say("For"), lambda d: region.day(d.on_day), width=14, sort=lambda d: d.on_day),
        Column("ready", say("Ready"), lambda d: region.day(d.ready_on) if d.ready_on else say("not yet"),
               width=14,
               sort=lambda d: d.ready_on),
        Column("kept", say("Kept"), _kept, stretch=True, sort=lambda d: d.kept),
    ]  # fmt: skip
    return Listed(
        say("Promised days"),
        columns,
        lambda d: (d.job_id, d.told_on, d.on_day),
        say("The days will stand here."),
    )


def _kept(day: GivenDay) -> str:
    if day.kept:
        return say("✓ kept")
    if day.ready_on is None:
        return say("✗ not kept, not ready yet")
    return say("✗ {count} days late", count=(day.ready_on - day.on_day).days)
