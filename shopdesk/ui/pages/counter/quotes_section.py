"""Quotes of a job: what was written with every line and cause, the answer, and a new one by scope."""

from shopdesk.domain.rights import Action
from shopdesk.services import agreements
from shopdesk.services.counter import JobAtCounter
from shopdesk.services.photographs import add_photograph
from shopdesk.services.quote_versions import difference, earlier_version
from shopdesk.services.quotes import QuoteView
from shopdesk.ui.dialogs import PICTURES
from shopdesk.ui.pages.counter import draft
from shopdesk.ui.pages.counter.consent_form import consent_form
from shopdesk.ui.pages.counter.draft import Consent, QuoteWish
from shopdesk.ui.pages.counter.lines_view import Figure, LinesView
from shopdesk.ui.pages.counter.quote_form import QuotePricing
from shopdesk.ui.pages.counter.section import Section
from shopdesk.ui.pages.counter.shown import agreement_strip, quote_strip
from shopdesk.ui.pages.page import Page
from shopdesk.ui.widgets.buttons import Button
from shopdesk.ui.widgets.headings import Note
from shopdesk.ui.widgets.strip_list import StripList
from shopdesk.wording import Region, say


class QuotesSection(Section):
    """The newest quote is chosen by itself; its lines stand under the list."""

    key = "quotes"

    def __init__(self, page: Page) -> None:
        super().__init__(page, say("Quotes"))
        self.list = StripList(say("Quotes of this job"), empty=say("Quotes for this job will stand here."),
                              most=4)  # fmt: skip
        self.list.chosen.connect(lambda _key: self._show_chosen())
        self.list.opened.connect(lambda _key: self.show_chosen_paper())
        self.new_button = Button(say("New &quote"), self.begin_quote, icon_name="add")
        self.agreed_button = Button(say("They a&gree"), self.begin_consent, icon_name="tick")
        self.declined_button = Button(say("They &decline"), self.decline)
        self.paper_button = Button(say("Show the paper"), self.show_chosen_paper, icon_name="print")
        self.lines = LinesView(say("Lines of the quote"))
        self.lines.hide()
        self.own = Note(say("The range is the shop’s own; it needs no quote."))
        self.pricing: QuotePricing | None = None
        self._written_id: int | None = None  # to be chosen once it is listed
        row = self.deeds([self.new_button, self.agreed_button, self.declined_button, self.paper_button])
        self.changed = Note()
        for widget in (self.own, self.list, row, self.lines, self.changed):
            self.body.addWidget(widget)

    def show_job(self, job: JobAtCounter) -> None:
        other = self.job is None or self.job.head.found.job_id != job.head.found.job_id
        super().show_job(job)
        region, today = self.context.region, self.context.seat.today
        newest = [view.row for view in reversed(job.quotes) if view.row.step != "change"]
        self.list.show_rows([quote_strip(region, today, row) for row in newest])
        if self._written_id is not None and self.list.select(self._written_id):
            self._written_id = None
        elif newest and (other or self.list.current_key() is None):
            self.list.select(newest[0].id)
        own = job.head.customer_id is None
        self.own.setVisible(own)
        self.list.setVisible(not own)
        self.new_button.setVisible(not own and self.context.may(Action.QUOTE))
        self._show_chosen()

    def focusFirst(self) -> None:
        if self.list.isVisible() and self.list.current() is not None:
            self.list.focusFirst()
        else:
            self.new_button.setFocus()

    def chosen(self) -> QuoteView | None:
        key = self.list.current_key()
        views = self.job.quotes if self.job else ()
        return next((view for view in views if view.row.id == key), None)

    def begin_quote(self) -> None:
        """The form of a new quote, with what it would hold."""
        assert self.job is not None
        self.pricing = QuotePricing(self.page, self.job_id, self.job.head.scope, self._write)
        self.pricing.priced.connect(lambda: self.grown.emit(self.panel))
        self.open_form(say("New quote"), self.pricing.form, [self.pricing])

    def begin_consent(self) -> None:
        """The form of the customer's yes to the chosen quote."""
        view = self.chosen()
        if view is None or self.job is None:
            return
        form = consent_form(self.context, view, self.job.head.found.phone, self._record)
        self.open_form(say("Agreement to {number}", number=view.row.number), form)

    def decline(self) -> None:
        view = self.chosen()
        if view is None:
            return
        number = view.row.number
        if self.context.dialogs.confirm(
            say("Declined"),
            say("Record that {number} was declined? It cannot be agreed to afterwards.", number=number),
            say("Record it as declined"),
        ):
            self.act(
                lambda seat: agreements.decline(seat, view.row.id),
                lambda _none: self.context.tell(say("{number} is declined.", number=number)),
            )

    def show_chosen_paper(self) -> None:
        view = self.chosen()
        if view is not None:
            self.show_paper(view.row.number, say("Quote {number}", number=view.row.number), "quote")

    def _show_chosen(self) -> None:
        view = self.chosen()
        self.lines.setVisible(view is not None)
        open_ = view is not None and view.row.answer == "open"
        self.agreed_button.setVisible(open_ and self.context.may(Action.AGREE))
        self.declined_button.setVisible(open_ and self.context.may(Action.AGREE))
        self.paper_button.setVisible(view is not None)
        if view is not None:
            region = self.context.region
            self.lines.show_lines(region, view.lines, view.totals, terms_of(region, view), view.adjustments)
        earlier = earlier_version(self.job.quotes, view) if view is not None and self.job else None
        told = difference_words(self.context.region, earlier, view) if earlier and view else ""
        self.changed.setText(told)
        self.changed.setVisible(bool(told))

    def _write(self, wish: QuoteWish) -> None:
        self.act(lambda seat: draft.write(seat, wish), self._written, changes=["ranges", "stores"])

    def _written(self, quote_id: int) -> None:
        self._written_id = quote_id
        self.context.tell(say("The quote is written."), say("Show the paper"), self.show_chosen_paper)

    def _record(self, consent: Consent) -> None:
        self.act(
            lambda seat: draft.record(seat, consent),
            lambda _key: self.context.tell(say("The agreement is recorded.")),
        )


_MOST_CHANGES = 6


def difference_words(region: Region, earlier: QuoteView, view: QuoteView) -> str:
    """What changed since the version before, in a few lines."""
    told = difference(earlier, view)
    if told.is_nothing:
        return say("Nothing changed since {number}.", number=told.earlier)
    rows = [say("added: {what}, {amount}", what=line.what, amount=region.money(line.net_cents))
            for line in told.added]  # fmt: skip
    rows += [say("left out: {what}, {amount}", what=line.what, amount=region.money(line.net_cents))
             for line in told.gone]  # fmt: skip
    rows += [say("{what}: {before} before, now {now}", what=each.after.what,
                 before=region.money(each.before.net_cents), now=region.money(each.after.net_cents))
             for each in told.changed]  # fmt: skip
    more = len(rows) - _MOST_CHANGES
    if more > 0:
        rows = [*rows[:_MOST_CHANGES], say("and {count} more", count=more)]
    whole = say("Since {number}: {before} before, now {now}, without tax.", number=told.earlier,
                before=region.money(told.net_before), now=region.money(told.net_after))  # fmt: skip
    return "\n".join([whole, *rows])


class AgreementsSection(Section):
    """Every consent of a job, change orders too."""

    key = "agreements"

    def __init__(self, page: Page) -> None:
        super().__init__(page, say("Agreed"))
        self.list = StripList(
            say("Agreements of this job"), empty=say("What the customer agrees to will stand here."), most=5
        )
        self.list.chosen.connect(lambda _key: self._show_button())
        self.picture_button = Button(say("Add the signed paper’s picture"), self.add_picture)
        self.body.addWidget(self.list)
        self.body.addWidget(self.deeds([self.picture_button]))

    def show_job(self, job: JobAtCounter) -> None:
        super().show_job(job)
        self.setVisible(job.head.customer_id is not None)
        region = self.context.region
        self.list.show_rows([agreement_strip(region, row) for row in job.agreements])
        self._show_button()

    def add_picture(self) -> None:
        """Keeps a photograph or a scan of the paper that was signed with the agreement."""
        key = self.list.current_key()
        if self.job is None or not isinstance(key, int):
            return
        file = self.context.dialogs.open_file(say("The signed paper"), say("Pictures"), PICTURES)
        if file is None:
            return
        range_id, agreement_id = self.job.head.found.range_id, key
        self.act(
            lambda seat: add_photograph(
                seat, range_id, file.read_bytes(), file.name, caption=say("signed paper"),
                agreement_id=agreement_id,
            ),
            lambda _key: self.context.tell(say("The picture is kept with the agreement.")),
            changes=["ranges"],
        )  # fmt: skip

    def _show_button(self) -> None:
        chosen = self.list.current() is not None
        self.picture_button.setVisible(chosen and self.context.may(Action.KEEP_STORES))

    def focusFirst(self) -> None:
        self.list.focusFirst()


def terms_of(region: Region, view: QuoteView) -> list[Figure]:
    """The figures beside a quote's sums."""
    row = view.row
    figures: list[Figure] = []
    if row.deposit_cents:
        figures.append((say("Deposit asked"), region.money(row.deposit_cents), False))
    figures.append((say("Not above, without tax"), region.money(row.ceiling_cents), False))
    if row.valid_until is not None:
        figures.append((say("Valid until"), region.day(row.valid_until), False))
    return figures
