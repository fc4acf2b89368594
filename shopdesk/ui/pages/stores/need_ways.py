"""Other ways to meet a need than ordering or the shelf: off a donor, made here, looked for, put back."""

from typing import TYPE_CHECKING, Any

from shopdesk.domain.money import Spread
from shopdesk.domain.problem import Problem
from shopdesk.domain.stock import one_name
from shopdesk.services import donors, needs, wants
from shopdesk.services.donors import DonorPartRow, DonorRow
from shopdesk.services.needs import NeedRow
from shopdesk.services.wants import WantDraft
from shopdesk.ui.widgets.fields import ChoiceField, HoursField, MoneyField, TextField
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.wording import Region, say

if TYPE_CHECKING:
    from shopdesk.ui.pages.stores.section import Section


class NeedWays:
    """The forms of these ways, opened beside the list of needs for its current row."""

    def __init__(self, section: "Section") -> None:
        self._section = section

    def _short(self) -> NeedRow | None:
        """The current need while something of it is short; else it says why there is nothing to do."""
        row: NeedRow | None = self._section.list.current()
        if row is not None and not row.short:
            problem = Problem(
                "Nothing of {name} is short: it is here, on its way or called off.", name=row.name
            )
            self._section.side.show_problem(problem)
            return None
        return row

    @property
    def _region(self) -> Region:
        return self._section.context.region

    def _form(self, title: str, deed: str, keep: Any) -> SmallForm:
        return SmallForm(title, deed, keep, self._section.close_form)

    def from_donor(self) -> None:
        row = self._short()
        if row is not None:
            self._section.page.ask(donors.donors, lambda found: self._choose_donor(row, found), key="donors")

    def _choose_donor(self, need: NeedRow, found: list[DonorRow]) -> None:
        free = [(d, p) for d in found for p in d.parts if p.standing == "on it" and p.need_id is None]
        if not free:
            self._section.side.show_problem(
                Problem("What is on a donor is not written down yet. See Donors.")
            )
            return
        free.sort(key=lambda pair: not one_name(pair[1].name, need.name))

        def keep(values: dict[str, Any]) -> None:
            part_id, minutes = values["part_id"], values["minutes"] or 20
            self._section.save(
                lambda seat: donors.cover_from_donor(seat, need.id, part_id, _around(minutes)),
                say("{number}: a task to take it off stands before “{task}”.", number=need.range_number,
                    task=need.task),
            )  # fmt: skip

        form = self._form(say("{name} off a donor", name=need.name), say("Ask for it"), keep)
        choices = [(p.id, _on_donor(d, p)) for d, p in free]
        known = one_name(free[0][1].name, need.name)
        which = ChoiceField(choices if known else [(None, say("choose")), *choices])
        form.form.add("part_id", say("Which"), which, required=say("Choose what is to be taken off."))
        form.form.add("minutes", say("How long taking it off takes"), HoursField(self._region))
        self._section.side.open_form(form.ready())

    def make(self) -> None:
        row = self._short()
        if row is None:
            return

        def keep(values: dict[str, Any]) -> None:
            minutes = values["minutes"]
            self._section.save(lambda seat: needs.make_for(seat, row.id, _around(minutes)),
                      say("{number}: a task to make {name} is on the order.", number=row.range_number,
                          name=row.name))  # fmt: skip

        form = self._form(say("Make {name}", name=row.name), say("Put it on the order"), keep)
        form.form.add("minutes", say("How long it takes"), HoursField(self._region),
                      required=say("Say about how long making it takes."))  # fmt: skip
        self._section.side.open_form(form.ready())

    def made(self) -> None:
        row = self._section.list.current()
        if row is None or not row.making:
            return

        def keep(values: dict[str, Any]) -> None:
            self._section.save(lambda seat: needs.made(seat, row.id, values["cost"] or 0),
                      say("{number}: {name} is made and here.", number=row.range_number,
                          name=row.name))  # fmt: skip

        form = self._form(say("{name} is made", name=row.name), say("It is here"), keep)
        form.form.add("cost", say("What its stuff cost, all of it"), MoneyField(self._region))
        self._section.side.open_form(form.ready())

    def look_for(self) -> None:
        row = self._short()
        if row is None:
            return

        def keep(values: dict[str, Any]) -> None:
            draft = WantDraft(
                name=values["name"], quantity=row.short, worth_cents=values["worth"] or 0,
                note=values["note"], need_id=row.id,
            )  # fmt: skip
            self._section.save(lambda seat: wants.look_for(seat, draft),
                      say("{name} is on the list of wants.", name=values["name"]))  # fmt: skip

        form = self._form(say("Look for {name}", name=row.name), say("Put it on the list"), keep)  # fmt: skip
        form.form.add(
            "name", say("What to look for"), TextField(row.name), required=say("Say what to look for.")
        )
        worth = form.form.add("worth", say("What one is worth to us"), MoneyField(self._region))
        worth.setValue(row.cost_cents)
        form.form.add("note", say("How to know it"), TextField())
        self._section.side.open_form(form.ready())

    def put_back(self) -> None:
        row = self._section.list.current()
        if row is None:
            return

        def keep(values: dict[str, Any]) -> None:
            self._section.save(
                lambda seat: needs.put_back(seat, row.id, values["why"]),
                lambda count: say("{count} of {name} lie on the shelf again.", count=count, name=row.name),
            )

        form = self._form(say("Put {name} back", name=row.name), say("Put it back"), keep)
        form.form.add("why", say("Why"), TextField(), required=say("Say why it goes back."))
        self._section.side.open_form(form.ready())


def _around(minutes: int) -> Spread:
    """A guess with room on both sides: from two thirds of it to double."""
    return Spread(max(1, minutes * 2 // 3), minutes, minutes * 2)


def _on_donor(donor: DonorRow, part: DonorPartRow) -> str:
    return say("{name} of {number}, {donor}", name=part.name, number=donor.number, donor=donor.name)
