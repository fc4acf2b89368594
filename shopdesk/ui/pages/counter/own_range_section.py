"""A range of the shop's own: what went into it and what it brought; for the owner."""

from typing import Any

from shopdesk.domain.rights import Action
from shopdesk.services import sales
from shopdesk.services.counter import JobAtCounter
from shopdesk.services.sales import OwnRange
from shopdesk.ui.pages.counter.lines_view import Figure, Figures
from shopdesk.ui.pages.counter.section import Section
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.boxes import STRETCH, level
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.fields import DayField, MoneyField, TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.wording import Region, say


class OwnRangeSection(Section):
    """Cost gathered by itself from purchase, hours, parts and outwork; other money spent is added here."""

    key = "own"

    def __init__(self, page: Page) -> None:
        super().__init__(page, say("Cost and margin"))
        self.figures = Figures()
        self.add_button = Button(say("Other money spent"), self.begin, icon_name="add")
        self.body.addLayout(level([self.figures, STRETCH]))
        self.body.addWidget(self.deeds([self.add_button]))

    def show_job(self, job: JobAtCounter) -> None:
        super().show_job(job)
        shown = job.head.customer_id is None and self.context.may(Action.SEE_COSTS)
        self.setVisible(shown)
        if shown:
            job_id = job.head.found.job_id
            self.page.ask(lambda seat: sales.own_range(seat, job_id), self._show, key="own range")

    def focusFirst(self) -> None:
        self.add_button.setFocus()

    def begin(self) -> None:
        """The form of money spent beside parts, hours and outwork."""
        job_id, region, form = self.job_id, self.context.region, Form(columns=2)
        form.add("what", say("What &for"), TextField(), required=say("Write what the money was for."))
        form.add("amount", say("A&mount"), MoneyField(region, negative=True),
                 required=say("Write the amount."),
                 note=say("A wrong one is corrected by its opposite."))  # fmt: skip
        form.add("on", say("Da&y"), DayField(region)).setValue(self.context.seat.today)

        def save(values: dict[str, Any]) -> None:
            self.act(
                lambda seat: sales.add_outlay(seat, job_id, values["what"], values["amount"], values["on"]),
                lambda _key: self.context.tell(say("It is counted in.")),
            )

        form.on_save(say("&Count it in"), save, icon_name="tick")
        self.open_form(say("Other money spent on it"), form)

    def _show(self, own: OwnRange) -> None:
        self.figures.show_figures(own_figures(self.context.region, own))


def own_figures(region: Region, own: OwnRange) -> list[Figure]:
    """Cost by what it was for, the price once it is sold, and what is left."""
    cost = own.cost
    rows = [
        (say("Bought for"), cost.purchase),
        (say("Hours, {hours}", hours=region.hours(own.minutes)), cost.hours),
        (say("Parts"), cost.parts), (say("Outwork"), cost.outwork),
        *((row.what, row.amount_cents) for row in own.outlays),
    ]  # fmt: skip
    figures: list[Figure] = [(name, region.money(cents), False) for name, cents in rows if cents]
    figures.append((say("Cost so far"), region.money(cost.whole), True))
    if own.price_cents is not None and own.margin_cents is not None:
        figures.append((say("Sold for, without tax"), region.money(own.price_cents), False))
        if own.tax_on_margin_cents:
            figures.append((say("Tax within the margin"), region.money(own.tax_on_margin_cents), False))
        figures.append((say("What is left"), region.money(own.margin_cents), True))
    return figures
