"""The gas bench for a range, on both databases: inputs kept, conversions decided and put on the order."""

import pytest
from builders import agreed, owned, released, walked

from shopdesk.domain.problem import NotFound, Problem
from shopdesk.domain.work import Cause, CauseKind
from shopdesk.services import (
    change_orders,
    conversions,
    gas_bench,
    handovers,
    intake,
    order_difference,
    proofs,
    work_orders,
)
from shopdesk.services.jacket import jacket

LP = {"from_gas": "natural", "to_gas": "propane", **{f"spud_{n}": "42" for n in range(1, 7)}}


def test_inputs_are_kept_with_the_range_one_set_a_calculator(shop):
    taken = owned(shop)
    gas_bench.keep_inputs(
        shop.technician, taken.range_id, "clock", {"seconds": 60.0, "gas": "", "turns": None}
    )
    gas_bench.keep_inputs(shop.technician, taken.range_id, "clock", {"seconds": 30.0})
    gas_bench.keep_inputs(shop.technician, taken.range_id, "drill", {"input_btuh": 9000.0})
    found = gas_bench.bench_range(shop.owner, taken.range_id)
    assert found.inputs == {"clock": {"seconds": 30.0}, "drill": {"input_btuh": 9000.0}}
    assert found.burners[:2] == ("Left front burner", "Left rear burner")
    with pytest.raises(NotFound):
        gas_bench.keep_inputs(shop.technician, taken.range_id, "moon", {})
    with pytest.raises(NotFound):
        gas_bench.bench_range(shop.owner, 404)


@pytest.mark.parametrize(
    ("spuds", "house", "warned"),
    [
        ("town gas", "natural", "1.84 times"),
        ("Natural gas", "LP", "times its input"),
        ("propane", "natural", "starve, lift or go out"),
        ("natural", "natural", ""),
        ("", "natural", ""),
        ("whale oil", "natural", ""),
    ],
)
def test_spuds_lit_on_another_gas_are_warned_of_in_figures(spuds, house, warned):
    facts = dict.fromkeys(gas_bench.FACTS, "") | {"spuds_found": spuds, "house_gas": house}
    told = gas_bench.gas_warning(facts)
    assert (warned in str(told)) if warned else told is None


def test_a_conversion_needs_the_licensed_fitters_name_and_figures_that_work(shop):
    taken = owned(shop)
    with pytest.raises(Problem, match="fitter decides") as told:
        gas_bench.decide_conversion(shop.technician, taken.job_id, LP, " ")
    assert told.value.field == "decided_by"
    for wrong, field in (
        ({"from_gas": "natural", "to_gas": "natural", "spud_1": "42"}, "to_gas"),
        ({"from_gas": "natural", "to_gas": "propane"}, "spud_1"),
        ({**LP, "spud_2": "99"}, "spud_2"),
        ({**LP, "to_gas": "moon"}, "to_gas"),
        ({**LP, "pressure_inwc": 400.0}, "pressure_inwc"),
    ):
        with pytest.raises(Problem) as told:
            gas_bench.decide_conversion(shop.technician, taken.job_id, wrong, "M. Hale")
        assert told.value.field == field
    assert "change-gas-type" not in {t.code for t in work_orders.task_lines(shop.owner, taken.job_id)}


def test_a_conversion_puts_its_tasks_on_the_order_with_itself_as_their_cause(shop):
    taken = owned(shop)
    done = gas_bench.decide_conversion(shop.technician, taken.job_id, LP, "M. Hale", note="basement none")
    assert done.change_order == ""
    lines = {t.code: t for t in work_orders.task_lines(shop.owner, taken.job_id)}
    cause = Cause(CauseKind.CONVERSION, "natural gas to propane")
    for code in conversions.TASKS:
        assert cause in lines[code].because, code
    assert lines["change-gas-type"].name in done.added
    assert "input-rate" in {d.code for d in proofs.proofs_due(shop.owner, taken.job_id)}
    thread = next(
        t for t in jacket(shop.owner, taken.range_id).tasks if t.name == lines["change-gas-type"].name
    )
    assert "conversion: natural gas to propane" in thread.because
    assert not order_difference.preview_changes(shop.owner, taken.job_id)
    work_orders.write_order(shop.owner, taken.job_id)
    assert "change-gas-type" in {t.code for t in work_orders.task_lines(shop.owner, taken.job_id)}
    assert gas_bench.bench_range(shop.owner, taken.range_id).decided.startswith("Conversion, natural gas")


def test_after_an_agreement_a_conversion_is_a_change_order_that_waits_for_consent(shop):
    taken = agreed(shop)
    done = gas_bench.decide_conversion(shop.technician, taken.job_id, LP, "M. Hale")
    (change,) = change_orders.change_orders(shop.owner, job_id=taken.job_id, waiting=True)
    assert change.number == done.change_order
    assert change.minutes.likely > 0


def test_a_conversion_after_the_release_takes_it_back(shop):
    taken = released(shop)
    gas_bench.decide_conversion(shop.technician, taken.job_id, LP, "M. Hale")
    state = proofs.release_state(shop.owner, taken.job_id)
    assert not state.given
    with pytest.raises(Problem, match="no release that stands"):
        handovers.hand_over(shop.desk, taken.job_id)


def test_what_has_left_or_was_never_looked_over_is_not_converted(shop):
    taken = released(shop)
    handovers.hand_over(shop.desk, taken.job_id)
    with pytest.raises(Problem, match="no longer here"):
        gas_bench.decide_conversion(shop.technician, taken.job_id, LP, "M. Hale")
    fresh = intake.take_on(shop.owner, intake.RangeDraft(maker="Corvane"), intake.JobDraft())
    with pytest.raises(Problem, match="has no walk-round yet"):
        gas_bench.decide_conversion(shop.technician, fresh.job_id, LP, "M. Hale")
    assert gas_bench.bench_range(shop.owner, fresh.range_id).decided == ""
    walked(shop.owner, fresh.job_id)
    gas_bench.decide_conversion(shop.technician, fresh.job_id, LP, "M. Hale")
    assert "change-gas-type" in {t.code for t in work_orders.task_lines(shop.owner, fresh.job_id)}


def test_the_desk_decides_no_conversion(shop):
    taken = owned(shop)
    with pytest.raises(Problem, match="may not record a conversion"):
        gas_bench.decide_conversion(shop.desk, taken.job_id, LP, "M. Hale")
