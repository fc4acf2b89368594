"""Builders of facts for what keeps a customer informed, and for the reckoning of a year."""

from dataclasses import replace
from datetime import date
from typing import Any

from parties_facts import DAY, GAS_CAUTION, a_customer, a_photograph, a_range, a_shop, gas

from shopdesk.documents.facts import (
    BeforeAfterFacts,
    FigureTable,
    LogBookFacts,
    LoggedJob,
    LoggedPart,
    LoggedProof,
    Photo,
    ProgressLetterFacts,
    ReadingFacts,
    ReckoningFacts,
)
from shopdesk.domain.build import Build
from shopdesk.drawing import compose
from shopdesk.drawing.bars import Series, bars_of
from shopdesk.drawing.chart import Chart, Line

_RANGE = compose(Build(), "front")


def a_progress_letter(**changes: Any) -> ProgressLetterFacts:
    base = ProgressLetterFacts(
        shop=a_shop(), number="G-4", day=DAY, customer=a_customer(), subject="How your range is getting on",
        paragraphs=("Good day,", "Done since then:\n- Free the valve\n- Rewire the lamp", "Call us."),
        range=a_range(), photos=(Photo(a_photograph(), "Valve freed"), Photo(a_photograph(), "Lamp")),
    )  # fmt: skip
    return replace(base, **changes)


def a_pair(**changes: Any) -> BeforeAfterFacts:
    base = BeforeAfterFacts(
        shop=a_shop(), number="BA-2", day=DAY, name="Corvane No. 40", words="Made about 1938, restored 2026",
        before=Photo(a_photograph()), after=Photo(a_photograph()), drawing=_RANGE,
    )  # fmt: skip
    return replace(base, **changes)


def a_logged_job(**changes: Any) -> LoggedJob:
    proof = LoggedProof(
        name="Tightness", result="meets", day=DAY, by="Bram Tollgate", instrument="manometer 2, M2-117",
        readings=(ReadingFacts("Pressure at the end", "12 in w.c."),), limit="no fall in 10 min",
    )  # fmt: skip
    base = LoggedJob(
        since=date(2026, 9, 1), until=DAY, how_it_left="Released by Odile Fennimarsh.",
        found=(("Valves: seized", "tested"),), done=((DAY, "Free the valve, 4 times"),),
        parts=(LoggedPart(name="griddle plate", count=1, source="used", day=DAY, donor="R-0005"),),
        outside=((DAY, "trim, bright nickel, plater"),), settings=(("Spuds found", "natural gas"),),
        proofs=(proof,), before=(Photo(a_photograph(), "Valves"),), after=(Photo(a_photograph(), "Plate"),),
    )  # fmt: skip
    return replace(base, **changes)


def a_log_book(**changes: Any) -> LogBookFacts:
    base = LogBookFacts(
        shop=a_shop(), number="LB-7", day=DAY, range=a_range(), drawing=_RANGE, gas=gas(),
        jobs=(a_logged_job(),), at_home=("Leak test at the house. With soap.",), cautions=(GAS_CAUTION,),
    )  # fmt: skip
    return replace(base, **changes)


def a_reckoning(**changes: Any) -> ReckoningFacts:
    lying = bars_of(
        "Made and lost", ["Valves", "Oven floor"],
        [Series("billed", "hollow", (5000, 2000)),
        Series("left", "crossed", (-1500, 700), ((-2000, 0), (500, 900)))],
        str, step=100,
    )  # fmt: skip
    upright = bars_of("By month", ["Jan", "Feb"], [Series("billed", "solid", (100, 0))], str, upright=True)
    scale = ((0.0, "0"), (1.0, "100"))
    chart = Chart("Promises", scale, scale, "% said", "% kept",
    (Line("was", "line", ((0.2, 0.1), (0.8, 0.9))),),
                  ((0.8, 0.9, "9 of 10"),), None, "Promises")  # fmt: skip
    heads = ("Finding", "Billed", "Left")
    base = ReckoningFacts(
        shop=a_shop(), number="2026", day=DAY, in_short=(("Billed", "$70.00"),),
        sections=(
            FigureTable(title="Made and lost", note="Split evenly.", heads=heads, bars=lying,
                        rows=(("Valves", "50.00", "-15.00"),), total=("All", "70.00", "-8.00")),
            FigureTable(title="Months", note="", heads=heads, rows=(), bars=upright),
            FigureTable(title="Promises", note="", heads=heads, rows=(("90 %", "1", "1"),), chart=chart),
        ),
    )  # fmt: skip
    return replace(base, **changes)
