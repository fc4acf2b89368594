"""The reckoning of a year, gathered for printing; it is looked at, printed or saved, and not kept."""

from collections.abc import Sequence

from shopdesk.documents.facts import FigureTable, ReckoningFacts
from shopdesk.documents.papers import render
from shopdesk.domain.money import Spread
from shopdesk.domain.rights import Action
from shopdesk.services.papers.heads import shop_head
from shopdesk.services.reckoning import charts
from shopdesk.services.reckoning.chosen import Chosen
from shopdesk.services.reckoning.findings import FindingFigures, finding_figures
from shopdesk.services.reckoning.hours import KindHours, hours_against_estimate
from shopdesk.services.reckoning.kept_promises import OddsBand, bands, given_days
from shopdesk.services.reckoning.months import Month, months
from shopdesk.services.reckoning.ranges import RangeFigures, range_figures
from shopdesk.services.reckoning.standing import OnShelf, OwedBill, on_shelf, owed_bills
from shopdesk.services.reckoning.words import age_name, band_name, month_name, station_name
from shopdesk.services.seat import Seat
from shopdesk.wording import Region, say

_MOST = 40  # rows of a table on paper; the window has them all


def reckoning_of_year(seat: Seat, year: int) -> bytes:
    """The paper's PDF; for those who may see costs."""
    return render(reckoning_facts(seat, year))


def reckoning_facts(seat: Seat, year: int) -> ReckoningFacts:
    region, chosen = seat.region, Chosen(year)
    told, ranges = months(seat, year), range_figures(seat, chosen)
    hours, here = hours_against_estimate(seat, year), range_figures(seat, Chosen())
    owed, shelf = owed_bills(seat), on_shelf(seat)
    with seat.look(Action.SEE_COSTS) as session:
        shop = shop_head(seat, session)
    return ReckoningFacts(
        shop=shop,
        number=str(year),
        day=seat.today,
        in_short=_in_short(region, told, ranges, owed, shelf, here),
        sections=(
            _months(region, told),
            _ranges(region, ranges),
            _findings(region, finding_figures(seat, chosen)),
            _hours(region, hours),
            _promises(region, bands(given_days(seat, year))),
            _owed(region, owed),
            _cash(region, here),
            _stores(region, shelf),
        ),
    )


def _in_short(
    region: Region,
    told: Sequence[Month],
    ranges: Sequence[RangeFigures],
    owed: Sequence[OwedBill],
    shelf: Sequence[OnShelf],
    here: Sequence[RangeFigures],
) -> tuple[tuple[str, str], ...]:
    billed, spent = sum(month.billed_cents for month in told), sum(month.spent_cents for month in told)
    standing = sum(row.cash_cents for row in here if row.cash_cents > 0)
    return (
        (say("Billed"), region.money(billed)),
        (say("Spent on the work"), region.money(spent)),
        (say("Left"), region.money(billed - spent)),
        (say("Hours worked"), region.hours(sum(month.minutes for month in told))),
        (say("Ranges that left"), region.number(len(ranges))),
        (say("Owed today, with tax"), region.money(sum(bill.asked_cents for bill in owed))),
        (say("Standing in ranges"), region.money(standing)),
        (say("Worth of the stores"), region.money(sum(part.value_cents for part in shelf))),
    )


def _months(region: Region, told: Sequence[Month]) -> FigureTable:
    def row(name: str, of: Sequence[Month]) -> tuple[str, ...]:
        figures = (
            "billed_cents",
            "hours_cents",
            "parts_cents",
            "outwork_cents",
            "outlay_cents",
            "left_cents",
        )
        return (name, *(_amount(region, sum(getattr(month, figure) for month in of)) for figure in figures))

    return FigureTable(
        title=say("Month by month"),
        note=say(
            "Bills on their day, credits taken off; hours at their wage as they were worked; parts when they "
            "were set aside, outwork when it came back."
        ),
        heads=(
            say("Month"),
            say("Billed"),
            say("Wages"),
            say("Parts"),
            say("Outwork"),
            say("Outlays"),
            say("Left"),
        ),
        rows=tuple(row(month_name(region, month.month), [month]) for month in told),
        total=row(say("The year"), told),
        bars=charts.months_bars(region, told),
    )


def _ranges(region: Region, rows: Sequence[RangeFigures]) -> FigureTable:
    shown = rows[:_MOST]
    return FigureTable(
        title=say("Ranges that left"),
        note=_cut(
            rows,
            say(
                "Estimate: what the last verdict thought the work would cost the customer, likely and "
                "its range. Margin: what was billed less what it cost the shop."
            ),
        ),
        heads=(say("Range"), say("Estimate"), say("Agreed"), say("Billed"), say("Cost"), say("Margin")),
        rows=tuple(
            (
                f"{row.number} {row.name}",
                region.money_range(row.estimate) if row.estimate else "",
                _amount(region, row.agreed_cents),
                _amount(region, row.billed_cents),
                _amount(region, row.cost.whole),
                _amount(region, row.margin_cents) if row.margin_cents is not None else "",
            )
            for row in shown
        ),
        total=(
            say("All"),
            "",
            _amount(region, sum(row.agreed_cents for row in rows)),
            _amount(region, sum(row.billed_cents for row in rows)),
            _amount(region, sum(row.cost.whole for row in rows)),
            _amount(region, sum(row.margin_cents or 0 for row in rows)),
        )
        if rows
        else (),
        bars=charts.margins_bars(region, rows) if any(row.margin_cents is not None for row in rows) else None,
    )


def _findings(region: Region, rows: Sequence[FindingFigures]) -> FigureTable:
    def row(name: str, of: Sequence[FindingFigures]) -> tuple[str, ...]:
        sums = (
            sum(one.sum(figure) for one in of) for figure in ("quoted_cents", "billed_cents", "cost_cents")
        )
        return (
            name,
            *(_amount(region, cents) for cents in sums),
            _amount(region, sum(one.margin_cents for one in of)),
        )

    return FigureTable(
        title=say("Made and lost by kind of finding"),
        note=_cut(
            rows,
            say(
                "Customers' ranges that left in the year. A task that several findings asked for is split "
                "over them in even parts; one that another task needed goes to the findings behind it."
            ),
        ),
        heads=(say("Finding"), say("Agreed"), say("Billed"), say("Cost"), say("Left")),
        rows=tuple(row(one.name, [one]) for one in rows[:_MOST]),
        total=row(say("All"), rows) if rows else (),
        bars=charts.findings_bars(region, rows) if rows else None,
    )


def _hours(region: Region, rows: Sequence[KindHours]) -> FigureTable:
    return FigureTable(
        title=say("Hours by person and kind of work"),
        note=_cut(
            rows,
            say(
                "Of the tasks finished in the year. What a task was thought to take is shared over those "
                "who worked on it by their minutes."
            ),
        ),
        heads=(say("Who"), say("Tasks"), say("Clocked"), say("Thought")),
        rows=tuple(
            (
                say("{name}, {station}", name=row.name, station=station_name(row.station)),
                region.number(len(row.tasks)),
                region.hours(row.sum("minutes")),
                region.hours_range(Spread(row.sum("low"), row.sum("likely"), row.sum("high"))),
            )
            for row in rows[:_MOST]
        ),
        bars=charts.hours_bars(region, rows) if rows else None,
    )


def _promises(region: Region, rows: Sequence[OddsBand]) -> FigureTable:
    return FigureTable(
        title=say("Promises"),
        note=say("Every day of the year that was promised and can be judged. Kept means ready by then."),
        heads=(say("Promised at"), say("Days"), say("Kept"), say("Said, in the mean"), say("Was")),
        rows=tuple(
            (
                band_name(row),
                region.number(len(row.days)),
                region.number(row.kept),
                say("{percent} %", percent=row.said) if row.said is not None else "",
                say("{percent} %", percent=row.kept_percent),
            )
            for row in rows
        ),
        chart=charts.promises_chart(region, rows),
    )


def _owed(region: Region, bills: Sequence[OwedBill]) -> FigureTable:
    ages = [[bill for bill in bills if bill.age == age] for age in range(5)]
    return FigureTable(
        title=say("Owed by age"),
        note=say("Open on issued bills as the records stood, with tax."),
        heads=(say("Age"), say("Bills"), say("Owed")),
        rows=tuple(
            (age_name(age), region.number(len(of)), _amount(region, sum(bill.asked_cents for bill in of)))
            for age, of in enumerate(ages)
        ),
        total=(
            say("All"),
            region.number(len(bills)),
            _amount(region, sum(bill.asked_cents for bill in bills)),
        ),
        bars=charts.owed_bars(region, bills) if bills else None,
    )


def _cash(region: Region, rows: Sequence[RangeFigures]) -> FigureTable:
    standing = sorted((r for r in rows if r.cost.whole or r.paid_cents), key=lambda row: -row.cash_cents)
    return FigureTable(
        title=say("Cash standing in ranges"),
        note=_cut(
            standing,
            say(
                "Of the ranges still here. Below nothing, the customer has paid ahead. What was paid "
                "has its tax in it."
            ),
        ),
        heads=(say("Range"), say("Spent"), say("Paid"), say("Stands in it")),
        rows=tuple(
            (
                f"{row.number} {row.name}",
                _amount(region, row.cost.whole),
                _amount(region, row.paid_cents),
                _amount(region, row.cash_cents),
            )
            for row in standing[:_MOST]
        ),
        total=(
            say("All"),
            _amount(region, sum(r.cost.whole for r in standing)),
            _amount(region, sum(r.paid_cents for r in standing)),
            _amount(region, sum(r.cash_cents for r in standing)),
        )
        if standing
        else (),
        bars=charts.cash_bars(region, standing) if standing else None,
    )


def _stores(region: Region, parts: Sequence[OnShelf]) -> FigureTable:
    return FigureTable(
        title=say("Worth of the stores"),
        note=_cut(parts, say("At what they cost, freight in; what is set aside for a task is not in here.")),
        heads=(say("Part"), say("Pieces"), say("Worth")),
        rows=tuple(
            (p.name, region.number(p.quantity), _amount(region, p.value_cents)) for p in parts[:_MOST]
        ),
        total=(say("All"), "", _amount(region, sum(part.value_cents for part in parts))) if parts else (),
        bars=charts.stock_bars(region, parts) if parts else None,
    )


def _cut(rows: Sequence[object], note: str) -> str:
    """The note, with a word where the table does not hold everything."""
    if len(rows) <= _MOST:
        return note
    return say(
        "{note} The first {most} of {count}; the sum is over all.", note=note, most=_MOST, count=len(rows)
    )


def _amount(region: Region, cents: int) -> str:
    return region.amount(cents) if cents else "–"
