"""The form of a bill for a share of what is agreed: a milestone that was reached, or a percentage."""

from collections.abc import Sequence
from typing import Any

from shopdesk.services import progress
from shopdesk.services.progress import Milestone
from shopdesk.ui.pages.counter.section import Section
from shopdesk.ui.widgets.fields import ChoiceField, PercentField
from shopdesk.ui.widgets.form import Form
from shopdesk.wording import say


def share_form(section: Section, milestones: Sequence[Milestone]) -> Form:
    """Writes the bill into the section's job; milestones that are billed are not offered again."""
    job_id, context = section.job_id, section.context
    form = Form(columns=2)
    open_ = [each for each in milestones if not each.billed]
    if open_:
        names = [(each.name, say("{name}, {percent} %", name=each.name, percent=each.share_percent))
                 for each in open_]  # fmt: skip
        form.add("milestone", say("&Reached"), ChoiceField([*names, ("", say("another share"))]))
    form.add("percent", say("&Share in percent"), PercentField(context.region, whole=True),
             note=say("Of all that is agreed. The bill of the work takes it off again."))  # fmt: skip

    def save(values: dict[str, Any]) -> None:
        milestone, percent = values.get("milestone", ""), values["percent"]
        section.act(
            lambda seat: progress.draft_share(seat, job_id, milestone=milestone, percent=percent),
            lambda _key: context.tell(say("The invoice is written; look at it and issue it.")),
        )

    form.on_save(say("&Write the bill"), save, icon_name="note")
    return form
