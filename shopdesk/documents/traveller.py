"""The traveller: the work order that goes round the bench, legible in black and white."""

from collections.abc import Sequence

from reportlab.platypus import Flowable, KeepTogether

from shopdesk.documents.facts.work import CautionFacts, TaskFacts, TravellerFacts
from shopdesk.documents.layout.blocks import bullets, kept_section, range_name, range_pairs, section
from shopdesk.documents.layout.cells import cells
from shopdesk.documents.layout.drawn import QrCode, TickBox
from shopdesk.documents.layout.look import BENCH, BENCH_TEXT, CENTRED, GAP, INK, RIGHT, RULE_WIDTH, SMALL_INK
from shopdesk.documents.layout.page import printed, width
from shopdesk.documents.layout.standing import defer_to
from shopdesk.documents.layout.tables import Column, Grid, pairs
from shopdesk.documents.layout.text import marked, markup, para, paras, quiet, strong
from shopdesk.wording import Region, say

_NAME = BENCH.clone("traveller task", fontSize=10.6, leading=13)
_TEXT = BENCH_TEXT.clone("traveller text", fontSize=9.3, leading=11.8)
_BOX, _TIME = 22.0, 84.0  # points: the box to tick, and the time to write down


def render(facts: TravellerFacts) -> bytes:
    """The paper as PDF bytes."""
    wide = width(facts.shop)
    story: list[Flowable] = [
        _head(facts, wide),
        *section(say("Notes"), paras(facts.notes, _TEXT)),
        *section(say("Cautions on this job"), _cautions(facts.cautions, wide)),
        *_tasks(facts, wide),
        *_came_off(facts, wide),
        *bullets(say("Proofs due before it is ready"), facts.proofs),
    ]
    about = say("Range {number}, {name}", number=facts.range.number, name=range_name(facts.range))
    return printed(facts.shop, say("Traveller"), facts.number, story, about=about)


def _head(facts: TravellerFacts, wide: float) -> Flowable:
    region = facts.shop.region
    rows = [
        *range_pairs(facts.range),
        (say("How far"), facts.scope),
        (say("Printed"), region.day_long(facts.day)),
        (say("Promised"), region.day_long(facts.promised_on) if facts.promised_on else ""),
    ]
    size = 92.0
    left = pairs(rows, wide - size - GAP)
    right = [QrCode(facts.qr, size), para(facts.range.number, CENTRED)] if facts.qr else []
    return cells([[left, right or ""]], [wide - size, size])


def _cautions(cautions: Sequence[CautionFacts], wide: float) -> list[Flowable]:
    """Each kind of hazard printed once, two beside each other; the tasks carry its name."""
    rows = [[_caution(caution) for caution in cautions[at : at + 2]] for at in range(0, len(cautions), 2)]
    if not rows:
        return []
    rows[-1] = (rows[-1] + [""])[:2]
    return [cells(rows, [wide / 2, wide / 2], ("RIGHTPADDING", (0, 0), (0, -1), GAP * 2))]


def _caution(caution: CautionFacts) -> Flowable | str:
    defer = marked(defer_to(caution.defer_to)) if caution.defer_to else ""
    body = f"▲ {strong(caution.name + '.')} {marked(caution.text)} {defer}"
    return markup(body, _TEXT.clone("caution", spaceAfter=3, leftIndent=12, firstLineIndent=-12))


def _tasks(facts: TravellerFacts, wide: float) -> list[Flowable]:
    names = {caution.code: caution.name for caution in facts.cautions}
    story: list[Flowable] = []
    stage = None
    for task in facts.tasks:
        block = [_task(task, names, facts.shop.region, wide)]
        if task.stage != stage:
            stage = task.stage
            story += kept_section(stage or say("Tasks"), block)
        else:
            story.append(KeepTogether(block))
    return story


def _task(task: TaskFacts, names: dict[str, str], region: Region, wide: float) -> Flowable:
    if task.done:
        return _done(task, region, wide)
    text: list[Flowable] = [para(f"{task.place}\u2002{task.name}", _NAME)]
    if task.cautions:
        hazards = ", ".join(names.get(code, code) for code in task.cautions)
        text.append(markup(f"▲ {strong(say('Caution: {hazards}', hazards=hazards))}", _TEXT))
    text += [markup(line, _TEXT) for line in _lines(task)]
    text += _readings(task, wide - _BOX - _TIME - GAP)
    right = [para(region.hours_range(task.minutes), RIGHT), _blank(say("time, initials"), _TIME - GAP)]
    return _block([TickBox(14), text, right], wide, above=3, below=4)


def _done(task: TaskFacts, region: Region, wide: float) -> Flowable:
    """What is ticked already keeps its place in one line; nothing more is read or written there."""
    name = para(f"{task.place}\u2002{task.name}", _TEXT)
    hours = para(region.hours_range(task.minutes), RIGHT)
    return _block([TickBox(10, ticked=True), name, hours], wide, above=2, below=2)


def _block(row: list[object], wide: float, *, above: float, below: float) -> Flowable:
    return cells(
        [row],
        [_BOX, wide - _BOX - _TIME, _TIME],
        ("LINEABOVE", (0, 0), (-1, 0), RULE_WIDTH, INK),
        ("TOPPADDING", (0, 0), (-1, -1), above),
        ("BOTTOMPADDING", (0, 0), (-1, -1), below),
        ("RIGHTPADDING", (1, 0), (1, 0), GAP),
    )


def _lines(task: TaskFacts) -> list[str]:
    """Markup of what a technician reads before the task: the short facts run on, the advice stands alone."""
    facts = [
        (say("Because"), "; ".join(task.because)),
        (say("After"), ", ".join(str(place) for place in task.after)),
        (say("Station"), task.station),
        (say("Skill"), task.skill),
        (say("Parts"), "; ".join(task.parts)),
        (say("Outwork"), task.outwork),
        (say("Proofs due after it"), "; ".join(task.reopens)),
    ]
    told = [f"{quiet(label)} {marked(fact)}" for label, fact in facts if fact]
    advice = [f"{quiet(say('Mind'))} {marked(task.advice)}"] if task.advice else []
    return [*(["&nbsp;&nbsp; ".join(told)] if told else []), *advice]


def _readings(task: TaskFacts, wide: float) -> list[Flowable]:
    if not task.readings:
        return []
    blanks = [_blank(name, wide / 2 - GAP) for name in task.readings]
    rows = [[*blanks[i : i + 2], ""][:2] for i in range(0, len(blanks), 2)]
    return [cells(rows, [wide / 2, wide / 2])]


def _came_off(facts: TravellerFacts, wide: float) -> list[Flowable]:
    """What is out, with a box to tick when it is back and counted."""
    columns = [
        Column(say("Back"), 34), Column(say("Tag"), 54), Column(say("What"), 0),
        Column(say("Goes back"), 118), Column(say("Lies at"), 104), Column(say("At task"), 44, right=True),
    ]  # fmt: skip
    if not facts.tags:
        return []
    grid = Grid(columns)
    for tag in facts.tags:
        counted = say("{count} × {what}", count=tag.how_many, what=tag.what)
        place = "" if tag.task is None else str(tag.task)
        grid.row(TickBox(12), tag.number, counted, tag.goes_back, tag.lies_at, place)
    return kept_section(say("What came off"), [grid.table(wide)])


def _blank(label: str, wide: float) -> Flowable:
    """A line to write on, with what belongs there below it."""
    caption = para(label, SMALL_INK)
    line = ("LINEABOVE", (0, 1), (-1, 1), RULE_WIDTH, INK)
    return cells([[""], [caption]], [wide], line, heights=[15, None])
