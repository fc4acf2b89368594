"""From findings to the order: merging, counting, causes, order, holds, changes."""

import networkx as nx
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from small_catalogue import (
    a_catalogue,
    a_checkpoint,
    a_finding,
    a_proof,
    a_task,
    found,
    looks,
)

from shopdesk import paths
from shopdesk.domain.answers import Answer
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import OutworkUse, PartUse, Scope, Way
from shopdesk.domain.catalogue.reading import read_catalogue
from shopdesk.domain.estimate import network_of
from shopdesk.domain.estimate.critical import activities
from shopdesk.domain.money import Spread
from shopdesk.domain.problem import Problem
from shopdesk.domain.work import CauseKind, changes, plan_work, proofs_due
from shopdesk.domain.work.roots import finding_root

SHIPPED = read_catalogue(paths.resource("catalogue"))
FOUR = (
    "lamp-cord.frayed",
    "burner-valves.seized",
    "broiler-screws.pulled-through",
    "oven-floor.worn",
)
LAMP_RANGE = Build(lamp=True, griddle=True, deep_well=True)

slow = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))


def planned(catalogue, *answers, scope=Scope.MECHANICAL, build=LAMP_RANGE):
    return plan_work(catalogue, build, answers, scope)


def small(**extra):
    """Two checkpoints whose findings share the taking off of the top."""
    tasks = [
        a_task("take-off-top", stage="teardown", then=("refit-top",)),
        a_task(
            "mend-burner", per="burner", needs=("take-off-top",), parts=(PartUse("clip", Spread(1, 2, 3)),)
        ),
        a_task("mend-valve", per="valve", needs=("take-off-top",)),
        a_task("refit-top", stage="refit"),
        *extra.get("tasks", ()),
    ]
    checkpoints = [
        a_checkpoint(
            "burner", a_finding("burner.bent", "mend-burner"), a_finding("burner.split", "mend-burner")
        ),
        a_checkpoint("valve", a_finding("valve.stiff", "mend-valve"), zone="oven"),
        *extra.get("checkpoints", ()),
    ]
    return a_catalogue(checkpoints, tasks, proofs=extra.get("proofs", ()))


def causes(order, code):
    return [cause.label for cause in order.task(code).because]


def test_shared_work_is_done_once_and_keeps_every_cause():
    order = planned(small(), found("burner.bent"), found("valve.stiff"))
    assert order.codes == ("take-off-top", "mend-burner", "mend-valve", "refit-top")
    assert causes(order, "take-off-top") == ["mend-burner", "mend-valve"]
    assert order.findings_behind("refit-top") == ("burner.bent", "valve.stiff")


def test_pieces_are_summed_and_parts_grow_with_them():
    order = planned(small(), found("burner.bent", 2), found("burner.split", 1))
    task = order.task("mend-burner")
    assert task.count == 3
    assert task.minutes == Spread(90, 180, 360)
    assert task.parts_cents == Spread(3, 6, 9)
    assert causes(order, "mend-burner") == ["burner.bent", "burner.split"]


def test_no_more_pieces_are_worked_on_than_the_range_has():
    assert planned(small(), found("burner.bent", 9)).task("mend-burner").count == LAMP_RANGE.burners


def test_routine_covers_every_piece_and_findings_are_not_added_on_top():
    routine = a_task("grease-valve", per="valve", routine=Scope.MECHANICAL)
    checkpoint = a_checkpoint("stem", a_finding("stem.dry", "grease-valve"))
    order = planned(small(tasks=[routine], checkpoints=[checkpoint]), found("stem.dry", 3))
    assert order.task("grease-valve").count == LAMP_RANGE.valves
    assert causes(order, "grease-valve") == ["stem.dry", "routine"]


def test_routine_of_a_larger_scope_is_not_on_a_smaller_order():
    catalogue = small(tasks=[a_task("polish", routine=Scope.SHOW)])
    assert "polish" not in planned(catalogue).codes
    assert "polish" in planned(catalogue, scope=Scope.SHOW).codes


def test_routine_of_a_feature_the_range_has_not_is_not_on_its_order():
    catalogue = small(tasks=[a_task("wind", routine=Scope.MECHANICAL, applies=frozenset({"clock"}))])
    assert "wind" not in planned(catalogue).codes
    assert "wind" in planned(catalogue, build=Build(clock=True)).codes


def test_repair_donor_and_new_are_one_choice():
    ways = (
        Way("repair", Scope.MECHANICAL, ("mend-valve",)),
        Way("new", Scope.SHOW, ("fit-new",)),
    )
    catalogue = small(
        tasks=[a_task("fit-new")],
        checkpoints=[a_checkpoint("cock", a_finding("cock.worn", ways=ways))],
    )
    assert "fit-new" not in planned(catalogue, found("cock.worn")).codes
    assert "mend-valve" not in planned(catalogue, found("cock.worn"), scope=Scope.SHOW).codes
    chosen = planned(catalogue, found("cock.worn", way="new")).codes
    assert "fit-new" in chosen
    assert "mend-valve" not in chosen


def test_a_finding_beyond_the_scope_is_left_and_named():
    catalogue = small(
        tasks=[a_task("polish")],
        checkpoints=[a_checkpoint("skin", a_finding("skin.dull", "polish", scope=Scope.EVERYDAY))],
    )
    order = planned(catalogue, found("skin.dull"))
    assert order.left == ("skin.dull",)
    assert order.codes == ()


def test_after_binds_only_when_both_are_there():
    points = [
        a_checkpoint("one", a_finding("one.bad", "first")),
        a_checkpoint("two", a_finding("two.bad", "second")),
    ]
    catalogue = small(tasks=[a_task("first"), a_task("second", after=("first",))], checkpoints=points)
    assert planned(catalogue, found("two.bad")).task("second").after == ()
    assert planned(catalogue, found("two.bad"), found("one.bad")).codes == ("first", "second")


def test_putting_back_stands_after_everything_that_needed_the_piece_off():
    order = planned(small(), found("burner.bent"), found("valve.stiff"))
    assert set(order.task("refit-top").after) == {"take-off-top", "mend-burner", "mend-valve"}


def test_what_leads_to_outwork_comes_first_in_its_stage():
    plating = OutworkUse("plater", Spread(1, 2, 3), Spread(10, 30, 90))
    catalogue = small(
        tasks=[
            a_task("take-off-trim", stage="teardown"),
            a_task("plate-trim", needs=("take-off-trim",), outwork=plating),
        ],
        checkpoints=[a_checkpoint("trim", a_finding("trim.worn", "plate-trim"))],
    )
    order = planned(catalogue, found("burner.bent"), found("trim.worn"))
    assert order.codes == ("take-off-trim", "take-off-top", "plate-trim", "mend-burner", "refit-top")


def test_tasks_in_a_circle_are_a_problem_that_names_them():
    catalogue = a_catalogue(
        [a_checkpoint("one", a_finding("one.bad", "a"))],
        [a_task("a", needs=("b",)), a_task("b", needs=("a",))],
    )
    with pytest.raises(Problem, match="a, b"):
        planned(catalogue, found("one.bad"))


def test_nothing_is_lit_before_the_tightness_of_the_assembled_range_is_proven():
    catalogue = small(
        tasks=[
            a_task("light-up", stage="proving", hazards=("flame",), routine=Scope.MECHANICAL),
            a_task("soap", stage="proving", proofs=("tightness-assembled",), routine=Scope.MECHANICAL),
        ]
    )
    order = planned(catalogue)
    assert order.codes == ("soap", "light-up")
    assert order.task("light-up").holds == ("agreement", "tightness")


def test_suspect_material_holds_what_would_disturb_it_until_a_laboratory_answers():
    catalogue = suspect_catalogue()
    order = planned(catalogue, found("wool.suspect"), found("burner.bent"))
    assert order.task("open-oven").holds == ("agreement", "laboratory")
    assert "laboratory" not in order.task("mend-burner").holds
    hold = next(h for h in order.holds if h.code == "laboratory")
    assert [c.label for c in hold.because] == ["wool.suspect"]


def test_suspect_material_that_nobody_saw_is_held_and_sampled_too():
    order = planned(suspect_catalogue(), found("oven.dirty"))
    hold = next(h for h in order.holds if h.code == "laboratory")
    assert [(c.kind, c.code) for c in hold.because] == [(CauseKind.NOT_SEEN, "wool")]
    assert order.codes[0] == "sample"
    assert order.task("sample").because[0].kind is CauseKind.NOT_SEEN


def test_suspect_material_seen_not_to_be_there_holds_nothing():
    order = planned(suspect_catalogue(), found("oven.dirty"), Answer("wool"))
    assert [h.code for h in order.holds] == ["agreement"]
    assert "sample" not in order.codes


def suspect_catalogue():
    laboratory = OutworkUse("laboratory", Spread(10, 20, 30), Spread(2, 5, 10))
    return small(
        tasks=[
            a_task("sample", stage="intake", outwork=laboratory, hazards=("asbestos",)),
            a_task("open-oven", stage="teardown", hazards=("asbestos",), after=("sample",)),
        ],
        checkpoints=[
            a_checkpoint("wool", a_finding("wool.suspect", "sample", "open-oven", holds="laboratory")),
            a_checkpoint("oven", a_finding("oven.dirty", "open-oven")),
        ],
    )


def test_proofs_due_are_those_of_every_range_and_those_the_work_reopens():
    catalogue = small(
        tasks=[a_task("rewire", proofs=("electrical",))],
        checkpoints=[a_checkpoint("cord", a_finding("cord.frayed", "rewire"))],
        proofs=[
            a_proof("electrical", 3, applies=frozenset({"electrical"})),
            a_proof("tightness", 1, always=True),
            a_proof("thermostat", 2),
        ],
    )
    order = planned(catalogue, found("cord.frayed"))
    assert [p.code for p in proofs_due(catalogue, LAMP_RANGE, order.tasks)] == ["tightness", "electrical"]
    assert [p.code for p in proofs_due(catalogue, Build(), order.tasks)] == ["tightness"]


def test_a_second_walk_shows_what_is_added_gone_and_changed():
    catalogue = small()
    old = planned(catalogue, found("burner.bent", 1))
    new = planned(catalogue, found("burner.bent", 2), found("valve.stiff"))
    difference = changes(old.tasks, new.tasks)
    assert [t.code for t in difference.added] == ["mend-valve"]
    assert difference.gone == ()
    by_code = {change.new.code: change for change in difference.changed}
    assert by_code["mend-burner"].fields == ("count", "minutes", "parts")
    assert [c.label for c in by_code["take-off-top"].causes_added] == ["mend-valve"]
    assert [t.code for t in changes(new.tasks, old.tasks).gone] == ["mend-valve"]


def test_the_same_order_twice_has_no_difference():
    order = planned(SHIPPED, *map(found, FOUR))
    assert not changes(order.tasks, planned(SHIPPED, *map(found, FOUR)).tasks)


def test_the_four_findings_bring_their_tasks_each_after_what_it_needs():
    # Corrective work for these findings: common practice, no source.
    order = planned(SHIPPED, *map(found, FOUR))
    place = {code: n for n, code in enumerate(order.codes)}
    for code, finding in zip(
        ("rewire-lamp", "free-valve", "bracket-broiler-screw", "season-oven-floor"), FOUR, strict=True
    ):
        assert finding in causes(order, code)
    assert place["free-valve"] < place["bench-tightness"] < place["leak-test-assembled"]
    assert "tightness-bench" in order.task("free-valve").proofs
    assert place["measure-carbon-monoxide"] < place["season-oven-floor"]
    assert place["isolate-and-cap"] < place["take-out-manifold"] < place["free-valve"]
    assert_valid(order)


def assert_valid(order):
    place = {code: n for n, code in enumerate(order.codes)}
    for task in order.tasks:
        for earlier in task.after:
            assert place[earlier] < place[task.code], (earlier, task.code)


def test_every_finding_of_the_catalogue_alone_gives_a_valid_order_in_every_scope():
    build = Build(
        lamp=True,
        griddle=True,
        deep_well=True,
        clock=True,
        outlet=True,
        shelf=True,
        fold_top=True,
        window=True,
    )
    for scope in Scope:
        for code in SHIPPED.findings:
            order = planned(SHIPPED, found(code), scope=scope, build=build)
            assert_valid(order)


@slow
@given(looks(SHIPPED), st.sampled_from(list(Scope)), st.booleans())
def test_any_order_is_valid_loses_no_cause_and_is_the_same_again(look, scope, bare):
    order = plan_work(SHIPPED, look.build, look.answers, scope, bare)
    assert_valid(order)
    graph = nx.DiGraph((b, t.code) for t in order.tasks for b in t.after)
    assert nx.is_directed_acyclic_graph(graph)
    assert len(set(order.codes)) == len(order.codes)
    assert plan_work(SHIPPED, look.build, tuple(reversed(look.answers)), scope, bare) == order
    for task in order.tasks:
        assert task.because
        for needed in SHIPPED.tasks[task.code].needs:
            if SHIPPED.tasks[needed].applies <= look.build.features:
                assert needed in task.after
    if not bare:
        for answer in look.found:
            root = finding_root(SHIPPED.findings[answer.finding], scope, answer.extent, answer.way)
            for code in root.tasks if root else ():
                assert answer.finding in causes(order, code)
                assert answer.finding in order.findings_behind(code)


@slow
@given(looks(SHIPPED), st.sampled_from(list(Scope)))
def test_the_critical_path_of_an_order_is_its_longest_chain(look, scope):
    order = plan_work(SHIPPED, look.build, look.answers, scope)
    timed = activities(order.tasks)
    duration = {a.code: a.duration for a in timed}
    graph = nx.DiGraph()
    graph.add_nodes_from([*duration, "end"])
    for a in timed:
        graph.add_edge(a.code, "end", weight=a.duration)
        graph.add_edges_from((b, a.code, {"weight": duration[b]}) for b in a.after)
    assert network_of(order).length == nx.dag_longest_path_length(graph)
