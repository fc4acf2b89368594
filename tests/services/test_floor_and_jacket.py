"""The Floor filters, sorts and finds; the jacket holds the thread from finding to invoice line."""

import sqlite3
from contextlib import closing

import pytest
import sqlalchemy as sa
from builders import (
    FOUR,
    a_range,
    a_shop,
    agreed,
    billed,
    in_days,
    owned,
    quoted,
    task_of,
    walked,
)

from shopdesk.demo.drawn_pictures import picture
from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.problem import NotFound
from shopdesk.domain.rights import Action
from shopdesk.domain.stage import Stage
from shopdesk.services import (
    agreements,
    bench,
    checking,
    intake,
    invoices,
    payments,
    quotes,
    walks,
    work_orders,
)
from shopdesk.services.floor import HELD, HERE, FloorOrder, floor
from shopdesk.services.jacket import jacket
from shopdesk.services.planning import promises
from shopdesk.services.seat import open_shop


class TestTheFloor:
    @pytest.fixture
    def ranges(self, shop):
        """Looked at, agreed (promised last), quoted (promised first) and the shop's own."""
        looked = a_range(shop.desk, booked_in=False)
        at_work = agreed(shop, *FOUR)
        asked, _ = quoted(shop)
        own = owned(shop)
        promises.promise(shop.desk, at_work.job_id, in_days(shop.desk, 40))
        promises.promise(shop.desk, asked.job_id, in_days(shop.desk, 10))
        return {"looked": looked, "at work": at_work, "asked": asked, "own": own}

    def shown(self, shop, ranges, **more: object) -> list[str]:
        names = {taken.range_id: name for name, taken in ranges.items()}
        return [names[row.range_id] for row in floor(shop.desk, **more)]

    def test_sorts_by_what_is_asked(self, shop, ranges):
        orders = {
            FloorOrder.PROMISED: ["asked", "at work", "looked", "own"],
            FloorOrder.NUMBER: ["own", "asked", "at work", "looked"],
            FloorOrder.STAGE: ["looked", "own", "asked", "at work"],
            FloorOrder.CUSTOMER: ["looked", "at work", "asked", "own"],
        }
        for order, expected in orders.items():
            assert self.shown(shop, ranges, order=order) == expected, order
        assert set(self.shown(shop, ranges, order=FloorOrder.HELD_SINCE)[:2]) == {"at work", "asked"}

    def test_narrows_by_stage_and_by_what_a_range_is_held_for(self, shop, ranges):
        assert self.shown(shop, ranges, stages=(Stage.QUOTED,)) == ["asked"]
        assert set(self.shown(shop, ranges, stages=HERE)) == {"asked", "at work", "own"}
        assert self.shown(shop, ranges, held="answer") == ["asked"]
        assert set(self.shown(shop, ranges, held="deposit")) == {"at work"}
        assert "looked" not in self.shown(shop, ranges, held=HELD)
        assert self.shown(shop, ranges, limit=1) == ["asked"]

    def test_finds_by_any_word_of_the_range_and_of_its_customer(self, shop, ranges):
        number = ranges["own"].number
        assert self.shown(shop, ranges, words=number) == ["own"]
        assert set(self.shown(shop, ranges, words="søn corvane")) == {"looked", "at work", "asked"}
        assert set(self.shown(shop, ranges, words="CV 118 555 0142")) == {"looked", "at work", "asked"}
        assert self.shown(shop, ranges, words="ruiz wrexley") == []

    def test_shows_findings_and_money(self, shop, ranges):
        rows = {row.range_id: row for row in floor(shop.desk)}
        assert set(FOUR) == set(rows[ranges["at work"].range_id].findings)
        assert rows[ranges["own"].range_id].customer == ""
        key = billed(shop, ranges["at work"].job_id)
        gross = invoices.invoice_view(shop.desk, key).row.gross_cents
        payments.take_payment(shop.desk, ranges["at work"].job_id, 1000, "cash")
        rows = {row.range_id: row for row in floor(shop.desk)}
        assert rows[ranges["at work"].range_id].open_cents == gross - 1000
        invoices.credit_invoice(shop.desk, key, "wrong address")
        rows = {row.range_id: row for row in floor(shop.desk)}
        assert rows[ranges["at work"].range_id].open_cents == 0


def test_the_thread_leads_from_the_finding_to_its_line_on_the_invoice(shop):
    taken = a_range(shop.desk)
    walk = walked(shop.technician, taken.job_id, *FOUR, finished=False)
    seen = {g.answer.finding: g.id for g in walks.walk_view(shop.desk, walk).given}
    shot = intake.attach_photograph(
        shop.technician, taken.range_id, picture("cord", 1), observation_id=seen["lamp-cord.frayed"]
    )
    walks.finish(shop.technician, walk)
    _quote_and_agree(shop, taken)
    told = jacket(shop.desk, taken.range_id)
    finding = next(f for f in told.findings if f.code == "lamp-cord.frayed")
    assert finding.photographs == (shot,)
    bench.log_minutes(shop.technician, finding.tasks[0], 45)
    key = billed(shop, taken.job_id)
    told = jacket(shop.desk, taken.range_id)
    task = next(t for t in told.tasks if t.id == finding.tasks[0])
    assert finding.observation_id in task.findings
    assert (task.clocked, task.who, task.done_share) == (45, ("Bram Tollgate",), 100)
    assert (task.quote_numbers, task.invoice_numbers) == (("Q-0001",), ("I-0001",))
    lines = [line for line in invoices.invoice_view(shop.desk, key).lines if line.task_id == task.id]
    assert task.billed_cents == task.quoted_cents == sum(line.net_cents for line in lines) > 0
    assert told.money.billed_cents == invoices.invoice_view(shop.desk, key).row.gross_cents
    assert told.history[0].who == "Ysolde Marchbank"
    assert {"record a walk-round", "issue an invoice"} <= {h.action for h in told.history}


def _quote_and_agree(shop, taken) -> None:
    work_orders.write_order(shop.owner, taken.job_id, Scope.MECHANICAL)
    quote = quotes.write_quote(shop.desk, taken.job_id)
    agreements.agree(shop.desk, quote, who="Mr Ruiz", how="signed")


def test_a_range_that_is_not_there_is_a_sentence(shop):
    with pytest.raises(NotFound, match="not in the shop"):
        jacket(shop.desk, 4711)


class TestTheCheck:
    def test_calls_a_shop_with_work_on_it_whole(self, shop):
        billed(shop, agreed(shop, *FOUR).job_id)
        quoted(shop)
        owned(shop)
        assert checking.faults(shop.owner) == []

    def test_finds_a_stage_that_does_not_follow_from_the_facts(self, shop):
        taken, _ = quoted(shop)
        with shop.owner.file.engine.begin() as connection:
            connection.execute(sa.text("UPDATE job SET stage = 'settled', held_for = ''"))
        assert checking.faults(shop.owner) == [
            "The stage of R-0001 is kept as “settled”; its facts say “quoted”.",
            "What R-0001 is held for is not what its facts say.",
        ]
        promises.promise(shop.desk, taken.job_id, in_days(shop.desk, 3))  # the next deed puts it right
        assert checking.faults(shop.owner) == []

    def test_finds_a_stage_whose_facts_were_taken_away(self, shop):
        quoted(shop)
        with shop.owner.file.engine.begin() as connection:
            connection.execute(sa.text("UPDATE walk_round SET finished_at = NULL"))
            connection.execute(sa.text("UPDATE quote SET declined_on = '2026-09-15'"))
        assert checking.faults(shop.owner)[0] == (
            "The stage of R-0001 is kept as “quoted”; its facts say “booked in”."
        )

    def test_finds_a_photograph_that_was_exchanged(self, sqlite_shop, clock):
        shop = a_shop(str(sqlite_shop), clock)
        taken = a_range(shop.desk)
        key = intake.attach_photograph(shop.technician, taken.range_id, picture("rust", 1))
        shop.owner.file.close()
        with closing(sqlite3.connect(sqlite_shop)) as connection:
            connection.execute("UPDATE photograph SET data = x'FFD8'")
            connection.commit()
        seat = open_shop(sqlite_shop, clock, looking=True)
        try:
            assert checking.faults(seat) == [f"Photograph {key} is not the one that was taken in."]
        finally:
            seat.file.close()


def test_every_deed_of_the_day_stands_in_the_journal_with_its_actor(shop):
    taken = agreed(shop)
    bench.tick(shop.technician, task_of(shop.owner, taken.job_id, "receive-range").id)
    newest = jacket(shop.desk, taken.range_id).history[0]
    assert (newest.who, newest.action, newest.at) == ("Bram Tollgate", Action.WORK.value, shop.clock())
