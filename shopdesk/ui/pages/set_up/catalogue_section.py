"""The catalogue: its version and what it holds, and the trade figures a shop overwrites with its own."""

from typing import Any

from shopdesk.domain.catalogue.model import Catalogue
from shopdesk.services.catalogue_changes import change_figures, shipped_catalogue
from shopdesk.services.seat import Seat
from shopdesk.ui.pages.set_up.draft import Figure, as_percent, as_written, figures, value_of
from shopdesk.ui.pages.set_up.own_fields import SpreadField
from shopdesk.ui.pages.set_up.section import SetUpSection
from shopdesk.ui.widgets.boxes import Part, upright
from shopdesk.ui.widgets.fields import MoneyField, PercentField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.wording import Region, say

_DRAFT = "set-up/figures"


class FiguresSection(SetUpSection):
    """Every figure with the shipped one beside it; an emptied one is the shipped one again."""

    key = "figures"

    def __init__(self, page: Any) -> None:
        self.title = say("Catalogue: figures")
        self._known: list[Figure] = []
        self.form: Form | None = None
        super().__init__(page)

    def build(self) -> list[Part]:
        self.counts = Words()
        self._form_box = upright()
        intro = say(
            "The verdict and the offer are computed from these. The shipped ones are common practice "
            "without a source: write your own as soon as you know them. Emptied, the shipped one counts."
        )
        return [
            self.counts,
            Words(intro, "body", "muted"),
            Heading(say("Figures of this shop")),
            self._form_box,
        ]

    def ask(self) -> None:
        self.page.ask(lambda _seat: shipped_catalogue(), self._show, key=self.key)

    def focusFirst(self) -> None:
        if self.form is not None:
            self.form.focusFirst()

    def _show(self, shipped: Catalogue) -> None:
        own = self.context.seat.catalogue
        self.counts.setText(counts(own))
        if self.form is None:
            self._known = figures(shipped.figures)
            self.form = self._make_form()
            self._form_box.addWidget(self.form)
        if not self.context.drafts.kept(_DRAFT) or self.form.seen is None:
            self.form.read_from(self.context.reading)
        if not self.context.drafts.kept(_DRAFT):
            self.form.show_values({f.field: _shown(f, value_of(own.figures, f)) for f in self._known})

    def _make_form(self) -> Form:
        region = self.context.region
        form = Form(columns=self.columns)
        for figure in self._known:
            note = say("shipped: {figure}", figure=written(region, figure, figure.shipped))
            if figure.kind == "spread":
                form.add(figure.field, figure.name, SpreadField(region, figure.name), wide=True, note=note)
            else:
                field = MoneyField(region) if figure.kind == "money" else PercentField(region)
                form.add(figure.field, figure.name, field, note=note)
        form.on_save(say("&Keep the figures"), self._save, icon_name="tick")
        form.remember(self.context.drafts, _DRAFT)
        return form

    def _save(self, values: dict[str, Any]) -> None:
        own = as_written(self._known, values)
        assert self.form is not None, "a form that is not made cannot be kept"

        def keep(seat: Seat) -> None:
            change_figures(seat, own)

        self.keep(self.form, keep, say("The figures are kept."), topics=["catalogue"])


def counts(catalogue: Catalogue) -> str:
    """What the catalogue in use holds, in a sentence."""
    return say(
        "Version {version}: {checkpoints} checkpoints, {findings} findings, {tasks} tasks, {proofs} proofs.",
        version=catalogue.version,
        checkpoints=sum(code not in catalogue.off for code in catalogue.checkpoints),
        findings=sum(code not in catalogue.off for code in catalogue.findings),
        tasks=len(catalogue.tasks),
        proofs=len(catalogue.proofs),
    )


def written(region: Region, figure: Figure, value: Any) -> str:
    """A figure as people read it."""
    if figure.kind == "spread":
        return region.money_range(value)
    return region.money(value) if figure.kind == "money" else region.percent(as_percent(value))


def _shown(figure: Figure, value: Any) -> Any:
    return as_percent(value) if figure.kind == "share" else value
