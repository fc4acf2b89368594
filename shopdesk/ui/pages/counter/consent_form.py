"""The form of a customer's yes: who, how, the number called, and the amount."""

from collections.abc import Callable

from shopdesk.domain.problem import Problem
from shopdesk.services.quotes import QuoteRow
from shopdesk.ui.context import Context
from shopdesk.ui.pages.counter.draft import Consent, hows
from shopdesk.ui.widgets.fields import ChoiceField, MoneyField, TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.wording import say


def consent_form(context: Context, row: QuoteRow, phone: str, save: Callable[[Consent], object]) -> Form:
    """Filled with what is usual; what was typed before for this quote is put back."""
    form = Form(columns=2)
    form.add("who", say("&Who agreed"), TextField(row.customer), required=say("Write who agreed."))
    form.add("how", say("&How"), ChoiceField(hows(), "telephone"))
    form.add("number_called", say("&Number called"), TextField(phone),
             note=say("Needed when it was by telephone; it prints on the invoice."))  # fmt: skip
    amount = form.add("amount", say("Amount agreed, without tax"), MoneyField(context.region))
    amount.setValue(row.net_cents)
    form.add("note", say("N&ote"), TextField(), wide=True,
             note=say("Such as what was left out, or the day of the e-mail."))  # fmt: skip

    def submit(values: dict[str, object]) -> None:
        cents = values["amount"]
        if cents is None:
            form.show_problem(Problem("Write the amount agreed.", field="amount"))
            return
        assert isinstance(cents, int), "a MoneyField gives minor units"
        save(
            Consent(
                row.id, str(values["who"]), str(values["how"]), str(values["number_called"]), cents,
                str(values["note"]),
            )
        )  # fmt: skip

    form.on_save(say("&Record the agreement"), submit, icon_name="tick")
    form.remember(context.drafts, f"counter/consent/{row.id}")
    return form
