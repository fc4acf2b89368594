"""Shop, Region, Terms and Papers: one settings value and one form each."""

from dataclasses import replace
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCompleter

from shopdesk.domain.problem import Problem
from shopdesk.services.logos import read_logo
from shopdesk.services.seat import Seat
from shopdesk.services.settings import ShopIdentity, Terms, Texts
from shopdesk.services.shops import keep_setting, setting
from shopdesk.ui.pages.set_up.draft import currency_choices, language_choices, read_region, zones
from shopdesk.ui.pages.set_up.ink_field import InkField
from shopdesk.ui.pages.set_up.own_fields import LogoField
from shopdesk.ui.pages.set_up.section import FormSection
from shopdesk.ui.widgets.fields import ChoiceField, CountField, MoneyField, NoteField, PercentField, TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.wording import Region, say

_MOST_DAYS = 3650


class ShopSection(FormSection):
    """Who the shop is, as it prints on every paper."""

    key = "shop"

    def __init__(self, page: Any) -> None:
        self.title = say("Shop")
        self.intro = say("This stands at the head of every paper.")
        super().__init__(page)

    def fields(self, form: Form) -> None:
        form.add("name", say("&Name"), TextField(), wide=True,
                 required=say("The shop needs a name; it prints on every paper."))  # fmt: skip
        form.add("street", say("&Street"), TextField(), wide=True)
        form.add("town", say("&Town"), TextField())
        form.add("region", say("State or &region"), TextField())
        form.add("postcode", say("&Postcode"), TextField())
        form.add("country", say("&Country"), TextField())
        form.add("phone", say("Telepho&ne"), TextField())
        form.add("email", say("&E-mail"), TextField())
        form.add("registration", say("Re&gistration"), TextField(),
                 note=say("A licence or registration number, where the law asks for one."))  # fmt: skip
        form.add("tax_number", say("Ta&x number"), TextField())
        logo = LogoField(self.context.dialogs, read_logo)
        form.add("logo_png", say("&Logo"), logo, wide=True, note=say("A PNG picture of at most 500 kB."))
        form.add("colour", say("Colour of the &papers"), InkField(), wide=True,
                 note=say("Of headings and rules. Papers that are issued keep theirs."))  # fmt: skip

    def ask(self) -> None:
        self.page.ask(
            lambda seat: setting(seat, ShopIdentity),
            lambda kept: self.fill({name: getattr(kept, name) for name in ShopIdentity.__dataclass_fields__}),
            key=self.key,
        )

    def save(self, values: dict[str, Any]) -> None:
        if values["email"] and "@" not in values["email"]:
            problem = Problem("{email} is not an e-mail address. Correct it or leave it empty.",
                              field="email", email=values["email"])  # fmt: skip
            self.form.show_problem(problem)
            return
        identity = ShopIdentity(**values)
        self.keep(self.form, lambda seat: keep_setting(seat, identity), say("The shop is kept."))


class RegionSection(FormSection):
    """How the shop writes figures and days."""

    key = "region"

    def __init__(self, page: Any) -> None:
        self.title = say("Region")
        super().__init__(page)

    def fields(self, form: Form) -> None:
        form.add("language", say("&Language, figures and days"),
                 ChoiceField(language_choices(self.context.region.language)), wide=True)  # fmt: skip
        form.add("currency", say("&Currency"), ChoiceField(currency_choices()),
                 note=say("Another currency does not convert amounts that are written already."))  # fmt: skip
        form.add("timezone", say("&Time zone"), _zone_field(), required=say("Write the shop’s time zone."),
                 note=say("Such as America/Chicago; it decides on which day something falls."))  # fmt: skip
        form.add("units", say("&Measures"),
                 ChoiceField([("us", say("Inches, pounds, °F")), ("metric", say("Metric"))]))  # fmt: skip
        form.add("paper", say("&Paper"), ChoiceField([("letter", say("Letter")), ("a4", say("A4"))]))

    def ask(self) -> None:
        self.page.ask(
            lambda seat: setting(seat, Region),
            lambda kept: self.fill(
                {"language": kept.locale, "currency": kept.currency, "units": kept.units,
                 "paper": kept.paper, "timezone": kept.timezone}
            ),
            key=self.key,
        )  # fmt: skip

    def save(self, values: dict[str, Any]) -> None:
        try:
            region = read_region(values)
        except Problem as problem:
            self.form.show_problem(problem)
            return
        self.keep(self.form, lambda seat: keep_setting(seat, region), say("The region is kept."))


class TermsSection(FormSection):
    """The shop's own terms; they count for what is written from now on."""

    key = "terms"
    names = (
        "deposit_percent", "quote_valid_days", "payment_days", "ceiling_percent", "part_markup_percent",
        "outwork_handling_percent", "sundries_percent", "delivery_cents", "warranty_days",
    )  # fmt: skip

    def __init__(self, page: Any) -> None:
        self.title = say("Terms")
        self.intro = say("They count for what is written from now on; issued papers stay as they are.")
        super().__init__(page)

    def fields(self, form: Form) -> None:
        region = self.context.region
        needed = say("Write a figure; 0 for none.")

        def share(name: str, label: str, note: str = "") -> None:
            form.add(name, label, PercentField(region, whole=True), required=needed, note=note)

        share("deposit_percent", say("&Deposit, of a quote with tax"))
        form.add("quote_valid_days", say("&Quotes are valid, days"), CountField(0, _MOST_DAYS))
        form.add("payment_days", say("&Invoices are due after, days"), CountField(0, _MOST_DAYS))
        share("ceiling_percent", say("&Contingency of a quote, at most"),
              say("Follows from how sure the hours are, up to this share of the quote. Estimate and "
                  "contingency are the one figure that is not passed unasked. Local law may allow "
                  "less."))  # fmt: skip
        form.add("part_markup_percent", say("&Markup on parts, percent"), CountField(0, 500))
        share("outwork_handling_percent", say("&Handling of outwork"))
        share("sundries_percent", say("&Sundries, of the labour"))
        form.add("delivery_cents", say("D&elivery and placing"), MoneyField(region), required=needed)
        form.add("warranty_days", say("&Warranty, days"), CountField(0, _MOST_DAYS))

    def ask(self) -> None:
        self.page.ask(lambda seat: setting(seat, Terms), self._show, key=self.key)

    def save(self, values: dict[str, Any]) -> None:
        def keep(seat: Seat) -> None:
            keep_setting(seat, replace(setting(seat, Terms), **values))

        self.keep(self.form, keep, say("The terms are kept."))

    def _show(self, kept: Terms) -> None:
        self.fill({name: getattr(kept, name) for name in self.names})


class TextsSection(FormSection):
    """Standard sentences of the papers; empty ones print nothing."""

    key = "texts"

    def __init__(self, page: Any) -> None:
        self.title = say("Papers")
        self.intro = say("Standard sentences of your papers. Empty ones print nothing.")
        super().__init__(page)

    def fields(self, form: Form) -> None:
        for name, label in (
            ("quote", say("On &quotes and change orders")),
            ("invoice", say("On &invoices: how to pay")),
            ("report", say("On &condition reports")),
            ("warranty", say("&Warranty")),
            ("local_law", say("&Local law, at the foot of every paper")),
        ):
            form.add(name, label, NoteField(lines=3), wide=True)

    def ask(self) -> None:
        self.page.ask(
            lambda seat: setting(seat, Texts),
            lambda kept: self.fill({name: getattr(kept, name) for name in Texts.__dataclass_fields__}),
            key=self.key,
        )

    def save(self, values: dict[str, Any]) -> None:
        texts = Texts(**values)
        self.keep(self.form, lambda seat: keep_setting(seat, texts), say("The texts are kept."))


def _zone_field() -> TextField:
    """A line that completes the IANA name from any part of it."""
    field = TextField()
    completer = QCompleter(zones(), field)
    completer.setFilterMode(Qt.MatchFlag.MatchContains)
    completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
    completer.activated.connect(lambda _text: field.edited.emit())
    field.setCompleter(completer)
    return field
