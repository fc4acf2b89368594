"""Invoices of a job: what is ready to bill and because of what, the one being written, the issued ones."""

from shopdesk.domain.rights import Action
from shopdesk.services import invoice_drafts, invoices, storage_clock, warranty, write_offs
from shopdesk.services.counter import JobAtCounter
from shopdesk.services.invoices import InvoiceView
from shopdesk.services.lines import totals_of
from shopdesk.ui.pages.counter.changes_form import change_form
from shopdesk.ui.pages.counter.lines_view import LinesView
from shopdesk.ui.pages.counter.sale_form import sale_form
from shopdesk.ui.pages.counter.section import Section
from shopdesk.ui.pages.counter.share_form import share_form
from shopdesk.ui.pages.counter.shown import invoice_strip
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.buttons import Button, MainButton
from shopdesk.ui.widgets.fields import NoteField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Words
from shopdesk.ui.widgets.strip_list import StripList
from shopdesk.wording import say, say_problem


class InvoicesSection(Section):
    """One invoice is being written at most; issued ones are corrected by a credit."""

    key = "invoices"

    def __init__(self, page: Page) -> None:
        super().__init__(page, say("Invoices"))
        self.standing = Words()
        self.ready = LinesView(say("Lines that are ready to bill"))
        self.write_button = Button(say("Write the &invoice"), self.write, icon_name="note")
        self.sell_button = Button(say("&Sell it"), self.begin_sale, icon_name="coin")
        self.issue_button = MainButton(say("Iss&ue it"), self.issue, icon_name="tick")
        self.preview_button = Button(say("Pre&view it"), self.preview)
        self.drop_button = Button(say("Throw it away"), self.drop)
        self.change_button = Button(say("Discount or surcharge"), self.begin_change)
        self.share_button = Button(say("Bill a share"), self.begin_share)
        self.free_button = Button(say("Write the paper at no charge"), self.write_free, icon_name="note")
        self.storage_button = Button(say("Bill the storage"), self.write_storage)
        self.list = StripList(
            say("Invoices and credits of this job"), empty=say("Issued invoices will stand here."), most=4
        )
        self.list.opened.connect(lambda _key: self.show_chosen_paper())
        self.list.chosen.connect(lambda _key: self._show_chosen())
        self.paper_button = Button(say("Show the paper"), self.show_chosen_paper, icon_name="print")
        self.credit_button = Button(say("&Credit it"), self.begin_credit, icon_name="undo")
        first = self.deeds(
            [
                self.write_button,
                self.share_button,
                self.sell_button,
                self.free_button,
                self.storage_button,
                self.issue_button,
                self.preview_button,
                self.change_button,
                self.drop_button,
            ]
        )
        self.off_button = Button(say("Write it off"), self.begin_write_off)
        second = self.deeds([self.paper_button, self.credit_button, self.off_button])
        for widget in (self.standing, self.ready, first, self.list, second):
            self.body.addWidget(widget)

    def show_job(self, job: JobAtCounter) -> None:
        super().show_job(job)
        region, today = self.context.region, self.context.seat.today
        issued = [view.row for view in reversed(job.invoices) if view.row.number]
        self.list.show_rows([invoice_strip(region, today, row) for row in issued])
        if issued and self.list.current_key() is None:
            self.list.select(issued[0].id)
        self._show_ready(job)
        self._show_chosen()

    def focusFirst(self) -> None:
        for button in (self.issue_button, self.write_button, self.sell_button):
            if button.isVisible():
                button.setFocus()
                return
        self.list.focusFirst()

    def draft(self) -> InvoiceView | None:
        """The invoice that is being written."""
        return next((view for view in (self.job.invoices if self.job else ()) if not view.row.number), None)

    def chosen(self) -> InvoiceView | None:
        key = self.list.current_key()
        return next((view for view in (self.job.invoices if self.job else ()) if view.row.id == key), None)

    def write(self) -> None:
        job_id = self.job_id
        self.act(
            lambda seat: invoices.draft_invoice(seat, job_id),
            lambda _key: self.context.tell(say("The invoice is written; look at it and issue it.")),
        )

    def begin_share(self) -> None:
        """The form of a bill for a milestone or a percentage of what is agreed."""
        if self.job is not None:
            self.open_form(say("Bill a share of what is agreed"), share_form(self, self.job.life.milestones))

    def begin_change(self) -> None:
        """The form of a discount or surcharge on the invoice that is being written."""
        view = self.draft()
        if view is None:
            return
        form = change_form(
            self.context.region, view.lines,
            lambda change: self.act(
                lambda seat: invoice_drafts.change_draft(seat, view.row.id, [change]),
                lambda _none: self.context.tell(say("It is on the invoice.")),
            ),
        )  # fmt: skip
        self.open_form(say("Discount or surcharge"), form)

    def write_free(self) -> None:
        """A paper that comes to nothing over the work of a comeback."""
        job_id = self.job_id
        self.act(
            lambda seat: warranty.draft_free_invoice(seat, job_id),
            lambda _key: self.context.tell(say("The invoice is written; look at it and issue it.")),
        )

    def write_storage(self) -> None:
        job_id = self.job_id
        self.act(
            lambda seat: storage_clock.draft_storage(seat, job_id),
            lambda _key: self.context.tell(say("The invoice is written; look at it and issue it.")),
        )

    def begin_write_off(self) -> None:
        """The form of an invoice that is no longer asked for; the owner's."""
        view = self.chosen()
        if view is None:
            return
        form = Form()
        form.add("why", say("&Why it is written off"), NoteField(lines=2),
                 required=say("Say why it is written off; the bookkeeper will ask."))  # fmt: skip
        form.on_save(
            say("&Write it off"),
            lambda values: self.act(
                lambda seat: write_offs.write_off(seat, view.row.id, values["why"]),
                lambda _cents: self.context.tell(
                    say("{number} is no longer asked for.", number=view.row.number)
                ),
            ),
        )
        about = Words(say("Money that comes after all still counts for {number}.", number=view.row.number))
        self.open_form(say("Write {number} off", number=view.row.number), form, [about])

    def begin_sale(self) -> None:
        """The form of a sale of the shop's own range."""
        self.open_form(say("Sell it"), sale_form(self))

    def issue(self) -> None:
        view = self.draft()
        if view is not None:
            self.act(lambda seat: invoices.issue_invoice(seat, view.row.id), self._issued, changes=["ranges"])

    def preview(self) -> None:
        view = self.draft()
        if view is not None:
            self.page.ask(
                lambda seat: invoices.preview_invoice(seat, view.row.id),
                lambda pdf: self.context.show_paper(pdf, say("Invoice, not issued yet")),
                key="invoice paper",
            )

    def drop(self) -> None:
        view = self.draft()
        if view is not None:
            self.act(
                lambda seat: invoices.drop_invoice(seat, view.row.id),
                lambda _none: self.context.tell(say("The invoice that was being written is gone.")),
            )

    def begin_credit(self) -> None:
        """The form of a credit: the reason prints on it."""
        view = self.chosen()
        if view is None:
            return
        form = Form()
        form.add("why", say("&Why it is credited"), NoteField(lines=2),
                 required=say("Say why the invoice is credited; it prints on the credit."))  # fmt: skip
        form.on_save(
            say("&Issue the credit"),
            lambda values: self.act(
                lambda seat: invoices.credit_invoice(seat, view.row.id, values["why"]), self._credited
            ),
        )
        form.remember(self.context.drafts, f"counter/credit/{view.row.id}")
        about = Words(
            say("The credit is over all of {number}; what was paid on it is held for the customer.",
                number=view.row.number)
        )  # fmt: skip
        self.open_form(say("Credit {number}", number=view.row.number), form, [about])

    def show_chosen_paper(self) -> None:
        view = self.chosen()
        if view is not None:
            kind, number = view.row.kind, view.row.number
            title = say("Credit {number}", number=number) if kind == "credit" else say(
                "Invoice {number}", number=number
            )  # fmt: skip
            self.show_paper(number, title, kind)

    def _show_ready(self, job: JobAtCounter) -> None:
        draft, ready, region = self.draft(), job.ready, self.context.region
        may = self.context.may(Action.INVOICE)
        own = job.head.customer_id is None
        if draft is not None:
            text = say("This is written and not issued yet.")
            sums = totals_of(draft.lines, adjustments=draft.adjustments)
            self.ready.show_lines(region, draft.lines, sums, adjustments=draft.adjustments)
        elif ready.refusal is not None:
            text = say_problem(ready.refusal)
            self.ready.show_lines(region, ready.lines, ready.totals, adjustments=ready.adjustments)
        else:
            text = say("Ready to bill: what is agreed, ticked and on no invoice yet.")
            self.ready.show_lines(region, ready.lines, ready.totals, adjustments=ready.adjustments)
        self.standing.setText(text)
        self.ready.setVisible(draft is not None or bool(ready.lines))
        self.write_button.setVisible(may and draft is None and not own and bool(ready.lines))
        self.sell_button.setVisible(may and draft is None and own and not self._sold(job))
        for button in (self.issue_button, self.preview_button, self.change_button, self.drop_button):
            button.setVisible(draft is not None and (may or button is self.preview_button))
        back, open_ = job.life.came_back, may and draft is None and not own
        self.share_button.setVisible(open_ and bool(job.agreements))
        self.free_button.setVisible(open_ and back is not None and back.free)
        self.storage_button.setVisible(open_ and job.life.storage.cents > 0)

    def _sold(self, job: JobAtCounter) -> bool:
        standing = ("issued", "part settled", "settled", "past due")
        return any(view.row.kind == "invoice" and view.row.standing in standing for view in job.invoices)

    def _show_chosen(self) -> None:
        view = self.chosen()
        self.paper_button.setVisible(view is not None)
        creditable = view is not None and view.row.kind == "invoice" and view.row.standing != "credited"
        self.credit_button.setVisible(creditable and self.context.may(Action.INVOICE))
        asked = view is not None and view.row.open_cents > 0
        self.off_button.setVisible(asked and self.context.may(Action.WRITE_OFF))

    def _issued(self, number: str) -> None:
        self.context.tell(say("{number} is issued.", number=number))
        self.show_paper(number, say("Invoice {number}", number=number), "invoice")

    def _credited(self, number: str) -> None:
        self.context.tell(say("{number} is issued.", number=number))
        self.show_paper(number, say("Credit {number}", number=number), "credit")
