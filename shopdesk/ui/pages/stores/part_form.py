"""The form that corrects what is written down of a part; its count is not among it."""

from typing import Any

from shopdesk.services.part_cards import PartCard, PartDraft
from shopdesk.services.stock import CONDITIONS
from shopdesk.ui.pages.stores.draft import fits, fits_text
from shopdesk.ui.widgets.fields import ChoiceField, CountField, MoneyField, NoteField, TextField, TickField
from shopdesk.ui.widgets.small_form import Close, Save, SmallForm
from shopdesk.wording import Region, say


class PartForm(SmallForm):
    def __init__(self, card: PartCard, region: Region, save: Save, close: Close) -> None:
        title = say("Correct {name}", name=card.row.name)
        super().__init__(title, say("Write it down"), save, close, columns=2)
        add, draft = self.form.add, card.draft
        add("name", say("Part"), TextField(), required=say("A part needs a name."), wide=True)
        add("condition", say("Source"), ChoiceField([(c, say(c)) for c in CONDITIONS]))
        add("state", say("Condition"), TextField())
        add("lies_at", say("Shelf or bin"), TextField())
        add("price_in_cents", say("Cost each"), MoneyField(region))
        add("price_out_cents", say("Charged each"), MoneyField(region))
        add("fits", say("Fits"), NoteField(lines=3), wide=True,
            note=say("A range to a line: Corvane No. 40 (griddle). A ? behind it: may fit."))  # fmt: skip
        add("note", say("Note"), NoteField(lines=2), wide=True)
        add("consumable", "", TickField(say("A consumable: say when it runs low")), wide=True)
        add("lead_days", say("Days from order to goods"), CountField(0, 365))
        add("served_percent", say("Of 100 times, there"), CountField(50, 99))
        add("pack", say("Bought by packs of"), CountField(1))
        values = {name: getattr(draft, name) for name in PartDraft.__dataclass_fields__ if name != "fits"}
        self.form.show_values({**values, "fits": fits_text(draft.fits)})
        self.ready()


def part_draft(values: dict[str, Any]) -> PartDraft:
    """What the form says; a Problem when the fits cannot be read."""
    amounts = {name: values[name] or 0 for name in ("price_in_cents", "price_out_cents")}
    return PartDraft(**{**values, **amounts, "fits": fits(values["fits"])})
