"""Two desks issue invoices at once on PostgreSQL: `python -m tests.bench.two_desks [--invoices 200]`.

Each desk is a process of its own with its own connections. Tells the seconds, and whether the numbers
are whole: no gap, no double, every paper with its own bytes.
"""
# ruff: noqa: T201 - a bench prints its figures

import argparse
import subprocess
import sys
import time
from decimal import Decimal
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parents[1] / "services"))

from builders import a_range, a_shop, reopened
from fixed_clock import FixedClock
from pg_cluster import Cluster, server_programs

from shopdesk.domain.rights import Action
from shopdesk.domain.totals import Tax
from shopdesk.services import checking, invoices
from shopdesk.services.invoice_drafts import keep_draft
from shopdesk.services.lines import Line
from shopdesk.services.papers.keeping import papers
from shopdesk.storage import make_shop
from shopdesk.storage.tables.ranges import Job


def draft(shop) -> int:
    """A small invoice that is being written."""
    taken = a_range(shop.owner)
    line = Line(kind="charge", what="Visit", quantity=1, unit_cents=9_900, because="asked for",
                tax=Tax("S", Decimal(6), "Sales tax"))  # fmt: skip
    with shop.desk.change(Action.INVOICE) as work:
        job = work.get(Job, taken.job_id, "job")
        return keep_draft(shop.desk, work, job, job.customer, [line])


def desk(url: str, keys: list[int]) -> None:
    """One desk's morning."""
    shop = reopened(url, FixedClock())
    for key in keys:
        invoices.issue_invoice(shop.desk, key)
    shop.owner.file.close()


def main(count: int) -> None:
    programs = server_programs()
    assert programs is not None, "no PostgreSQL server programs on this machine"
    cluster = Cluster(programs)
    try:
        url = cluster.create("desks")
        make_shop(url)
        shop = a_shop(url, FixedClock())
        keys = [draft(shop) for _ in range(count)]
        began = time.monotonic()
        here = [sys.executable, "-m", "tests.bench.two_desks", "--desk", url, "--keys"]
        both = [subprocess.Popen([*here, ",".join(map(str, keys[n::2]))]) for n in (0, 1)]
        codes = [each.wait() for each in both]
        took = time.monotonic() - began
        rows = papers(shop.desk, kind="invoice", limit=count + 10)
        numbers = sorted(row.number for row in rows)
        whole = numbers == [f"I-{n:04d}" for n in range(1, count + 1)]
        print(f"{count} invoices by two desks in {took:.1f} s; processes ended with {codes}")
        print(f"numbers {numbers[0]} to {numbers[-1]}; no gap, no double: {whole}")
        print(f"papers with bytes of their own: {len({row.sha256 for row in rows})}")
        print(f"faults found by the check: {checking.faults(shop.owner)}")
        shop.owner.file.close()
    finally:
        cluster.stop()


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("--invoices", type=int, default=200)
    parser.add_argument("--desk", default="")
    parser.add_argument("--keys", default="")
    asked = parser.parse_args()
    if asked.desk:
        desk(asked.desk, [int(key) for key in asked.keys.split(",")])
    else:
        main(asked.invoices)
