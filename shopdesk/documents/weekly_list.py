"""A person's weekly list, to hang at the bench: day by day, with a box to tick; legible in black."""

from reportlab.platypus import Flowable

from shopdesk.documents.facts.week import WeekDay, WeekEntry, WeeklyListFacts
from shopdesk.documents.layout.blocks import bullets, kept_section
from shopdesk.documents.layout.drawn import TickBox
from shopdesk.documents.layout.look import BENCH_TEXT
from shopdesk.documents.layout.page import printed, width
from shopdesk.documents.layout.tables import Column, Grid, pairs
from shopdesk.documents.layout.text import marked, markup, para, quiet
from shopdesk.wording import Region, say


def render(facts: WeeklyListFacts) -> bytes:
    """The paper as PDF bytes."""
    wide, region = width(facts.shop), facts.shop.region
    head = [
        (say("For"), facts.person),
        (say("Week from"), region.day_long(facts.first_day)),
        (say("Printed"), region.day_long(facts.day)),
    ]
    story: list[Flowable] = [
        *pairs(head, wide),
        *bullets(say("Promised this week"), facts.promised),
        *(part for day in facts.days for part in _day(day, region, wide)),
        *bullets(say("Not in the plan"), facts.waiting),
    ]
    about = say("{person}, week from {day}", person=facts.person, day=region.day(facts.first_day))
    return printed(facts.shop, say("Weekly list"), facts.number, story, about=about)


def _day(day: WeekDay, region: Region, wide: float) -> list[Flowable]:
    title = region.weekday_long(day.day)
    if not day.entries:
        return kept_section(title, [para(day.away or say("Nothing planned."), BENCH_TEXT)])
    grid = Grid(
        [
            Column("", 22), Column(say("When"), 112), Column(say("Range"), 58), Column(say("What")),
            Column(say("Where"), 92),
        ]
    )  # fmt: skip
    for entry in day.entries:
        grid.row(TickBox(12, ticked=entry.done), entry.hours, entry.range, _what(entry), entry.where)
    return kept_section(title, [grid.table(wide)])


def _what(entry: WeekEntry) -> Flowable:
    return markup(marked(entry.what) + (f"<br/>{quiet(entry.note)}" if entry.note else ""), BENCH_TEXT)
