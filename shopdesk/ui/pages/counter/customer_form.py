"""The form of a customer: who, where, how to reach them, and a certificate of exemption from tax."""

from collections.abc import Callable
from typing import Any

from shopdesk.services.people import PartyDraft
from shopdesk.ui.context import Context
from shopdesk.ui.widgets.fields import DayField, NoteField, TextField, TickField
from shopdesk.ui.widgets.form import Form
from shopdesk.wording import say


def customer_form(
    context: Context, kept: PartyDraft, draft_name: str, save: Callable[[PartyDraft], object]
) -> Form:
    """Filled with what is kept; what the form does not ask (a firm's trade) stays as it was."""
    form = Form(columns=2)
    form.add("name", say("&Name"), TextField(), required=say("Write at least a surname."), wide=True)
    form.add("phone", say("&Telephone"), TextField())
    form.add("email", say("&E-mail"), TextField())
    form.add("street", say("&Street"), TextField(), wide=True)
    form.add("town", say("To&wn"), TextField())
    form.add("region", say("State or &region"), TextField())
    form.add("postcode", say("&Postcode"), TextField())
    form.add("country", say("&Country"), TextField())
    form.add("is_firm", "", TickField(say("It is a &firm")))
    form.add("contact", say("Whom to ask for"), TextField())
    form.add("tax_number", say("Ta&x number"), TextField())
    form.add("exempt_certificate", say("Exemption cert&ificate"), TextField(),
             note=say("Its number, as it prints on invoices without tax."))  # fmt: skip
    form.add("exempt_until", say("Runs &out on"), DayField(context.region),
             note=say("Left empty, it does not run out."))  # fmt: skip
    form.add("note", say("N&ote"), NoteField(lines=2), wide=True)
    names = (*_TEXTS, "is_firm", "exempt_until")
    form.show_values({name: getattr(kept, name) for name in names})

    def submit(values: dict[str, Any]) -> None:
        save(PartyDraft(**{**_fields(kept), **values}))

    form.on_save(say("&Keep it"), submit, icon_name="tick")
    form.remember(context.drafts, draft_name)
    return form


_TEXTS = (
    "name", "contact", "email", "phone", "street", "town", "region", "postcode", "country", "note",
    "exempt_certificate", "tax_number",
)  # fmt: skip


def _fields(draft: PartyDraft) -> dict[str, Any]:
    return {name: getattr(draft, name) for name in PartyDraft.__dataclass_fields__}
