"""Reckoning held against plain Python and SQL of its own over the sample shop, and against the books."""

import sqlite3
from collections import defaultdict
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from zoneinfo import ZoneInfo

import pytest
from fixed_clock import FixedClock

from shopdesk import paths
from shopdesk.domain.problem import NotAllowed
from shopdesk.services import agreements, bench, sales, stock
from shopdesk.services.books import books
from shopdesk.services.jacket import jacket
from shopdesk.services.reckoning import chosen, findings, hours, kept_promises, months, ranges, standing
from shopdesk.services.reckoning.chosen import Chosen
from shopdesk.services.seat import Seat, open_shop
from shopdesk.services.statements import owed_by_age
from shopdesk.services.year_figures import year_figures
from shopdesk.storage import upgrade
from shopdesk.storage.backup import copy_shop

YEAR = 2026


@pytest.fixture(scope="module")
def seat(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Seat]:
    place = tmp_path_factory.mktemp("reckoning") / "shop.db"
    copy_shop(paths.sample_shop(), place)
    upgrade(place)
    opened = open_shop(place, FixedClock())
    yield opened
    opened.file.close()


@pytest.fixture(scope="module")
def bare(seat: Seat) -> Iterator[sqlite3.Connection]:
    """The same file read by plain SQL."""
    with seat.look() as session:
        place = session.get_bind().url.database
    found = sqlite3.connect(f"file:{place}?mode=ro", uri=True)
    found.row_factory = sqlite3.Row
    yield found
    found.close()


@pytest.fixture(scope="module")
def everything(seat: Seat) -> list[ranges.RangeFigures]:
    return [one for year in (0, *chosen.years(seat)) for one in ranges.range_figures(seat, Chosen(year))]


def test_every_job_is_in_one_year_or_still_open(everything, bare) -> None:
    assert sorted(one.job_id for one in everything) == [
        row[0] for row in bare.execute("SELECT id FROM job ORDER BY id")
    ]


def test_a_ranges_hours_cost_each_entry_at_the_wage_of_its_day(seat, everything, bare) -> None:
    wages = defaultdict(list)
    for row in bare.execute("SELECT * FROM wage ORDER BY from_day"):
        wages[row["staff_id"]].append((row["from_day"], row["cost_cents_per_hour"]))
    cost, minutes, zone = defaultdict(int), defaultdict(int), ZoneInfo(seat.region.timezone)
    for one in everything:
        for entry in bench.time_rows(seat, one.job_id):
            if entry.minutes is None:
                continue
            staff = bare.execute("SELECT staff_id FROM time_entry WHERE id = ?", (entry.id,)).fetchone()[0]
            day = entry.started_at.astimezone(zone).date().isoformat()
            rate = next((cents for since, cents in reversed(wages[staff]) if since <= day), 0)
            exact = Decimal(entry.minutes) * rate / 60
            cost[one.job_id] += int(exact.quantize(Decimal(1), rounding="ROUND_HALF_UP"))
            minutes[one.job_id] += entry.minutes
    assert sum(cost.values()) > 0
    assert {one.job_id: one.cost.hours for one in everything if one.cost.hours} == dict(cost)
    assert {one.job_id: one.minutes for one in everything if one.minutes} == dict(minutes)


def test_a_ranges_price_is_that_of_jacket_and_agreement(seat, everything) -> None:
    for one in everything:
        with seat.look() as session:
            assert one.agreed_cents == agreements.agreed(session, one.job_id).cents
        assert (one.cost, one.minutes) == (
            sales.own_range(seat, one.job_id).cost,
            sales.own_range(seat, one.job_id).minutes,
        )
        thought = [task.minutes for task in jacket(seat, one.range_id, one.job_id).tasks]
        assert one.minutes_thought.likely == sum(minutes.likely for minutes in thought)
    assert any(one.agreed_cents for one in everything)
    assert any(one.estimate and one.estimate.low < one.estimate.high for one in everything)


def test_what_was_billed_and_taken_is_what_the_books_say(seat, everything, bare) -> None:
    first, last = bare.execute(
        "SELECT min(on_day), max(on_day) FROM invoice WHERE number IS NOT NULL"
    ).fetchone()
    whole = books(seat, seat.today.fromisoformat(first), seat.today.fromisoformat(last))
    of = {head: at for at, head in enumerate(whole.papers.heads)}
    billed = sum(row[of["Without tax"]] - row[of["Tax within the price"]] for row in whole.papers.rows)
    assert sum(one.billed_cents for one in everything) == int(billed * 100) > 0
    assert (
        sum(one.paid_cents for one in everything)
        == bare.execute("SELECT sum(amount_cents) FROM payment").fetchone()[0]
    )


def test_margins_and_cash_are_differences_of_what_stands_beside_them(everything) -> None:
    for one in everything:
        assert one.cash_cents == one.cost.whole - one.paid_cents
        assert one.margin_cents == (one.billed_cents - one.cost.whole if one.billed_cents else None)
    assert {one.margin_cents is None for one in everything} == {True, False}


def test_stage_and_purpose_narrow_the_list(seat, everything) -> None:
    for one in everything:
        year = one.left_on.year if one.left_on else 0
        found = ranges.range_figures(seat, Chosen(year, one.stage.value, one.purpose))
        assert one in found
        assert {(other.stage, other.purpose) for other in found} == {(one.stage, one.purpose)}


@pytest.mark.parametrize("year", [0, YEAR])
def test_kinds_of_finding_sum_to_the_customers_ranges(seat, everything, year) -> None:
    groups = findings.finding_figures(seat, Chosen(year))
    of_customers = [
        one for one in everything if one.customer and (one.left_on.year if one.left_on else 0) == year
    ]
    assert sum(group.sum("billed_cents") for group in groups) == sum(one.billed_cents for one in of_customers)
    spent = sum(one.cost.whole - one.cost.purchase for one in of_customers)
    assert sum(group.sum("cost_cents") for group in groups) == spent > 0
    assert sum(group.sum("minutes") for group in groups) == sum(one.minutes for one in of_customers)
    assert groups[-1].key == findings.REST or year == 0
    margins = [group.margin_cents for group in groups if group.key != findings.REST]
    assert margins == sorted(margins)


def test_each_finding_bears_its_even_part_of_the_tasks_it_led_to(seat, bare) -> None:
    """Worked out anew in fractions of a cent; what is ours may lie less than a cent a task beside it."""
    billed, causes = billed_by_task(bare), defaultdict(list)
    for row in bare.execute("SELECT * FROM task_cause"):
        causes[row["task_id"]].append((row["kind"], row["code"]))

    def behind(task: int, tasks: dict[str, int], seen: frozenset[int]) -> set[str]:
        found = {code for kind, code in causes[task] if kind == "finding"}
        for kind, code in causes[task]:
            if kind == "task" and code in tasks and tasks[code] not in seen:
                found |= behind(tasks[code], tasks, seen | {tasks[code]})
        return found

    expected, shared = defaultdict(Fraction), defaultdict(int)
    for tasks in orders_that_left(bare).values():
        for task in tasks.values():
            codes = behind(task, tasks, frozenset({task}))
            for code in codes:
                expected[code] += Fraction(billed[task], len(codes))
                shared[code] += len(codes) > 1
    groups = {g.key[1]: g for g in findings.finding_figures(seat, Chosen(YEAR)) if g.key[0] == "finding"}
    assert any(expected.values())
    for code, group in groups.items():
        assert abs(group.sum("billed_cents") - expected[code]) <= shared[code]


def orders_that_left(bare: sqlite3.Connection) -> dict[int, dict[str, int]]:
    """By customer's job that left in the year: its tasks by code."""
    found: dict[int, dict[str, int]] = defaultdict(dict)
    for row in bare.execute(
        "SELECT t.id, t.code, w.job_id FROM task t JOIN work_order w ON w.id = t.work_order_id "
        "JOIN job j ON j.id = w.job_id "
        "WHERE j.customer_id IS NOT NULL AND coalesce(j.gone_on, j.ended_on) LIKE '2026%'"
    ):
        found[row["job_id"]][row["code"] or f"#{row['id']}"] = row["id"]
    return found


def billed_by_task(bare: sqlite3.Connection) -> dict[int, int]:
    found: dict[int, int] = defaultdict(int)
    for row in bare.execute(
        "SELECT coalesce(l.task_id, n.task_id, p.task_id) AS task, i.kind, l.net_cents FROM invoice_line l "
        "JOIN invoice i ON i.id = l.invoice_id LEFT JOIN need n ON n.id = l.need_id "
        "LEFT JOIN consignment_piece p ON p.id = l.piece_id WHERE i.number IS NOT NULL"
    ):
        found[row["task"]] += row["net_cents"] * (-1 if row["kind"] == "credit" else 1)
    return found


def test_hours_of_finished_tasks_are_shared_to_the_minute(seat, bare) -> None:
    rows = hours.hours_against_estimate(seat, YEAR)
    clocked = bare.execute(
        "SELECT sum(e.minutes) FROM time_entry e JOIN task t ON t.id = e.task_id WHERE t.done_share = 100"
    ).fetchone()[0]
    assert sum(row.sum("minutes") for row in rows) == clocked > 0
    likely = bare.execute(
        "SELECT sum(minutes_likely) FROM task WHERE done_share = 100 AND id IN (SELECT task_id FROM "
        "time_entry WHERE minutes > 0)"
    ).fetchone()[0]
    assert sum(row.sum("likely") for row in rows) == likely
    assert all(row.sum("low") <= row.sum("likely") <= row.sum("high") for row in rows)
    assert [row.name for row in rows] == sorted(row.name for row in rows)


def test_months_sum_to_the_year(seat) -> None:
    told, whole = months.months(seat, YEAR), year_figures(seat, YEAR)
    assert sum(month.billed_cents for month in told) == whole.billed_cents > 0
    assert sum(month.bills for month in told) == whole.bills
    assert sum(month.minutes for month in told) == whole.minutes
    assert sum(month.hours_cents for month in told) == whole.hours_cents > 0
    assert sum(month.parts_cents for month in told) == whole.parts_cents > 0
    assert sum(month.outwork_cents for month in told) == whole.outwork_cents
    for month in told:
        papers = months.papers_of(seat, YEAR, month.month)
        assert sum(paper.cents for paper in papers) == month.billed_cents
        assert sum(paper.kind == "invoice" for paper in papers) == month.bills


def test_owed_by_age_is_what_the_counter_asks_for(seat) -> None:
    bills = standing.owed_bills(seat)
    ages = [sum(bill.asked_cents for bill in bills if bill.age == age) for age in range(5)]
    assert tuple(ages) == year_figures(seat, YEAR).ages
    assert sum(ages) == sum(owing.owed_cents for owing in owed_by_age(seat)) > 0


def test_the_stores_are_worth_what_their_movements_cost(seat, bare) -> None:
    shelf = standing.on_shelf(seat)
    assert (
        sum(part.value_cents for part in shelf)
        == bare.execute("SELECT sum(cost_cents) FROM part_movement").fetchone()[0]
    )
    known = {row.id: row.value_cents for row in stock.parts(seat, limit=10_000)}
    assert {part.part_id: part.value_cents for part in shelf} == {
        key: cents for key, cents in known.items() if cents
    }


def test_a_promise_counts_once_it_can_be_judged(seat, bare) -> None:
    days = kept_promises.given_days(seat)
    assert days
    assert len(days) <= bare.execute("SELECT count(*) FROM promise WHERE on_day IS NOT NULL").fetchone()[0]
    for day in days:
        assert day.on_day < seat.today or day.ready_on is not None
        assert day.kept == (day.ready_on is not None and day.ready_on <= day.on_day)
    told = kept_promises.bands(days)
    assert sum(len(band.days) for band in told) == len(days)
    assert sum(band.kept for band in told) == sum(day.kept for day in days)


def test_costs_are_the_owners_and_what_is_owed_and_promised_the_offices(seat, bare) -> None:
    desk, technician = (
        seat.taken_by(bare.execute("SELECT id FROM staff WHERE role = ?", (role,)).fetchone()[0])
        for role in ("desk", "technician")
    )
    for other in (desk, technician):
        for question in (
            lambda who: ranges.range_figures(who, Chosen()),
            lambda who: findings.finding_figures(who, Chosen()),
            lambda who: hours.hours_against_estimate(who, YEAR),
            lambda who: months.months(who, YEAR),
            standing.on_shelf,
        ):
            with pytest.raises(NotAllowed):
                question(other)
    assert standing.owed_bills(desk) == standing.owed_bills(seat)
    assert kept_promises.given_days(desk) == kept_promises.given_days(seat)
    for question in (standing.owed_bills, kept_promises.given_days):
        with pytest.raises(NotAllowed):
            question(technician)
