"""`shopdesk grow`: an invented shop with years of work in it, for trying how the program holds up.

The services make a job of each kind; storage copies them. Each year has 3,000 ranges with a job, 60,000
tasks, 30,000 time entries, 10,000 pictures and 4,500 invoices and credits, within a few percent.
"""

import datetime as dt
import io
import random
import shutil
import tempfile
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from PIL import Image

from shopdesk.demo.grow_jobs import cut_patterns
from shopdesk.domain.clock import standing_still
from shopdesk.domain.problem import Problem
from shopdesk.services import shops
from shopdesk.services.seat import open_shop
from shopdesk.services.settings import Sample
from shopdesk.storage.growing import Copy, Customer, Pattern, grow

JOBS_A_YEAR, TASKS_A_JOB, INVOICES_A_JOB = 3000, 20, 1.5
_WEEK = 7
_OPEN_FOR = 42  # days over which the open jobs came in
_UNPAID_FOR = 420  # days over which unpaid bills lie
_OPEN = {  # of a hundred open jobs
    "looked at": 12, "booked in": 12, "inspected": 10, "quoted": 14, "agreed": 8, "waits for parts": 12,
    "on the bench": 14, "proving": 6, "ready": 6, "gone": 6,
}  # fmt: skip
_PDF = (
    b"%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n"
    b"2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n"
    b"3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 612 792]>>endobj\ntrailer<</Root 1 0 R>>\n%%EOF\n"
)
Told = Callable[[str, int], None]


def grow_shop(
    place: Path, *, years: float = 20, seed: int = 1, told: Told = lambda _what, _rows: None
) -> dict[str, int]:
    """Makes the shop at `place`; returns its rows by table. The same figures make the same shop.

    `told` hears what was written, with how many rows. Problem when something lies there already.
    """
    if place.exists():
        raise Problem(
            "There is already a file at {path}. Choose another name for the new shop.", path=str(place)
        )
    if not 0 < years <= 100:
        raise Problem("A shop grows by more than nothing and at most a hundred years.", field="years")
    with tempfile.TemporaryDirectory(dir=_folder(place), prefix=".growing-") as folder:
        growing = Path(folder, "shop.db")
        patterns, until = cut_patterns(growing)
        _stand_still(growing, until)
        luck = random.Random(seed)
        jobs = round(JOBS_A_YEAR * years)
        customers = [_invented(luck, n) for n in range(max(5, jobs // 3))]
        copies = _mixed(patterns, jobs, years, until.date(), len(customers), luck)
        rows: dict[str, int] = {}

        def tell(table: str, count: int) -> None:
            rows[table] = count
            told(table, count)

        grow(growing, patterns, copies, customers, (_picture(), _PDF), tell)
        shutil.move(growing, place)
    return rows


def _folder(place: Path) -> Path:
    try:
        place.absolute().parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise Problem("{path} cannot be written ({why}).", path=str(place), why=error.strerror) from None
    return place.absolute().parent


def _stand_still(place: Path, until: dt.datetime) -> None:
    seat = open_shop(place, standing_still(until))
    try:
        shops.keep_setting(seat, Sample(stands_at=until.isoformat()))
    finally:
        seat.file.close()


def _mixed(
    patterns: Sequence[Pattern],
    jobs: int,
    years: float,
    until: dt.date,
    customers: int,
    luck: random.Random,
) -> list[Copy]:
    """What is copied when, in order: the closed jobs over the years, the open ones lately."""
    at = {pattern.name: n for n, pattern in enumerate(patterns)}
    opened = min(240, jobs // 5)
    lately = [(name, _OPEN_FOR) for name, share in _OPEN.items() for _ in range(-(-opened * share // 100))]
    lately += [("large", _OPEN_FOR)] + [("past due", _UNPAID_FOR)] * max(1, opened // 6)
    closed = _closed({pattern.name: pattern for pattern in patterns}, jobs - len(lately))
    luck.shuffle(closed)
    days = round(years * 365.25)
    spread = [
        (name, until - dt.timedelta(days=days - days * n // len(closed))) for n, name in enumerate(closed)
    ]
    recent = [(name, until - dt.timedelta(days=luck.randrange(within))) for name, within in lately]
    made = []
    for name, day in sorted(spread + recent, key=lambda one: one[1]):
        latest = (until - dt.date.fromisoformat(patterns[at[name]].ends_on)).days
        shift = min((day - until).days, 0) + latest
        made.append(Copy(at[name], shift // _WEEK * _WEEK, luck.randrange(customers)))
    return made


def _closed(patterns: Mapping[str, Pattern], jobs: int) -> list[str]:
    """So many of each kind of closed job that tasks and bills come out as many as a shop should have."""
    settled, corrected = patterns["settled"], patterns["corrected"]
    share = min(1.0, TASKS_A_JOB / settled.count("task"))
    more = corrected.count("invoice") - settled.count("invoice")
    twice = min(1.0, max(0.0, (INVOICES_A_JOB / share - settled.count("invoice")) / more))
    whole, again = round(jobs * share), round(jobs * share * twice)
    rest = jobs - whole
    return (
        ["settled"] * (whole - again) + ["corrected"] * again
        + ["not taken"] * (rest // 2) + ["withdrawn"] * (rest - rest // 2)
    )  # fmt: skip


_FIRST = (
    "Alder", "Bertil", "Cosima", "Dorrit", "Edmer", "Fenna", "Gorran", "Hesper", "Ilva", "Jorun", "Kester",
    "Lunete", "Maren", "Noor", "Orsino", "Petra", "Quill", "Rowena", "Silvan", "Teodor", "Ulla", "Veit",
)  # fmt: skip
_BEGIN = (
    "Penny",
    "Quill",
    "Van",
    "Dun",
    "Wierz",
    "Castel",
    "Thorn",
    "Marl",
    "Ember",
    "Glas",
    "Holl",
    "Stern",
)
_END = (
    "feather",
    "mark",
    "tongeren",
    "marrow",
    "bo",
    "lane",
    "wick",
    "ow",
    "stead",
    "brook",
    "field",
    "garth",
)
_STREETS = (
    "Saltern Street",
    "Orchard Rise",
    "Larder Lane",
    "Ropewalk",
    "Tannery Road",
    "Mill Steps",
    "Gable Court",
)
_TOWNS = ("Quarrel Bend", "Ferrow", "Otterholt", "Lower Pell", "Saint Brandle")


def _invented(luck: random.Random, number: int) -> Customer:
    return Customer(
        f"{luck.choice(_FIRST)} {luck.choice(_BEGIN)}{luck.choice(_END)}",
        f"555 {number // 10000:02d}{number % 10000:04d}",
        f"{luck.randrange(1, 120)} {luck.choice(_STREETS)}",
        luck.choice(_TOWNS),
    )


def _picture() -> bytes:
    """A small grey picture; what follows a JPEG's end is not looked at."""
    kept = io.BytesIO()
    Image.new("L", (16, 12), 200).save(kept, "JPEG", quality=20, optimize=True)
    return kept.getvalue()
