"""Hold points: flame, old insulation, the gas train and the teardown wait, for a tick and for a start."""

import pytest
from builders import (
    FOUR,
    covered,
    done,
    owned,
    prove,
    quoted,
    task_of,
    walked,
)

from shopdesk.demo.readings import readings_of
from shopdesk.domain.problem import Problem
from shopdesk.services import agreements, bench, laboratory, order_by_hand, proving, quotes, work_orders
from shopdesk.services.bench import job_tasks

LIT = "set-manifold-pressure"
TIGHT = "tightness-assembled"


def waits(shop, job, code):
    return {w.kind: w.what for w in next(t for t in job_tasks(shop.technician, job) if t.code == code).waits}


def tick(shop, job, code, share=100):
    shop.clock.advance(minutes=1)
    bench.tick(shop.technician, task_of(shop.owner, job, code).id, share)


def start(shop, job, code):
    return bench.clock_on(shop.technician, task_of(shop.owner, job, code).id)


@pytest.fixture
def assembled(shop):
    """A range of the shop's own, put together again, its leak test not on record yet."""
    job = owned(shop, *FOUR).job_id
    covered(shop, job)
    done(shop, job)
    tick(shop, job, "leak-test-assembled")
    return job


class TestFlame:
    def test_waits_for_a_recorded_proof_of_tightness_with_its_tick_and_its_clock(self, shop, assembled):
        for deed in (tick, start):
            with pytest.raises(Problem, match="lights something: no leak test of the assembled range is rec"):
                deed(shop, assembled, LIT)
        assert bench.running_clock(shop.technician) is None
        prove(shop, assembled, TIGHT)
        start(shop, assembled, LIT)
        tick(shop, assembled, LIT)

    def test_waits_when_the_last_leak_test_does_not_meet(self, shop, assembled):
        prove(shop, assembled, TIGHT)
        shop.clock.advance(minutes=1)
        form = proving.guide(shop.technician, assembled, TIGHT).form
        proving.prove(shop.technician, assembled, TIGHT, {**readings_of(form), "end_inwc": 2.0})
        with pytest.raises(Problem, match="the last leak test does not meet"):
            tick(shop, assembled, LIT)

    @pytest.mark.parametrize(
        ("deed", "why"),
        [
            (lambda shop, job: tick(shop, job, "service-valve", 0), "was worked on after the leak test"),
            (lambda shop, job: tick(shop, job, "service-valve", 50), "is begun and not finished"),
            (lambda shop, job: start(shop, job, "service-valve"), "was worked on after the leak test"),
        ],
        ids=["a tick taken back", "a tick in part", "a clock"],
    )
    def test_waits_again_after_work_on_the_gas_train(self, shop, assembled, deed, why):
        prove(shop, assembled, TIGHT)
        shop.clock.advance(minutes=1)
        deed(shop, assembled)
        assert waits(shop, assembled, LIT)["tightness"] == f"“Service a valve: strip, clean, grease” {why}"
        tick(shop, assembled, "service-valve")
        shop.clock.advance(minutes=1)
        assert "tightness" in waits(shop, assembled, LIT)
        prove(shop, assembled, TIGHT)
        assert "tightness" not in waits(shop, assembled, LIT)

    def test_does_not_wait_for_hours_written_down_afterwards(self, shop, assembled):
        prove(shop, assembled, TIGHT)
        shop.clock.advance(minutes=30)
        bench.log_minutes(shop.technician, task_of(shop.owner, assembled, "service-valve").id, 45)
        assert "tightness" not in waits(shop, assembled, LIT)

    def test_of_a_task_put_on_the_order_by_a_person_waits_too(self, shop, assembled):
        order_by_hand.add_known_task(shop.owner, assembled, "reset-thermostat-dial")
        with pytest.raises(Problem, match="lights something"):
            start(shop, assembled, "reset-thermostat-dial")


class TestLaboratory:
    def test_a_later_suspect_place_waits_for_an_answer_of_its_own(self, shop):
        job = owned(shop, *FOUR).job_id
        walked(shop.owner, job, *FOUR, suspected=True)
        work_orders.write_order(shop.owner, job)
        places = [p.code for p in laboratory.suspect_places(shop.owner, job)]
        assert len(places) > 2
        held = next(t for t in work_orders.task_lines(shop.owner, job) if "laboratory" in t.holds)
        with pytest.raises(Problem, match="Nobody judges old insulation by eye"):
            bench.clock_on(shop.technician, held.id)
        bench.answer_hold(shop.technician, job, "negative", "Demo laboratory 1", places=places[1:])
        assert "laboratory" in waits(shop, job, held.code)
        bench.answer_hold(shop.technician, job, "positive", "Demo laboratory 2", places=places[:1])
        assert waits(shop, job, held.code)["laboratory"] == "positive"
        bench.answer_hold(shop.technician, job, "negative", "Demo laboratory 3", places=places[:1])
        assert "laboratory" not in waits(shop, job, held.code)
        assert {p.answer for p in laboratory.suspect_places(shop.owner, job)} == {"negative"}
        with pytest.raises(Problem, match="Nothing waits for a laboratory at kitchen"):
            bench.answer_hold(shop.technician, job, "negative", "Demo laboratory 4", places=["kitchen"])

    def test_what_is_found_suspect_after_an_answer_holds_again(self, shop):
        job = owned(shop, *FOUR).job_id
        wool = next(f for f in shop.owner.catalogue.findings.values() if f.holds == "laboratory")
        walked(shop.owner, job, *FOUR, wool.code)
        work_orders.write_order(shop.owner, job)
        bench.answer_hold(shop.technician, job, "negative", "Demo laboratory 1")
        held = next(t for t in work_orders.task_lines(shop.owner, job) if "laboratory" in t.holds)
        assert "laboratory" not in waits(shop, job, held.code)
        walked(shop.owner, job, *FOUR, wool.code, suspected=True)
        work_orders.write_order(shop.owner, job)
        assert "laboratory" in waits(shop, job, held.code)

    def test_holds_a_task_put_on_the_order_by_a_person_and_a_split_part(self, shop):
        job = owned(shop).job_id
        order_by_hand.add_known_task(shop.owner, job, "take-out-insulation")
        assert "laboratory" not in task_of(shop.owner, job, "take-out-insulation").holds
        key = task_of(shop.owner, job, "take-out-insulation").id
        part = order_by_hand.split_task(shop.owner, key, "Behind the liner", bench.Spread(1, 2, 3))
        walked(shop.owner, job, *FOUR, suspected=True)
        work_orders.write_order(shop.owner, job)
        held = {t.id for t in work_orders.task_lines(shop.owner, job) if "laboratory" in t.holds}
        assert {key, part} <= held
        order_by_hand.add_known_task(shop.owner, job, "renew-well-insulation")
        assert "laboratory" in task_of(shop.owner, job, "renew-well-insulation").holds


class TestGasTrain:
    def test_a_seized_valve_is_freed_only_when_it_is_out(self, shop):
        job = owned(shop).job_id
        order_by_hand.add_known_task(shop.owner, job, "free-valve")
        done(shop, job, "intake")
        for deed in (tick, start):
            with pytest.raises(Problem, match=r"with the gas train out of the range: “Take out.*” is"):
                deed(shop, job, "free-valve")
        done(shop, job, "teardown")
        start(shop, job, "free-valve")
        tick(shop, job, "free-valve")

    def test_no_drill_and_no_heat_before_the_gas_is_off_and_capped(self, shop):
        job = owned(shop).job_id
        order_by_hand.add_known_task(shop.owner, job, "free-fasteners")
        for deed in (tick, start):
            with pytest.raises(Problem, match=r"gas to be off and capped: “Isolate.*licensed practice"):
                deed(shop, job, "free-fasteners")
        done(shop, job, "intake")
        start(shop, job, "free-fasteners")

    def test_what_was_put_back_since_is_off_no_longer(self, shop, assembled):
        order_by_hand.add_known_task(shop.owner, assembled, "free-gas-screw")
        assert set(waits(shop, assembled, "free-gas-screw")) >= {"gas-off", "gas-train-out"}
        for code in ("isolate-and-cap", "take-out-manifold"):
            tick(shop, assembled, code, 0)
            tick(shop, assembled, code)
        assert not {"gas-off", "gas-train-out"} & set(waits(shop, assembled, "free-gas-screw"))


def test_the_teardown_is_neither_ticked_nor_started_before_its_quote_is_agreed(shop):
    taken, _ = quoted(shop)
    job = taken.job_id
    start(shop, job, "receive-range")
    done(shop, job, "intake")
    for deed in (tick, start):
        with pytest.raises(Problem, match="waits for the customer's agreement"):
            deed(shop, job, "strip-loose-parts")
    agreements.agree(shop.desk, quotes.write_quote(shop.desk, job, "teardown"), who="Mr Ruiz", how="signed")
    start(shop, job, "strip-loose-parts")
    with pytest.raises(Problem, match="waits for the customer's agreement"):
        start(shop, job, "service-valve")
