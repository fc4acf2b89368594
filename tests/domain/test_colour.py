"""Which colours a shop's papers may have: those that can be read on white."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.domain.colour import contrast, ink
from shopdesk.domain.problem import Problem


def test_colours_are_read_as_people_write_them() -> None:
    assert [ink(text) for text in ("", "  ", "1C2B45", " #7a1F1f ")] == ["", "", "#1c2b45", "#7a1f1f"]


@pytest.mark.parametrize("text", ["blue", "#12345", "#1234567", "#gg0000", "rgb(1,2,3)"])
def test_what_is_no_colour_is_told(text: str) -> None:
    with pytest.raises(Problem, match="is not a colour"):
        ink(text)


def test_the_published_limit_decides() -> None:
    # W3C, WCAG 2.2, 1.4.3: 4.5 to 1. #767676 on white is the known border: 4.54; #777777 has 4.48.
    assert ink("#767676") == "#767676"
    with pytest.raises(Problem, match="too light"):
        ink("#777777")


@given(st.integers(0, 0xFFFFFF), st.integers(0, 0xFFFFFF))
def test_contrast_lies_between_one_and_twenty_one_and_is_the_same_both_ways(one: int, other: int) -> None:
    first, second = f"#{one:06x}", f"#{other:06x}"
    assert 1 <= contrast(first, second) <= 21.0000001
    assert contrast(first, second) == contrast(second, first)
