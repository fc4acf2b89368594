"""What happened to a range, in words: the journal's rows told as deeds, day by day."""

import datetime as dt
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from shopdesk.services.jacket import HistoryLine
from shopdesk.ui.deed_words import deed
from shopdesk.wording import Region, say


@dataclass(frozen=True, slots=True)
class Told:
    """One person's deeds of one day, one after another; `key` names them for good."""

    key: tuple[dt.datetime, str]
    when: str
    who: str
    what: str


def told(region: Region, lines: Iterable[HistoryLine]) -> list[Told]:
    """The newest day first, what was done on it in the order of doing; the same deed is told once."""
    groups: list[list[HistoryLine]] = []
    for line in lines:
        if groups and _sameness(region, groups[-1][0]) == _sameness(region, line):
            groups[-1].append(line)
        else:
            groups.append([line])
    return [_told(region, group) for group in groups]


def _sameness(region: Region, line: HistoryLine) -> tuple[str, dt.date]:
    return line.who, region.local_day(line.at)


def _told(region: Region, group: list[HistoryLine]) -> Told:
    oldest = group[-1]
    counts = Counter(deed(line.action, line.record) for line in reversed(group))
    deeds = [
        say("{what} ({count} times)", what=what, count=count) if count > 1 else what
        for what, count in counts.items()
    ]
    return Told(
        (oldest.at, oldest.who), region.day(region.local_day(oldest.at)), oldest.who, ", ".join(deeds)
    )
