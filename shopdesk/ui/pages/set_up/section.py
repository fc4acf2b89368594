"""A section of Set-up: its heading, its form, and keeping what was typed until it stands in the shop."""

from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING, Any, TypeVar

from PySide6.QtWidgets import QWidget

from shopdesk.domain.problem import Problem
from shopdesk.ui.context import Context
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.boxes import STRETCH, Part, upright
from shopdesk.ui.widgets.fields import DayField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat

T = TypeVar("T")


_WIDE_LETTERS = 100


def is_wide(page: QWidget) -> bool:
    """Whether a page has room for the list of sections and two columns of fields."""
    return page.width() >= page.fontMetrics().averageCharWidth() * _WIDE_LETTERS


class SetUpSection(PageScroll):
    """`key` names it; `build` its parts under the heading. A section is made when it is first chosen."""

    key = ""
    title = ""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.context = page.context
        self._busy = False
        super().__init__(upright([Heading(self.title), *self.build(), STRETCH], gap="gap", margin="gap"))

    @property
    def columns(self) -> int:
        """Two columns of fields, or one where the page is narrow for its letters."""
        return 2 if is_wide(self.page) else 1

    def build(self) -> list[Part]:
        """The parts of the section, from top to bottom."""
        raise TypeError(f"{type(self).__name__} leaves this to nobody")

    def ask(self) -> None:
        """Asks for what the section shows; typed text stays."""

    def focusFirst(self) -> None:
        """The keyboard where the section's work begins."""

    def keep(
        self, form: Form, action: Callable[["Seat"], T], told: str, *, topics: Iterable[str] = ("settings",),
        then: Callable[[T], None] | None = None,
    ) -> None:  # fmt: skip
        """Keeps what a form says, once at a time; a refusal stands beside the field it names."""
        if self._busy:
            return
        self._busy = True

        def done(result: T) -> None:
            self._busy = False
            form.saved()
            self.context.tell(told)
            if then is not None:
                then(result)

        def refused(problem: Problem) -> None:
            self._busy = False
            form.show_problem(problem)

        self.page.do(action, done, refused, changes=topics, form=form)


class FormSection(SetUpSection):
    """One form over one settings value; what is typed and not kept yet is a draft."""

    intro = ""

    def build(self) -> list[Part]:
        self.form = Form(columns=self.columns)
        self.fields(self.form)
        self.form.on_save(say("&Keep it"), self.save, icon_name="tick")
        self.form.remember(self.context.drafts, f"set-up/{self.key}")
        return [*([Words(self.intro, "body", "muted")] if self.intro else []), self.form]

    def fields(self, form: Form) -> None:
        raise TypeError(f"{type(self).__name__} leaves this to nobody")

    def save(self, values: dict[str, Any]) -> None:
        raise TypeError(f"{type(self).__name__} leaves this to nobody")

    def fill(self, values: Mapping[str, Any]) -> None:
        """Shows what the shop keeps, unless something typed waits to be kept."""
        typed = bool(self.context.drafts.kept(f"set-up/{self.key}"))
        if not typed:
            self.form.show_values(values)
        if not typed or self.form.seen is None:
            self.form.read_from(self.context.reading)

    def focusFirst(self) -> None:
        self.form.focusFirst()


def add_from_day(form: Form, context: Context) -> None:
    """The day from which something counts; today unless another is typed."""
    needed = say("Write the day from which it counts.")
    form.add("from_day", say("From &day"), DayField(context.region), required=needed)
    form["from_day"].setValue(context.seat.today)


def holder(parts: list[Part]) -> QWidget:
    """Parts as one widget, to be shown and hidden together."""
    made = QWidget()
    made.setLayout(upright(parts, gap="small"))
    return made
