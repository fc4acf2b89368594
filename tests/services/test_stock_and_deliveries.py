"""The ledger under any interleaving, what is set aside, landed cost, wrong parts and goods sent back."""

import contextlib
import datetime as dt
from decimal import Decimal

import pytest
import sqlalchemy as sa
from builders import FOUR, a_firm, agreed, in_days
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from shopdesk.domain.money import Spread
from shopdesk.domain.problem import Problem
from shopdesk.domain.stock import Fit
from shopdesk.services import checking, goods_in, needs, part_cards, purchasing, stock
from shopdesk.services.goods_in import Arrived
from shopdesk.services.purchasing import OrderLine
from shopdesk.storage.tables.stores import GoodsBack, GoodsIn, Need, PartMovement


def part_of(shop, name: str) -> stock.PartRow:
    return next(p for p in stock.parts(shop.owner) if p.name == name)


def need_of(shop, need_id: int) -> needs.NeedRow:
    return next(n for n in needs.needs(shop.owner) if n.id == need_id)


def order_of(shop, order_id: int) -> purchasing.OrderRow:
    return next(o for o in purchasing.orders(shop.owner) if o.id == order_id)


def wanted(shop, name: str = "bracket") -> needs.NeedRow:
    """A need of an agreed job, for four pieces."""
    there = needs.needs(shop.owner)
    if not there:
        agreed(shop, *FOUR)
        there = needs.needs(shop.owner)
    with shop.owner.file.writing(shop.owner.acting, "test") as work:
        task_id = work.get(Need, there[0].id, "need").task_id
        row = work.add(Need(task_id=task_id, name=name, quantity=4, cost_cents=500))
        work.session.flush()
    return need_of(shop, row.id)


class Storeroom:
    """One part, one need for it and one order, with all that is brought in and goes out counted beside."""

    def __init__(self, shop, number: int) -> None:
        self.shop, self.seat = shop, shop.desk
        self.need = wanted(shop, f"bracket {number}")
        self.part = stock.keep_part(self.seat, self.need.name, price_in_cents=333, count=3)
        supplier = a_firm(self.seat, supplies=True)
        line = OrderLine(self.need.name, 9, 700, need_id=self.need.id)
        self.order = purchasing.order_parts(self.seat, supplier, [line])
        self.line = order_of(shop, self.order).lines[0].id
        self.total = 3
        self.deeds = {
            "in": self.bring, "out": self.break_, "deliver": self.deliver, "aside": self.aside,
            "put back": self.put_back, "send back": self.send_back, "sell": self.sell,
        }  # fmt: skip

    def bring(self, pieces: int, cents: int) -> int:
        stock.move_part(self.seat, self.part, pieces, "found", cost_cents=cents)
        return pieces

    def break_(self, pieces: int, _cents: int) -> int:
        stock.move_part(self.seat, self.part, -pieces, "broken")
        return -pieces

    def deliver(self, pieces: int, cents: int) -> int:
        came = Arrived(line_id=self.line, quantity=pieces, unit_cost_cents=cents)
        goods_in.take_delivery(self.seat, [came], freight_cents=cents % 97)
        return pieces

    def aside(self, pieces: int, _cents: int) -> int:
        needs.cover_from_stock(self.seat, self.need.id, self.part, min(pieces, 4))
        return 0

    def put_back(self, _pieces: int, _cents: int) -> int:
        needs.put_back(self.seat, self.need.id, "not yet")
        return 0

    def send_back(self, pieces: int, _cents: int) -> int:
        goods = goods_in.goods_of(self.seat, self.order)
        goods_in.send_back(self.seat, goods[0].id if goods else 0, pieces, "faulty")
        return -pieces

    def sell(self, pieces: int, cents: int) -> int:
        stock.sell_part(self.seat, self.part, pieces, cents, "a passer-by")
        return -pieces

    def do(self, deed: str, pieces: int, cents: int) -> None:
        with contextlib.suppress(Problem):  # refused: nothing of it may have happened, as is checked next
            self.total += self.deeds[deed](pieces, cents)

    def moved(self) -> list[tuple[int, int, str]]:
        with self.seat.look() as session:
            query = sa.select(PartMovement.quantity, PartMovement.cost_cents, PartMovement.kind)
            return [tuple(r) for r in session.execute(query.where(PartMovement.part_id == self.part))]

    def check(self) -> None:
        free = sum(quantity for quantity, _, _ in self.moved())
        value = sum(cents for _, cents, _ in self.moved())
        here = part_of(self.shop, self.need.name)
        covered = need_of(self.shop, self.need.id).covered
        assert (here.in_stock, here.value_cents) == (free, value)
        assert free + covered == self.total
        assert free >= 0
        assert value >= 0
        assert free or value == 0


DEEDS = st.tuples(
    st.sampled_from(["in", "out", "deliver", "aside", "put back", "send back", "sell"]),
    st.integers(1, 5),
    st.integers(0, 4000),
)


@settings(settings.get_profile("databases"), phases=[Phase.explicit, Phase.reuse, Phase.generate])
@given(deeds=st.lists(DEEDS, max_size=10), number=st.uuids())
def test_counts_and_costs_are_the_sum_of_the_ledger_under_any_interleaving(shop, deeds, number):
    """Every cent that came in lies on the shelf, was set aside, or went out by name."""
    room = Storeroom(shop, number)
    for deed in deeds:
        room.do(*deed)
        room.check()
    with shop.desk.look() as session:
        of_line = GoodsIn.line_id == room.line
        landed = session.scalar(
            sa.select(sa.func.coalesce(sa.func.sum(GoodsIn.landed_cents), 0)).where(of_line)
        )
        back = sa.select(sa.func.coalesce(sa.func.sum(GoodsBack.cost_cents), 0)).join(GoodsIn).where(of_line)
        went_back = session.scalar(back)
        aside = needs.costs_of(session, [room.need.id])[room.need.id]
    cents: dict[str, int] = {}
    for _, cost, kind in room.moved():
        cents[kind] = cents.get(kind, 0) + cost
    assert (cents.get("goods in", 0), -cents.get("sent back", 0)) == (landed, went_back)
    assert -cents.get("set aside", 0) - cents.get("put back", 0) == aside


def test_a_shelf_goes_below_nothing_only_when_it_is_told_to(shop):
    row = wanted(shop)
    part = stock.keep_part(shop.desk, row.name, price_in_cents=250, count=1)
    assert needs.cover_from_stock(shop.desk, row.id, part, below_zero=True) == 4
    assert part_of(shop, row.name).in_stock == -3
    with pytest.raises(Problem, match="Only 0 of"):
        stock.move_part(shop.desk, part, -1, "gone")
    stock.move_part(shop.desk, part, -1, "gone all the same", below_zero=True)
    stock.move_part(shop.desk, part, 5, "found behind the bench")
    assert (part_of(shop, row.name).in_stock, need_of(shop, row.id).covered) == (1, 4)


def test_a_count_on_any_day_is_what_the_ledger_says_of_it(shop):
    first = shop.owner.today
    part = stock.keep_part(shop.desk, "grease, tin", price_in_cents=900, count=5)
    shop.clock.advance(days=2)
    stock.move_part(shop.desk, part, -2, "used up")
    shop.clock.advance(days=2)
    stock.move_part(shop.desk, part, 4, "bought at the counter", cost_cents=4001)
    days = [first + dt.timedelta(days=n) for n in (-1, 0, 1, 2, 3, 4)]
    assert [part_cards.count_on(shop.owner, part, day) for day in days] == [0, 5, 5, 3, 3, 7]
    card = part_cards.part_card(shop.owner, part)
    assert [(m.quantity, m.count, m.reason) for m in card.moved] == [
        (4, 7, "bought at the counter"), (-2, 3, "used up"), (5, 5, "counted in"),
    ]  # fmt: skip
    assert card.row.value_cents == 3 * 900 + 4001


def test_what_is_set_aside_goes_back_with_its_cost_until_the_task_is_done(shop):
    row = wanted(shop)
    part = stock.keep_part(shop.desk, row.name, price_in_cents=101, count=3)
    stock.move_part(shop.desk, part, 2, "dearer ones", cost_cents=999)
    needs.cover_from_stock(shop.desk, row.id, part)
    assert (part_of(shop, row.name).in_stock, part_of(shop, row.name).value_cents) == (1, 260)
    assert part_cards.part_card(shop.owner, part).set_aside == 4
    assert needs.put_back(shop.desk, row.id, "other job first") == 4
    assert (part_of(shop, row.name).in_stock, part_of(shop, row.name).value_cents) == (5, 1302)
    assert (need_of(shop, row.id).covered, need_of(shop, row.id).short) == (0, 4)
    with pytest.raises(Problem, match="Nothing is set aside"):
        needs.put_back(shop.desk, row.id, "again")
    with pytest.raises(Problem, match="4 of bracket are still wanted"):
        needs.cover_from_stock(shop.desk, row.id, part, 5)


class TestADelivery:
    def order(self, shop, *lines, currency="", **more) -> purchasing.OrderRow:
        supplier = a_firm(shop.desk, supplies=True, currency=currency, our_account="EM-17", lead_days=12)
        return order_of(shop, purchasing.order_parts(shop.desk, supplier, lines, **more))

    def test_in_the_supplier_s_money_lands_with_its_freight_shared(self, shop):
        order = self.order(shop, OrderLine("thermostat knob", 3, 1000), OrderLine("clip", 10, 99),
                           currency="EUR")  # fmt: skip
        assert (order.currency, order.expected_on) == ("EUR", in_days(shop.desk, 12))
        came = [Arrived(line_id=x.id, quantity=x.quantity) for x in order.lines]
        with pytest.raises(Problem, match="what 1 EUR is in USD"):
            goods_in.take_delivery(shop.desk, came, freight_cents=1000)
        goods_in.take_delivery(shop.desk, came, freight_cents=1000, rate=Decimal("1.0807"))
        knob, clip = part_of(shop, "thermostat knob"), part_of(shop, "clip")
        # 39.90 EUR at 1.0807 are 43.12 USD; with 10.00 freight 53.12 in all
        assert knob.value_cents + clip.value_cents == 4312 + 1000
        assert [g.freight_cents for g in goods_in.goods_of(shop.desk, order.id)] == [248, 752]
        assert order_of(shop, order.id).standing == "received"

    def test_one_short_stays_open_until_the_rest_is_called_off(self, shop):
        row = wanted(shop)
        order = self.order(shop, OrderLine(row.name, 4, 500, need_id=row.id, theirs="A-17"))
        goods_in.take_delivery(shop.desk, [Arrived(line_id=order.lines[0].id, quantity=3)])
        assert order_of(shop, order.id).standing == "part received"
        assert (need_of(shop, row.id).covered, need_of(shop, row.id).short) == (3, 0)
        purchasing.call_line_off(shop.desk, order.lines[0].id, "no longer made")
        after = order_of(shop, order.id)
        assert (after.standing, after.lines[0].called_off, need_of(shop, row.id).short) == ("received", 1, 1)
        with pytest.raises(Problem, match="came already"):
            purchasing.call_line_off(shop.desk, order.lines[0].id, "again")

    def test_of_a_wrong_part_covers_nothing_and_goes_back(self, shop):
        row = wanted(shop)
        order = self.order(shop, OrderLine(row.name, 4, 500, need_id=row.id))
        wrong = Arrived(line_id=order.lines[0].id, quantity=4, wrong_as="bracket, brass")
        goods_in.take_delivery(shop.desk, [wrong])
        after = order_of(shop, order.id).lines[0]
        assert (after.received, after.wrong, after.left, need_of(shop, row.id).covered) == (0, 4, 4, 0)
        goods = goods_in.goods_of(shop.desk, order.id)[0]
        goods_in.send_back(shop.desk, goods.id, 4, "wrong part", credit_cents=2000)
        assert (part_of(shop, "bracket, brass").in_stock, part_of(shop, "bracket, brass").value_cents) == (
            0,
            0,
        )
        assert order_of(shop, order.id).lines[0].wrong == 0
        with pytest.raises(Problem, match="0 of bracket came in"):
            goods_in.send_back(shop.desk, goods.id, 1, "again")

    def test_that_goes_back_lets_go_of_what_was_set_aside(self, shop):
        row = wanted(shop)
        order = self.order(shop, OrderLine(row.name, 5, 500, need_id=row.id))
        goods_in.take_delivery(shop.desk, [Arrived(line_id=order.lines[0].id, quantity=5)])
        goods = goods_in.goods_of(shop.desk, order.id)[0]
        goods_in.send_back(shop.desk, goods.id, 3, "cracked")
        assert (need_of(shop, row.id).covered, part_of(shop, row.name).in_stock) == (2, 0)
        assert order_of(shop, order.id).standing == "part received"
        assert checking.faults(shop.owner) == []

    def test_is_sent_acknowledged_chased_and_named_while_late(self, shop):
        order = self.order(shop, OrderLine("clip", 10, 99))
        purchasing.note_sent(shop.desk, order.id, "by post")
        purchasing.acknowledge(shop.desk, order.id, their_number="SO 99", expected_on=in_days(shop.desk, 3))
        shop.clock.advance(days=4)
        assert [o.number for o in purchasing.late_orders(shop.desk)] == ["O-0001"]
        purchasing.note_chased(shop.desk, order.id, "leaves on Friday", in_days(shop.desk, 5))
        now = order_of(shop, order.id)
        assert (now.standing, now.their_number, now.sent_how) == ("open", "SO 99", "by post")
        assert (now.chased_on, now.chased_answer) == (shop.desk.today, "leaves on Friday")
        with pytest.raises(Problem, match="nobody answered"):
            purchasing.note_chased(shop.desk, order.id, " ")
        with pytest.raises(Problem, match="may not order parts"):
            purchasing.note_sent(shop.technician, order.id, "by mail")


def test_a_need_that_the_shop_makes_brings_its_task_and_its_cost(shop):
    row = wanted(shop)
    needs.make_for(shop.owner, row.id, Spread(30, 60, 120))
    assert (need_of(shop, row.id).short, need_of(shop, row.id).making) == (0, f"Make: {row.name}")
    with pytest.raises(Problem, match="being made already"):
        needs.make_for(shop.owner, row.id, Spread(30, 60, 120))
    needs.made(shop.technician, row.id, 1003)
    after = need_of(shop, row.id)
    assert (after.covered, after.making, after.cost_cents) == (4, "", 251)
    with shop.owner.look() as session:
        assert needs.costs_of(session, [row.id]) == {row.id: 1003}
    assert checking.faults(shop.owner) == []


def test_a_part_s_fits_and_price_are_corrected_but_never_its_count(shop):
    part = stock.keep_part(shop.desk, "griddle plate", condition="used", count=1, price_in_cents=4000)
    fits = (
        Fit(maker="Corvane", build=("griddle",)),
        Fit(maker="Hollimont", certain=False, note="try the lugs"),
    )
    draft = part_cards.PartDraft(
        name="griddle plate", condition="used", state="pitted below", lies_at="B2", fits=fits,
        price_out_cents=9000, consumable=False,
    )  # fmt: skip
    part_cards.change_part(shop.technician, part, draft)
    card = part_cards.part_card(shop.desk, part)
    assert card.draft.fits == fits
    assert (card.row.state, card.row.lies_at, card.row.in_stock) == ("pitted below", "B2", 1)
    assert [p.id for p in stock.parts(shop.desk, "b2 plate")] == [part]
    with pytest.raises(Problem, match="50 to 99"):
        part_cards.change_part(shop.desk, part, part_cards.PartDraft(name="x", served_percent=100))
