"""What is done with a range after looking at it: finish, report, work order, verdict, buy, leave it."""

from collections.abc import Callable
from typing import TypeVar

from PySide6.QtCore import QObject

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.stage import Stage
from shopdesk.domain.worth import Verdict
from shopdesk.services import intake, reports, walks, work_orders
from shopdesk.services.inspection import BEFORE_WORK, WalkRow
from shopdesk.services.seat import Seat
from shopdesk.services.work_orders import OrderChange
from shopdesk.ui.context import Context
from shopdesk.ui.pages.walk_round.draft import Walk
from shopdesk.ui.pages.walk_round.worth_words import offer_words, scope_name, verdict_words
from shopdesk.wording import say, say_n

T = TypeVar("T")


class Deeds(QObject):
    """Acts on the range and the walk-round that are open when a deed is asked for."""

    def __init__(
        self, context: Context, row_of: Callable[[], WalkRow | None], walk_of: Callable[[], Walk | None],
        parent: QObject,
    ) -> None:  # fmt: skip
        super().__init__(parent)
        self._context, self._row_of, self._walk_of = context, row_of, walk_of

    # Who may what, now

    def may_walk(self) -> bool:
        return self._context.may(Action.WALK)

    def may_decide(self, row: WalkRow) -> bool:
        """A customer's own range is quoted; whether to take it on is no verdict of the shop's."""
        return self._context.may(Action.DECIDE) and not row.customer

    def may_plan(self) -> bool:
        return self._context.may(Action.PLAN_WORK)

    def may_buy(self, row: WalkRow) -> bool:
        return self._context.may(Action.DECIDE) and not row.bought and row.stage in BEFORE_WORK

    def may_book_in(self, row: WalkRow) -> bool:
        return self._context.may(Action.BOOK_IN) and row.stage is Stage.LOOKED_AT

    def may_end(self, row: WalkRow) -> bool:
        return self._context.may(Action.WITHDRAW) and row.stage in BEFORE_WORK

    # The walk-round itself

    def finish(self) -> None:
        """Closes the walk-round, after a question when something was not seen."""
        row, walk = self._row(), self._walk()
        left = walk.not_seen()
        text = say_n(
            "{count} checkpoint was not seen. It keeps its risk in the estimate and is named in the report. "
            "A finished walk-round stays as it is.",
            "{count} checkpoints were not seen. They keep their risk in the estimate and are named in the "
            "report. A finished walk-round stays as it is.",
            left,
        )
        if left and not self._context.dialogs.confirm(
            say("Finish the walk-round"), text, say("Finish it"), say("Go on looking")
        ):
            return
        walk_id = walk.view.id
        self._do(row, lambda seat: walks.finish(seat, walk_id), lambda _done: self._finished(row))

    def record_verdict(self) -> None:
        """Keeps what it comes to as the decision of this day."""
        walk_id, row = self._walk().view.id, self._row()
        self._do(row, lambda seat: walks.record_verdict(seat, walk_id), self._tell_verdict)

    def preview_report(self) -> None:
        """The condition report as it would print now."""
        row = self._row()
        walk_id = self._walk().view.id
        title = say("Condition report of {number}, not issued", number=row.number)
        self._context.ask(
            lambda seat: reports.preview_condition_report(seat, walk_id),
            lambda pdf: self._context.show_paper(pdf, title), owner=self,
        )  # fmt: skip

    def print_report(self) -> None:
        """The condition report with its number, kept for good."""
        row = self._row()
        walk_id = self._walk().view.id
        self._do(
            row, lambda seat: reports.print_condition_report(seat, walk_id),
            lambda number: self._context.show_paper(
                number, say("Condition report {number}", number=number), reports.REPORT
            ),
        )  # fmt: skip

    def write_order(self) -> None:
        """The work order of a scope, from what was found."""
        row = self._row()
        scopes = list(Scope)
        chosen = self._context.dialogs.choose(
            say("Write the work order"),
            say("How far does the work on {number} go? A scope says nothing about lighting it.",
                number=row.number),
            [scope_name(scope) for scope in scopes],
        )  # fmt: skip
        if chosen is not None:
            scope = scopes[chosen]
            self._do(
                row, lambda seat: work_orders.write_order(seat, row.job_id, scope),
                lambda change: self._tell_order(row, change),
            )  # fmt: skip

    # The range

    def buy(self) -> None:
        """The shop buys it, at a price that is typed."""
        row = self._row()
        typed = self._context.dialogs.write(
            say("Buy {number}", number=row.number), say("Price paid, without tax")
        )
        if not typed:
            return
        try:
            cents = self._context.region.parse_money(typed)
        except Problem as problem:
            self._context.tell_problem(problem)
            return
        price = self._context.region.money(cents)
        told = say("{number} is bought for {price}; it is the shop’s own.", number=row.number, price=price)
        self._do(
            row, lambda seat: intake.buy(seat, row.job_id, cents), lambda _done: self._context.tell(told)
        )

    def book_in(self) -> None:
        row = self._row()
        told = say("{number} is booked in.", number=row.number)
        self._do(row, lambda seat: intake.book_in(seat, row.job_id), lambda _done: self._context.tell(told))

    def end(self, stage: Stage) -> None:
        """Kept as a donor, or not taken, with the reason."""
        row = self._row()
        title = (
            say("Keep {number} as a donor", number=row.number)
            if stage is Stage.DONOR
            else say("{number} is not taken", number=row.number)
        )
        why = self._context.dialogs.write(title, say("Why"))
        if why is None:
            return
        told = say("{number} is closed: {stage}.", number=row.number, stage=stage)
        self._do(
            row, lambda seat: intake.end_job(seat, row.job_id, stage, why),
            lambda _done: self._context.tell(told),
        )  # fmt: skip

    def open_jacket(self) -> None:
        self._context.open_jacket(self._row().range_id)

    # Inside

    def _row(self) -> WalkRow:
        row = self._row_of()
        assert row is not None
        return row

    def _walk(self) -> Walk:
        walk = self._walk_of()
        assert walk is not None
        return walk

    def _do(self, row: WalkRow, action: Callable[[Seat], T], then: Callable[[T], None]) -> None:
        changes = [f"job {row.job_id}", f"range {row.range_id}", "jobs", "ranges", "papers"]
        self._context.do(action, then, changes=changes, owner=self)

    def _finished(self, row: WalkRow) -> None:
        self._context.tell(
            say("The walk-round of {number} is finished.", number=row.number),
            *((say("Record the verdict"), self.record_verdict) if self.may_decide(row) else ("", None)),
        )

    def _tell_verdict(self, verdict: Verdict) -> None:
        offer = offer_words(self._context.region, verdict)
        self._context.tell(say("Recorded: {verdict}; {offer}.", verdict=verdict_words(verdict),
                               offer=offer))  # fmt: skip

    def _tell_order(self, row: WalkRow, change: OrderChange) -> None:
        told = say(
            "The work order of {number} is written: {added} tasks new, {changed} changed, {gone} gone.",
            number=row.number, added=len(change.added), changed=len(change.changed), gone=len(change.gone),
        )  # fmt: skip
        self._context.tell(told, say("Open its jacket"), lambda: self._context.open_jacket(row.range_id))
