"""Before a walk-round begins: where the range stands, by what light, and what is not done on a walk-round."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from shopdesk.services.inspection import WalkRow
from shopdesk.ui.range_words import name_of
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.fields import TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.wording import say

WIDEST = 90  # letters, what one still reads with ease


class BeginForm(QWidget):
    """`begin` gets the place and the circumstances."""

    def __init__(self, begin: Callable[[str, str], object], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.title = Heading("", "head")
        self.form = Form()
        self.form.add("place", say("Where it is looked at"), TextField(),
                      note=say("The seller’s garage, the shop."))  # fmt: skip
        self.form.add("circumstances", say("How"), TextField(),
                      note=say("By what light, cold or connected, what could not be opened."))  # fmt: skip
        self.form.on_save(
            say("Begin the walk-round"), lambda values: begin(values["place"], values["circumstances"]),
            icon_name="walk-round",
        )  # fmt: skip
        cautions = [
            say("Nothing is lit on a walk-round. What needs a flame stays not seen, unless the tightness "
                "steps came first and a person competent with gas lit it, as the local code asks."),
            say("No mouth on gas parts. Leave old insulation alone; it may hold asbestos."),
            say("A smell of gas: press G. Touch no switch, leave, call the gas supplier from outside."),
        ]  # fmt: skip
        told = [Words(text) for text in cautions]
        for field in ("place", "circumstances"):
            self.form[field].returnPressed.connect(self.form.submit)
        for part in (*told, self.form):
            part.setMaximumWidth(self.fontMetrics().averageCharWidth() * WIDEST)
        body = upright([self.title, *told, self.form], margin="wide")
        body.addStretch(1)
        self.setLayout(upright([PageScroll(body)]))

    def show_range(self, row: WalkRow, place: str = "") -> None:
        """The range that is to be walked round."""
        name = name_of(row.maker, row.model, row.colour)
        self.title.setText(say("{number}, {name}", number=row.number, name=name))
        self.form.show_values({"place": place, "circumstances": ""})

    def focusFirst(self) -> None:
        self.form.focusFirst()
