"""The charts of a reckoning, the same in the window and on paper."""

from collections.abc import Sequence
from typing import TypeVar

from shopdesk.drawing.bars import Bars, Series, bars_of
from shopdesk.drawing.chart import Chart, Line
from shopdesk.services.reckoning.findings import REST, FindingFigures
from shopdesk.services.reckoning.hours import KindHours
from shopdesk.services.reckoning.kept_promises import OddsBand
from shopdesk.services.reckoning.months import Month
from shopdesk.services.reckoning.ranges import RangeFigures
from shopdesk.services.reckoning.standing import OnShelf, OwedBill
from shopdesk.services.reckoning.words import age_name, month_name, station_name
from shopdesk.wording import Region, say

T = TypeVar("T")
MOST = 8  # rows of a chart; the list beneath has them all
_CENT, _HOUR = 100, 60
_ROOM = 12  # percent above and below a chart of percentages


def months_bars(region: Region, months: Sequence[Month]) -> Bars:
    """Billed against spent, month by month."""
    return bars_of(
        say("Billed and spent, month by month"),
        [month_name(region, month.month, short=True) for month in months],
        [
            Series(say("billed"), "solid", tuple(month.billed_cents for month in months)),
            Series(say("spent"), "hatched", tuple(month.spent_cents for month in months)),
        ],
        region.money_whole, upright=True, keys=[month.month for month in months], step=_CENT,
    )  # fmt: skip


def margins_bars(region: Region, rows: Sequence[RangeFigures]) -> Bars:
    """What is left on the billed ranges with the smallest and the greatest margin."""
    billed = sorted(
        (row for row in rows if row.margin_cents is not None), key=lambda row: row.margin_cents or 0
    )
    shown = _ends(billed)
    return bars_of(
        say("Left of what was billed"),
        [f"{row.number} {row.name}" for row in shown],
        [Series(say("margin"), "solid", tuple(row.margin_cents or 0 for row in shown))],
        region.money_whole, keys=[row.job_id for row in shown], step=_CENT,
    )  # fmt: skip


def findings_bars(region: Region, rows: Sequence[FindingFigures]) -> Bars:
    """The kinds of finding that lost most and those that brought most."""
    shown = _ends([row for row in rows if row.key != REST])
    return bars_of(
        say("Made and lost by kind of finding"),
        [row.name for row in shown],
        [
            Series(say("billed"), "hollow", tuple(row.sum("billed_cents") for row in shown)),
            Series(say("spent"), "hatched", tuple(row.sum("cost_cents") for row in shown)),
            Series(say("left"), "solid", tuple(row.margin_cents for row in shown)),
        ],
        region.money_whole, keys=[row.key for row in shown], step=_CENT,
    )  # fmt: skip


def hours_bars(region: Region, rows: Sequence[KindHours]) -> Bars:
    """Hours clocked, and what was thought with its span."""
    shown = sorted(rows, key=lambda row: -row.sum("minutes"))[:MOST]
    return bars_of(
        say("Hours clocked and thought"),
        [say("{name}, {station}", name=row.name, station=station_name(row.station)) for row in shown],
        [
            Series(say("clocked"), "solid", tuple(row.sum("minutes") for row in shown)),
            Series(
                say("thought, with its span"), "hollow", tuple(row.sum("likely") for row in shown),
                tuple((row.sum("low"), row.sum("high")) for row in shown),
            ),
        ],
        region.hours, keys=[(row.staff_id, row.station) for row in shown], step=_HOUR,
    )  # fmt: skip


def owed_bars(region: Region, bills: Sequence[OwedBill]) -> Bars:
    """What is owed by how long it is past due."""
    ages = [[bill for bill in bills if bill.age == age] for age in range(5)]
    return bars_of(
        say("Owed by age"),
        [age_name(age) for age in range(5)],
        [Series(say("owed"), "solid", tuple(sum(bill.asked_cents for bill in of) for of in ages))],
        region.money_whole, keys=[of[0].invoice_id if of else None for of in ages], step=_CENT,
    )  # fmt: skip


def cash_bars(region: Region, rows: Sequence[RangeFigures]) -> Bars:
    """The ranges in which most of the shop's money stands; below nothing it is the customer's."""
    shown = _ends(sorted(rows, key=lambda row: -row.cash_cents))
    return bars_of(
        say("Spent less paid"),
        [f"{row.number} {row.name}" for row in shown],
        [Series(say("spent less paid"), "solid", tuple(row.cash_cents for row in shown))],
        region.money_whole, keys=[row.job_id for row in shown], step=_CENT,
    )  # fmt: skip


def stock_bars(region: Region, parts: Sequence[OnShelf]) -> Bars:
    """What the stores are worth by where the parts came from."""
    kinds = list(dict.fromkeys(part.condition for part in parts))
    sums = [sum(part.value_cents for part in parts if part.condition == kind) for kind in kinds]
    return bars_of(
        say("Worth of the stores, by where parts came from"), [say(kind) for kind in kinds],
        [Series(say("cost"), "solid", tuple(sums))], region.money_whole,
        keys=[next(part.part_id for part in parts if part.condition == kind) for kind in kinds], step=_CENT,
    )  # fmt: skip


def promises_chart(region: Region, bands: Sequence[OddsBand]) -> Chart | None:
    """Kept against said: on the dashed line a shop keeps just as many days as it says."""
    known = [band for band in bands if band.said is not None]
    if not known:
        return None
    percents = (0, 20, 40, 60, 80, 100)
    spots = tuple(((band.said or 0) / 100, _high(band.kept_percent)) for band in known)
    told = [
        say("said {said} %, kept {kept} of {count}", said=band.said, kept=band.kept, count=len(band.days))
        for band in known
    ]
    return Chart(
        title=say("Promises kept, against the odds that were said"),
        across=tuple((percent / 100, region.number(percent)) for percent in percents),
        up=tuple((_high(percent), region.number(percent)) for percent in percents),
        across_unit=say("% said"), up_unit=say("% kept"),
        lines=(
            Line(say("as it was"), "line", spots),
            Line(say("kept as often as said"), "dashed", ((0.0, _high(0)), (1.0, _high(100)))),
        ),
        marks=tuple(
            (x, y, say("{kept} of {count}", kept=band.kept, count=len(band.days)))
            for (x, y), band in zip(spots, known, strict=True)
        ),
        level=None,
        words="; ".join([say("Promises kept, against the odds that were said"), *told]),
    )  # fmt: skip


def _high(percent: int) -> float:
    """Where a percentage lies in the chart; words at its marks stand clear of the axes."""
    return (percent + _ROOM) / (100 + 2 * _ROOM)


def _ends(rows: Sequence[T]) -> list[T]:
    """Both ends of a sorted list, where it is too long for a chart."""
    half = MOST // 2
    return list(rows) if len(rows) <= MOST else [*rows[:half], *rows[-half:]]
