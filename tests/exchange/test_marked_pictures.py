"""Changes over an original: what is turned, cropped and marked lies where it was drawn, on every size."""

import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from shopdesk.domain.picture_changes import (
    WHOLE,
    Crop,
    Mark,
    MarkKind,
    PictureChanges,
    as_kept,
    from_kept,
    turned,
)
from shopdesk.domain.problem import Problem
from shopdesk.exchange.marked_pictures import INK, redrawn

GREY = (120, 120, 120)


def an_original(width=400, height=200):
    """Grey, with a blue corner at the upper left."""
    image = Image.new("RGB", (width, height), GREY)
    image.paste((0, 0, 200), (0, 0, width // 4, height // 4))
    out = io.BytesIO()
    image.save(out, "JPEG", quality=95)
    return out.getvalue()


def pixels(data):
    return Image.open(io.BytesIO(data)).convert("RGB")


def close(colour, wanted):
    return all(abs(a - b) < 70 for a, b in zip(colour, wanted, strict=True))


points = st.tuples(st.floats(0, 1), st.floats(0, 1))


@pytest.mark.parametrize(("quarters", "corner"), [(0, (3, 3)), (1, (-3, 3)), (2, (-3, -3)), (3, (3, -3))])
def test_a_picture_turns_with_the_clock(quarters, corner):
    made = redrawn(an_original(), PictureChanges(quarter_turns=quarters))
    assert (made.width, made.height) == ((200, 400) if quarters % 2 else (400, 200))
    image = pixels(made.data)
    assert close(image.getpixel((corner[0] % made.width, corner[1] % made.height)), (0, 0, 200))


def test_a_part_is_cut_out_and_carries_its_marks():
    arrow = Mark(MarkKind.ARROW, (0.3, 0.5), (0.7, 0.5))
    made = redrawn(an_original(), PictureChanges((arrow,), Crop(0.25, 0.25, 0.75, 0.75)))
    assert (made.width, made.height) == (200, 100)
    assert close(pixels(made.data).getpixel((100, 50)), INK)
    assert close(pixels(made.data).getpixel((100, 10)), GREY)


def test_a_circle_goes_round_what_it_shows_and_leaves_its_middle():
    circle = Mark(MarkKind.CIRCLE, (0.25, 0.25), (0.75, 0.75))
    image = pixels(redrawn(an_original(), PictureChanges((circle,))).data)
    assert close(image.getpixel((200, 51)), INK)
    assert close(image.getpixel((200, 100)), GREY)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: Crop(0.4, 0.1, 0.4, 0.9), lambda: Crop(0.6, 0.1, 0.5, 0.9), lambda: Crop(0.5, 0.5, 1.2, 1.0),
        lambda: Mark(MarkKind.ARROW, (0.5, 0.5), (0.501, 0.5)),
        lambda: Mark(MarkKind.CIRCLE, (-0.1, 0), (1, 1)),
    ],
)  # fmt: skip
def test_what_lies_outside_or_leaves_nothing_is_refused_with_a_sentence(wrong):
    with pytest.raises(Problem) as raised:
        wrong()
    assert str(raised.value).endswith(".")


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(list(MarkKind)), points, points), max_size=4), points, points,
       st.integers(-5, 5))  # fmt: skip
def test_any_changes_that_may_be_made_can_be_kept_drawn_and_taken_up_again(drawn, one, other, quarters):
    try:
        marks = tuple(Mark(*mark) for mark in drawn)
        left, right = sorted((one[0], other[0]))
        top, bottom = sorted((one[1], other[1]))
        changes = PictureChanges(marks, Crop(left, top, right, bottom), quarters)
    except Problem:
        return
    assert from_kept(as_kept(changes)) == changes
    made = redrawn(an_original(100, 60), changes)
    assert made.width >= 1
    assert made.height >= 1


@given(points, st.integers(0, 3))
def test_turning_back_brings_every_point_back(point, quarters):
    there = turned(point, quarters)
    back = turned(there, 4 - quarters)
    assert back == pytest.approx(point)


def test_no_changes_are_known_as_none():
    assert PictureChanges().none
    assert PictureChanges(quarter_turns=4).none
    assert not PictureChanges(crop=Crop(0, 0, 0.5, 1)).none
    assert PictureChanges().crop == WHOLE
