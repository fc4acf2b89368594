"""Outwork: pieces counted out to other trades and counted back."""

from typing import Any

from shopdesk.domain.problem import Problem
from shopdesk.services import outwork, outwork_back, people, storeroom
from shopdesk.services.outwork import ConsignmentRow, PieceDraft
from shopdesk.services.storeroom import OutworkTask
from shopdesk.ui.context import Topics
from shopdesk.ui.pages.page import Page
from shopdesk.ui.pages.stores.outwork_ways import OutworkWays
from shopdesk.ui.pages.stores.pieces import OutworkRow, outwork_rows, story
from shopdesk.ui.pages.stores.section import Section
from shopdesk.ui.pages.stores.send_slip import SendSlip
from shopdesk.ui.pages.stores.standing import LATE
from shopdesk.ui.pages.stores.standing_drawing import StandingDrawing, standing_column
from shopdesk.ui.widgets.fields import ChoiceField, CountField, DayField, MoneyField, TextField
from shopdesk.ui.widgets.list_table import ListTable
from shopdesk.ui.widgets.photo_strip import PhotoStrip
from shopdesk.ui.widgets.rows import Column
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.wording import say, say_n


class OutworkSection(Section):
    """One list of pieces; several that can be sent go out together as one consignment."""

    def __init__(self, page: Page) -> None:
        super().__init__(page)
        self.late = 0
        self.ways = OutworkWays(self)
        self._wanted: int | None = None
        self.list = ListTable(
            say("Outwork"), self._columns(), key=lambda row: row.key,
            empty=say("Pieces for the plater, the enameller and other trades will stand here."),
            memory=self.context.memory, remembered="stores/outwork", several=True,
        )  # fmt: skip
        self.list.draw("standing", StandingDrawing(lambda row: row.standing.pressing))
        self.list.view.selectionModel().selectionChanged.connect(lambda _on, _off: self.show_current())
        self.list.opened.connect(lambda _key: self.open_current())
        (
            self.send_button,
            self.back_button,
            self.again_button,
            self.lost_button,
            self.bill_button,
            self.jacket_button,
        ) = self.add_deeds(
            [
                (say("Send out"), "S", self.send, "outwork"),
                (say("Count back"), "C", self.count_back, "box"),
                (say("Send it again"), "A", self.ways.send_again, "undo"),
                (say("It is lost"), "L", self.ways.lose, "remove"),
                (say("The bill came"), "B", self.ways.bill, "coin"),
                (say("Jacket of the range"), "J", self.open_jacket, "jacket"),
            ]
        )
        self.photos = PhotoStrip(self.context.dialogs)
        self.photos.brought.connect(self.ways.keep_pictures)
        self.side.more.addWidget(self.photos)
        self.assemble("outwork")
        self.show_current()

    def refresh(self, topics: Topics) -> None:
        today = self.context.seat.today

        def show(found: tuple[list[OutworkTask], list[ConsignmentRow]]) -> None:
            rows = outwork_rows(*found, today)
            self.late = sum(1 for row in rows if row.standing.key == LATE)
            self.show_list(rows)
            if self._wanted is not None:
                row = next((r for r in rows if r.sent is not None and r.sent.id == self._wanted), None)
                self._wanted = None
                if row is not None:
                    self.list.select(row.key)

        self.page.ask(
            lambda seat: (storeroom.outwork_tasks(seat), outwork.consignments(seat)), show, key="outwork"
        )

    def put_on(self, consignment_id: int) -> None:
        """Puts the keyboard on the first piece of a consignment when its rows come."""
        self._wanted = consignment_id

    def show_current(self) -> None:
        rows: list[OutworkRow] = self.list.selected()
        to_send = [row for row in rows if row.task is not None]
        self.send_button.setVisible(bool(to_send))
        one = rows[0] if len(rows) == 1 else None
        piece, sent = (one.piece, one.sent) if one is not None else (None, None)
        self.back_button.setVisible(piece is not None)
        self.again_button.setVisible(piece is not None and piece.accepted == "rejected")
        self.lost_button.setVisible(piece is not None and (piece.out > 0 or piece.rejected > 0))
        self.bill_button.setVisible(sent is not None and sent.bill_cents is None)
        self.photos.setVisible(piece is not None)
        if piece is not None:
            self.ways.show_pictures(piece.id)
        self.jacket_button.setVisible(len(rows) == 1)
        if not rows:
            self.side.say(say("Outwork"), say("Choose pieces to send them out or count them back."))
        elif len(rows) > 1:
            count = say_n("{count} piece chosen", "{count} pieces chosen", len(rows))
            self.side.say(count, say("What can be sent goes out together as one consignment."))
        else:
            self.side.say(rows[0].name, self._story(rows[0]))

    # Deeds

    def open_current(self) -> None:
        row = self.list.current()
        if row is not None and row.piece is not None:
            self.count_back()
        else:
            self.send()

    def send(self) -> None:
        tasks = [row.task for row in self.list.selected() if row.task is not None]
        if not tasks:
            return
        waiting = next((task for task in tasks if task.waits), None)
        if waiting is not None and not self._sure(waiting):
            return
        trades = {task.trade for task in tasks}

        def show(firms: list[people.PartyRow]) -> None:
            if not firms:
                self.side.show_problem(
                    Problem("There is no firm for outwork yet. Write one down under Firms.")
                )
                return
            firms.sort(key=lambda firm: firm.trade not in trades)
            slip = SendSlip(tasks, firms, self.context.region, self.context.seat.today, self._send,
                            self.close_form)  # fmt: skip
            self.side.open_form(slip)

        self.page.ask(lambda seat: people.parties(seat, kind="outworker"), show, key="send slip")

    def _sure(self, task: OutworkTask) -> bool:
        """A piece may leave before its turn, but only knowingly."""
        return self.context.dialogs.confirm(
            say("Send before its turn"),
            say("“{name}” of {number} is not at its turn yet. Send the piece all the same?", name=task.name,
                number=task.range_number),
            say("Send it all the same"),
        )  # fmt: skip

    def _send(self, firm_id: int, drafts: list[PieceDraft], expected_on: Any, note: str) -> None:
        self.save(
            lambda seat: outwork.send_out(seat, firm_id, drafts, expected_on=expected_on, note=note),
            say_n("{count} piece went out.", "{count} pieces went out.", sum(d.count for d in drafts)),
        )

    def count_back(self) -> None:
        row = self.list.current()
        if row is None or row.piece is None:
            return
        piece = row.piece

        def keep(values: dict[str, Any]) -> None:
            self.save(
                lambda seat: outwork_back.take_back(
                    seat, piece.id, values["count"], accepted=values["accepted"],
                    rejected=values["rejected"], on=values["on"], cost_cents=values["cost"],
                    why=values["why"],
                ),
                say("{name}: {back} of {out} counted back.", name=piece.name, back=values["count"],
                    out=piece.count_out),
            )  # fmt: skip

        form = SmallForm(say("Count back: {name}", name=piece.name), say("Take it back"), keep,
                         self.close_form, columns=2)  # fmt: skip
        count = form.form.add("count", say("How many came back"), CountField(0, piece.count_out - piece.lost))
        count.setValue(piece.count_out - piece.lost)
        form.form.add("on", say("On"), DayField(self.context.region)).setValue(self.context.seat.today)
        looked = [(True, say("accepted")), (False, say("rejected, to be done again"))]
        form.form.add("accepted", say("Looked over and"), ChoiceField(looked))
        form.form.add("rejected", say("Of these to be done again"), CountField(0, piece.count_out))
        form.form.add("why", say("Why"), TextField())
        cost = form.form.add("cost", say("What it cost, all of it"), MoneyField(self.context.region))
        cost.setValue(piece.cost_cents)
        self.side.open_form(form.ready())

    def open_jacket(self) -> None:
        row = self.list.current()
        if row is None:
            return
        number = row.range_number
        self.page.ask(lambda seat: storeroom.range_of(seat, number), self._jacket)

    def _jacket(self, range_id: int | None) -> None:
        if range_id is not None:
            self.context.open_jacket(range_id)

    # Words

    def _story(self, row: OutworkRow) -> str:
        return story(row, self.context.region, self.context.seat.today)

    def _day(self, row: OutworkRow) -> str:
        day = row.expected_on
        return self.context.region.day_short(day, self.context.seat.today) if day else ""

    def _columns(self) -> list[Column]:
        return [
            standing_column(lambda row: row.standing, width=18),
            Column("piece", say("Piece"), lambda r: r.name, width=24, strong=True, stretch=True,
                   sort=lambda r: r.name),
            Column("range", say("Range"), lambda r: r.range_number, width=7, sort=lambda r: r.range_number),
            Column("firm", say("Firm or trade"), lambda r: r.firm, width=17, sort=lambda r: r.firm),
            Column("count", say("Count"), lambda r: r.count, width=9),
            Column("expected", say("Expected"), self._day, width=9, sort=lambda r: r.expected_on),
        ]  # fmt: skip
