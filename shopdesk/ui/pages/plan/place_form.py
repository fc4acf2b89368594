"""The form that puts a task at a day, a time and a person; asked about before it holds."""

from collections.abc import Callable
from typing import Any

from shopdesk.services.planning.picture import Bar
from shopdesk.services.planning.suppose import HoldTask
from shopdesk.ui.context import Context
from shopdesk.ui.pages.plan.time_field import TimeField
from shopdesk.ui.widgets.fields import ChoiceField, DayField
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.wording import say


def place_form(
    context: Context, bar: Bar, people: list[tuple[int, str]], ask: Callable[[HoldTask], None],
    close: Callable[[], None],
) -> SmallForm:  # fmt: skip
    def save(values: dict[str, Any]) -> None:
        ask(HoldTask(bar.task_id, values["day"], values["minute"], values["staff_id"]))

    form = SmallForm(say("Put it elsewhere"), say("See who pays"), save, close)
    form.form.add("day", say("Day"), DayField(context.region), required=say("Write the day."))
    form.form.add("minute", say("From"), TimeField(context.region), required=say("Write the time."))
    form.form.add("staff_id", say("By"), ChoiceField(people))
    form.form.show_values({"day": bar.begins[0], "minute": bar.begins[1], "staff_id": bar.staff_id})
    return form.ready()
