"""Change orders from the bench: priced here, then agreed or declined."""

from shopdesk.domain.rights import Action
from shopdesk.services import agreements, quotes
from shopdesk.services.change_orders import ChangeRow
from shopdesk.services.counter import JobAtCounter
from shopdesk.services.quotes import QuoteView
from shopdesk.ui.pages.counter import draft
from shopdesk.ui.pages.counter.consent_form import consent_form
from shopdesk.ui.pages.counter.draft import Consent
from shopdesk.ui.pages.counter.lines_view import LinesView
from shopdesk.ui.pages.counter.section import Section
from shopdesk.ui.pages.counter.shown import change_strip
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.strip_list import StripList
from shopdesk.wording import say


class ChangesSection(Section):
    """What the bench found more of; a waiting one is chosen by itself."""

    key = "changes"

    def __init__(self, page: Page) -> None:
        super().__init__(page, say("Change orders"))
        self.list = StripList(
            say("Change orders of this job"),
            empty=say("What the bench finds more of will stand here, to be priced and agreed."), most=4,
        )  # fmt: skip
        self.list.chosen.connect(lambda _key: self._show_chosen())
        self.list.opened.connect(lambda _key: self.show_chosen_paper())
        self.price_button = Button(say("Pr&ice it"), self.price, icon_name="coin")
        self.agreed_button = Button(say("They ag&ree"), self.begin_consent, icon_name="tick")
        self.declined_button = Button(say("They decline"), self.decline)
        self.paper_button = Button(say("Show the paper"), self.show_chosen_paper, icon_name="print")
        self.lines = LinesView(say("Lines of the change order"))
        self.lines.hide()
        row = self.deeds([self.price_button, self.agreed_button, self.declined_button, self.paper_button])
        for widget in (self.list, row, self.lines):
            self.body.addWidget(widget)

    def show_job(self, job: JobAtCounter) -> None:
        other = self.job is None or self.job.head.found.job_id != job.head.found.job_id
        super().show_job(job)
        region, today = self.context.region, self.context.seat.today
        self.setVisible(job.head.customer_id is not None)
        self.list.show_rows([change_strip(region, today, row) for row in job.changes])
        if job.changes and (other or self.list.current_key() is None):
            waiting = [row for row in job.changes if row.standing in ("to be priced", "open")]
            self.list.select((waiting or list(job.changes))[0].id)
        self._show_chosen()

    def focusFirst(self) -> None:
        self.list.focusFirst()

    def chosen(self) -> ChangeRow | None:
        key = self.list.current_key()
        return next((row for row in (self.job.changes if self.job else ()) if row.id == key), None)

    def chosen_quote(self) -> QuoteView | None:
        """The price of the chosen one, once it has one."""
        row = self.chosen()
        if row is None or self.job is None:
            return None
        return next((view for view in self.job.quotes if view.row.id == row.quote_id), None)

    def price(self) -> None:
        row = self.chosen()
        if row is not None:
            self.act(
                lambda seat: quotes.quote_change(seat, row.id),
                lambda _key: self.context.tell(
                    say("{number} is priced.", number=row.number), say("Show the paper"),
                    self.show_chosen_paper,
                ),
            )  # fmt: skip

    def begin_consent(self) -> None:
        view = self.chosen_quote()
        if view is None or self.job is None:
            return
        form = consent_form(self.context, view, self.job.head.found.phone, self._record)
        self.open_form(say("Agreement to {number}", number=view.row.number), form)

    def decline(self) -> None:
        view = self.chosen_quote()
        if view is None:
            return
        number = view.row.number
        if self.context.dialogs.confirm(
            say("Declined"),
            say("Record that {number} was declined? Its work is then not done.", number=number),
            say("Record it as declined"),
        ):
            self.act(
                lambda seat: agreements.decline(seat, view.row.id),
                lambda _none: self.context.tell(say("{number} is declined.", number=number)),
            )

    def show_chosen_paper(self) -> None:
        view = self.chosen_quote()
        if view is not None:
            number = view.row.number
            self.show_paper(number, say("Change order {number}", number=number), "change order")

    def _show_chosen(self) -> None:
        row, view = self.chosen(), self.chosen_quote()
        may_agree = self.context.may(Action.AGREE) and row is not None and row.standing == "open"
        unpriced = row is not None and (row.standing == "to be priced" or row.anew)
        self.price_button.setVisible(unpriced and self.context.may(Action.QUOTE))
        anew = row is not None and row.anew
        self.price_button.setText(say("Pr&ice it anew") if anew else say("Pr&ice it"))
        self.agreed_button.setVisible(may_agree)
        self.declined_button.setVisible(may_agree)
        self.paper_button.setVisible(view is not None)
        self.lines.setVisible(view is not None)
        if view is not None:
            self.lines.show_lines(self.context.region, view.lines, view.totals)

    def _record(self, consent: Consent) -> None:
        self.act(
            lambda seat: draft.record(seat, consent),
            lambda _key: self.context.tell(say("The agreement is recorded.")),
        )
