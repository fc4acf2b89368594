"""A difference between two orders, drawn as headings with their lines."""

from PySide6.QtWidgets import QWidget

from shopdesk.services.order_difference import OrderDifference
from shopdesk.ui.pages.jacket.order import difference_words
from shopdesk.ui.widgets.boxes import emptied, upright
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.wording import Region, say


class DifferenceView(QWidget):
    """Says so where nothing would change."""

    def __init__(self, region: Region) -> None:
        super().__init__()
        self._region = region
        self._box = upright(gap="small")
        self.setLayout(self._box)

    def show_difference(self, difference: OrderDifference) -> None:
        emptied(self._box)
        parts = difference_words(self._region, difference)
        if not parts:
            self._box.addWidget(Words(say("Nothing: the order says what is asked for.")))
        for title, text in parts:
            self._box.addWidget(Heading(title, "strong"))
            self._box.addWidget(Words(text))
