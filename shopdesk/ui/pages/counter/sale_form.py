"""The form of a sale: who buys a range of the shop's own, and for how much."""

from shopdesk.services import people
from shopdesk.ui.pages.counter import draft
from shopdesk.ui.pages.counter.draft import Sale
from shopdesk.ui.pages.counter.section import Section
from shopdesk.ui.widgets.fields import ChoiceField, MoneyField
from shopdesk.ui.widgets.form import Form
from shopdesk.wording import say


def sale_form(section: Section) -> Form:
    """Writes the bill of sale into the section's job; the buyers are asked for when the form opens."""
    job_id, context = section.job_id, section.context
    form = Form(columns=2)
    buyer = form.add("buyer", say("Who &buys it"), ChoiceField(),
                     note=say("Somebody new is added under Customers first."))  # fmt: skip
    form.add("price", say("&Price, without tax"), MoneyField(context.region))

    def show(found: list[people.PartyRow]) -> None:
        chosen = buyer.value()
        buyer.setChoices([(None, say("choose"))] + [
            (row.id, ", ".join(word for word in (row.name, row.phone) if word)) for row in found
        ])  # fmt: skip
        buyer.setValue(chosen)

    def save(values: dict[str, object]) -> None:
        sale = Sale(job_id, values["buyer"], values["price"])  # type: ignore[arg-type]  # the fields' own kinds
        section.act(
            lambda seat: draft.sell(seat, sale),
            lambda _key: context.tell(say("The bill of sale is written; look at it and issue it.")),
        )

    form.on_save(say("&Write the bill of sale"), save, icon_name="note")
    section.page.ask(lambda seat: people.parties(seat, kind="customer", limit=2000), show, key="buyers")
    return form
