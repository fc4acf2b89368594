"""The form that sends pieces out together: to which firm, what each piece is, when it is due."""

import datetime as dt
from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import Any

from shopdesk.domain.money import round_half_up
from shopdesk.services.outwork import PieceDraft
from shopdesk.services.people import PartyRow
from shopdesk.services.storeroom import OutworkTask
from shopdesk.ui.pages.stores.draft import LineProblem, exact_area, pieces
from shopdesk.ui.pages.stores.line_grid import Cell, Line, LineGrid
from shopdesk.ui.widgets.fields import ChoiceField, CountField, DayField, MoneyField, ParsedField, TextField
from shopdesk.ui.widgets.small_form import Close, SmallForm
from shopdesk.wording import Region, say, say_n, say_problem

Send = Callable[[int, list[PieceDraft], dt.date | None, str], object]


class SendSlip(SmallForm):
    """`send` gets the firm, the pieces, the day they are expected back, and a note."""

    def __init__(
        self, tasks: Sequence[OutworkTask], firms: Sequence[PartyRow], region: Region, today: dt.date,
        send: Send, close: Close,
    ) -> None:  # fmt: skip
        title = say_n("Send {count} piece out", "Send {count} pieces out", len(tasks))
        super().__init__(title, say("Send it out"), self._save, close)
        self._tasks, self._send = tasks, send
        choices = [(f.id, say("{name}, {trade}", name=f.name, trade=f.trade)) for f in firms]
        self.form.add("firm_id", say("To"), ChoiceField(choices), required=say("Choose the firm it goes to."))
        days = max((t.days for t in tasks), default=0)
        expected = self.form.add("expected_on", say("Expected back"), DayField(region))
        expected.setValue(today + dt.timedelta(days=days) if days else None)
        self.form.add("note", say("Note to the firm"), TextField())
        self.grid = LineGrid([_line(task, region) for task in tasks], columns=2)
        self.box.insertWidget(1, self.grid)
        self.grid.lead_to(self.form)
        self.ready()

    def _save(self, values: dict[str, Any]) -> None:
        said = self.grid.values()
        if said is None:
            return
        try:
            drafts = pieces(self._tasks, said)
        except LineProblem as problem:
            self.grid.show_problem(problem.key, problem.field, say_problem(problem))
            return
        self._send(values["firm_id"], drafts, values["expected_on"], values["note"])


def _line(task: OutworkTask, region: Region) -> Line:
    count = CountField(1)
    count.setValue(task.count)
    price = MoneyField(region)
    price.setValue(round_half_up(Fraction(task.cost_cents, max(1, task.count))))
    area = ParsedField(lambda typed: exact_area(region, typed), lambda value: format(value, "f"))
    return Line(
        task.task_id,
        say("{number}: {task}", number=task.range_number, task=task.name),
        "",
        (
            Cell("name", say("Piece"), TextField(task.name), 3),
            Cell("count", say("Count"), count, 2),
            Cell("base_metal", say("Base metal"), TextField(), 3),
            Cell("finish", say("Finish wanted"), TextField(), 2),
            Cell("price", say("Price of one, or of one measure"), price, 3),
            Cell("area", say("Area of one, if priced by it"), area, 2),
            Cell("insured", say("Insured for"), MoneyField(region), 2),
        ),
    )
