"""The first page: make a new shop, open one, or look round in the sample."""

import re
from pathlib import Path
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from shopdesk.domain.problem import Problem
from shopdesk.ui.dialogs import SHOPS, Dialogs
from shopdesk.ui.opening import NewShop, Opening, Refused
from shopdesk.ui.regions import regions
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import ChoiceField, MoneyField, TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading, Note, ProblemText, Words
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.wording import Region, say, say_problem


class PlaceField(QWidget):
    """Where a new shop's file shall lie: typed, or chosen in a dialog."""

    edited = Signal()

    def __init__(self, dialogs: Dialogs, folder: Path) -> None:
        super().__init__()
        self._dialogs, self._folder, self._own = dialogs, folder, False
        self._line = TextField(str(folder / "shop.db"))
        self._line.edited.connect(self._was_edited)
        self.button = Button(say("&Choose…"), self._choose)
        row = level([self._line, self.button])
        row.setStretchFactor(self._line, 1)
        self.setLayout(row)
        self.setFocusProxy(self._line)

    def setAccessibleName(self, name: str) -> None:
        super().setAccessibleName(name)
        self._line.setAccessibleName(name)

    def follow(self, shop_name: str) -> None:
        """A file name made from the shop's, until the person writes their own."""
        if not self._own:
            word = re.sub(r"[^\w]+", "-", shop_name.strip().lower()).strip("-") or "shop"
            self._line.setText(str(self._folder / f"{word}.db"))

    def value(self) -> str:
        return self._line.value()

    def setValue(self, value: str) -> None:
        self._own = True
        self._line.setText(value)

    def typed(self) -> str:
        return self._line.text()

    def setTyped(self, typed: Any) -> None:
        self.setValue(str(typed))

    def _was_edited(self) -> None:
        self._own = True
        self.edited.emit()

    def _choose(self) -> None:
        place = self._dialogs.save_file(say("Where the shop shall lie"), self.value(), say("Shop"), SHOPS)
        if place is not None:
            self.setValue(str(place if place.suffix else place.with_suffix(".db")))
            self.edited.emit()


class AddressField(QWidget):
    """Street, postcode and town under one question."""

    edited = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.street, self.postcode, self.town = TextField(), TextField(), TextField()
        self._named = (
            (self.street, say("Street")),
            (self.postcode, say("Postcode")),
            (self.town, say("Town")),
        )
        for line, name in self._named:
            line.setPlaceholderText(name)
            line.edited.connect(self.edited)
        self.postcode.setMaximumWidth(14 * self.fontMetrics().averageCharWidth())
        second = level([self.postcode, self.town])
        second.setStretchFactor(self.town, 1)
        self.setLayout(upright([self.street, second], gap="hair"))
        self.setFocusProxy(self.street)

    def setAccessibleName(self, name: str) -> None:
        super().setAccessibleName(name)
        for line, own in self._named:
            line.setAccessibleName(say("{whole}: {part}", whole=name, part=own))

    def value(self) -> dict[str, str]:
        return {
            "street": self.street.value(),
            "postcode": self.postcode.value(),
            "town": self.town.value(),
        }

    def setValue(self, value: dict[str, str]) -> None:
        for name, text in value.items():
            getattr(self, name).setText(text)

    def typed(self) -> dict[str, str]:
        return self.value()

    def setTyped(self, typed: Any) -> None:
        if isinstance(typed, dict):
            self.setValue(typed)


class RateField(MoneyField):
    """What an hour costs, in the money of the region that is chosen beside it."""

    def follow(self, region: Region) -> None:
        """The same figure in another region's writing."""
        try:
            kept = self.value()
        except Problem:
            kept = None
        self._parse, self._write = region.parse_money, region.amount
        if kept is not None:
            self.setValue(kept)


class StartPage(QWidget):
    """Shown when no shop is open; says why, when one could not be opened."""

    def __init__(self, opening: Opening, dialogs: Dialogs, folder: Path, sample_here: bool) -> None:
        super().__init__()
        self._opening, self._dialogs = opening, dialogs
        self._refused: Refused | None = None
        self.problem = ProblemText()
        self.look_button = Button(say("&Look only"), self._look)
        self.again_button = Button(say("Try &again"), self._again)
        self.look_button.hide()
        self.again_button.hide()
        self.open_button = Button(say("&Open a shop…"), self._open, icon_name="open")
        self.sample_button = Button(say("Open the &sample"), opening.open_sample, icon_name="shopdesk")
        self.sample_button.setVisible(sample_here)
        self.form = self._make_form(folder)
        sample_note = Note(say("An invented workshop to look round in. What you change there is not kept."))
        sample_note.setVisible(sample_here)
        inside = upright(
            [
                Heading(say("No shop is open"), "head"),
                self.problem,
                level([self.again_button, self.look_button, STRETCH]),
                level([self.open_button, self.sample_button, STRETCH]),
                sample_note,
                Heading(say("Make a new shop")),
                Words(
                    say("Five questions, and it is there. All of it can be changed later in Set-up."),
                    "body",
                    "muted",
                ),
                self.form,
                STRETCH,
            ],
            margin="wide",
        )
        self.setLayout(upright([PageScroll(inside)]))

    def focusFirst(self) -> None:
        self.form.focusFirst()

    def show_refused(self, refused: Refused) -> None:
        """Says why a shop was not opened and what can be done."""
        self._refused = refused
        if refused.problem.field:
            self.form.show_problem(refused.problem)
            return
        self.problem.show_text(say_problem(refused.problem))
        self.look_button.setVisible(refused.lookable)
        self.again_button.setVisible(bool(refused.place))

    def _make_form(self, folder: Path) -> Form:
        offered = regions()
        form = Form()
        name = form.add(
            "name", say("What is the shop &called?"), TextField(),
            required=say("The shop needs a name; it prints on every paper."),
        )  # fmt: skip
        form.add("address", say("&Where is it?"), AddressField())
        form.add(
            "owner", say("Who are &you?"), TextField(),
            required=say("Write the owner's name; the shop's papers are signed with it."),
        )  # fmt: skip
        region = form.add("region", say("Which &money, measures and paper?"), ChoiceField(offered))
        rate = form.add(
            "rate", say("What does an &hour cost the customer?"), RateField(offered[0][0]),
            note=say("Without tax. Leave it empty to begin with the catalogue's own figure."),
        )  # fmt: skip
        region.currentIndexChanged.connect(lambda _place: rate.follow(region.value()))
        place = form.add(
            "place", say("Kept in this &file"), PlaceField(self._dialogs, folder),
            required=say("Say where the shop's file shall lie."),
            note=say("One file holds a shop: its records, its photographs and its papers."),
        )  # fmt: skip
        name.textChanged.connect(place.follow)
        form.on_save(say("Ma&ke the shop"), self._make)
        form.setMaximumWidth(900)
        return form

    def _make(self, values: dict[str, Any]) -> None:
        self.problem.show_text("")
        place = Path(values["place"]).expanduser()
        self._opening.make(
            NewShop(
                values["name"],
                values["owner"],
                values["region"],
                place,
                **values["address"],
                rate_cents=values["rate"],
            )
        )

    def _open(self) -> None:
        place = self._dialogs.open_file(say("Open a shop"), say("Shop"), SHOPS)
        if place is not None:
            self._opening.open(str(place))

    def _look(self) -> None:
        if self._refused is not None:
            self._opening.open(self._refused.place, looking=True)

    def _again(self) -> None:
        if self._refused is not None:
            self._opening.open(self._refused.place)
