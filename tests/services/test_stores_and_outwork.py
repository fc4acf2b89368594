"""Stores and outwork: a ledger that sums, goods over and short, pieces counted out and back."""

import pytest
import sqlalchemy as sa
from builders import FOUR, a_firm, agreed, held_of, in_days, task_of
from hypothesis import given, settings
from hypothesis import strategies as st

from shopdesk.domain.problem import NotFound, Problem
from shopdesk.services import checking, outwork, stores
from shopdesk.services.papers.keeping import paper_bytes
from shopdesk.services.stores import OrderLine
from shopdesk.storage.tables.shop import Journal


@pytest.fixture
def supplier(shop):
    return a_firm(shop.desk, supplies=True)


def line_of(shop, order_id: int, place: int = 0) -> stores.OrderLineRow:
    return next(o for o in stores.orders(shop.desk) if o.id == order_id).lines[place]


def stock(shop, name: str) -> int:
    return sum(p.in_stock for p in stores.parts(shop.owner) if p.name == name)


class TestAnOrder:
    def test_for_what_is_short_covers_the_need_when_it_comes(self, shop, supplier):
        taken = agreed(shop, *FOUR)
        need = stores.needs(shop.desk, job_id=taken.job_id, short_only=True)[0]
        order = stores.order_parts(
            shop.desk, supplier, [OrderLine(need.name, need.quantity, 700, need_id=need.id)],
            expected_on=in_days(shop.desk, 5),
        )  # fmt: skip
        row = next(n for n in stores.needs(shop.desk, job_id=taken.job_id) if n.id == need.id)
        assert (row.on_order, row.short, row.expected_on) == (need.quantity, 0, in_days(shop.desk, 5))
        assert paper_bytes(shop.desk, "O-0001", "purchase order").startswith(b"%PDF")
        stores.take_goods_in(shop.technician, line_of(shop, order).id, need.quantity, unit_cost_cents=650)
        row = next(n for n in stores.needs(shop.desk, job_id=taken.job_id) if n.id == need.id)
        assert (row.covered, row.on_order, row.cost_cents) == (need.quantity, 0, 650)
        assert stores.orders(shop.desk)[0].standing == "received"
        assert stock(shop, need.name) == 0

    def test_that_comes_short_stays_open_and_what_is_over_goes_on_the_shelf(self, shop, supplier):
        taken = agreed(shop, *FOUR)
        need = stores.needs(shop.desk, job_id=taken.job_id, short_only=True)[0]
        ask = OrderLine(need.name, need.quantity + 3, 700, need_id=need.id)
        order = stores.order_parts(shop.desk, supplier, [ask])
        line = line_of(shop, order)
        stores.take_goods_in(shop.desk, line.id, 1, lies_at="bin 3")
        assert stores.orders(shop.desk)[0].standing == "part received"
        stores.take_goods_in(shop.desk, line.id, need.quantity + 4)  # two more than ordered
        assert stores.orders(shop.desk)[0].standing == "received"
        row = next(n for n in stores.needs(shop.desk, job_id=taken.job_id) if n.id == need.id)
        assert (row.covered, row.short) == (need.quantity, 0)
        assert stock(shop, need.name) == 5
        assert checking.faults(shop.owner) == []

    def test_is_late_after_its_day_and_never_once_it_is_cancelled(self, shop, supplier):
        order = stores.order_parts(
            shop.desk, supplier, [OrderLine("grease", 2, 800)], expected_on=in_days(shop.desk, 2)
        )
        shop.clock.advance(days=3)
        assert [o.standing for o in stores.orders(shop.desk, open_only=True)] == ["late"]
        stores.cancel_order(shop.desk, order)
        assert stores.orders(shop.desk)[0].standing == "cancelled"
        assert stores.orders(shop.desk, open_only=True) == []
        with pytest.raises(Problem, match="O-0001 is cancelled"):
            stores.take_goods_in(shop.desk, line_of(shop, order).id, 1)

    def test_whose_goods_came_cannot_be_cancelled(self, shop, supplier):
        order = stores.order_parts(shop.desk, supplier, [OrderLine("grease", 2, 800)])
        stores.take_goods_in(shop.desk, line_of(shop, order).id, 1)
        with pytest.raises(Problem, match="came in already"):
            stores.cancel_order(shop.desk, order)
        assert stores.orders(shop.desk)[0].total_cents == 1600

    @pytest.mark.parametrize(
        ("lines", "said"),
        [
            ([], "at least one line"),
            ([OrderLine("grease", 0, 1)], "count above zero"),
            ([OrderLine("grease", 1, -1)], "count above zero"),
            ([OrderLine("grease", 1, 1, need_id=4711)], "no need 4711"),
            ([OrderLine("grease", 1, 1, part_id=4711)], "no part 4711"),
        ],
    )
    def test_that_cannot_be_is_refused_and_takes_no_number(self, shop, supplier, lines, said):
        with pytest.raises(Problem, match=said):
            stores.order_parts(shop.desk, supplier, lines)
        stores.order_parts(shop.desk, supplier, [OrderLine("grease", 1, 1)])
        assert stores.orders(shop.desk)[0].number == "O-0001"

    def test_of_new_parts_that_brings_used_ones_keeps_the_two_apart(self, shop, supplier):
        order = stores.order_parts(shop.desk, supplier, [OrderLine("handle", 2, 800)])
        stores.take_goods_in(shop.desk, line_of(shop, order).id, 1)
        stores.take_goods_in(shop.desk, line_of(shop, order).id, 1, condition="used")
        assert [(p.condition, p.in_stock) for p in stores.parts(shop.desk)] == [("new", 1), ("used", 1)]

    def test_goods_in_that_cannot_be_are_refused(self, shop, supplier):
        order = stores.order_parts(shop.desk, supplier, [OrderLine("grease", 1, 1)])
        with pytest.raises(Problem, match="one piece or more"):
            stores.take_goods_in(shop.desk, line_of(shop, order).id, 0)
        with pytest.raises(Problem, match="new, used, exchanged or made"):
            stores.take_goods_in(shop.desk, line_of(shop, order).id, 1, condition="rusty")
        with pytest.raises(NotFound, match="order line 4711"):
            stores.take_goods_in(shop.desk, 4711, 1)


class TestTheShelf:
    def test_gives_what_is_there_and_no_more(self, shop):
        taken = agreed(shop, *FOUR)
        need = max(stores.needs(shop.desk, job_id=taken.job_id, short_only=True), key=lambda n: n.quantity)
        part = stores.keep_part(shop.desk, need.name, price_in_cents=500, price_out_cents=900, count=1)
        assert stores.needs(shop.desk, job_id=taken.job_id)[0].in_stock in (0, 1)
        assert stores.cover_from_stock(shop.technician, need.id, part) == 1
        with pytest.raises(Problem, match=r"none of .* left"):
            stores.cover_from_stock(shop.technician, need.id, part)
        assert stock(shop, need.name) == 0

    def test_is_a_ledger_that_never_falls_below_nothing(self, shop):
        part = stores.keep_part(shop.desk, "Grease, high temperature", count=5, lies_at="bin 3")
        stores.move_part(shop.desk, part, -2, "dried out")
        with pytest.raises(Problem, match="Only 3 of Grease"):
            stores.move_part(shop.desk, part, -4, "lost")
        for quantity, reason in ((0, "x"), (1, " ")):
            with pytest.raises(Problem, match="a count and a reason"):
                stores.move_part(shop.desk, part, quantity, reason)
        row = stores.parts(shop.desk, "GREASE")[0]
        assert (row.in_stock, row.lies_at, row.number) == (3, "bin 3", "S-0001")
        assert stores.parts(shop.desk, "100%") == []

    @pytest.mark.parametrize(
        ("name", "more", "said"),
        [
            (" ", {}, "needs a name"),
            ("grease", {"condition": "rusty"}, "new, used, exchanged or made"),
            ("grease", {"count": -1}, "zero or more"),
            ("grease", {"price_in_cents": -1}, "zero or more"),
        ],
    )
    def test_refuses_parts_that_cannot_be(self, shop, name, more, said):
        with pytest.raises(Problem, match=said):
            stores.keep_part(shop.desk, name, **more)

    @settings(settings.get_profile("databases"))
    @given(moves=st.lists(st.integers(-6, 6).filter(bool), max_size=8))
    def test_holds_the_sum_of_all_that_was_moved(self, shop, moves):
        part, there = stores.keep_part(shop.desk, "screws", count=4), 4
        for move in moves:
            try:
                stores.move_part(shop.desk, part, move, "counted")
                there += move
            except Problem:
                assert there + move < 0
            assert next(p.in_stock for p in stores.parts(shop.desk) if p.id == part) == there


def test_calling_a_need_off_needs_a_reason_and_stays_in_the_journal(shop):
    taken = agreed(shop, *FOUR)
    need = stores.needs(shop.desk, job_id=taken.job_id)[0]
    with pytest.raises(Problem, match="Say why"):
        stores.call_off(shop.desk, need.id, " ")
    stores.call_off(shop.desk, need.id, "the old one is good")
    with shop.owner.look() as session:
        row = session.scalars(sa.select(Journal).order_by(Journal.id.desc()).limit(1)).one()
    assert row.after[f"need {need.id}"]["called_off_because"] == "the old one is good"
    assert next(n.short for n in stores.needs(shop.desk, job_id=taken.job_id) if n.id == need.id) == 0


class TestOutwork:
    @pytest.fixture
    def sent(self, shop):
        taken = agreed(shop, "top-enamel.rusted-through")
        task = task_of(shop.owner, taken.job_id, "weld-patch")
        firm = a_firm(shop.desk, "Arcady Welding", trade="welder")
        piece = outwork.PieceDraft(task_id=task.id, name="", count=3, cost_cents=4000)
        outwork.send_out(shop.technician, firm, [piece], expected_on=in_days(shop.desk, 10))
        return taken

    def one(self, shop) -> outwork.ConsignmentRow:
        return outwork.consignments(shop.desk)[0]

    def test_is_out_until_all_of_it_is_back_and_accepted(self, shop, sent):
        row = self.one(shop)
        assert (row.number, row.standing, row.pieces[0].name) == ("K-0001", "out", row.pieces[0].task)
        assert "outwork" in held_of(shop.desk, sent)
        outwork.take_back(shop.technician, row.pieces[0].id, 2)
        assert (self.one(shop).standing, self.one(shop).pieces[0].back_on) == ("part back", None)
        assert "outwork" in held_of(shop.desk, sent)
        outwork.take_back(shop.technician, row.pieces[0].id, 3, cost_cents=4500)
        piece = self.one(shop).pieces[0]
        assert (self.one(shop).standing, piece.back_on, piece.accepted, piece.cost_cents) == (
            "back", shop.desk.today, "accepted", 4500,
        )  # fmt: skip
        assert "outwork" not in held_of(shop.desk, sent)
        assert outwork.consignments(shop.desk, out_only=True) == []
        assert checking.faults(shop.owner) == []

    def test_that_is_rejected_stays_out_and_grows_late(self, shop, sent):
        outwork.take_back(shop.technician, self.one(shop).pieces[0].id, 3, accepted=False)
        row = self.one(shop)
        assert (row.standing, row.pieces[0].accepted, row.pieces[0].back_on) == ("out", "rejected", None)
        shop.clock.advance(days=11)
        assert self.one(shop).standing == "late"

    @pytest.mark.parametrize(
        ("count", "more", "said"),
        [(4, {}, "4 came back of 3"), (0, {}, "0 came back"), (3, {"cost_cents": -1}, "zero or more")],
    )
    def test_that_was_miscounted_is_refused(self, shop, sent, count, more, said):
        with pytest.raises(Problem, match=said):
            outwork.take_back(shop.technician, self.one(shop).pieces[0].id, count, **more)

    def test_needs_a_firm_and_pieces(self, shop, sent):
        task = task_of(shop.owner, sent.job_id, "weld-patch")
        firm = a_firm(shop.desk, "Gritstone Blasting", trade="blaster")
        with pytest.raises(Problem, match="at least one piece"):
            outwork.send_out(shop.desk, firm, [])
        with pytest.raises(Problem, match="one or more"):
            outwork.send_out(shop.desk, firm, [outwork.PieceDraft(task_id=task.id, name="x", count=0)])
        with pytest.raises(NotFound, match="no firm 4711"):
            outwork.send_out(shop.desk, 4711, [outwork.PieceDraft(task_id=task.id, name="x")])
        with pytest.raises(NotFound, match="no task 4711"):
            outwork.send_out(shop.desk, firm, [outwork.PieceDraft(task_id=4711, name="x")])
