"""Donors: what is on them, what came off, what the rest should bring; what is asked for stands first."""

from typing import Any

from shopdesk.domain.problem import Problem
from shopdesk.services import donors
from shopdesk.services.donors import DonorPartRow, DonorRow
from shopdesk.ui.context import Topics
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.stores.section import Section
from shopdesk.ui.widgets.fields import CountField, MoneyField, TextField
from shopdesk.ui.widgets.list_table import ListTable
from shopdesk.ui.widgets.rows import Column
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.wording import say

_RANK = {"on it": 1, "taken": 2, "lost": 3}


class DonorsSection(Section):
    """Beside the donors the parts of the current one; its strip list stands first."""

    def __init__(self, page: Page) -> None:
        super().__init__(page)
        self.list = ListTable(
            say("Donors"), self._columns(), key=lambda row: row.range_id,
            empty=say("Ranges kept for their parts will stand here. A range becomes a donor at its jacket."),
            memory=self.context.memory, remembered="stores/donors",
        )  # fmt: skip
        self.parts = ListTable(
            say("What is on the donor"), self._part_columns(), key=lambda row: row.id,
            empty=say("Nothing is written down of what is on it."), memory=self.context.memory,
            remembered="stores/donor-parts",
        )  # fmt: skip
        self.parts.setMinimumHeight(12 * self.fontMetrics().height())
        self.list.opened.connect(lambda _key: self.parts.focusFirst())
        self.parts.opened.connect(lambda _key: self.take_off())
        self.buttons = self.add_deeds(
            [
                (say("Write down what is on it"), "O", self.open_donor, "note"),
                (say("It is off"), "T", self.take_off, "hand"),
                (say("It is lost"), "L", self.lose, "remove"),
                (say("Correct it"), "E", self.correct, "note"),
                (say("Add what is on it"), "A", self.add, "add"),
                (say("What it cost"), "C", self.cost, "coin"),
                (say("Jacket of the range"), "J", self.open_jacket, "jacket"),
            ]
        )
        self.side.buttons.insertWidget(0, self.parts)
        self.assemble("donors", shares=(1, 1))
        self.show_current()

    def refresh(self, topics: Topics) -> None:
        self.page.ask(donors.donors, self.show_list, key="donors")

    def show_current(self) -> None:
        donor: DonorRow | None = self.list.current()
        opened = donor is not None and bool(donor.id)
        self.parts.setVisible(opened)
        self.buttons[0].setVisible(donor is not None and not donor.id)
        for button in self.buttons[1:6]:
            button.setVisible(opened)
        self.buttons[6].setVisible(donor is not None)
        if donor is None:
            self.side.say(say("Donors"), say("Choose a donor to see what is on it."))
            return
        rows = sorted(
            donor.parts, key=lambda p: (p.standing != "on it" or p.need_id is None, _RANK[p.standing])
        )
        self.parts.show_rows(rows)
        self.side.say(say("{number}, {name}", number=donor.number, name=donor.name), self._story(donor))

    # Deeds

    def open_donor(self) -> None:
        donor: DonorRow | None = self.list.current()
        if donor is None or donor.id:
            return

        def keep(values: dict[str, Any]) -> None:
            self.save(lambda seat: donors.open_donor(seat, donor.range_id, values["cost"]),
                      say("What is on {number} is written down.", number=donor.number))  # fmt: skip

        form = self._form(say("Donor {number}", number=donor.number), say("Write it down"), keep)
        cost = form.form.add("cost", say("What it cost with fetching it"), MoneyField(self.context.region),
                             note=say("Its sound parts come from the walk-round."))  # fmt: skip
        cost.setValue(donor.cost_cents)
        self.side.open_form(form.ready())

    def take_off(self) -> None:
        part = self._part()
        if part is None:
            return

        def keep(values: dict[str, Any]) -> None:
            where = values["lies_at"]
            self.save(
                lambda seat: donors.take_off(seat, part.id, lies_at=where, state=values["state"]),
                say("{name} is off, and set aside for {number}.", name=part.name, number=part.for_range)
                if part.for_range else say("{name} is off and on the shelf.", name=part.name),
            )  # fmt: skip

        form = self._form(say("{name} is off", name=part.name), say("Take it in"), keep)
        form.form.add("lies_at", say("Shelf or bin"), TextField())
        form.form.add("state", say("Condition"), TextField())
        self.side.open_form(form.ready())

    def lose(self) -> None:
        part = self._part()
        if part is None:
            return

        def keep(values: dict[str, Any]) -> None:
            self.save(lambda seat: donors.lose_on_donor(seat, part.id, values["because"]),
                      say("{name} is written off.", name=part.name))  # fmt: skip

        form = self._form(say("{name} is lost", name=part.name), say("Write it off"), keep)
        form.form.add(
            "because", say("What became of it"), TextField(), required=say("Say what became of it.")
        )
        self.side.open_form(form.ready())

    def correct(self) -> None:
        part = self._part()
        if part is None:
            return

        def keep(values: dict[str, Any]) -> None:
            self.save(
                lambda seat: donors.correct_on_donor(
                    seat, part.id, values["name"], values["value"] or 0, values["quantity"]
                ),
                say("{name} is corrected.", name=values["name"]),
            )

        form = self._fields(say("Correct {name}", name=part.name), say("Write it down"), keep)
        form.form.show_values({"name": part.name, "quantity": part.quantity, "value": part.value_cents})
        self.side.open_form(form)

    def add(self) -> None:
        donor: DonorRow | None = self.list.current()
        if donor is None or not donor.id:
            return

        def keep(values: dict[str, Any]) -> None:
            self.save(
                lambda seat: donors.add_to_donor(
                    seat, donor.id, values["name"], values["value"] or 0, values["quantity"]
                ),
                say("{name} is on the list of {number}.", name=values["name"], number=donor.number),
            )

        self.side.open_form(self._fields(say("What else is on it"), say("Add it"), keep))

    def cost(self) -> None:
        donor: DonorRow | None = self.list.current()
        if donor is None or not donor.id:
            return

        def keep(values: dict[str, Any]) -> None:
            self.save(lambda seat: donors.set_cost(seat, donor.id, values["cost"] or 0),
                      say("The cost of {number} is shared anew.", number=donor.number))  # fmt: skip

        form = self._form(say("What {number} cost", number=donor.number), say("Share it"), keep)
        field = form.form.add("cost", say("With fetching it"), MoneyField(self.context.region))
        field.setValue(donor.cost_cents)
        self.side.open_form(form.ready())

    def open_jacket(self) -> None:
        donor: DonorRow | None = self.list.current()
        if donor is not None:
            self.context.open_jacket(donor.range_id)

    # Inside

    def _part(self) -> DonorPartRow | None:
        """The chosen part while it is on the donor; else the first that is asked for."""
        donor: DonorRow | None = self.list.current()
        part: DonorPartRow | None = self.parts.current() if donor is not None else None
        if part is None and donor is not None and donor.to_strip:
            part = donor.to_strip[0]
        if part is None or part.standing != "on it":
            self.side.show_problem(Problem("Choose something that is still on the donor."))
            return None
        return part

    def _form(self, title: str, deed: str, keep: Any) -> SmallForm:
        return SmallForm(title, deed, keep, self.close_form)

    def _fields(self, title: str, deed: str, keep: Any) -> SmallForm:
        form = self._form(title, deed, keep)
        form.form.add("name", say("Part"), TextField(), required=say("A part needs a name."))
        form.form.add("quantity", say("How many"), CountField(1))
        form.form.add("value", say("What it should bring, all of it"), MoneyField(self.context.region))
        return form.ready()

    def _story(self, donor: DonorRow) -> str:
        money = self.context.region.money
        parts = [say("Cost {cost}.", cost=money(donor.cost_cents))]
        if donor.stands_at:
            parts.append(say("Stands at {place}.", place=donor.stands_at))
        if donor.id:
            parts.append(say("What is on it should bring {rest}.", rest=money(donor.rest_cents)))
        if donor.sold_cents:
            parts.append(say("Sold parts brought {sold}.", sold=money(donor.sold_cents)))
        if donor.used_cents:
            parts.append(say("Parts for {used} went into ranges.", used=money(donor.used_cents)))
        return " ".join(parts)

    def _columns(self) -> list[Column]:
        money = self.context.region.money
        return [
            Column("number", say("Range"), lambda r: r.number, width=8, strong=True, sort=lambda r: r.number),
            Column("name", say("Maker and model"), lambda r: r.name, width=14, stretch=True,
                   sort=lambda r: r.name),
            Column("strip", say("To strip"), _to_strip, width=8),
            Column("cost", say("Cost"), lambda r: money(r.cost_cents), width=10, figures=True),
            Column("rest", say("Should bring"), lambda r: money(r.rest_cents) if r.id else "", width=11,
                   figures=True, sort=lambda r: r.rest_cents),
        ]  # fmt: skip

    def _part_columns(self) -> list[Column]:
        money = self.context.region.money
        return [
            Column("name", say("Part"), _part_name, width=20, stretch=True),
            Column("standing", say("Where it is"), _standing, width=11),
            Column("value", say("Should bring"), lambda r: money(r.value_cents), width=10, figures=True),
            Column("cost", say("Carries"), lambda r: money(r.cost_cents), width=8, figures=True),
        ]  # fmt: skip


def _part_name(row: DonorPartRow) -> str:
    return say("{name}, {count}", name=row.name, count=row.quantity) if row.quantity > 1 else row.name


def _to_strip(row: DonorRow) -> str:
    if not row.id:
        return say("not listed")
    return str(len(row.to_strip)) if row.to_strip else ""


def _standing(row: DonorPartRow) -> str:
    if row.standing == "on it" and row.for_range:
        return say("off: count it in") if row.task_done else say("for {number}", number=row.for_range)
    return {"on it": say("on it"), "taken": say("taken"), "lost": say("lost")}[row.standing]
