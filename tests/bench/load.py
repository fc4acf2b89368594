"""Many seats at one shop: `python -m tests.bench.load SHOP|URL --minutes 10 --seed 1`.

On PostgreSQL eight seats, each a process with its own connections, do mixed work from a script each, and all
edit one customer on purpose. On SQLite one seat writes, two look, and a backup runs. SHOP must not be there
yet (or an empty database). At the end each seat's log of what was confirmed is held against the shop:
nothing lost, no gap in the numbers, nothing twice, every conflict told, the check clean.
"""
# ruff: noqa: T201 - a bench prints its figures

import argparse
import json
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parents[1] / "services"))

import sqlalchemy as sa
from builders import a_shop, every_caution_read
from fixed_clock import FixedClock

from shopdesk.domain.problem import Problem
from shopdesk.services.checking import faults
from shopdesk.services.floor import floor
from shopdesk.services.seat import open_shop
from shopdesk.storage import make_shop
from shopdesk.storage.backup import copy_shop
from shopdesk.storage.tables.counter import Agreement, Invoice, Payment, Quote
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Range
from shopdesk.storage.tables.shop import Journal
from shopdesk.storage.tables.stores import PartMovement
from shopdesk.storage.tables.work import Task, TimeEntry
from tests.bench.load_deeds import Hand, people_at_work, shared_customer, staff_of

SEATS = 8


def one_seat(place: str, name: str, log: Path, seed: int, shared: int, seconds: float) -> None:
    seat = staff_of(open_shop(place, FixedClock()), name)
    every_caution_read(seat)
    told = Hand(seat, log, seed, shared).work(time.monotonic() + seconds)
    seat.file.close()
    print(json.dumps({"seat": name, "told": told}))


def one_looker(place: str, seconds: float) -> None:
    """Reads the Floor of a file that another writes, again and again."""
    until, looks, longest = time.monotonic() + seconds, 0, 0.0
    seat = open_shop(place, FixedClock(), looking=True)
    while time.monotonic() < until:
        began = time.monotonic()
        floor(seat)
        longest, looks = max(longest, time.monotonic() - began), looks + 1
        time.sleep(0.3)  # a person reads what is shown
    seat.file.close()
    print(json.dumps({"looks": looks, "longest_ms": round(longest * 1000)}))


def one_copier(place: str, seconds: float) -> None:
    """Copies and proves the file while it is written."""
    until, copies = time.monotonic() + seconds, 0
    with tempfile.TemporaryDirectory() as folder:
        while time.monotonic() < until:
            copy_shop(Path(place), Path(folder) / "copy.db", replace=True)
            seat = open_shop(Path(folder) / "copy.db", FixedClock(), looking=True)
            wrong = faults(seat)
            seat.file.close()
            assert wrong == [], wrong
            copies += 1
            time.sleep(5)
    print(json.dumps({"copies proved": copies}))


def run(place: str, minutes: float, seed: int) -> int:
    """Starts the seats, waits, compares; answers how many things are wrong."""
    server = "://" in place
    make_shop(place)
    shop = a_shop(place, FixedClock())
    names = people_at_work(shop.owner, SEATS if server else 1)
    shared = shared_customer(shop.owner)
    shop.owner.file.close()
    seconds = minutes * 60
    with tempfile.TemporaryDirectory() as folder:
        here = [sys.executable, "-m", "tests.bench.load", place, "--minutes", str(minutes)]
        logs = [Path(folder) / f"{n}.log" for n in range(len(names))]
        started = [
            [*here, "--as", name, "--log", str(log), "--seed", str(seed * 100 + n), "--shared", str(shared)]
            for n, (name, log) in enumerate(zip(names, logs, strict=True))
        ]
        if not server:
            started += [[*here, "--as", "look"], [*here, "--as", "look"], [*here, "--as", "copy"]]
        seats = [subprocess.Popen(one, stdout=subprocess.PIPE, text=True) for one in started]
        told = [each.communicate(timeout=seconds + 300)[0] for each in seats]
        codes = [each.returncode for each in seats]
        confirmed = [json.loads(line) for log in logs for line in log.read_text().splitlines()]
    for line in told:
        print(line.strip())
    wrong = [f"a seat ended with {code}" for code in codes if code]
    wrong += [*compared(place, confirmed, shared)]
    total = Counter(one["what"] for one in confirmed)
    print(f"{len(confirmed)} deeds confirmed in {seconds:.0f} s: {dict(total)}")
    print("nothing lost, no gap, nothing twice, the check clean" if not wrong else "\n".join(wrong[:40]))
    return len(wrong)


def compared(place: str, confirmed: list[dict[str, Any]], shared: int) -> Iterator[str]:
    """What the logs say against what stands in the shop, a sentence for each thing wrong."""
    seat = open_shop(place, FixedClock(), looking=True)
    try:
        of: dict[str, list[dict[str, Any]]] = {}
        for one in confirmed:
            of.setdefault(one["what"], []).append(one)
        with seat.look() as session:

            def rows(*columns: Any, where: Any = True) -> list[Any]:
                return session.execute(sa.select(*columns).where(sa.true() if where is True else where)).all()

            yield from _same("ranges", [r["number"] for r in of.get("range", [])],
                             [n for (n,) in rows(Range.number)], "R-")  # fmt: skip
            issued = rows(Invoice.number, where=Invoice.number.is_not(None))
            yield from _same("invoices", [r["number"] for r in of.get("invoice", [])],
                             [n for (n,) in issued], "I-")  # fmt: skip
            paid = Counter(rows(Payment.job_id, Payment.amount_cents))
            want = Counter((r["job"], r["cents"]) for r in of.get("payment", []))
            if Counter({tuple(key): n for key, n in paid.items()}) != want:
                yield "the payments are not those that were confirmed"
            for what, column, name in (
                ("quote", Quote.id, "id"), ("agreement", Agreement.quote_id, "quote"),
                ("movement", PartMovement.part_id, "part"),
            ):  # fmt: skip
                there = {key for (key,) in rows(column)}
                lost = {one[name] for one in of.get(what, [])} - there
                if lost:
                    yield f"lost: {what} {sorted(lost)[:5]}"
            ticked = {key for (key,) in rows(Task.id, where=Task.done_share == 100)}
            if not {one["task"] for one in of.get("tick", [])} <= ticked:
                yield "a tick that was confirmed is not there"
            minutes = sum(n or 0 for (n,) in rows(TimeEntry.minutes))
            if minutes != sum(one["minutes"] for one in of.get("time", [])):
                yield "the hours are not those that were confirmed"
            edits, note = of.get("edit", []), session.get_one(Party, shared).note
            if int(note) != len(edits) or sorted(one["count"] for one in edits) != [
                *range(1, len(edits) + 1)
            ]:
                yield f"{len(edits)} edits of one record were confirmed, and it counts {note}"
            keys = [key for (key,) in rows(Journal.id)]
            if sorted(keys) != [*range(1, len(keys) + 1)]:
                yield "the journal has a gap"
        yield from faults(seat)
    finally:
        seat.file.close()


def _same(what: str, confirmed: list[str], there: list[str], prefix: str) -> Iterator[str]:
    """Confirmed are there, none twice, and the numbers run on without a gap."""
    if set(confirmed) - set(there):
        yield f"lost: {what} {sorted(set(confirmed) - set(there))[:5]}"
    if len(set(confirmed)) != len(confirmed) or len(set(there)) != len(there):
        yield f"{what}: a number was given twice"
    if sorted(int(n.removeprefix(prefix)) for n in there) != [*range(1, len(there) + 1)]:
        yield f"{what}: the numbers have a gap"


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("place")
    parser.add_argument("--minutes", type=float, default=10)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--as", dest="name", default="")
    parser.add_argument("--log", type=Path)
    parser.add_argument("--shared", type=int, default=0)
    asked = parser.parse_args()
    try:
        if asked.name == "look":
            one_looker(asked.place, asked.minutes * 60)
        elif asked.name == "copy":
            one_copier(asked.place, asked.minutes * 60)
        elif asked.name:
            one_seat(asked.place, asked.name, asked.log, asked.seed, asked.shared, asked.minutes * 60)
        else:
            sys.exit(1 if run(asked.place, asked.minutes, asked.seed) else 0)
    except Problem as problem:
        sys.exit(str(problem))
