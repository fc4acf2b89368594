"""Clocks and letters: when letters are due, what storage costs, the letters' texts; the margin scheme."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

from shopdesk.domain.letters import Course
from shopdesk.domain.problem import Problem
from shopdesk.services.letter_texts import FACTS, kind_of, subject
from shopdesk.services.seat import Seat
from shopdesk.services.settings import Clocks, Letters, Margin
from shopdesk.services.shops import keep_setting, setting
from shopdesk.ui.pages.set_up.section import FormSection
from shopdesk.ui.widgets.fields import CountField, MoneyField, NoteField, PercentField, TextField, TickField
from shopdesk.ui.widgets.form import Form
from shopdesk.wording import say

_MOST_DAYS = 3650


class ClocksSection(FormSection):
    """When letters are due, what the place of a ready range costs, and how soon a question is answered."""

    key = "clocks"

    def __init__(self, page: Any) -> None:
        self.title = say("Letters and storage")
        self.intro = say("Your own rules; the letters say that local law comes first.")
        super().__init__(page)

    def fields(self, form: Form) -> None:
        needed = say("Write the days, such as 0, 14, 30.")
        form.add("ready_days", say("&Ready letters, days after it is ready"), TextField(), required=needed)
        form.add("reminder_days", say("Re&minders, days after a bill was due"), TextField(), required=needed)
        form.add("storage_free_days", say("&Stands free, days"), CountField(0, _MOST_DAYS))
        form.add("storage_cents", say("Then each &day costs"), MoneyField(self.context.region),
                 required=say("Write a figure; 0 for none."))  # fmt: skip
        form.add("dispute_days", say("A &question is answered within, days"), CountField(0, _MOST_DAYS))

    def ask(self) -> None:
        self.page.ask(lambda seat: setting(seat, Clocks), self._show, key=self.key)

    def save(self, values: dict[str, Any]) -> None:
        try:
            for name in ("ready_days", "reminder_days"):
                values[name] = read_days(values[name], name)
        except Problem as problem:
            self.form.show_problem(problem)
            return
        clocks = Clocks(**values)
        self.keep(self.form, lambda seat: keep_setting(seat, clocks), say("The rules are kept."))

    def _show(self, kept: Clocks) -> None:
        days = {name: ", ".join(map(str, getattr(kept, name))) for name in ("ready_days", "reminder_days")}
        rest = ("storage_free_days", "storage_cents", "dispute_days")
        self.fill({**days, **{name: getattr(kept, name) for name in rest}})


class LettersSection(FormSection):
    """The shop's own texts; an empty one is the program's."""

    key = "letters"
    kinds = tuple((course, step) for course in Course for step in (1, 2, 3, 4))

    def __init__(self, page: Any) -> None:
        self.title = say("Texts of letters")
        self.intro = say(
            "Empty ones are the program’s own. A blank line parts paragraphs; these stand for facts: {names}",
            names=", ".join(f"{{{name}}}" for name in FACTS),
        )
        super().__init__(page)

    def fields(self, form: Form) -> None:
        for course, step in self.kinds:
            label = say("{subject}, letter {step}", subject=subject(course, step, last=False), step=step)
            form.add(kind_of(course, step), label, NoteField(lines=3), wide=True)

    def ask(self) -> None:
        self.page.ask(
            lambda seat: setting(seat, Letters),
            lambda kept: self.fill(
                {kind_of(*kind): kept.texts.get(kind_of(*kind), "") for kind in self.kinds}
            ),
            key=self.key,
        )

    def save(self, values: dict[str, Any]) -> None:
        letters = Letters(texts={name: text for name, text in values.items() if text})
        self.keep(self.form, lambda seat: keep_setting(seat, letters), say("The texts are kept."))


class MarginSection(FormSection):
    """Tax on the margin of ranges the shop sells, where that scheme was chosen."""

    key = "margin"

    def __init__(self, page: Any) -> None:
        self.title = say("Ranges you sell")
        self.intro = say(
            "Where the law offers it and you chose it, tax lies within the margin of second-hand goods and "
            "is not shown on the invoice. Ask whoever does your books."
        )
        super().__init__(page)

    def fields(self, form: Form) -> None:
        form.add("on", "", TickField(say("&Tax on the margin")))
        form.add("percent", say("&Rate in percent"), PercentField(self.context.region))
        form.add("note", say("&What prints on the invoice"), TextField(), wide=True)

    def ask(self) -> None:
        self.page.ask(lambda seat: setting(seat, Margin), self._show, key=self.key)

    def save(self, values: dict[str, Any]) -> None:
        rate = values["percent"] or Decimal(0)

        def keep(seat: Seat) -> None:
            kept = setting(seat, Margin)
            keep_setting(seat, replace(kept, on=values["on"], percent=str(rate), note=values["note"]))

        self.keep(self.form, keep, say("It is kept."))

    def _show(self, kept: Margin) -> None:
        self.fill({"on": kept.on, "percent": Decimal(kept.percent), "note": kept.note})


def read_days(typed: str, field: str) -> tuple[int, ...]:
    """Days with commas between them."""
    words = [word.strip() for word in typed.split(",") if word.strip()]
    if not words or not all(word.isdigit() for word in words):
        raise Problem("“{typed}” are no days. Write them like 0, 14, 30.", typed=typed.strip(), field=field)
    return tuple(int(word) for word in words)
