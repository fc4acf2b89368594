import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.domain.build import Build
from shopdesk.domain.money import Spread
from shopdesk.domain.problem import Problem
from shopdesk.services.bench import BenchTask
from shopdesk.services.bench_day import BenchDay, BenchRange
from shopdesk.services.seat import Seat
from shopdesk.services.waiting import Wait
from shopdesk.ui.pages.bench import shown
from shopdesk.ui.pages.bench.clock_draft import elapsed, is_doubtful, since_words, until
from shopdesk.ui.pages.bench.draft import found_more, hours_afterwards, with_phrase
from shopdesk.wording import Region

HERE = Region(timezone="America/Los_Angeles")
TODAY = dt.date(2026, 9, 15)


def at(hour: int, minute: int = 0, day: int = 15) -> dt.datetime:
    """An hour on the shop's clock as an instant."""
    local = dt.datetime(2026, 9, day, hour, minute, tzinfo=HERE.local(dt.datetime.now(dt.UTC)).tzinfo)
    return local.astimezone(dt.UTC)


def a_task(key: int, job_id: int = 1, waits: tuple[Wait, ...] = (), **more: object) -> BenchTask:
    facts: dict[str, object] = {
        "id": key, "job_id": job_id, "range_id": job_id, "range_number": f"R-{job_id:04d}",
        "range_name": "Corvane No. 40", "code": "x", "name": f"Task {key}", "count": 1,
        "minutes": Spread(30, 60, 120), "clocked": 0, "done_share": 0, "stage": "repair",
        "station": "bench", "hazards": (), "assigned_to_id": None, "note": "", "waits": waits,
    }  # fmt: skip
    return BenchTask(**{**facts, **more})  # type: ignore[arg-type]


def a_range(job_id: int, promised_on: dt.date | None = None) -> BenchRange:
    return BenchRange(
        job_id, job_id, f"R-{job_id:04d}", "Corvane", "No. 40", "ivory", Build(), promised_on, ()
    )


def rows_of(seat: Seat, day: BenchDay, unfolded: set[int] = frozenset(), **more: object) -> list[shown.Row]:
    words = shown.Words(seat.catalogue, HERE, TODAY, {7: "Bram"}, 1, {}, None, {})
    return shown.shown_rows(day, words, unfolded, one_range=bool(more.get("one_range")))


def kinds(rows: list[shown.Row]) -> list[str]:
    return [row.key[0] if row.key[0] != "task" else f"task {row.key[1]}" for row in rows]


def test_what_can_be_done_stands_before_what_waits_and_what_was_ticked(seat: Seat) -> None:
    tasks = (a_task(1, waits=(Wait("part", "spring clip"),)), a_task(2))
    day = BenchDay((a_range(1),), tasks, (a_task(3, done_share=100),), (), None)
    rows = rows_of(seat, day)
    assert kinds(rows) == ["part", "range", "task 2", "part", "range", "task 1", "part", "range", "task 3"]
    assert rows[5].facts == "waits for a part: spring clip"
    assert rows[8].done


def test_many_waiting_tasks_fold_under_their_range_and_say_why(seat: Seat) -> None:
    waits = [a_task(n, 1 + n % 2, (Wait("task", "Take the top off"),)) for n in range(2, 30)]
    waits.append(a_task(99, 1, (Wait("task", "x"), Wait("laboratory", ""))))
    day = BenchDay((a_range(1), a_range(2)), tuple(waits), (), (), None)
    rows = rows_of(seat, day, {2})
    first, second = [row for row in rows if isinstance(row, shown.RangeRow)]
    assert first.folds
    assert not first.open
    assert first.why == "1 for the laboratory, 14 after other tasks"
    assert second.open
    assert sum(isinstance(row, shown.TaskRow) for row in rows) == 14
    assert all(row.open for row in rows_of(seat, day, one_range=True) if isinstance(row, shown.RangeRow))


def test_a_late_promise_is_told_by_word(seat: Seat) -> None:
    day = BenchDay((a_range(1, dt.date(2026, 9, 12)),), (a_task(1),), (), (), None)
    row = rows_of(seat, day)[1]
    assert row.late
    assert row.promise == "promised Sep 12, 3 days late"


def test_every_kind_of_wait_has_words() -> None:
    for kind in ("agreement", "laboratory", "task", "part", "outwork", "card", "blocked"):
        assert shown.wait_words(Wait(kind, "the thing"))
    many = [Wait("task", "A"), Wait("task", "B"), Wait("part", "clip")]
    assert shown.waits_in_words(many) == "waits for a part: clip; after “B” and 1 more"


def test_a_task_given_to_someone_says_to_whom(seat: Seat) -> None:
    tasks = (a_task(1, assigned_to_id=1), a_task(2, assigned_to_id=7))
    rows = rows_of(seat, BenchDay((a_range(1),), tasks, (), (), None))
    assert [row.facts for row in rows[2:]] == ["yours", "for Bram"]


def test_a_clock_of_yesterday_or_of_too_long_is_doubted_but_not_todays() -> None:
    assert is_doubtful(at(16, 40, 14), at(8), HERE, None)
    assert not is_doubtful(at(8), at(11), HERE, None)
    assert is_doubtful(at(1), at(14), HERE, None)
    assert is_doubtful(at(8), at(11), HERE, at(9))
    assert not is_doubtful(at(8), at(11), HERE, at(10, 45))


def test_the_start_of_a_clock_is_told_with_its_day() -> None:
    assert since_words(at(16, 40), at(17), HERE) == "16:40"
    assert since_words(at(16, 40, 14), at(8), HERE) == "16:40 yesterday"
    assert since_words(at(16, 40, 10), at(8), HERE) == "16:40 on Sep 10"
    assert elapsed(at(8), at(9, 30)) == 90


@pytest.mark.parametrize("typed", ["17:05", "5:05 pm", "17.05", "1705", "17h05", "5:05p"])
def test_an_hour_may_be_typed_in_many_ways(typed: str) -> None:
    assert until(typed, at(16, 40, 14), HERE) == at(17, 5, 14)


def test_an_hour_before_the_start_is_the_next_mornings() -> None:
    assert until("1:10", at(16, 40, 14), HERE) == at(1, 10, 15)


@pytest.mark.parametrize("typed", ["", "noon", "25:00", "12:70", "5 hours"])
def test_what_is_no_hour_is_refused_with_a_sentence(typed: str) -> None:
    with pytest.raises(Problem) as refused:
        until(typed, at(16, 40, 14), HERE)
    assert refused.value.field == "until"


@given(st.integers(0, 23), st.integers(0, 59), st.integers(0, 23), st.integers(0, 59))
def test_a_clock_always_stops_after_it_started_and_within_a_day(h: int, m: int, to_h: int, to_m: int) -> None:
    start = at(h, m)
    end = until(f"{to_h}:{to_m:02d}", start, HERE)
    assert dt.timedelta(0) < end - start <= dt.timedelta(hours=24)
    assert (HERE.local(end).hour, HERE.local(end).minute) == (to_h, to_m)


def test_found_more_needs_only_the_likely_time() -> None:
    given_ = found_more({"what": " crack ", "likely": 90, "low": None, "high": None})
    assert (given_.what, given_.minutes) == ("crack", Spread(90, 90, 90))


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"what": "", "likely": 60, "low": None, "high": None}, "what"),
        ({"what": "crack", "likely": None, "low": None, "high": None}, "likely"),
        ({"what": "crack", "likely": 60, "low": 90, "high": None}, "low"),
        ({"what": "crack", "likely": 60, "low": None, "high": 30}, "high"),
    ],
)
def test_found_more_names_the_field_that_is_wrong(values: dict[str, object], field: str) -> None:
    with pytest.raises(Problem) as refused:
        found_more(values)
    assert refused.value.field == field


def test_hours_of_a_day_to_come_are_refused() -> None:
    with pytest.raises(Problem) as refused:
        hours_afterwards({"minutes": 60, "on": TODAY + dt.timedelta(days=1), "note": ""}, TODAY)
    assert refused.value.field == "on"
    assert hours_afterwards({"minutes": 60, "on": TODAY, "note": "x"}, TODAY).on is None


def test_a_phrase_is_set_once_after_what_was_typed() -> None:
    assert with_phrase("", "No bubbles.") == "No bubbles."
    assert with_phrase("Seen.", "No bubbles.") == "Seen. No bubbles."
    assert with_phrase("Seen. No bubbles.", "No bubbles.") == "Seen. No bubbles."
