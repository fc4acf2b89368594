"""The first hour: a first range led through, the older books brought in, and the way to the rest."""

from shopdesk.domain.rights import Action
from shopdesk.ui.context import Context
from shopdesk.ui.older_books import OlderBooks
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.boxes import STRETCH, Part, upright
from shopdesk.ui.widgets.buttons import Button, MainButton
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say


class FirstHourPage(Page):
    """Shown once after a shop was made; found again by its name."""

    place = "first-hour"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.begin = MainButton(say("&Begin with a range"), self._begin, icon_name="add")
        self.rest = WrappedRow(
            [
                Button(say("Hourly rates"), lambda: context.go("set-up", section="rates")),
                Button(say("Taxes"), lambda: context.go("set-up", section="taxes")),
                Button(say("People"), lambda: context.go("set-up", section="people")),
                Button(say("Second place for copies"), lambda: context.go("set-up", section="backups")),
            ]
        )
        self.books = OlderBooks(context)
        self.rest.setVisible(context.may(Action.SET_UP))
        parts: list[Part] = [
            Heading(say("The shop is made"), "head"),
            Words(say("Three things help in the first hour. None has to be done, or done today.")),
            Heading(say("A first range")),
            Words(
                say(
                    "Ten minutes with one range show what the program does: book it in, walk a few "
                    "checkpoints, see the verdict, look at the work order, print the report. A strip over "
                    "the pages says what comes next; leave it and take it up again as you like."
                ),
                "body",
                "muted",
            ),
            WrappedRow([self.begin]),
            Heading(say("The older books")),
            self.books,
            Heading(say("What a shop is asked once")),
            Words(
                say("What an hour costs, which taxes there are, who works here, and where copies go."),
                "body",
                "muted",
            ),
            self.rest,
            STRETCH,
        ]
        self.setLayout(upright([PageScroll(upright(parts, margin="wide"))]))

    def focusFirst(self) -> None:
        self.begin.setFocus()

    def _begin(self) -> None:
        self.context.firstRangeAsked.emit()
        self.context.go("floor", book_in=True)
