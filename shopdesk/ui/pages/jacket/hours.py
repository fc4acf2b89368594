"""Hours of a job line by line, as rows and sentences. Facts in, words out; makes no widgets."""

from dataclasses import dataclass

from shopdesk.services.hours_story import HoursStory, TaskHours
from shopdesk.wording import Region, say

WHOLE = 0


@dataclass(frozen=True, slots=True)
class HoursRow:
    """A task's hours as texts; `key` WHOLE is the line of the sums."""

    key: int
    name: str
    estimated: str
    agreed: str
    clocked: str
    billed: str
    differs: bool  # something wants saying

    def spoken(self) -> str:
        figures = (
            say("estimated {hours}", hours=self.estimated),
            say("agreed {hours}", hours=self.agreed or say("nothing")),
            say("clocked {hours}", hours=self.clocked or say("nothing")),
            say("billed {hours}", hours=self.billed or say("nothing")),
        )
        return f"{self.name}; {', '.join(figures)}"


def hours_rows(region: Region, story: HoursStory) -> list[HoursRow]:
    """A row a task, and the sums under them."""
    rows = [_row(region, row) for row in story.rows]
    if not rows:
        return []
    whole = HoursRow(
        WHOLE, say("All of it"), region.hours_range(story.estimated), _or_nothing(region, story.agreed),
        _or_nothing(region, story.clocked), _or_nothing(region, story.billed), False,
    )  # fmt: skip
    return [*rows, whole]


def hours_sentence(region: Region, story: HoursStory, key: object) -> str:
    """What a row's figures stand on, and why they differ."""
    if key == WHOLE:
        return _whole(region, story)
    row = next((row for row in story.rows if row.task_id == key), None)
    if row is None:
        return say("Choose a task to see what its hours stand on.")
    return "\n".join([*_stands_on(region, row), *row.why])


def _whole(region: Region, story: HoursStory) -> str:
    told = [
        say("Agreed {agreed}, clocked {clocked}, billed {billed}.", agreed=region.hours(story.agreed),
            clocked=region.hours(story.clocked), billed=region.hours(story.billed))
    ]  # fmt: skip
    if story.billable:
        told.append(say("{hours} can be billed now.", hours=region.hours(story.billable)))
    if story.beyond:
        told.append(say("{hours} are not billable until consent stands.", hours=region.hours(story.beyond)))
    return " ".join(told)


def _row(region: Region, row: TaskHours) -> HoursRow:
    name = say("{name} (off the order)", name=row.name) if row.dropped else row.name
    return HoursRow(
        row.task_id, name, region.hours_range(row.estimated), _or_nothing(region, row.agreed),
        _or_nothing(region, row.clocked), _or_nothing(region, row.billed), bool(row.why),
    )  # fmt: skip


def _stands_on(region: Region, row: TaskHours) -> list[str]:
    lines = []
    if row.agreed_on:
        lines.append(say("Agreed: {hours} on {papers}.", hours=region.hours(row.agreed),
                         papers=", ".join(row.agreed_on)))  # fmt: skip
    for clock in row.clocks:
        day = region.day(region.local_day(clock.started_at))
        words = say(
            "Clocked: {day}, {who}, {hours}", day=day, who=clock.who, hours=region.hours(clock.minutes)
        )
        if clock.beyond:
            words = say("{words}, of them {hours} not billable yet", words=words,
                        hours=region.hours(clock.beyond))  # fmt: skip
        lines.append(f"{words}. {clock.note}".strip() if clock.note else f"{words}.")
    for bill in row.billed_on:
        facts = {"number": bill.invoice, "line": bill.line, "amount": region.money(bill.cents)}
        hours = region.hours(bill.minutes)
        lines.append(say("Billed: {hours} on invoice {number}, line {line}, {amount}.", hours=hours, **facts))
    return lines


def _or_nothing(region: Region, minutes: int) -> str:
    return region.hours(minutes) if minutes else ""
