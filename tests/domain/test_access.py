"""Whether a range gets to its kitchen: one plain word, with the reason for each part of the way."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.domain.access import Passage, Sizes, access, sizes_of

FITS = {
    "width_in": 39.0,
    "depth_in": 27.0,
    "weight_lb": 420.0,
    "door_in": 32.0,
    "opening_in": 40.0,
    "stairs": 0,
}


def passage(**changed):
    return access(Sizes(**{**FITS, **changed})).passage


def test_a_range_goes_through_a_door_by_its_smaller_side():
    assert passage() is Passage.THROUGH
    assert passage(depth_in=None, width_in=30.0) is Passage.THROUGH


@pytest.mark.parametrize("changed", [{"door_in": 27.5}, {"opening_in": 38.9}])
def test_one_place_that_is_too_narrow_decides(changed):
    assert passage(**changed) is Passage.NOT
    assert passage(**changed, stairs=None) is Passage.NOT


@pytest.mark.parametrize("name", ["width_in", "door_in", "opening_in", "stairs"])
def test_what_was_not_measured_leaves_it_open_and_says_what_to_measure(name):
    found = access(Sizes(**{**FITS, name: None}))
    assert found.passage is Passage.NOT_MEASURED
    assert "not" in str(found.why[0]) or "Nobody" in str(found.why[0])


def test_one_side_that_is_too_wide_asks_for_the_other():
    found = access(Sizes(**{**FITS, "depth_in": None}))
    assert found.passage is Passage.NOT_MEASURED
    assert "Measure the other side" in str(found.why[0])


def test_steps_want_a_weight():
    assert passage(stairs=12) is Passage.THROUGH
    assert passage(stairs=12, weight_lb=None) is Passage.NOT_MEASURED


def test_sizes_written_in_words_were_not_measured():
    sizes = sizes_of({"width_in": "39", "door_in": "wide enough", "stairs": "-2", "depth_in": "nan"})
    assert sizes == Sizes(width_in=39.0)


@given(st.floats(10, 60), st.floats(10, 60), st.floats(10, 60), st.floats(10, 60), st.floats(0.1, 20))
def test_a_wider_way_never_keeps_a_range_out(width, depth, door, opening, more):
    narrow = access(Sizes(width_in=width, depth_in=depth, door_in=door, opening_in=opening, stairs=0))
    wide = access(
        Sizes(width_in=width, depth_in=depth, door_in=door + more, opening_in=opening + more, stairs=0)
    )
    assert not (narrow.passage is Passage.THROUGH and wide.passage is not Passage.THROUGH)
    assert all("safe" not in str(why).lower() for why in (*narrow.why, *wide.why))
