"""The shipped tasks, proofs, cautions, accessories and figures, read as plain TOML."""

import re
import tomllib
from decimal import Decimal
from functools import cache
from graphlib import TopologicalSorter

import pytest

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Figures, Scope
from shopdesk.paths import resource

STAGES = ("intake", "teardown", "repair", "refit", "proving", "delivery")
STATIONS = {"bench", "bay", "blasting", "oven", "office", "site"}
SKILLS = {"helper", "bench", "gas", "electrical", "desk", "owner", "licensed"}
FEATURES = {"broiler", "griddle", "lamp", "clock", "outlet", "shelf", "window", "thermostat", "fold top",
            "deep well", "electrical", "two ovens", "oven pilot"}  # fmt: skip
NEVER_SIGNED_AWAY = {"tightness-bench", "tightness-assembled", "gas-identity", "safety-shutoff", "co-oven",
                     "co-burners", "electrical", "at-home"}  # fmt: skip

# What opens a joint of the gas train in the shop, off the range or on it. Common practice, no source.
OPENS_ON_THE_BENCH = [
    "take-out-manifold", "baseline-tightness", "service-valve", "free-valve", "free-gas-screw",
    "re-lap-valve", "replace-valve", "gauge-spuds", "change-gas-type", "replace-gas-line",
    "replace-manifold-pipe", "clean-pilot-lines", "re-pack-stem", "service-top-pilot",
    "grease-thermostat-plug", "send-thermostat-out", "replace-thermostat", "service-safety-pilot",
    "replace-sensing-element", "rebuild-safety-valve", "add-safety-pilot", "replace-oven-pilot",
    "refit-gas-train",
]  # fmt: skip
OPENS_ON_THE_RANGE = ["isolate-and-cap", "fit-regulator", "new-inlet-elbow", "service-well-burner"]
OPENS_AT_HOME = ["connect-by-fitter", "prove-at-home"]


@cache
def read(name: str) -> dict[str, object]:
    with resource("catalogue", name).open("rb") as file:
        return tomllib.load(file, parse_float=Decimal)


@cache
def tasks() -> dict[str, dict]:
    found: dict[str, dict] = {}
    for path in sorted(resource("catalogue", "tasks").glob("*.toml")):
        with path.open("rb") as file:
            for task in tomllib.load(file, parse_float=Decimal)["task"]:
                assert task["code"] not in found, f"{path.name} names {task['code']} a second time"
                found[task["code"]] = task
    return found


def entries(name: str, key: str) -> dict[str, dict]:
    listed = read(name)[key]
    coded = {entry["code"]: entry for entry in listed}
    assert len(coded) == len(listed)
    return coded


def earlier() -> dict[str, set[str]]:
    """For each task what must stand before it: needs, after, and what pulled it in by `then`."""
    before: dict[str, set[str]] = {code: set() for code in tasks()}
    for code, task in tasks().items():
        before[code].update(task.get("needs", []), task.get("after", []))
        for later in task.get("then", []):
            before[later].add(code)
    return before


def everything_before(code: str) -> set[str]:
    before, seen, ahead = earlier(), set[str](), [code]
    while ahead:
        for other in before[ahead.pop()] - seen:
            seen.add(other)
            ahead.append(other)
    return seen


def pulled_in(codes: set[str]) -> set[str]:
    seen, ahead = set[str](), list(codes)
    while ahead:
        code = ahead.pop()
        if code not in seen:
            seen.add(code)
            ahead += [*tasks()[code].get("needs", []), *tasks()[code].get("then", [])]
    return seen


def routine(scope: Scope, build: Build) -> set[str]:
    return {
        code
        for code, task in tasks().items()
        if "routine" in task
        and Scope(task["routine"]).rank <= scope.rank
        and set(task.get("applies", [])) <= build.features
    }


def test_there_are_enough_of_each() -> None:
    assert len(tasks()) >= 165
    assert len(entries("proofs.toml", "proof")) == 17
    assert len(entries("cautions.toml", "caution")) >= 15
    assert len(entries("accessories.toml", "accessory")) >= 12
    assert len(read("phrases.toml")["phrases"]) >= 20


@pytest.mark.parametrize("field", ["needs", "after", "then"])
def test_every_task_named_by_another_exists(field: str) -> None:
    for code, task in tasks().items():
        named = task.get(field, [])
        assert set(named) <= set(tasks()), code
        assert len(set(named)) == len(named), code
        assert code not in named


def test_every_proof_and_hazard_named_exists() -> None:
    proofs, cautions = entries("proofs.toml", "proof"), entries("cautions.toml", "caution")
    for code, task in tasks().items():
        assert set(task.get("proofs", [])) <= set(proofs), code
        assert set(task.get("hazards", [])) <= set(cautions), code
    for code, proof in proofs.items():
        assert set(proof["hazards"]) <= set(cautions), code


def test_every_proof_and_caution_is_used() -> None:
    used = {p for task in tasks().values() for p in task.get("proofs", [])}
    assert used == set(entries("proofs.toml", "proof"))
    minded = {h for task in tasks().values() for h in task.get("hazards", [])}
    assert minded == set(entries("cautions.toml", "caution"))


def test_the_words_of_a_task_are_known() -> None:
    for code, task in tasks().items():
        assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", code)
        assert task["stage"] in STAGES, code
        assert task["station"] in STATIONS, code
        assert task["skills"], code
        assert set(task["skills"]) <= SKILLS, code
        assert set(task.get("applies", [])) <= FEATURES, code
        assert 0 < len(task["name"]) <= 60, code


def test_names_are_told_apart() -> None:
    names = [task["name"] for task in tasks().values()]
    assert len(set(names)) == len(names)


def test_figures_run_from_low_to_high() -> None:
    for code, task in tasks().items():
        spreads = [task["hours"], *(part["each"] for part in task.get("parts", []))]
        if "outwork" in task:
            spreads += [task["outwork"]["each"], task["outwork"]["days"]]
        for spread in spreads:
            low, likely, high = (Decimal(figure) for figure in spread)
            assert 0 <= low <= likely <= high, code
        assert Decimal(task["hours"][0]) * 60 == int(Decimal(task["hours"][0]) * 60), code


def test_no_task_waits_for_itself_in_a_circle() -> None:
    order = list(TopologicalSorter(earlier()).static_order())
    assert len(order) == len(tasks())


def test_no_task_waits_for_a_later_stage() -> None:
    stage = {code: STAGES.index(task["stage"]) for code, task in tasks().items()}
    for code, before in earlier().items():
        late = [other for other in before if stage[other] > stage[code]]
        assert late == [], f"{code} waits for {late}"


def test_what_is_taken_off_is_put_back() -> None:
    for code in tasks():
        if code.startswith(("take-off-", "strip-loose")) or code in (
            "take-out-griddle-gear",
            "take-out-wiring",
        ):
            assert any(t.startswith("refit-") for t in tasks()[code]["then"]), code
    assert "refit-gas-train" in tasks()["take-out-manifold"]["then"]
    assert "refit-liner" in tasks()["take-out-liner"]["then"]
    assert "fit-oven-insulation" in tasks()["take-out-insulation"]["then"]


def test_the_gas_train_goes_back_after_all_that_was_done_to_it_on_the_bench() -> None:
    before = everything_before("refit-gas-train")
    assert set(OPENS_ON_THE_BENCH) - {"refit-gas-train"} <= before


@pytest.mark.parametrize("code", OPENS_ON_THE_BENCH)
def test_gas_parts_opened_on_the_bench_are_proven_there_and_again_assembled(code: str) -> None:
    assert {"tightness-bench", "tightness-assembled"} <= set(tasks()[code]["proofs"])
    assert "leak-test-assembled" in pulled_in({code})
    assert code == "refit-gas-train" or code in everything_before("bench-tightness")


@pytest.mark.parametrize("code", OPENS_ON_THE_RANGE)
def test_gas_joints_opened_on_the_range_are_proven_assembled(code: str) -> None:
    assert "tightness-assembled" in tasks()[code]["proofs"]
    assert code in everything_before("leak-test-assembled")


@pytest.mark.parametrize("code", OPENS_AT_HOME)
def test_gas_joints_opened_in_the_kitchen_are_proven_there(code: str) -> None:
    assert "at-home" in tasks()[code]["proofs"]
    assert tasks()[code]["skills"] == ["licensed"]


@pytest.mark.parametrize(
    ("code", "name"),
    [
        ("rewire-lamp", "Rewire the lamp"),
        ("free-valve", "Free the valve"),
        ("bracket-broiler-screw", "Bracket the broiler screw"),
        ("season-oven-floor", "Season the oven floor"),
    ],
)
def test_four_tasks_bear_the_names_the_bench_knows_them_by(code: str, name: str) -> None:
    assert tasks()[code]["name"] == name


def test_a_seized_valve_is_freed_on_the_bench_without_flame_or_force() -> None:
    for code in ("free-valve", "free-gas-screw"):
        task = tasks()[code]
        assert "take-out-manifold" in task["needs"]
        assert "free-fasteners" not in pulled_in({code})
        assert "gas" in task["hazards"]
        assert "hot-work" not in task["hazards"]
        assert code in everything_before("bench-tightness")
    assert {"tightness-bench", "tightness-assembled", "valves"} <= set(tasks()["free-valve"]["proofs"])
    assert "never forced" in tasks()["free-valve"]["advice"]


def test_the_laboratory_comes_before_anything_that_touches_old_fibre() -> None:
    touching = [
        "clear-rodent-waste",
        "take-off-panels",
        "take-off-doors",
        "take-out-liner",
        "take-out-wiring",
        "take-out-insulation",
        "renew-door-gasket",
        "rewire-harness",
        "rewire-lamp",
        "new-cord",
        "fit-door-insulation",
        "renew-well-insulation",
        "strip-donor",
        "dispose-of-shell",
    ]
    for code in touching:
        assert "sample-insulation" in pulled_in({code}), code
        assert "sample-insulation" in everything_before(code), code
        assert "asbestos" in tasks()[code]["hazards"], code
    assert tasks()["sample-insulation"]["outwork"]["trade"] == "laboratory"


def test_what_lights_something_waits_for_the_leak_test() -> None:
    for code, task in tasks().items():
        if (
            "flame" in task.get("hazards", [])
            and task["stage"] == "proving"
            and code != "repeat-leak-test-hot"
        ):
            assert "leak-test-assembled" in everything_before(code), code
            assert task["skills"] == ["gas"], code


def test_only_what_lights_something_bears_the_lighting_hazards_before_delivery() -> None:
    """Work that may make carbon monoxide later is `combustion`; it must not wait for a leak test."""
    for code, task in tasks().items():
        lit = {"flame", "carbon-monoxide"} & set(task.get("hazards", []))
        assert not lit or task["stage"] in ("intake", "proving", "delivery"), code


def test_seasoning_waits_for_tightness_and_carbon_monoxide() -> None:
    before = everything_before("season-oven-floor")
    assert {"leak-test-assembled", "measure-carbon-monoxide"} <= before
    assert {"smoke", "oily-rags", "heat"} <= set(tasks()["season-oven-floor"]["hazards"])


def test_electrolysis_and_wheels_carry_their_hazards() -> None:
    assert {"hydrogen", "mains", "chromium"} <= set(tasks()["strip-castings"]["hazards"])
    assert "never stainless" in tasks()["strip-castings"]["advice"]
    assert "wheels" in tasks()["polish-aluminium"]["hazards"]


def test_hot_work_stands_after_the_gas_parts_are_off() -> None:
    for code in ("weld-patch", "repair-base-frame"):
        assert "take-out-manifold" in everything_before(code)


def test_safety_proofs_cannot_be_signed_away() -> None:
    proofs = entries("proofs.toml", "proof")
    assert {code for code, proof in proofs.items() if not proof["signable"]} == NEVER_SIGNED_AWAY
    assert [p["order"] for p in proofs.values()] == list(range(1, 18))
    assert [code for code, proof in proofs.items() if proof.get("at_home")] == ["at-home"]


def test_every_proof_that_is_always_due_has_a_routine_task_taking_it() -> None:
    proofs = entries("proofs.toml", "proof")
    build = Build(lamp=True)
    taken = {
        p for code in pulled_in(routine(Scope.MECHANICAL, build)) for p in tasks()[code].get("proofs", [])
    }
    always = {code for code, proof in proofs.items() if proof.get("always")}
    assert always <= taken
    assert all(set(proof["applies"]) <= FEATURES for proof in proofs.values())


def test_every_proof_says_where_its_figure_comes_from() -> None:
    for code, proof in entries("proofs.toml", "proof").items():
        assert all(proof[field] for field in ("basis", "readings", "how", "meets")), code
    assert "cannot tell" in entries("proofs.toml", "proof")["safety-shutoff"]["meets"].lower()


def test_the_mechanical_routine_of_the_commonest_range_is_20_to_28_hours() -> None:
    """Near the 29 h of a mechanical-only job with its findings. Common practice, no source."""
    build = Build()
    own = routine(Scope.MECHANICAL, build)
    counts = {"valve": build.valves, "burner": build.burners}
    hours = sum(
        Decimal(tasks()[code]["hours"][1])
        * (counts.get(tasks()[code].get("per", ""), 1) if code in own else 1)
        for code in pulled_in(own)
    )
    assert 20 <= hours <= 28


def test_a_larger_scope_does_all_that_a_smaller_one_does_and_sends_nothing_but_samples_out() -> None:
    build = Build(lamp=True, griddle=True, deep_well=True)
    mechanical, everyday, show = (pulled_in(routine(scope, build)) for scope in Scope)
    assert mechanical < everyday < show
    assert {code for code in show if "outwork" in tasks()[code]} == {"sample-insulation"}


def test_the_figures_fill_every_field() -> None:
    figures = read("figures.toml")
    assert set(figures) == set(Figures.__slots__)
    assert set(figures["finished"]) == set(Scope)
    likely = [Decimal(figures["finished"][scope][1]) for scope in Scope]
    assert likely == sorted(likely)
    assert Decimal(figures["unrestored"][1]) < likely[0]  # a fraction of a restored one
    assert set(figures["feature_worth"]) <= FEATURES | {"burners6"}


def test_one_accessory_alone_brings_two_hundred() -> None:
    worth = [Decimal(a["worth"][0]) for a in entries("accessories.toml", "accessory").values()]
    assert max(worth) >= 200


def test_nothing_is_called_safe() -> None:
    """Only the names of parts: safety pilot, safety valve, safety shut-off."""
    for path in resource("catalogue").rglob("*.toml"):
        text = path.read_text(encoding="utf-8").lower()
        assert not re.search(r"\bsafe(ly|r|st)?\b", text), path.name
