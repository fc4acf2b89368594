"""The form of a customer's yes: who, how, the number called, and the amount."""

from collections.abc import Callable

from shopdesk.domain.problem import Problem
from shopdesk.services.quotes import QuoteView
from shopdesk.ui.context import Context
from shopdesk.ui.pages.counter.draft import Consent, hows
from shopdesk.ui.pages.counter.left_out_field import LeftOutField
from shopdesk.ui.widgets.fields import ChoiceField, MoneyField, NoteField, TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.wording import say

_OF_A_WAY = {"telephone": ("number_called",), "e-mail": ("kept_text",)}  # what only one way of agreeing has


def consent_form(context: Context, view: QuoteView, phone: str, save: Callable[[Consent], object]) -> Form:
    """Filled with what is usual; what was typed before for this quote is put back."""
    row = view.row
    form = Form(columns=2)
    form.add("who", say("&Who agreed"), TextField(row.customer), required=say("Write who agreed."))
    how = form.add("how", say("&How"), ChoiceField(hows(), "telephone"))
    form.add("number_called", say("&Number called"), TextField(phone),
             note=say("It prints on the invoice, with your name as who took it."))  # fmt: skip
    amount = form.add("amount", say("Amount agreed, without tax"), MoneyField(context.region))
    amount.setValue(row.net_cents)
    lines = zip(view.line_ids, view.lines, strict=True)
    out = LeftOutField([(key, f"{line.what}  {context.region.money(line.net_cents)}") for key, line in lines])
    form.add("left_out", say("What they do not &want"), out, wide=True,
             note=say("Tick what is left out; a task goes with its parts. Untouched, the amount "
                      "follows."))  # fmt: skip
    form.add("kept_text", say("Their &e-mail, as it came"), NoteField(lines=2), wide=True)
    form.add("note", say("N&ote"), TextField(), wide=True, note=say("Such as where the signed paper lies."))

    def submit(values: dict[str, object]) -> None:
        cents = values["amount"]
        if cents is None:
            form.show_problem(Problem("Write the amount agreed.", field="amount"))
            return
        assert isinstance(cents, int), "a MoneyField gives minor units"
        left_out = tuple(out.value())
        as_quoted = bool(left_out) and cents == row.net_cents  # then the rest is reckoned
        save(
            Consent(
                row.id, str(values["who"]), str(values["how"]), str(values["number_called"]),
                None if as_quoted else cents, str(values["note"]), left_out, str(values["kept_text"]),
            )
        )  # fmt: skip

    def ask_what_belongs() -> None:
        form.show_only(_OF_A_WAY.get(how.value(), ()), ("number_called", "kept_text"))

    how.currentIndexChanged.connect(ask_what_belongs)
    ask_what_belongs()
    form.on_save(say("&Record the agreement"), submit, icon_name="tick")
    form.remember(context.drafts, f"counter/consent/{row.id}")
    return form
