"""The walk-round by keyboard alone: in every room the Tab key comes to each control, and each has a name."""

from collections.abc import Callable
from io import BytesIO

import pytest
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QLineEdit,
    QPlainTextEdit,
    QWidget,
)
from pytestqt.qtbot import QtBot
from walk_shop import a_range

from shopdesk.domain.answers import Answer
from shopdesk.services import walks
from shopdesk.services.walk_pictures import keep_picture
from shopdesk.ui.context import Context
from shopdesk.ui.pages.walk_round.checkpoint_view import CheckpointView
from shopdesk.ui.pages.walk_round.drawn_rows import DrawnRows
from shopdesk.ui.pages.walk_round.page import WalkRoundPage
from shopdesk.ui.pages.walk_round.picture_room import PictureRoom
from shopdesk.ui.pictures.canvas import PictureCanvas
from shopdesk.ui.widgets.range_drawing import RangeDrawing

K = Qt.Key
Quiet = Callable[[], None]
_CONTROLS = (
    QAbstractButton, QAbstractItemView, QAbstractSpinBox, QComboBox, QLineEdit, QPlainTextEdit,
    CheckpointView, DrawnRows, PictureCanvas, RangeDrawing,
)  # fmt: skip
_MOST_TABS = 600


@pytest.fixture
def page(context: Context, qtbot: QtBot) -> WalkRoundPage:
    made = WalkRoundPage(context)
    qtbot.addWidget(made)
    made.resize(1200, 800)
    made.refresh(WalkRoundPage.everything)
    context.changed.connect(made.refresh)
    with qtbot.waitActive(made):
        made.show()
    return made


@pytest.fixture
def quiet(page: WalkRoundPage, settled: Quiet, qtbot: QtBot) -> Quiet:
    def wait() -> None:
        settled()
        qtbot.waitUntil(lambda: not page.room.judging.behind, timeout=20_000)
        settled()

    return wait


@pytest.fixture
def walking(page: WalkRoundPage, context: Context, quiet: Quiet) -> int:
    """A walk-round with a finding, a picture and another walk to set beside it, open in the window."""
    seat = context.seat
    other = walks.open_walk(seat, a_range(seat).job_id)
    walks.answer(seat, other, Answer("oven-floor"))
    taken = a_range(seat)
    walk_id = walks.open_walk(seat, taken.job_id)
    walks.answer(seat, walk_id, Answer("front-panels"))
    shot = BytesIO()
    Image.new("RGB", (400, 200), "#885533").save(shot, "JPEG")
    keep_picture(seat, walk_id, "front-panels", shot.getvalue(), "rust.jpg")
    page.open_job(taken.job_id)
    quiet()
    page.room.go("front-panels")
    quiet()
    return walk_id


def _asked_for(room: QWidget) -> set[QWidget]:
    """What a person can see and use in a room; inner pieces of a control are part of it."""

    def inner(widget: QWidget) -> bool:
        parent = widget.parentWidget()
        while parent is not None and parent is not room:
            if isinstance(parent, QComboBox | QAbstractSpinBox | QLineEdit | QAbstractItemView):
                return True
            parent = parent.parentWidget()
        return False

    return {
        w for w in room.findChildren(QWidget)
        if isinstance(w, _CONTROLS) and w.isVisible() and w.isEnabled() and not inner(w)
        and not w.objectName().startswith("qt_")
        and not (isinstance(w, RangeDrawing) and w.focusPolicy() is Qt.FocusPolicy.NoFocus)  # a picture only
    }  # fmt: skip


def _tabbed_through(room: QWidget) -> set[QWidget]:
    """Every control on which the Tab key puts the keyboard, from where it stands until it comes round."""
    reached: set[QWidget] = set()
    fresh = 0
    for _ in range(_MOST_TABS):
        here = QApplication.focusWidget()
        assert here is not None, f"the keyboard is nowhere after {reached}"
        fresh = 0 if here not in reached else fresh + 1
        reached.add(here)
        if fresh > 60:  # round again; a drawing takes a Tab for each of its parts
            break
        QTest.keyClick(here, K.Key_Tab)
    proxies = {w for w in _asked_for(room) if w.focusProxy() in reached}
    return reached | proxies


def _all_by_keyboard(room: QWidget, unnamed: Callable[[QWidget], list[object]]) -> None:
    missed = [w for w in _asked_for(room) - _tabbed_through(room) if not _by_its_group(w)]
    assert missed == []
    assert unnamed(room) == []
    silent = [w for w in _asked_for(room) if not (w.accessibleName() or _own_words(w))]
    assert silent == []


def _by_its_group(widget: QWidget) -> bool:
    """Of buttons of which one is chosen, the arrow keys reach the others."""
    return isinstance(widget, QAbstractButton) and widget.autoExclusive() and widget.isCheckable()


def _own_words(widget: QWidget) -> str:
    return widget.text() if isinstance(widget, QAbstractButton) else ""


def test_the_ranges(page: WalkRoundPage, walking: int, quiet: Quiet, unnamed) -> None:  # type: ignore[no-untyped-def]
    page.show_ranges()
    quiet()
    _all_by_keyboard(page.chooser, unnamed)


def test_the_walk(page: WalkRoundPage, walking: int, unnamed) -> None:  # type: ignore[no-untyped-def]
    page.room.focusFirst()
    _all_by_keyboard(page._walking, unnamed)


def test_its_particulars(page: WalkRoundPage, walking: int, quiet: Quiet, qtbot: QtBot, unnamed) -> None:  # type: ignore[no-untyped-def]
    qtbot.keyClicks(page.room.checkpoint, "i")
    quiet()
    here = page._rooms.currentWidget()
    assert here is not page._walking
    page.focusFirst()
    _all_by_keyboard(here, unnamed)


def test_a_picture_of_it(page: WalkRoundPage, walking: int, quiet: Quiet, qtbot: QtBot, unnamed) -> None:  # type: ignore[no-untyped-def]
    qtbot.keyClicks(page.room.checkpoint, "l")
    qtbot.keyClick(page.room.checkpoint.photos.list, K.Key_Return)
    quiet()
    here = page._rooms.currentWidget()
    assert isinstance(here, PictureRoom)
    page.focusFirst()
    _all_by_keyboard(here, unnamed)


def test_where_a_figure_comes_from(
    page: WalkRoundPage, walking: int, quiet: Quiet, qtbot: QtBot, unnamed
) -> None:  # type: ignore[no-untyped-def]
    qtbot.keyClicks(page.room.checkpoint, "w")
    qtbot.keyClick(page.room.verdict.routes, K.Key_Return)
    quiet()
    here = page._rooms.currentWidget()
    assert here is not page._walking
    page.focusFirst()
    _all_by_keyboard(here, unnamed)


def test_two_walks_side_by_side(page: WalkRoundPage, walking: int, quiet: Quiet, unnamed) -> None:  # type: ignore[no-untyped-def]
    page.side.compare()
    quiet()
    here = page._rooms.currentWidget()
    assert here is not page._walking
    page.focusFirst()
    _all_by_keyboard(here, unnamed)


def test_a_range_not_written_down_yet(page: WalkRoundPage, quiet: Quiet, unnamed) -> None:  # type: ignore[no-untyped-def]
    page.add_range()
    quiet()
    here = page._rooms.currentWidget()
    assert here is not page.chooser
    page.focusFirst()
    _all_by_keyboard(here, unnamed)
