"""Finding any record by what somebody remembers of it: a number, a name, a telephone number, a word."""

import difflib
import re
from collections.abc import Collection
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.folding import fold
from shopdesk.services.seat import Seat
from shopdesk.storage import searching
from shopdesk.storage.tables.counter import Paper
from shopdesk.storage.tables.finding import Findable
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.wording import say

ALIKE = 0.72  # difflib's ratio from which a word counts as a slip of the pen
_CANDIDATES = 200  # of those that share rare pieces, how many are compared letter by letter
_RANGES_OF_A_PERSON = 3
_NUMBER = re.compile(r"([a-z]{1,2})[- ]?0*(\d{1,6})")
_BEGUN = re.compile(r"([a-z]{1,2})[- ]?(0{1,3})")
_ORDER = ("range", "party", "paper", "tag", "part", "order", "consignment", "job", "look", "task")


@dataclass(frozen=True)
class Found:
    """One record that answers; `kind` says what opens it (see `storage/searching.py`)."""

    kind: str
    record_id: int
    job_id: int | None
    title: str
    line: str
    alike: bool = False  # not as typed, but nearly


def find(seat: Seat, typed: str, *, limit: int = 50) -> tuple[Found, ...]:
    """What holds every word typed; if nothing does, what is nearly so. Nothing typed finds nothing."""
    words = terms(typed)
    if not words:
        return ()
    with seat.look() as session:
        rows = searching.with_words(session, words, limit)
        alike = not rows
        if alike:
            rows = _nearest(searching.like_words(session, words, _CANDIDATES), words)[:limit]
        found = [_found(row, alike) for row in rows]
        found += _ranges_of(session, found)
        found = _with_ranges(session, found)
    if not alike:
        found.sort(key=lambda one: _rank(one, words))
    return tuple(found[:limit])


def terms(typed: str) -> list[str]:
    """The folded words to look for; 'r-2' and 'R0002' become the number as it is written: 'r 0002'.

    'R-00' is a number on its way, looked for as it stands.
    """
    plain = typed.strip().casefold()
    begun = _BEGUN.fullmatch(plain)
    if begun:
        return [f"{begun[1]} {begun[2]}"]
    number = _NUMBER.fullmatch(plain)
    if number:
        return [f"{number[1]} {int(number[2]):04d}"]
    return fold(typed).split()


def _nearest(rows: list[Findable], words: list[str]) -> list[Findable]:
    """Those in which every word has a near one, the nearest first."""

    def nearness(row: Findable) -> float:
        of_row = row.words.split()
        return min(max((_alike(word, other) for other in of_row), default=0.0) for word in words)

    rated = [(nearness(row), row.id, row) for row in rows]
    return [row for near, _, row in sorted(rated, key=lambda one: (-one[0], -one[1])) if near >= ALIKE]


def _alike(word: str, other: str) -> float:
    """A word against one that may be longer than what was typed so far."""
    matcher = difflib.SequenceMatcher(None, word, other[: len(word) + 1], autojunk=False)
    return matcher.ratio() if matcher.quick_ratio() >= ALIKE else 0.0


def _rank(one: Found, words: list[str]) -> tuple[bool, int, int]:
    begins = fold(one.title).startswith(words[0])
    return not begins, _ORDER.index(one.kind), -one.record_id


def _found(row: Findable, alike: bool) -> Found:
    return Found(row.kind, row.record_id, row.job_id, row.title, row.line, alike)


def _ranges_of(session: Session, found: list[Found]) -> list[Found]:
    """The newest ranges of the people found: whoever types a name mostly wants the range."""
    people = [one.record_id for one in found if one.kind == "party"][:_RANGES_OF_A_PERSON]
    here = {one.record_id for one in found if one.kind == "range"}
    jobs = sa.select(Range).join(Job).where(Job.customer_id.in_(people)).order_by(Job.id.desc()).limit(10)
    made = {row.id: row for row in session.scalars(jobs) if row.id not in here} if people else {}
    return [
        Found("range", row.id, None, f"{row.number} {row.maker} {row.model}".strip(), row.colour)
        for row in made.values()
    ]


def _with_ranges(session: Session, found: list[Found]) -> list[Found]:
    """A range opens at its newest job; what belongs to a job says of which range it is."""
    ranges = [one.record_id for one in found if one.kind == "range"]
    of_ranges = sa.select(Job.range_id, sa.func.max(Job.id)).where(Job.range_id.in_(ranges))
    newest = {row[0]: row[1] for row in session.execute(of_ranges.group_by(Job.range_id))}
    numbers = range_numbers(session, {one.job_id for one in found if one.job_id is not None})
    return [_told(one, newest, numbers) for one in found]


def _told(one: Found, newest: dict[int, int], numbers: dict[int, str]) -> Found:
    if one.kind == "range":
        return Found(one.kind, one.record_id, newest.get(one.record_id), one.title, one.line, one.alike)
    if one.job_id in numbers:
        of_range = say("of {number}", number=numbers[one.job_id])
        return Found(
            one.kind, one.record_id, one.job_id, one.title, f"{one.line} {of_range}".strip(), one.alike
        )
    return one


def range_numbers(session: Session, jobs: Collection[int]) -> dict[int, str]:
    """The number of the range each of these jobs is done on."""
    rows = session.execute(sa.select(Job.id, Range.number).join(Range).where(Job.id.in_(jobs)))
    return {row[0]: row[1] for row in rows}


def range_of_job(seat: Seat, job_id: int) -> int:
    """The range a job is done on."""
    with seat.look() as session:
        return session.get_one(Job, job_id).range_id


def paper_number(seat: Seat, paper_id: int) -> str:
    """The number of an issued paper."""
    with seat.look() as session:
        return session.get_one(Paper, paper_id).number
