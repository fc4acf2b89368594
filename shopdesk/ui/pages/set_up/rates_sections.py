"""What an hour is charged at, and the taxes on kinds of lines; each counts from a day on."""

import datetime as dt
from decimal import Decimal
from typing import Any

from shopdesk.domain.problem import Problem
from shopdesk.services.seat import Seat
from shopdesk.services.shops import RateRow, keep_rate, rates
from shopdesk.services.taxes import LocalTaxRow, TaxRow, keep_local_taxes, keep_taxes, local_taxes, taxes
from shopdesk.ui.pages.set_up.draft import categories, check_tax, kinds
from shopdesk.ui.pages.set_up.own_fields import TicksField
from shopdesk.ui.pages.set_up.section import SetUpSection, add_from_day
from shopdesk.ui.widgets.boxes import Part
from shopdesk.ui.widgets.fields import ChoiceField, MoneyField, PercentField, TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.ui.widgets.strip_list import Strip, StripList
from shopdesk.wording import Region, say

_BENCH = "bench"  # the rate that quotes are priced at


Both = tuple[list[TaxRow], list[LocalTaxRow]]


def _both(seat: Seat) -> Both:
    return taxes(seat), local_taxes(seat)


class RatesSection(SetUpSection):
    """The rates so far, the newest first, and the next one."""

    key = "rates"

    def __init__(self, page: Any) -> None:
        self.title = say("Rates")
        super().__init__(page)

    def build(self) -> list[Part]:
        self.list = StripList(say("What an hour is charged at"), most=6,
                              empty=say("What an hour is charged at will stand here."))  # fmt: skip
        self.form = Form(columns=self.columns)
        self.form.add("rate", say("An &hour is charged at"), MoneyField(self.context.region),
                      required=say("Write what an hour is charged at."))  # fmt: skip
        add_from_day(self.form, self.context)
        self.form.on_save(say("&Keep it"), self._save, icon_name="tick")
        self.form.remember(self.context.drafts, "set-up/rate")
        intro = say("Quotes written from that day on are priced at it; agreed prices stand.")
        return [Words(intro, "body", "muted"), self.list, Heading(say("From a day on")), self.form]

    def ask(self) -> None:
        self.page.ask(rates, self._show, key=self.key)

    def focusFirst(self) -> None:
        self.form.focusFirst()

    def _show(self, rows: list[RateRow]) -> None:
        today, region = self.context.seat.today, self.context.region
        mine = [row for row in rows if row.name == _BENCH]
        now = max((row.from_day for row in mine if row.from_day <= today), default=None)
        self.list.show_rows(
            [
                Strip(row.from_day, say("{amount} an hour", amount=region.money(row.cents_per_hour)),
                      say("from {day}", day=region.day(row.from_day)), _counts(row.from_day, now, today))
                for row in reversed(mine)
            ]
        )  # fmt: skip

    def _save(self, values: dict[str, Any]) -> None:
        self.keep(
            self.form,
            lambda seat: keep_rate(seat, _BENCH, values["from_day"], values["rate"]),
            say("The rate is kept."),
        )


class TaxesSection(SetUpSection):
    """The taxes in force and those before and to come, and a form that sets one for several kinds."""

    key = "taxes"

    def __init__(self, page: Any) -> None:
        self.title = say("Taxes")
        super().__init__(page)

    def build(self) -> list[Part]:
        region = self.context.region
        self.list = StripList(say("Taxes by kind of line"), most=8, empty=say(
            "No tax is set; nothing is taxed until it is."))  # fmt: skip
        self.list.opened.connect(self._take_over)
        self.form = Form(columns=self.columns)
        self.form.add("kinds", say("On &which lines"), TicksField(kinds()), wide=True)
        self.form.add("place", say("Only for customers &in"), TextField(),
                      note=say("A postcode or its beginning, a town, a region or a country. "
                               "Empty: everywhere else."))  # fmt: skip
        self.form.add("name", say("&Name of the tax"), TextField(),
                      required=say("Write the name of the tax, as it prints.")).setPlaceholderText(
                          say("Sales tax"))  # fmt: skip
        self.form.add("category", say("&Category"), ChoiceField(categories(), "S"))
        self.form.add("percent", say("&Rate in percent"), PercentField(region))
        add_from_day(self.form, self.context)
        self.form.on_save(say("&Keep it"), self._save, icon_name="tick")
        self.form.remember(self.context.drafts, "set-up/tax")
        intro = say("What is taxed and how much follows from local law; ask whoever does your books.")
        return [Words(intro, "body", "muted"), self.list, Heading(say("From a day on")), self.form]

    def ask(self) -> None:
        self.page.ask(_both, self._show, key=self.key)

    def focusFirst(self) -> None:
        self.list.focusFirst()

    def _show(self, both: Both) -> None:
        rows, local = both
        self._rows: dict[Any, TaxRow | LocalTaxRow] = {
            ("", row.kind, row.from_day, row.name): row for row in rows
        }
        self._rows |= {(row.place, row.kind, row.from_day, row.name): row for row in local}
        today, region = self.context.seat.today, self.context.region
        order = [kind for kind, _ in kinds()]
        ordered = sorted(rows, key=lambda row: row.from_day, reverse=True)
        ordered.sort(key=lambda row: order.index(row.kind))
        self.list.show_rows(
            [_tax_strip(region, today, row, rows) for row in ordered]
            + [_local_strip(region, today, row, local) for row in local]
        )

    def _take_over(self, key: Any) -> None:
        """A row opened is put into the form, to be corrected or followed by another."""
        row = self._rows[key]
        self.form.show_values(
            {"kinds": (row.kind,), "place": key[0], "name": row.name, "category": row.category,
             "percent": row.percent, "from_day": row.from_day}
        )  # fmt: skip
        self.form.focusFirst()

    def _save(self, values: dict[str, Any]) -> None:
        try:
            if not values["kinds"]:
                raise Problem("Tick at least one kind of line.", field="kinds")
            check_tax(values)
        except Problem as problem:
            self.form.show_problem(problem)
            return
        if values["place"]:
            local = [
                LocalTaxRow(values["place"], kind, values["from_day"], values["name"], values["category"],
                            values["percent"] or Decimal(0))
                for kind in values["kinds"]
            ]  # fmt: skip
            self.keep(self.form, lambda seat: keep_local_taxes(seat, local), say("The tax is kept."))
            return
        rows = [
            TaxRow(kind, values["from_day"], values["name"], values["category"],
                   values["percent"] or Decimal(0))
            for kind in values["kinds"]
        ]  # fmt: skip
        self.keep(self.form, lambda seat: keep_taxes(seat, rows), say("The tax is kept."))


def _counts(day: dt.date, now: dt.date | None, today: dt.date) -> str:
    if day == now:
        return say("counts now")
    return say("to come") if day > today else say("before")


def _tax_strip(region: Region, today: dt.date, row: TaxRow, rows: list[TaxRow]) -> Strip:
    past = [other.from_day for other in rows if other.kind == row.kind and other.from_day <= today]
    kind = dict(kinds())[row.kind]
    how = dict(categories())[row.category]
    second = say("{how}, from {day}", how=how, day=region.day(row.from_day))
    key = ("", row.kind, row.from_day, row.name)
    return Strip(key, f"{kind}  {row.name}", second, region.percent(row.percent),
                 _counts(row.from_day, max(past, default=None), today))  # fmt: skip


def _local_strip(region: Region, today: dt.date, row: LocalTaxRow, rows: list[LocalTaxRow]) -> Strip:
    past = [o.from_day for o in rows if (o.kind, o.place) == (row.kind, row.place) and o.from_day <= today]
    where = say("customers in {place}, from {day}", place=row.place, day=region.day(row.from_day))
    key = (row.place, row.kind, row.from_day, row.name)
    return Strip(key, f"{dict(kinds())[row.kind]}  {row.name}", where, region.percent(row.percent),
                 _counts(row.from_day, max(past, default=None), today))  # fmt: skip
