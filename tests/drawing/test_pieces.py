"""Our source pieces are read as drawn, stretch where they may, and name what they cannot be."""

from pathlib import Path as FilePath

import pytest

from shopdesk import paths
from shopdesk.drawing import PART_IDS, pieces
from shopdesk.drawing.pathtext import path
from shopdesk.drawing.pieces import Piece, piece
from shopdesk.drawing.shapes import Bounds, Circle, Rect, bounds, moved, outline

NAMES = sorted(file.stem for file in paths.resource("drawings").glob("*.svg"))


@pytest.mark.parametrize("name", NAMES)
def test_every_shipped_piece_is_read_and_its_groups_are_parts(name: str) -> None:
    read = piece(name)
    assert read.groups
    for part, shapes in read.groups:
        assert part in (*PART_IDS, "burner"), part
        assert shapes


def test_a_door_grows_and_its_corners_and_handle_do_not() -> None:
    door = dict(piece("oven-door").placed(100, 50, 300, 400))
    skin = door["oven-door"][0]
    assert isinstance(skin, Rect)
    assert (skin.x, skin.y, skin.width, skin.height) == (100, 50, 300, 400)
    assert skin.radius == 15
    assert bounds(door["handles"]).centre[0] == pytest.approx(250)
    assert bounds(door["handles"]).height < 20


def test_a_piece_that_does_not_stretch_keeps_its_shape() -> None:
    (_, shapes), *_ = piece("knob").placed(0, 0, 88)
    box = bounds(shapes)
    assert box.width == pytest.approx(box.height)
    assert box.width == pytest.approx(80)


def test_relative_and_absolute_path_text_draw_the_same() -> None:
    assert bounds([path("M10 10 h20 v30 l-5 5 z")]) == bounds([path("M10 10 H30 V40 L25 45 Z")])
    assert path("M0 0 Q10 0 10 10").segments[1][1][-2:] == (10, 10)


def test_an_arc_is_refused_because_not_every_paper_can_draw_it() -> None:
    with pytest.raises(ValueError, match="does not draw"):
        path("M0 0 A5 5 0 0 1 10 10")


def test_a_shape_this_program_cannot_draw_is_named_with_its_file(
    tmp_path: FilePath, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "odd.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><g id="top"><image/></g></svg>',
        encoding="utf-8",
    )
    monkeypatch.setattr(pieces.paths, "resource", lambda *parts: tmp_path / parts[-1])
    with pytest.raises(ValueError, match=r"odd\.svg.*<image>"):
        piece.__wrapped__("odd")


def test_a_circle_as_curves_stays_a_circle() -> None:
    ring = outline(Circle(10, 20, 5))
    assert bounds([ring]) == Bounds(5, 15, 10, 10)
    assert ring.closed


def test_a_mirror_keeps_sizes() -> None:
    turned = moved(Rect(10, 0, 30, 20, 4), lambda x, y: (100 - x, y))
    assert turned == Rect(60, 0, 30, 20, 4)


def test_a_piece_without_size_is_placed_as_drawn() -> None:
    read = Piece("x", 10, 10, (("top", (Circle(5, 5, 5),)),))
    assert list(read.placed(1, 2)) == [("top", [Circle(6, 7, 5)])]
