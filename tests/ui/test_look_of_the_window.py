"""The look: readable in every scheme, letters that grow, icons that take the palette's colour."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QFontInfo, QIcon, QImage, QPalette
from PySide6.QtWidgets import QApplication, QLineEdit

from shopdesk import paths
from shopdesk.domain.colour import contrast
from shopdesk.ui.look import (
    MARKS,
    PAIRS,
    SCHEMES,
    apply_look,
    body_font,
    colours_of,
    icon,
    icon_names,
    letters,
    palette_of,
    spacing,
)

ASKED = (
    *("floor", "walk-round", "bench", "stores", "plan", "counter", "reckoning", "set-up", "jacket"),
    *("add", "photo", "print", "save-pdf", "mail", "search", "tick", "clock-start", "clock-stop"),
    *("undo", "warning", "gas", "flame", "electric", "hand", "box", "truck", "coin", "calendar"),
    *("tag", "note", "next", "back", "shopdesk"),
)


@pytest.fixture(autouse=True)
def plain_again(qapp: QApplication) -> Iterator[None]:
    font, palette, sheet = qapp.font(), qapp.palette(), qapp.styleSheet()
    yield
    qapp.setStyleSheet(sheet)
    qapp.setPalette(palette)
    qapp.setFont(font)


def test_contrast_is_reckoned_as_published() -> None:
    # W3C, WCAG 2.2: black on white is 21:1, a colour on itself 1:1.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#777777") == 1
    # From memory: #767676 on white is the usual example of just 4.5:1.
    assert 4.5 <= contrast("#767676", "#ffffff") < 4.6


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize(("text", "ground"), PAIRS)
def test_every_text_stands_out_from_its_ground(scheme: str, text: str, ground: str) -> None:
    colours = SCHEMES[scheme]  # type: ignore[index]
    # W3C, WCAG 2.2, success criterion 1.4.3 (level AA): at least 4.5:1.
    assert contrast(getattr(colours, text), getattr(colours, ground)) >= 4.5


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize(("mark", "ground"), MARKS)
def test_every_mark_and_edge_stands_out_from_its_ground(scheme: str, mark: str, ground: str) -> None:
    colours = SCHEMES[scheme]  # type: ignore[index]
    # W3C, WCAG 2.2, success criterion 1.4.11 (level AA): at least 3:1.
    assert contrast(getattr(colours, mark), getattr(colours, ground)) >= 3


@pytest.mark.parametrize("scheme", SCHEMES)
def test_the_palette_itself_is_readable_in_its_roles(scheme: str) -> None:
    palette = palette_of(SCHEMES[scheme])  # type: ignore[index]
    role = QPalette.ColorRole
    for text, ground in (
        (role.WindowText, role.Window),
        (role.Text, role.Base),
        (role.Text, role.AlternateBase),
        (role.ButtonText, role.Button),
        (role.HighlightedText, role.Highlight),
        (role.PlaceholderText, role.Base),
        (role.ToolTipText, role.ToolTipBase),
        (role.Link, role.Base),
    ):
        assert contrast(palette.color(text).name(), palette.color(ground).name()) >= 4.5, text


@pytest.mark.parametrize("scheme", ["light", "dark", "contrast"])
def test_the_look_is_put_on_and_told_again_from_any_widget(qapp: QApplication, scheme: str) -> None:
    colours = apply_look(qapp, scheme)  # type: ignore[arg-type]
    assert qapp.style().objectName() == "fusion" or qapp.styleSheet()
    assert qapp.palette().color(QPalette.ColorRole.Window) == QColor(colours.window)
    field = QLineEdit()
    assert colours_of(field.palette()) is colours
    assert not qapp.windowIcon().isNull()


def test_the_system_scheme_is_light_where_the_desktop_says_nothing(qapp: QApplication) -> None:
    assert apply_look(qapp, "system").scheme in ("light", "dark")


def test_text_grows_to_twice_its_size_and_distances_with_it(qapp: QApplication) -> None:
    apply_look(qapp, "light", 1.0)
    one, near = qapp.font().pointSizeF(), spacing(qapp.font())
    apply_look(qapp, "light", 2.0)
    assert qapp.font().pointSizeF() == pytest.approx(2 * one)
    far = spacing(qapp.font())
    assert far.gap == pytest.approx(2 * near.gap, abs=2)
    assert far.row == pytest.approx(2 * near.row, abs=3)
    apply_look(qapp, "light", 9.0)
    assert qapp.font().pointSizeF() == pytest.approx(2 * one), "the scale is held at 200 %"


def test_the_sizes_of_type_rise_in_order(qapp: QApplication) -> None:
    body = body_font()
    sizes = [letters(role, body).pointSizeF() for role in ("small", "body", "title", "head")]
    assert sizes == sorted(sizes)
    assert len(set(sizes)) == 4


def test_the_shipped_typeface_is_used(qapp: QApplication) -> None:
    if list(paths.resource("fonts").glob("*.ttf")):
        assert QFontInfo(body_font()).family() == body_font().family()


def test_every_icon_asked_for_is_shipped() -> None:
    assert set(ASKED) <= set(icon_names())


@pytest.mark.parametrize("name", icon_names())
def test_an_icon_draws_in_the_palettes_colour_and_another_when_chosen(qapp: QApplication, name: str) -> None:
    for scheme in ("light", "dark"):
        colours = SCHEMES[scheme]
        picture = icon(name, palette_of(colours))
        plain = picture.pixmap(QSize(32, 32)).toImage()
        if name != "shopdesk":
            assert _near(_inks(plain), colours.text)
            chosen = picture.pixmap(QSize(32, 32), QIcon.Mode.Selected).toImage()
            assert _near(_inks(chosen), colours.accent_text)
        else:
            assert _inks(plain)


def _near(found: set[str], colour: str) -> bool:
    """All found colours are that colour, but for a step lost where strokes cross."""
    wanted = QColor(colour).getRgb()
    steps = [abs(a - b) for name in found for a, b in zip(QColor(name).getRgb(), wanted, strict=True)]
    return bool(found) and max(steps) <= 2


def _inks(image: QImage) -> set[str]:
    """The colours of the fully covered dots."""
    found = set()
    for x in range(image.width()):
        for y in range(image.height()):
            if image.pixelColor(x, y).alpha() == 255:
                found.add(image.pixelColor(x, y).name())
    return found


def test_an_icon_nobody_drew_is_an_error() -> None:
    with pytest.raises(FileNotFoundError):
        icon("unicorn")
