"""Whatever is done in whatever order, no release stands without the proofs nobody may sign away."""

from collections.abc import Callable

from builders import Shop, agreed, covered, done, proved
from hypothesis import given, settings
from hypothesis import strategies as st

from shopdesk.demo.readings import readings_of
from shopdesk.domain.problem import Problem
from shopdesk.domain.proving import Result
from shopdesk.services import (
    bench,
    cautions,
    gas_bench,
    handovers,
    intake,
    proofs,
    proving,
    work_orders,
)
from shopdesk.services.intake import Taken
from shopdesk.services.jacket import jacket

NEVER_SIGNED = (
    "tightness-bench",
    "tightness-assembled",
    "gas-identity",
    "safety-shutoff",
    "co-oven",
    "electrical",
)
BAD = {
    "tightness-bench": {"end_inwc": 11.0},
    "tightness-assembled": {"detector": "reads"},
    "gas-identity": {"house_gas": "propane"},
    "safety-shutoff": {"limit_s": None},
    "co-oven": {"room_ppm": 60.0},
    "electrical": {"megohm": 0.1},
    "doors": {"tried": 0.0},
}
Act = Callable[[Shop, Taken], object]


def make(kind: str, *, bad: bool) -> Act:
    def act(shop: Shop, taken: Taken) -> None:
        guide = proving.guide(shop.technician, taken.job_id, kind)
        values = {**readings_of(guide.form), **(BAD[kind] if bad else {})}
        seen = Result.MEETS if guide.form.by_eye else None
        proving.prove(shop.technician, taken.job_id, kind, values, seen=seen)

    return act


def tick(code: str, share: int) -> Act:
    def act(shop: Shop, taken: Taken) -> None:
        task = next(t for t in work_orders.task_lines(shop.owner, taken.job_id) if t.code == code)
        cautions.acknowledge(shop.technician, task.id)
        bench.tick(shop.technician, task.id, share)

    return act


def wired(lamp: bool) -> Act:
    def act(shop: Shop, taken: Taken) -> None:
        found = intake.described(shop.owner, taken.range_id)
        intake.describe(
            shop.owner,
            taken.range_id,
            intake.RangeDraft(maker=found.maker, build=type(found.build)(lamp=lamp)),
        )

    return act


def convert(shop: Shop, taken: Taken) -> None:
    inputs = {"from_gas": "natural", "to_gas": "propane", "spud_1": "42"}
    gas_bench.decide_conversion(shop.technician, taken.job_id, inputs, "M. Hale")


def sign_all(shop: Shop, taken: Taken) -> None:
    """The owner signs for everything there is, the grave ones too."""
    everything = dict.fromkeys(shop.owner.catalogue.proofs, "it looks good")
    proofs.release(shop.owner, taken.job_id, without=everything)


ACTS: dict[str, Act] = {
    **{f"good {kind}": make(kind, bad=False) for kind in BAD},
    **{f"bad {kind}": make(kind, bad=True) for kind in BAD},
    "work on the gas train": tick("refit-gas-train", 100),
    "take that back": tick("refit-gas-train", 0),
    "service the valves": tick("service-valve", 100),
    "take the valves back": tick("service-valve", 0),
    "put a lamp in": wired(True),
    "take the lamp out": wired(False),
    "prove all": lambda shop, taken: proved(shop, taken.job_id),
    "write the order again": lambda shop, taken: work_orders.write_order(shop.owner, taken.job_id),
    "move it": lambda shop, taken: handovers.moved(shop.technician, taken.job_id, "bay 2"),
    "convert it": convert,
    "release it": lambda shop, taken: proofs.release(shop.owner, taken.job_id),
    "sign for all": sign_all,
    "hand it over": lambda shop, taken: handovers.hand_over(shop.desk, taken.job_id),
}


def grave_ones_missing(shop: Shop, taken: Taken) -> tuple[str, ...]:
    return proofs.release_state(shop.owner, taken.job_id).blocking


@settings.get_profile("databases")
@given(acts=st.lists(st.sampled_from(sorted(ACTS)), min_size=4, max_size=14))
def test_no_sequence_of_acts_lets_a_range_go_without_a_proof_that_cannot_be_signed_away(shop, acts):
    taken = agreed(shop)
    covered(shop, taken.job_id)
    done(shop, taken.job_id)
    proved(shop, taken.job_id)
    for act in acts:
        shop.clock.advance(minutes=7)
        before = grave_ones_missing(shop, taken)
        here = jacket(shop.owner, taken.range_id, taken.job_id).gone_on is None
        try:
            ACTS[act](shop, taken)
        except Problem:
            continue
        if act in ("release it", "sign for all"):
            assert not before, f"released without {before}"
        if act == "hand it over" and here:
            assert not before, f"left without {before}"
        if act not in ("put a lamp in", "take the lamp out") and here:
            state = proofs.release_state(shop.owner, taken.job_id)
            gone = jacket(shop.owner, taken.range_id, taken.job_id).gone_on is not None
            assert gone or not (state.given and state.blocking), f"after {act}: {state.blocking}"


def test_each_grave_proof_by_itself_holds_the_range_back(shop):
    taken = agreed(shop)
    covered(shop, taken.job_id)
    done(shop, taken.job_id)
    proved(shop, taken.job_id)
    for kind in NEVER_SIGNED:
        shop.clock.advance(minutes=5)
        make(kind, bad=True)(shop, taken)
        for leave in ("release it", "sign for all", "hand it over"):
            try:
                ACTS[leave](shop, taken)
            except Problem:
                continue
            raise AssertionError(f"{leave} with {kind} not standing")
        shop.clock.advance(minutes=5)
        make(kind, bad=False)(shop, taken)
        if kind == "gas-identity":
            assert jacket(shop.owner, taken.range_id).described.house_gas == "natural gas"
    proofs.release(shop.owner, taken.job_id)
    assert proofs.release_state(shop.owner, taken.job_id).given
