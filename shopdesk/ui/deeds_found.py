"""What can be done, to be found by its words: the deeds of the open place with their keys, and those that
can be done from anywhere.

The deeds of a place are its buttons as they stand there now, so that nothing has to be listed twice.
"""

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from PySide6.QtGui import QAction
from PySide6.QtWidgets import QAbstractButton, QMenu, QPushButton, QToolButton, QWidget
from shiboken6 import isValid

from shopdesk.domain.folding import fold
from shopdesk.domain.rights import Action
from shopdesk.ui.context import Context
from shopdesk.ui.places import Place
from shopdesk.wording import say

_KEYS = re.compile(r"\(([^()]*(?:Ctrl|Alt|Shift|F\d)[^()]*)\)\s*$")


@dataclass(frozen=True, slots=True)
class Deed:
    """Something that can be done, found by its words."""

    text: str
    do: Callable[[], object]


def fits(text: str, typed: str) -> bool:
    """Whether every typed word begins a word of the text."""
    words = fold(text).split()
    return all(any(word.startswith(part) for word in words) for part in fold(typed).split())


def deeds_here(page: QWidget | None, name: str) -> list[Deed]:
    """What the open page offers now, by the names of its buttons, with the keys they tell."""
    if page is None:
        return []
    found: dict[str, Deed] = {}
    for button in page.findChildren(QAbstractButton):
        if not (button.isVisibleTo(page) and button.isEnabled() and button.text().strip("& ")):
            continue
        menu = button.menu() if isinstance(button, QPushButton | QToolButton) else None
        for deed in _of_menu(button, menu) if menu is not None else (_of_button(button),):
            found.setdefault(deed.text, deed)
    return [Deed(say("{place}: {deed}", place=name, deed=deed.text), deed.do) for deed in found.values()]


def deeds_anywhere(context: Context, places: Sequence[Place]) -> list[Deed]:
    """The places, their sections, and what is begun from wherever one is."""
    known = {place.key for place in places}
    to_places = [
        Deed(say("Go to {place}", place=place.name), lambda key=place.key: context.go(key))  # type: ignore[misc]
        for place in places
        if not place.hidden
    ]
    more = [Deed(text, do) for place, text, do in _begun(context) if place in known]
    return [*to_places, *more, *(_sections(context, known)), *_looks(context)]


def _of_button(button: QAbstractButton) -> Deed:
    text = button.text().replace("&", "")
    keys = _KEYS.search(button.toolTip())
    if keys and keys[1] not in text:
        text = say("{deed} ({keys})", deed=text, keys=keys[1])
    return Deed(text, button.click)


def _of_menu(button: QAbstractButton, menu: QMenu) -> Iterator[Deed]:
    menu.aboutToShow.emit()  # what is offered now
    for action in menu.actions():
        if action.isEnabled() and not action.isSeparator() and action.text():
            yield _of_action(button.text().replace("&", ""), action)


def _of_action(name: str, action: QAction) -> Deed:
    words = action.text().replace("&", "").split("\t")
    text = say("{name}, {deed}", name=name, deed=" ".join(words))
    return Deed(text, lambda: action.trigger() if isValid(action) else None)  # a menu may fill itself anew


def _begun(context: Context) -> Iterator[tuple[str, str, Callable[[], object]]]:
    go, may = context.go, context.may
    yield "gas-bench", say("Open the gas bench"), lambda: go("gas-bench")
    yield "tags", say("See what is where"), lambda: go("tags")
    yield "thermostat-card", say("Fill in a thermostat card"), lambda: go("thermostat-card")
    if may(Action.BOOK_IN):
        yield "floor", say("Book a range in"), lambda: go("floor", book_in=True)
        yield "walk-round", say("Look a range over"), lambda: go("walk-round", look_over=True)
    if may(Action.SET_UP):
        yield "set-up", say("Bring older books in"), lambda: go("set-up", section="older-books")
        yield "first-hour", say("The first hour"), lambda: go("first-hour")
        yield "first-hour", say("Be led through a first range"), context.firstRangeAsked.emit


def _sections(context: Context, known: set[str]) -> Iterator[Deed]:
    go = context.go
    for place, place_name, sections in _SECTIONS:
        if place not in known or (place == "set-up" and not context.may(Action.SET_UP)):
            continue
        for key, name in sections:
            text = say("Go to {place}", place=say("{place}: {deed}", place=say(place_name), deed=say(name)))
            yield Deed(text, lambda place=place, key=key: go(place, section=key))  # type: ignore[misc]


def _looks(context: Context) -> Iterator[Deed]:
    view = context.view
    yield Deed(say("Larger text (Ctrl++)"), view.larger)
    yield Deed(say("Smaller text (Ctrl+-)"), view.smaller)
    yield Deed(say("Text as it came (Ctrl+0)"), view.plain)
    yield Deed(say("Light colours"), lambda: view.choose_scheme("light"))
    yield Deed(say("Dark colours"), lambda: view.choose_scheme("dark"))
    yield Deed(say("High contrast"), lambda: view.choose_scheme("contrast"))
    yield Deed(say("Close this shop, open another"), context.leave_shop)


_SECTIONS = (
    (
        "stores",
        "Stores",
        (
            ("needs", "Needs"),
            ("orders", "Orders"),
            ("shelf", "Shelf"),
            ("donors", "Donors"),
            ("wants", "Wants"),
            ("outwork", "Outwork"),
            ("firms", "Firms"),
        ),
    ),
    (
        "plan",
        "Plan",
        (
            ("calendar", "Calendar"),
            ("promises", "Promises"),
            ("what-if", "What if"),
            ("appointments", "Appointments"),
            ("hours", "Hours and leave"),
        ),
    ),
    (
        "set-up",
        "Set-up",
        (
            ("shop", "Shop"),
            ("region", "Region"),
            ("people", "People"),
            ("rates", "Rates"),
            ("taxes", "Taxes"),
            ("terms", "Terms"),
            ("clocks", "Letters and storage"),
            ("letters", "Texts of letters"),
            ("margin", "Ranges you sell"),
            ("texts", "Papers"),
            ("figures", "Catalogue: figures"),
            ("checkpoints", "Catalogue: checkpoints"),
            ("hours", "Catalogue: hours"),
            ("look", "Look"),
            ("backups", "Backups"),
            ("place", "Where the shop lies"),
            ("older-books", "Older books"),
        ),
    ),
)
