"""Critical path and float against a published worked network and an independent library."""

from fractions import Fraction

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.domain.estimate.three_point import mean, variance
from shopdesk.domain.money import Spread
from shopdesk.domain.network import Activity, time_network
from shopdesk.domain.problem import Problem

# Three-point estimates after Malcolm, Roseboom, Clark and Fazar (1959); the activities and the
# printed answers are a management-science text's worked example: critical path 1-3-5-7, expected
# length 24, path variance 5, P(x <= 28) printed .9633, exact 0.963181.
WORKED = {
    "1": (Spread(5, 8, 17), ()),
    "2": (Spread(7, 10, 13), ()),
    "3": (Spread(3, 5, 7), ("1",)),
    "4": (Spread(1, 3, 5), ("2",)),
    "5": (Spread(4, 6, 8), ("3", "4")),
    "6": (Spread(3, 3, 3), ("3", "4")),
    "7": (Spread(3, 4, 5), ("5", "6")),
}


def worked():
    return [Activity(c, mean(s), after, variance(s)) for c, (s, after) in WORKED.items()]


def test_the_worked_network_has_the_printed_path_length_and_variance():
    network = time_network(worked())
    assert network.path == ("1", "3", "5", "7")
    assert network.length == 24
    assert network.variance == 5


def test_the_worked_network_has_the_printed_chance():
    network = time_network(worked())
    assert network.chance_within(28) == pytest.approx(0.963181, abs=5e-7)
    assert round(network.chance_within(28), 3) == round(0.9633, 3)


def test_only_the_critical_activities_have_no_float():
    timings = time_network(worked()).timings
    assert {code for code, t in timings.items() if t.critical} == {"1", "3", "5", "7"}
    assert timings["2"].slack == 1  # 9 + 5 by way of 1-3 against 10 + 3 by way of 2-4
    assert timings["6"].slack == 3


def test_a_circle_is_a_problem_that_names_it():
    circle = [Activity("a", Fraction(1), ("b",)), Activity("b", Fraction(1), ("a",))]
    with pytest.raises(Problem, match="a, b"):
        time_network(circle)


def test_what_is_not_in_the_network_does_not_bind():
    assert time_network([Activity("a", Fraction(3), ("elsewhere",))]).length == 3


def test_an_empty_network_takes_no_time():
    network = time_network([])
    assert network.length == 0
    assert network.path == ()
    assert network.chance_within(0) == 1.0


@st.composite
def networks(draw):
    size = draw(st.integers(1, 14))
    activities = []
    for n in range(size):
        before = draw(st.sets(st.integers(0, n - 1), max_size=4)) if n else set()
        length = Fraction(draw(st.integers(0, 40)), draw(st.integers(1, 6)))
        activities.append(Activity(f"t{n}", length, tuple(f"t{b}" for b in sorted(before))))
    return draw(st.permutations(activities))


@given(networks())
def test_length_path_and_float_equal_an_independent_longest_path(activities):
    graph = nx.DiGraph()
    durations = {a.code: a.duration for a in activities}
    graph.add_node("end")
    for a in activities:
        graph.add_edge(a.code, "end", weight=a.duration)
        for b in a.after:
            graph.add_edge(b, a.code, weight=durations[b])
    network = time_network(activities)
    assert network.length == nx.dag_longest_path_length(graph)
    assert sum(durations[c] for c in network.path) == network.length
    for code, timing in network.timings.items():
        ahead = nx.descendants(graph, code) | {code}
        behind = nx.ancestors(graph, code) | {code}
        through = nx.dag_longest_path_length(graph.subgraph(behind)) + nx.dag_longest_path_length(
            graph.subgraph(ahead)
        )
        assert timing.slack == network.length - through
