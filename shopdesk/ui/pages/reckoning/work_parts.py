"""Hours by person and kind of work, and money made and lost by kind of finding, each over its records."""

from shopdesk.domain.money import Spread
from shopdesk.services.reckoning.charts import findings_bars, hours_bars
from shopdesk.services.reckoning.chosen import Chosen
from shopdesk.services.reckoning.findings import FindingFigures, finding_figures
from shopdesk.services.reckoning.hours import KindHours, hours_against_estimate
from shopdesk.services.reckoning.words import station_name
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.reckoning.figures_view import FiguresView, Listed
from shopdesk.ui.pages.reckoning.words import money_or_dash
from shopdesk.ui.widgets.rows import Column
from shopdesk.wording import Region, say


class HoursPart(FiguresView):
    """Beneath: the finished tasks behind a person's hours."""

    def __init__(self, page: Page) -> None:
        region = page.context.region
        note = say(
            "Of the tasks finished in the year. What a task was thought to take is shared over those who "
            "worked on it by their minutes."
        )
        super().__init__(page, "hours", _kinds(region), _tasks(region), note=note)
        self.chosen.connect(lambda _key: self._show_tasks())

    def ask(self, chosen: Chosen) -> None:
        year = chosen.year or self._page.context.seat.today.year
        self._page.ask(lambda seat: hours_against_estimate(seat, year), self._show, key="hours")

    def _show(self, rows: list[KindHours]) -> None:
        region = self._page.context.region
        rows = sorted(rows, key=lambda row: -row.sum("minutes"))
        clocked, likely = (sum(row.sum(figure) for row in rows) for figure in ("minutes", "likely"))
        sums = (
            say(
                "{clocked} clocked on finished tasks; {likely} were thought.",
                clocked=region.hours(clocked),
                likely=region.hours(likely),
            )
            if rows
            else ""
        )
        self.show_figures(rows, bars=hours_bars(region, rows) if rows else None, sums=sums)
        self._show_tasks()

    def _show_tasks(self) -> None:
        row: KindHours | None = self.current()
        if row is not None:
            of = say("{name}, {station}", name=row.name, station=station_name(row.station))
            self.show_records(of, row.tasks)


class FindingsPart(FiguresView):
    """Beneath: the ranges on which such a finding stood."""

    def __init__(self, page: Page) -> None:
        region = page.context.region
        note = say(
            "Customers' ranges, without tax. A task that several findings asked for is split over them in "
            "even parts; one that another task needed goes to the findings behind that task. Discounts, "
            "delivery and storage stand in a line of their own. A range of the shop's own is sold whole and "
            "is not in here."
        )
        super().__init__(page, "findings", _findings(region), _on_ranges(region), note=note)
        self.chosen.connect(lambda _key: self._show_ranges())

    def ask(self, chosen: Chosen) -> None:
        self._page.ask(lambda seat: finding_figures(seat, chosen), self._show, key="findings")

    def _show(self, rows: list[FindingFigures]) -> None:
        region = self._page.context.region
        billed, cost = (sum(row.sum(figure) for row in rows) for figure in ("billed_cents", "cost_cents"))
        sums = (
            say(
                "Billed {billed}, cost {cost}, left {left}.",
                billed=region.money(billed),
                cost=region.money(cost),
                left=region.money(billed - cost),
            )
            if rows
            else ""
        )
        self.show_figures(rows, bars=findings_bars(region, rows) if rows else None, sums=sums)
        self._show_ranges()

    def _show_ranges(self) -> None:
        row: FindingFigures | None = self.current()
        if row is not None:
            self.show_records(row.name, sorted(row.ranges, key=lambda one: one.margin_cents))


def _kinds(region: Region) -> Listed:
    columns = [
        Column("who", say("Who"), lambda r: r.name, width=22, sort=lambda r: r.name),
        Column("where", say("Kind of work"), lambda r: station_name(r.station), stretch=True,
               sort=lambda r: r.station),
        Column("tasks", say("Tasks"), lambda r: region.number(len(r.tasks)), width=7, figures=True,
               sort=lambda r: len(r.tasks)),
        Column("clocked", say("Clocked"), lambda r: region.hours(r.sum("minutes")), width=11, figures=True,
               sort=lambda r: r.sum("minutes"), strong=True),
        Column("thought", say("Thought"), lambda r: region.hours_range(_thought(r)), width=24, figures=True,
               sort=lambda r: r.sum("likely")),
        Column("over", say("Over"), lambda r: _over(region, r.sum("minutes") - r.sum("likely")), width=11,
               figures=True, sort=lambda r: r.sum("minutes") - r.sum("likely")),
    ]  # fmt: skip
    empty = say("Hours on finished tasks will stand here, by person and kind of work.")
    return Listed(say("Hours by person and kind of work"), columns, lambda r: (r.staff_id, r.station), empty)


def _thought(row: KindHours) -> Spread:
    return Spread(row.sum("low"), row.sum("likely"), row.sum("high"))


def _over(region: Region, minutes: int) -> str:
    """Above what was thought, or below it."""
    if minutes < 0:
        return say("{hours} under", hours=region.hours(-minutes))
    return say("{hours} over", hours=region.hours(minutes)) if minutes else say("as thought")


def _tasks(region: Region) -> Listed:
    columns = [
        Column("range", say("Range"), lambda t: t.number, width=9, sort=lambda t: t.range_id),
        Column("task", say("Task"), lambda t: t.task, stretch=True, sort=lambda t: t.task),
        Column("clocked", say("Clocked"), lambda t: region.hours(t.minutes), width=10, figures=True,
               sort=lambda t: t.minutes, strong=True),
        Column("thought", say("Thought"), lambda t: region.hours_range(Spread(t.low, t.likely, t.high)),
               width=22,
               figures=True, sort=lambda t: t.likely),
        Column("over", say("Over"), lambda t: _over(region, t.minutes - t.likely), width=11, figures=True,
               sort=lambda t: t.minutes - t.likely),
    ]  # fmt: skip
    return Listed(say("Finished tasks"), columns, lambda t: t.task_id, say("The tasks will stand here."))


def _findings(region: Region) -> Listed:
    columns = [
        Column("name", say("Finding"), lambda f: f.name, stretch=True, sort=lambda f: f.name,
               tip=lambda f: f.name),
        Column("ranges", say("Ranges"), lambda f: region.number(len(f.ranges)), width=7, figures=True,
               sort=lambda f: len(f.ranges)),
        Column("quoted", say("Agreed"), lambda f: money_or_dash(region, f.sum("quoted_cents")), width=12,
               figures=True, sort=lambda f: f.sum("quoted_cents")),
        Column("billed", say("Billed"), lambda f: money_or_dash(region, f.sum("billed_cents")), width=12,
               figures=True, sort=lambda f: f.sum("billed_cents")),
        Column("cost", say("Cost"), lambda f: money_or_dash(region, f.sum("cost_cents")), width=12,
               figures=True,
               sort=lambda f: f.sum("cost_cents")),
        Column("left", say("Left"), lambda f: region.money(f.margin_cents), width=12, figures=True,
               sort=lambda f: f.margin_cents, strong=True),
        Column("hours", say("Hours, of thought"),
               lambda f: _hours(region, f.sum("minutes"), f.sum("minutes_thought")),
               width=24, figures=True, sort=lambda f: f.sum("minutes")),
    ]  # fmt: skip
    empty = say("Kinds of finding will stand here once their work is on an order.")
    return Listed(say("Money by kind of finding"), columns, lambda f: f.key, empty)


def _hours(region: Region, minutes: int, thought: int) -> str:
    return say("{clocked} of {thought}", clocked=region.hours(minutes), thought=region.hours(thought))


def _on_ranges(region: Region) -> Listed:
    columns = [
        Column("range", say("Range"), lambda o: o.number, stretch=True, sort=lambda o: o.range_id),
        Column("quoted", say("Agreed"), lambda o: money_or_dash(region, o.quoted_cents), width=12,
               figures=True,
               sort=lambda o: o.quoted_cents),
        Column("billed", say("Billed"), lambda o: money_or_dash(region, o.billed_cents), width=12,
               figures=True,
               sort=lambda o: o.billed_cents),
        Column("cost", say("Cost"), lambda o: money_or_dash(region, o.cost_cents), width=12, figures=True,
               sort=lambda o: o.cost_cents),
        Column("left", say("Left"), lambda o: region.money(o.margin_cents), width=12, figures=True,
               sort=lambda o: o.margin_cents, strong=True),
        Column("hours", say("Hours, of thought"), lambda o: _hours(region, o.minutes, o.minutes_thought),
               width=24,
               figures=True, sort=lambda o: o.minutes),
    ]  # fmt: skip
    return Listed(say("On these ranges"), columns, lambda o: o.job_id, say("The ranges will stand here."))
