"""Set-up: bringing the shop's older books in."""

from shopdesk.ui.older_books import OlderBooks
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.set_up.section import SetUpSection
from shopdesk.ui.widgets.boxes import Part
from shopdesk.wording import say


class OlderBooksSection(SetUpSection):
    key = "older-books"

    def __init__(self, page: Page) -> None:
        self.title = say("Older books")
        super().__init__(page)

    def build(self) -> list[Part]:
        self.books = OlderBooks(self.context)
        return [self.books]

    def focusFirst(self) -> None:
        next(iter(self.books.buttons.values())).setFocus()
