"""The drawing follows the build: what is built in is drawn, where one would see it, inside its box."""

from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopdesk.domain.build import Build
from shopdesk.domain.problem import Problem
from shopdesk.drawing import (
    PART_IDS,
    Drawing,
    compose,
    find,
    hits,
    part_name,
    place_pins,
    spread_pins,
    stand_in,
    to_svg,
    views,
)
from shopdesk.drawing.shapes import bounds

EVERYTHING = Build(
    burners=8,
    ovens=3,
    griddle=True,
    deep_well=True,
    lamp=True,
    clock=True,
    outlet=True,
    shelf=True,
    fold_top=True,
    window=True,
)

BUILDS = st.builds(
    Build,
    back=st.sampled_from(["high", "low", "none"]),
    burners=st.integers(2, 8),
    ovens=st.integers(1, 3),
    oven_side=st.sampled_from(["left", "right"]),
    lighting=st.sampled_from(["match", "match with safety pilot", "standing pilot", "spark"]),
    base=st.sampled_from(["legs", "base"]),
    **{
        word: st.booleans()
        for word in (
            *("broiler", "griddle", "deep_well", "lamp", "clock", "outlet", "shelf", "fold_top"),
            *("window", "thermostat"),
        )
    },
)


def ids(build: Build, view: str) -> set[str]:
    return {part.id for part in compose(build, view).parts}  # type: ignore[arg-type]


def in_view(drawing: Drawing) -> list[str]:
    return [part.id for part in drawing.parts]


@settings(max_examples=60, deadline=None)
@given(BUILDS)
def test_every_build_is_drawn_from_every_side_within_its_box(build: Build) -> None:
    for view in views(build):
        drawing = compose(build, view)
        assert 0 < drawing.width <= 1000
        assert 0 < drawing.height <= 1000
        for part in drawing.parts:
            box = bounds(part.shapes)
            assert part.bounds == box
            assert box.x >= 0, (view, part.id)
            assert box.y >= 0, (view, part.id)
            assert box.x + box.width <= drawing.width, (view, part.id)
            assert box.y + box.height <= drawing.height, (view, part.id)


@settings(max_examples=60, deadline=None)
@given(BUILDS)
def test_the_top_shows_as_many_burners_as_the_range_has_and_none_over_another(build: Build) -> None:
    for view in ("top", "under-top"):
        burners = [p for p in compose(build, view).parts if p.id.startswith("burner-")]
        assert [p.id for p in sorted(burners, key=lambda p: p.id)] == [
            f"burner-{n + 1}" for n in range(build.burners)
        ]
    heads = [p.bounds for p in compose(build, "top").parts if p.id.startswith("burner-")]
    for one in heads:
        for other in heads:
            apart = max(abs(one.centre[0] - other.centre[0]), abs(one.centre[1] - other.centre[1]))
            assert one is other or apart >= one.width


@settings(max_examples=40, deadline=None)
@given(BUILDS)
def test_the_panel_has_a_handle_for_every_gas_valve(build: Build) -> None:
    drawing = compose(build, "front")
    handles = drawing.part("knobs")
    count = len(handles.shapes) // 4 if handles else 0  # a handle is four shapes
    dial = 1 if drawing.part("thermostat") else 0
    assert count + dial == build.valves


@settings(max_examples=40, deadline=None)
@given(BUILDS)
def test_the_manifold_has_a_valve_for_every_handle(build: Build) -> None:
    drawing = compose(build, "under-top")
    valves = drawing.part("valves")
    assert valves is not None
    dial = 1 if drawing.part("thermostat") else 0
    assert len(valves.shapes) // 5 + dial == build.valves  # a valve is five shapes


@pytest.mark.parametrize(
    ("word", "part", "view"),
    [
        ("lamp", "lamp", "front"),
        ("clock", "clock", "front"),
        ("outlet", "outlet", "front"),
        ("shelf", "shelf", "front"),
        ("fold_top", "fold-top", "front"),
        ("window", "oven-window", "front"),
        ("thermostat", "thermostat", "front"),
        ("griddle", "griddle", "top"),
        ("deep_well", "deep-well", "top"),
        ("broiler", "broiler-door", "front"),
    ],
)
@pytest.mark.parametrize("back", ["high", "low", "none"])
def test_a_part_is_drawn_exactly_when_the_range_has_it(word: str, part: str, view: str, back: str) -> None:
    assert part in ids(Build(back=back, **{word: True}), view)  # type: ignore[arg-type]
    assert part not in ids(Build(back=back, **{word: False}), view)  # type: ignore[arg-type]


def test_a_range_without_broiler_has_no_broiler_view_and_says_so() -> None:
    build = Build(broiler=False)
    assert "broiler" not in views(build)
    with pytest.raises(Problem, match="no broiler"):
        compose(build, "broiler")


def test_the_ovens_stand_on_the_side_of_the_build() -> None:
    right = compose(Build(oven_side="right"), "front").part("oven-door")
    left = compose(Build(oven_side="left"), "front").part("oven-door")
    assert right is not None
    assert left is not None
    assert left.bounds.centre[0] < 300 < right.bounds.centre[0]


def test_the_left_and_the_right_side_mirror_each_other() -> None:
    left, right = compose(EVERYTHING, "left"), compose(EVERYTHING, "right")
    assert left.width == right.width
    one, other = left.part("back"), right.part("back")
    assert one is not None
    assert other is not None
    assert one.bounds.centre[0] == pytest.approx(left.width - other.bounds.centre[0])


@pytest.mark.parametrize("part", PART_IDS)
def test_every_part_is_seen_in_the_view_it_is_best_found_in(part: str) -> None:
    assert part in ids(EVERYTHING, find(part))
    assert part_name(part)


def test_a_part_nobody_knows_is_not_found() -> None:
    with pytest.raises(KeyError):
        find("carburettor")


@pytest.mark.parametrize("view", views(EVERYTHING))
def test_a_part_answers_where_its_pin_would_stand(view: str) -> None:
    drawing = compose(EVERYTHING, view)  # type: ignore[arg-type]
    ready = hits(drawing)
    answered = [p.id for p in drawing.parts if ready.part_at(*ready.anchor(p)) == p.id]
    covered = set(in_view(drawing)) - set(answered)
    # A raised top hides clock and outlet from above, the dial hides the handles from its side.
    assert covered <= {"burners", "clock", "outlet", "knobs"}, "only what lies wholly under other parts"


def test_pins_of_one_part_stand_apart_and_on_the_drawing() -> None:
    drawing = compose(Build(), "front")
    pins = place_pins(drawing, [(n, "oven-door", "minor") for n in range(1, 13)])
    assert [pin.number for pin in pins] == list(range(1, 13))
    for one in pins:
        assert 0 < one.x < drawing.width
        assert 0 < one.y < drawing.height
        for other in pins:
            assert one is other or (one.x - other.x) ** 2 + (one.y - other.y) ** 2 >= 30**2


def test_a_hidden_part_gets_its_pin_on_what_hides_it_only_when_asked() -> None:
    drawing = compose(Build(), "front")
    wanted = [(1, "oven-floor", "grave")]
    assert place_pins(drawing, wanted) == ()
    (pin,) = place_pins(drawing, wanted, hidden_too=True)
    assert pin.part == "oven-floor"
    assert stand_in(drawing, "oven-floor") == "oven-door"
    assert hits(drawing).part_at(pin.x, pin.y) == "oven-door"


@settings(max_examples=30, deadline=None)
@given(BUILDS)
def test_every_part_has_a_place_for_its_pin_on_the_front(build: Build) -> None:
    drawing = compose(build, "front")
    pins = place_pins(drawing, [(n, part, "minor") for n, part in enumerate(PART_IDS, 1)], hidden_too=True)
    asked = {pin.part for pin in pins}
    absent = set(PART_IDS) - asked
    assert absent <= {"shelf", "fold-top"}, "only what may not be there at all has none"


def test_spread_pins_keep_their_numbers_and_the_gravest_its_place() -> None:
    drawing = compose(Build(), "front")
    pins = place_pins(drawing, [(1, "knobs", "minor"), (2, "oven-door", "grave"), (3, "oven-door", "minor")])
    spread = spread_pins(drawing, pins, 80)
    assert {p.number for p in spread} == {1, 2, 3}
    assert spread[0].severity == "grave"
    assert (spread[0].x, spread[0].y) == (pins[1].x, pins[1].y)


def test_the_svg_is_sound_and_has_a_titled_group_for_every_part_and_pin() -> None:
    drawing = compose(EVERYTHING, "front")
    pins = place_pins(drawing, [(1, "lamp", "grave"), (2, "clock", "serious"), (3, "top", "none")])
    root = ElementTree.fromstring(to_svg(drawing, pins))
    groups = {group.attrib["id"]: group for group in root}
    assert set(in_view(drawing)) | {"pin-1", "pin-2", "pin-3"} == set(groups)
    titles = [t.text for t in groups["oven-door"] if t.tag.endswith("title")]
    assert titles == [part_name("oven-door")]
    shapes = [[item.tag.rpartition("}")[2] for item in groups[f"pin-{n}"]] for n in (1, 2, 3)]
    assert shapes == [["path", "text"], ["rect", "text"], ["circle", "text"]], "severity is told by shape"
