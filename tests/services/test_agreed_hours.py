"""Agreed hours against the clock: warned at the shop's share, stopped at the end, never lost."""

from dataclasses import replace

import pytest
from builders import FOUR, agreed, owned, quoted, task_of

from shopdesk.domain.money import Spread
from shopdesk.services import agreements, bench, quotes, settings, shops
from shopdesk.services.agreed_hours import agreed_hours, beyond_agreed
from shopdesk.services.quotes import quote_view


def log(shop, job, code, minutes):
    shop.clock.advance(minutes=1)
    return bench.log_minutes(shop.technician, task_of(shop.owner, job, code).id, minutes)


def clock_all_but(shop, job, left):
    """Hours written down until only `left` minutes of the agreed ones remain."""
    while (open_minutes := agreed_hours(shop.technician, job).left - left) > 0:
        log(shop, job, "receive-range", min(open_minutes, 600))


def labour(shop, quote_id):
    return sum(line.quantity for line in quote_view(shop.desk, quote_id).lines if line.kind == "labour")


def test_the_agreed_hours_are_those_of_the_agreed_quote(shop):
    taken, quote_id = quoted(shop, *FOUR)
    assert agreed_hours(shop.technician, taken.job_id).agreed == 0
    agreements.agree(shop.desk, quote_id, who="Mr Ruiz", how="signed")
    assert agreed_hours(shop.technician, taken.job_id).agreed == labour(shop, quote_id) > 0


def test_the_bench_is_warned_at_the_shop_s_share_and_told_to_stop_at_the_end(shop):
    shops.keep_setting(shop.owner, replace(shops.setting(shop.owner, settings.Terms), warn_at_percent=50))
    job = agreed(shop, *FOUR).job_id
    whole = agreed_hours(shop.technician, job).agreed
    clock_all_but(shop, job, whole - whole // 2 + 1)
    assert (agreed_hours(shop.technician, job).warn, agreed_hours(shop.technician, job).stop) == (
        False,
        False,
    )
    log(shop, job, "receive-range", 2)
    assert (agreed_hours(shop.technician, job).warn, agreed_hours(shop.technician, job).stop) == (True, False)
    clock_all_but(shop, job, 0)
    state = agreed_hours(shop.technician, job)
    assert (state.clocked, state.left, state.stop) == (whole, 0, True)


def test_a_running_clock_counts_up_to_now(shop):
    job = agreed(shop, *FOUR).job_id
    clock_all_but(shop, job, 10)
    bench.clock_on(shop.technician, task_of(shop.owner, job, "receive-range").id)
    shop.clock.advance(minutes=9)
    assert not agreed_hours(shop.technician, job).stop
    shop.clock.advance(minutes=1)
    assert agreed_hours(shop.technician, job).stop
    assert beyond_agreed(shop.technician, job).minutes == 0
    shop.clock.advance(minutes=5)
    assert beyond_agreed(shop.technician, job).minutes == 5


def test_hours_past_the_agreed_ones_are_kept_and_not_billable_until_consent_stands(shop):
    job = agreed(shop, *FOUR).job_id
    clock_all_but(shop, job, 20)
    log(shop, job, "receive-range", 50)
    beyond = beyond_agreed(shop.technician, job)
    assert beyond.minutes == 30
    assert (beyond.hours[-1].minutes, beyond.hours[-1].beyond, beyond.hours[-1].who) == (
        50,
        30,
        "Bram Tollgate",
    )
    assert all(h.beyond == 0 for h in beyond.hours[:-1])
    change = bench.find_more(shop.technician, job, "Flue collar rusted", Spread(30, 60, 90))
    quote_id = quotes.quote_change(shop.desk, change)
    assert beyond_agreed(shop.technician, job).minutes == 30
    agreements.agree(shop.desk, quote_id, who="Mr Ruiz", how="signed")
    assert beyond_agreed(shop.technician, job).minutes == 0
    assert not agreed_hours(shop.technician, job).stop


def test_hours_on_what_nobody_consented_to_use_up_nothing_that_is_agreed(shop):
    job = agreed(shop, *FOUR).job_id
    bench.find_more(shop.technician, job, "Flue collar rusted", Spread(30, 60, 90))
    found = next(t for t in bench.job_tasks(shop.technician, job) if t.name == "Flue collar rusted")
    bench.log_minutes(shop.technician, found.id, 45)
    log(shop, job, "receive-range", 15)
    beyond = beyond_agreed(shop.technician, job)
    assert [(h.minutes, h.beyond, h.change_order) for h in beyond.hours] == [(45, 45, "X-0001"), (15, 0, "")]
    assert beyond.parts == ()


def test_on_the_shop_s_own_range_nobody_is_asked(shop):
    job = owned(shop, *FOUR).job_id
    log(shop, job, "receive-range", 1000)
    log(shop, job, "receive-range", 1000)
    state = agreed_hours(shop.technician, job)
    assert (state.warn, state.stop) == (False, False)
    assert state.agreed > 0
    assert beyond_agreed(shop.technician, job).minutes == 0


@pytest.mark.parametrize("findings", [(), FOUR])
def test_parts_of_an_agreed_quote_are_within_it_and_those_without_one_are_not(shop, findings):
    taken, quote_id = quoted(shop, *findings)
    assert {p.change_order for p in beyond_agreed(shop.technician, taken.job_id).parts} <= {""}
    wanted = len([line for line in quote_view(shop.desk, quote_id).lines if line.kind == "part"])
    assert len(beyond_agreed(shop.technician, taken.job_id).parts) == wanted
    agreements.agree(shop.desk, quote_id, who="Mr Ruiz", how="signed")
    assert beyond_agreed(shop.technician, taken.job_id).parts == ()
