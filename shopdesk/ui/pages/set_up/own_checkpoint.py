"""The form of a checkpoint the shop adds to its list, without knowing how it is kept."""

from collections.abc import Callable
from typing import Any

from shopdesk.domain.catalogue.model import Catalogue, Severity
from shopdesk.services.catalogue_changes import OwnCheckpoint
from shopdesk.ui.widgets.fields import ChoiceField, NoteField, TextField
from shopdesk.ui.widgets.form import Form
from shopdesk.wording import say


def own_checkpoint_form(catalogue: Catalogue, add: Callable[[Form, OwnCheckpoint], None]) -> Form:
    """`add` gets what the form says."""
    form = Form(columns=2)
    zones = [(zone.code, say(zone.name)) for zone in sorted(catalogue.zones.values(), key=lambda z: z.order)]
    form.add("zone", say("&Zone"), ChoiceField(zones))
    form.add("name", say("&Name"), TextField(), required=say("Write what is looked at."))
    form.add("tell", say("How to &tell"), NoteField(lines=2), wide=True)
    form.add("sound", say("&Sound means"), TextField())
    form.add("why", say("&Why it matters"), TextField())
    form.add("findings", say("What may be &found, one a line"), NoteField(lines=4), wide=True,
             required=say("Write at least one finding, one a line."))  # fmt: skip
    severities = [(s.value, say(s.value)) for s in Severity if s is not Severity.NONE]
    form.add("severity", say("&How serious"), ChoiceField([("none", say("no matter")), *severities], "minor"))
    named = sorted((say(task.name), task.code) for task in catalogue.tasks.values())
    tasks = [("", say("none")), *((code, name) for name, code in named)]
    form.add("task", say("The wor&k it brings"), ChoiceField(tasks, ""),
             note=say("From the list of tasks; hours and parts follow from it."))  # fmt: skip

    def save(values: dict[str, Any]) -> None:
        found = tuple(line.strip() for line in values["findings"].splitlines() if line.strip())
        add(form, OwnCheckpoint(
            values["zone"], values["name"], values["tell"], values["sound"], values["why"], found,
            values["severity"], values["task"] or "",
        ))  # fmt: skip

    form.on_save(say("&Add it to the list"), save, icon_name="add")
    return form
