"""The shipped typeface: all of it there, figures of one width, its licence beside it."""

import pytest

from shopdesk import paths
from shopdesk.documents.layout.typeface import BOLD, ITALIC, REGULAR, fitted, width_of


@pytest.mark.parametrize("font", [REGULAR, BOLD, ITALIC])
def test_figures_have_one_width(font: str) -> None:
    assert len({round(width_of(figure, font, 10), 6) for figure in "0123456789"}) == 1


@pytest.mark.parametrize("font", [REGULAR, BOLD, ITALIC])
def test_the_letters_and_signs_papers_use_are_in_it(font: str) -> None:
    from reportlab.pdfbase.pdfmetrics import getFont

    width_of("", font, 10)
    known = getFont(font).face.charToGlyph
    wanted = "äçéñøßłőžİğ ΑΩαω АЯаяЁ ½¼¾⅛⅜⅝⅞ ←↑→↓ ≤≥≠≈−×° €£¥$₽ №§†•…–—‘’“”« » ☐☑☒✓✗ ■△▲◆○●"
    assert [sign for sign in wanted if sign != " " and ord(sign) not in known] == []


def test_the_licence_lies_beside_the_files() -> None:
    folder = paths.resource("fonts")
    assert len(list(folder.glob("*.ttf"))) == 3
    licence = (folder / "OFL.txt").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in licence
    assert "Copyright" in licence


def test_text_too_long_for_its_room_ends_in_an_ellipsis() -> None:
    assert fitted("short", REGULAR, 8, 100) == "short"
    cut = fitted("a very long name of a workshop " * 5, REGULAR, 8, 100)
    assert cut.endswith("…")
    assert width_of(cut, REGULAR, 8) <= 100
