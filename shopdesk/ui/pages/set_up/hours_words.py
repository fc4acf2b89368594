"""Hours that learn, in words: proposals, the shop's own hours, people's pace. Makes no widgets."""

from collections.abc import Iterable

from shopdesk.services.learning import OwnHours, PersonPace, Proposal
from shopdesk.ui.widgets.strip_list import Strip
from shopdesk.wording import Region, say, say_n


def proposal_strips(region: Region, proposals: Iterable[Proposal]) -> list[Strip]:
    """What stands now, and what the shop's own work says instead."""
    return [
        Strip(p.task_code, p.name, _now(region, p), region.hours_range(p.proposed), _behind(p), strong=True)
        for p in proposals
    ]


def proposal_sentence(region: Region, p: Proposal) -> str:
    """Where a proposal comes from, and how far it was drawn back towards the catalogue."""
    return say(
        "{name}: {jobs} took {plain} times the catalogue's hours. Few jobs say little, so the proposal is "
        "drawn back towards the shop's other work: {ratio} times, {hours}. It counts for orders to come.",
        name=p.name, jobs=_jobs(p.jobs), plain=region.number(p.plain, "0.0"),
        ratio=region.number(p.ratio, "0.0"), hours=region.hours_range(p.proposed),
    )  # fmt: skip


def own_strips(region: Region, rows: Iterable[OwnHours]) -> list[Strip]:
    """The shop's own hours, with the catalogue's under them."""
    return [
        Strip(row.task_code, row.name,
              say("the catalogue’s: {hours}", hours=region.hours_range(row.shipped)),
              region.hours_range(row.own), _since(region, row))
        for row in rows
    ]  # fmt: skip


def pace_words(region: Region, people: Iterable[PersonPace]) -> str:
    """Each person's pace in one line; what is not beyond doubt says so."""
    lines = []
    for person in people:
        pace = say("{name}: {ratio} times the shop's hours on the same work, from {jobs}", name=person.name,
                   ratio=region.number(person.ratio, "0.00"), jobs=_jobs(person.jobs))  # fmt: skip
        lines.append(pace if person.beyond_doubt else say("{pace}; too few to say more", pace=pace))
    return "\n".join(lines)


def _now(region: Region, p: Proposal) -> str:
    shipped = region.hours_range(p.shipped)
    if p.own is None:
        return say("the catalogue says {hours}", hours=shipped)
    return say("yours are {own}; the catalogue says {hours}", own=region.hours_range(p.own), hours=shipped)


def _behind(p: Proposal) -> str:
    return say("from {jobs}", jobs=_jobs(p.jobs))


def _jobs(count: int) -> str:
    return say_n("{count} job", "{count} jobs", count)


def _since(region: Region, row: OwnHours) -> str:
    if row.since is None:
        return say("set here")
    return say("since {day}, {who}", day=region.day(region.local_day(row.since)), who=row.by)
