"""The bench: what can be ticked and when, hours, holds, what was found more."""

import datetime as dt

import pytest
from builders import (
    FOUR,
    a_firm,
    agreed,
    covered,
    done,
    held_of,
    in_days,
    owned,
    prove,
    proved,
    quoted,
    released,
    stage_of,
    task_of,
    walked,
)

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.money import Spread
from shopdesk.domain.problem import NotFound, Problem
from shopdesk.domain.stage import Stage
from shopdesk.services import (
    agreements,
    bench,
    checking,
    handovers,
    outwork,
    proofs,
    quotes,
    stores,
    work_orders,
)
from shopdesk.services.seat import open_shop


def tick(shop, job_id: int, code: str, share: int = 100) -> None:
    bench.tick(shop.technician, task_of(shop.owner, job_id, code).id, share)


def waits(shop, job_id: int, code: str) -> list[str]:
    task = next(t for t in bench.job_tasks(shop.technician, job_id) if t.code == code)
    return [wait.kind for wait in task.waits]


class TestATaskWaits:
    def test_for_the_customer_s_agreement(self, shop):
        taken, quote = quoted(shop)
        tick(shop, taken.job_id, "receive-range")  # what is done on arrival needs none
        tick(shop, taken.job_id, "isolate-and-cap")
        with pytest.raises(Problem, match="waits for the customer's agreement"):
            tick(shop, taken.job_id, "strip-loose-parts")
        agreements.agree(shop.desk, quote, who="Mr Ruiz", how="signed")
        tick(shop, taken.job_id, "strip-loose-parts")
        assert stage_of(shop.desk, taken) is Stage.ON_THE_BENCH

    def test_for_the_agreement_to_the_job_when_only_the_teardown_is_agreed(self, shop):
        taken, _ = quoted(shop)
        teardown = quotes.write_quote(shop.desk, taken.job_id, "teardown")
        agreements.agree(shop.desk, teardown, who="Mr Ruiz", how="e-mail")
        assert set(waits(shop, taken.job_id, "strip-loose-parts")) == {"task"}  # receive the range first
        assert "agreement" in waits(shop, taken.job_id, "service-valve")
        done(shop, taken.job_id, "intake", "teardown")
        with pytest.raises(Problem, match="agreement"):
            tick(shop, taken.job_id, "clear-burner-ports")

    def test_for_the_task_before_it(self, shop):
        taken = agreed(shop)
        with pytest.raises(Problem, match=r"“Isolate.*” stands after “Receive.*”. Tick that first"):
            tick(shop, taken.job_id, "isolate-and-cap")
        tick(shop, taken.job_id, "receive-range", 50)
        assert waits(shop, taken.job_id, "isolate-and-cap") == ["task"]
        tick(shop, taken.job_id, "receive-range")
        tick(shop, taken.job_id, "isolate-and-cap")

    def test_for_a_part(self, shop):
        taken = agreed(shop, *FOUR)
        done(shop, taken.job_id, "intake", "teardown", "repair")
        short = stores.needs(shop.owner, job_id=taken.job_id, short_only=True)
        task = next(t for t in bench.job_tasks(shop.technician, taken.job_id) if t.code == "refit-top")
        assert "part" in [w.kind for w in task.waits]
        assert held_of(shop.desk, taken)[0] == "part"
        need = next(n for n in short if n.task == task.name)
        stores.call_off(shop.desk, need.id, "the old screws are good")
        assert "part" not in waits(shop, taken.job_id, "refit-top")

    def test_for_outwork_until_it_is_back_and_accepted(self, shop):
        taken = agreed(shop, "top-enamel.rusted-through")
        covered(shop, taken.job_id)
        patch = task_of(shop.owner, taken.job_id, "weld-patch")
        firm = a_firm(shop.desk, "Arcady Welding", trade="welder")
        piece = outwork.PieceDraft(task_id=patch.id, name="top")
        outwork.send_out(shop.technician, firm, [piece])
        assert "outwork" in waits(shop, taken.job_id, "weld-patch")
        sent = outwork.consignments(shop.desk)[0].pieces[0]
        outwork.take_back(shop.technician, sent.id, 1, accepted=False)
        assert "outwork" in waits(shop, taken.job_id, "weld-patch")
        outwork.take_back(shop.technician, sent.id, 1)
        assert "outwork" not in waits(shop, taken.job_id, "weld-patch")

    def test_for_the_laboratory_and_for_its_last_word(self, shop):
        taken = owned(shop)
        job = taken.job_id
        walked(shop.owner, job, *FOUR, suspected=True)  # a second look that leaves the old insulation unseen
        work_orders.write_order(shop.owner, job)
        held = [t for t in work_orders.task_lines(shop.owner, job) if "laboratory" in t.holds]
        assert held
        code = held[0].code
        assert "laboratory" in waits(shop, job, code)
        with pytest.raises(Problem, match="report number"):
            bench.answer_hold(shop.technician, job, "negative", " ")
        with pytest.raises(Problem, match="negative or positive"):
            bench.answer_hold(shop.technician, job, "clean", "Demo laboratory 1")
        bench.answer_hold(shop.technician, job, "negative", "Demo laboratory 1")
        assert "laboratory" not in waits(shop, job, code)
        bench.answer_hold(shop.technician, job, "positive", "Demo laboratory 2")
        assert "laboratory" in waits(shop, job, code)

    def test_for_what_the_bench_says(self, shop):
        taken = agreed(shop)
        task = task_of(shop.owner, taken.job_id, "receive-range")
        bench.block(shop.technician, task.id, " the lift is broken ")
        with pytest.raises(Problem, match="blocked: the lift is broken"):
            bench.tick(shop.technician, task.id)
        bench.block(shop.technician, task.id, "")
        bench.tick(shop.technician, task.id)


def test_a_share_is_between_nothing_and_everything(shop):
    taken = agreed(shop)
    for share in (-1, 101):
        with pytest.raises(Problem, match="0 to 100 percent"):
            tick(shop, taken.job_id, "receive-range", share)
    with pytest.raises(NotFound, match="no task 4711"):
        bench.tick(shop.technician, 4711)


class TestWorkOnGas:
    def test_makes_the_proofs_that_speak_for_it_due_again_and_lets_a_release_lapse(self, shop):
        taken = released(shop)
        job = taken.job_id
        assert proofs.release_state(shop.owner, job).given
        tick(shop, job, "refit-gas-train", 0)  # the joint is open again
        state = proofs.release_state(shop.owner, job)
        assert (state.given, state.lapsed_because) == (
            False, task_of(shop.owner, job, "refit-gas-train").name,
        )  # fmt: skip
        shop.clock.advance(minutes=30)
        tick(shop, job, "refit-gas-train")
        missing = {d.code for d in proofs.proofs_due(shop.owner, job) if not d.stands}
        assert missing == {"tightness-bench", "tightness-assembled"}
        assert (stage_of(shop.desk, taken), held_of(shop.desk, taken)) == (Stage.READY, ["proof"])
        with pytest.raises(Problem, match="no release that stands"):
            handovers.hand_over(shop.desk, job)
        with pytest.raises(Problem, match="not proved"):
            proofs.release(shop.owner, job)
        proved(shop, job)
        proofs.release(shop.owner, job)
        handovers.hand_over(shop.desk, job)
        assert checking.faults(shop.owner) == []

    def test_ticked_twice_is_ticked_once(self, shop):
        taken = released(shop)
        shop.clock.advance(minutes=30)
        tick(shop, taken.job_id, "refit-gas-train")
        assert proofs.release_state(shop.owner, taken.job_id).given
        assert all(d.stands for d in proofs.proofs_due(shop.owner, taken.job_id))

    def test_a_range_that_is_moved_loses_its_release(self, shop):
        taken = released(shop)
        handovers.moved(shop.technician, taken.job_id, "bay 2")
        state = proofs.release_state(shop.owner, taken.job_id)
        assert (state.given, state.lapsed_because, state.by) == (
            False, "moved to bay 2", "Odile Fennimarsh",
        )  # fmt: skip


class TestTheClock:
    @pytest.fixture
    def tasks(self, shop):
        return work_orders.task_lines(shop.owner, agreed(shop).job_id)

    def test_counts_begun_minutes(self, shop, tasks):
        bench.clock_on(shop.technician, tasks[0].id)
        shop.clock.advance(minutes=61.5)
        assert bench.clock_off(shop.technician, note="heavy") == 62
        row = bench.time_rows(shop.technician, bench.tasks_today(shop.technician)[0].job_id)[0]
        assert (row.who, row.minutes, row.note, row.task_id) == ("Bram Tollgate", 62, "heavy", tasks[0].id)

    def test_shows_a_minute_when_it_stops_at_once(self, shop, tasks):
        bench.clock_on(shop.technician, tasks[0].id)
        assert bench.clock_off(shop.technician) == 1

    def test_runs_once_a_person_and_starting_another_stops_the_first(self, shop, tasks):
        bench.clock_on(shop.technician, tasks[0].id)
        bench.clock_on(shop.owner, tasks[0].id)
        shop.clock.advance(minutes=20)
        bench.clock_on(shop.technician, tasks[1].id)
        assert bench.running_clock(shop.technician).task_id == tasks[1].id
        assert bench.running_clock(shop.owner).task_id == tasks[0].id
        job = bench.running_clock(shop.owner).job_id
        assert [(r.who, r.minutes) for r in bench.time_rows(shop.owner, job)] == [
            ("Bram Tollgate", 20), ("Odile Fennimarsh", None), ("Bram Tollgate", None),
        ]  # fmt: skip

    def test_goes_on_while_the_shop_is_closed(self, shop, set_up_place, tasks):
        bench.clock_on(shop.technician, tasks[0].id)
        shop.owner.file.close()
        shop.clock.advance(minutes=45)
        seat = open_shop(set_up_place, shop.clock).taken_by(shop.technician.acting.staff_id)
        try:
            assert bench.running_clock(seat).task_name == tasks[0].name
            assert bench.clock_off(seat) == 45
            assert bench.running_clock(seat) is None
        finally:
            seat.file.close()

    def test_may_be_stopped_at_an_earlier_instant_but_not_before_it_started(self, shop, tasks):
        started = shop.clock()
        bench.clock_on(shop.technician, tasks[0].id)
        shop.clock.advance(hours=9)
        for wrong in (started - dt.timedelta(minutes=1), shop.clock() + dt.timedelta(minutes=1)):
            with pytest.raises(Problem, match="runs since"):
                bench.clock_off(shop.technician, until=wrong)
        assert bench.clock_off(shop.technician, until=started + dt.timedelta(hours=3)) == 180

    def test_that_does_not_run_cannot_be_stopped(self, shop):
        with pytest.raises(Problem, match="No clock of Bram Tollgate is running"):
            bench.clock_off(shop.technician)

    def test_hours_may_be_written_down_afterwards(self, shop, tasks):
        desk_key = shop.desk.acting.staff_id
        bench.log_minutes(shop.technician, tasks[0].id, 30, on=shop.technician.today)
        bench.log_minutes(shop.owner, tasks[0].id, 90, on=in_days(shop.owner, -1), staff_id=desk_key)
        job = bench.tasks_today(shop.technician)[0].job_id
        rows = bench.time_rows(shop.owner, job)
        assert [(r.who, r.minutes) for r in rows] == [("Ysolde Marchbank", 90), ("Bram Tollgate", 30)]
        assert rows[0].started_at.date() == in_days(shop.owner, -1)
        assert work_orders.task_lines(shop.owner, job)[0].clocked == 120

    @pytest.mark.parametrize(
        ("minutes", "more", "said"),
        [
            (0, {}, "between a minute and a day"),
            (1441, {}, "between a minute and a day"),
            (30, {"on": dt.date(2026, 9, 16)}, "a day to come"),
            (30, {"staff_id": 4711}, "no person 4711"),
        ],
    )
    def test_hours_that_cannot_be_are_refused(self, shop, tasks, minutes, more, said):
        with pytest.raises(Problem, match=said):
            bench.log_minutes(shop.technician, tasks[0].id, minutes, **more)


def test_notes_and_assignments_are_kept_and_narrow_the_day(shop):
    taken = agreed(shop)
    first, second = work_orders.task_lines(shop.owner, taken.job_id)[:2]
    bench.note(shop.technician, first.id, " mind the leg ")
    bench.assign(shop.owner, first.id, shop.owner.acting.staff_id)
    bench.assign(shop.owner, second.id, shop.technician.acting.staff_id)
    mine = bench.tasks_today(shop.technician, shop.technician.acting.staff_id)
    assert first.id not in {t.id for t in mine}
    assert second.id in {t.id for t in mine}
    everybody = bench.tasks_today(shop.technician)
    assert everybody[0].id == first.id  # what can be done now stands first
    assert everybody[0].note == "mind the leg"
    assert [bool(t.waits) for t in everybody] == sorted(bool(t.waits) for t in everybody)
    with pytest.raises(NotFound, match="no person 4711"):
        bench.assign(shop.owner, first.id, 4711)


class TestFoundMore:
    HALF_A_DAY = Spread(120, 240, 360)

    def found_more(self, shop, taken) -> int:
        return bench.find_more(shop.technician, taken.job_id, "Cracked manifold", self.HALF_A_DAY)

    def hand_task(self, shop, taken):
        return bench.job_tasks(shop.technician, taken.job_id)[-1]

    def test_waits_for_consent_and_is_then_done_and_billed(self, shop):
        taken = agreed(shop)
        change = self.found_more(shop, taken)
        task = self.hand_task(shop, taken)
        assert (task.name, [w.kind for w in task.waits]) == ("Cracked manifold", ["agreement"])
        assert held_of(shop.desk, taken)[0] == "answer"  # to be priced and asked
        with pytest.raises(Problem, match="agreement X-0001"):
            bench.tick(shop.technician, task.id)
        quote = quotes.quote_change(shop.desk, change)
        with pytest.raises(Problem, match="X-0001 is priced already"):
            quotes.quote_change(shop.desk, change)
        assert held_of(shop.desk, taken)[0] == "answer"
        agreements.agree(shop.desk, quote, who="Mr Ruiz", how="telephone", number_called="555 0142")
        assert "answer" not in held_of(shop.desk, taken)
        bench.tick(shop.technician, task.id)
        row = quotes.quotes(shop.desk, job_id=taken.job_id)[0]
        assert (row.number, row.step, row.net_cents, row.answer) == ("X-0001", "change", 38000, "agreed")

    def test_that_the_customer_declines_leaves_the_order_and_holds_nothing_up(self, shop):
        taken = agreed(shop)
        covered(shop, taken.job_id)
        quote = quotes.quote_change(shop.desk, self.found_more(shop, taken))
        agreements.decline(shop.desk, quote)
        assert "Cracked manifold" not in [t.name for t in bench.job_tasks(shop.technician, taken.job_id)]
        done(shop, taken.job_id)
        assert stage_of(shop.desk, taken) is Stage.PROVING
        assert checking.faults(shop.owner) == []

    def test_on_the_shop_s_own_range_needs_nobody_s_consent(self, shop):
        taken = owned(shop)
        self.found_more(shop, taken)
        task = self.hand_task(shop, taken)
        assert task.waits == ()
        bench.tick(shop.technician, task.id)

    def test_needs_words_and_a_work_order(self, shop):
        taken = agreed(shop)
        with pytest.raises(Problem, match="few words"):
            bench.find_more(shop.technician, taken.job_id, " ", self.HALF_A_DAY)
        with pytest.raises(Problem, match="no work order"):
            bench.find_more(shop.technician, 4711, "Cracked manifold", self.HALF_A_DAY)


def test_a_proof_before_the_work_it_speaks_for_stands_no_more(shop):
    taken = agreed(shop)
    job = taken.job_id
    covered(shop, job)
    prove(shop, job, "doors")
    prove(shop, job, "tightness-assembled")
    shop.clock.advance(minutes=1)
    done(shop, job)
    standing = {d.code for d in proofs.proofs_due(shop.owner, job) if d.stands}
    assert standing == {"doors"}


def test_a_dropped_task_is_neither_ticked_nor_clocked(shop):
    taken = owned(shop, "burner-valves.seized")
    task = next(
        t for t in work_orders.task_lines(shop.owner, taken.job_id)
        if any(c.code == "burner-valves.seized" for c in t.because)
    )  # fmt: skip
    walked(shop.owner, taken.job_id)
    change = work_orders.write_order(shop.owner, taken.job_id, Scope.MECHANICAL)
    assert task.name in change.gone
    for deed in (bench.tick, bench.clock_on):
        with pytest.raises(Problem, match="no longer on the work order"):
            deed(shop.technician, task.id)
