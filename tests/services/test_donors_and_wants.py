"""Donors whose parts carry what they cost, strip tasks, wants matched over all ranges, bins counted."""

import contextlib

import pytest
import sqlalchemy as sa
from builders import FOUR, a_firm, agreed, in_days, walked
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from shopdesk.domain.answers import Answer
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Evidence, Purpose
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.stage import Stage
from shopdesk.domain.stock import Fit, Fitting
from shopdesk.domain.worth.routes import RouteKind
from shopdesk.services import (
    bench,
    checking,
    donors,
    inspection,
    intake,
    needs,
    observing,
    part_cards,
    purchasing,
    reordering,
    stock,
    stock_takes,
    walks,
    wants,
)
from shopdesk.services.planning import promises
from shopdesk.services.stock_takes import Counted
from shopdesk.services.wants import WantDraft
from shopdesk.storage.tables.stores import Need, PartMovement


def looked_at(shop, maker="Corvane", model="No. 40", **build) -> intake.Taken:
    """A range on offer whose front, griddle and the like were seen and are sound."""
    taken = intake.take_on(
        shop.owner,
        intake.RangeDraft(maker=maker, model=model, build=Build(**{"griddle": True, **build})),
        intake.JobDraft(customer_id=None, purpose=Purpose.DONOR, asking_cents=20000),
        booked_in=False,
    )
    walk_id = walked(shop.owner, taken.job_id, "lamp-cord.frayed" if build.get("lamp") else FOUR[1],
                     finished=False)  # fmt: skip
    given_ = {a.checkpoint for a in walks.walk_view(shop.owner, walk_id).look.answers}
    with shop.owner.change(Action.WALK) as work:
        walk = work.get(walks.rows.WalkRound, walk_id, "walk-round")
        for checkpoint in shop.owner.catalogue.walk(Build(**{"griddle": True, **build})):
            if checkpoint.donor.high and checkpoint.code not in given_:
                observing.give(shop.owner, work, walk, Answer(checkpoint.code, evidence=Evidence.SEEN))
        work.about(walk, walk.job_id)
    return taken


def kept(shop, cost: int = 30000) -> donors.DonorRow:
    taken = looked_at(shop)
    intake.buy(shop.owner, taken.job_id, cost)
    intake.end_job(shop.owner, taken.job_id, Stage.DONOR, "rusted through")
    donors.open_donor(shop.desk, taken.range_id)
    return donors.donors(shop.desk)[-1]


def again(shop, donor: donors.DonorRow) -> donors.DonorRow:
    return next(d for d in donors.donors(shop.desk) if d.id == donor.id)


class TestADonor:
    def test_lists_what_its_walk_round_found_sound_and_shares_its_cost(self, shop):
        donor = kept(shop)
        assert len(donor.parts) > 5
        assert sum(p.cost_cents for p in donor.parts) == donor.cost_cents == 30000
        assert donor.rest_cents == sum(p.value_cents for p in donor.parts)
        with pytest.raises(Problem, match="written down already"):
            donors.open_donor(shop.desk, donor.range_id)
        other = looked_at(shop)
        with pytest.raises(Problem, match="not kept as a donor"):
            donors.open_donor(shop.desk, other.range_id)

    @settings(settings.get_profile("databases"), phases=[Phase.explicit, Phase.reuse, Phase.generate])
    @given(
        deeds=st.lists(
            st.tuples(
                st.sampled_from(["take", "lose", "add", "cost", "value", "sell"]), st.integers(0, 90_000)
            ),
            max_size=9,
        )
    )
    def test_s_parts_cost_sums_to_what_it_cost_whatever_is_done(self, shop, deeds):
        here = [d for d in donors.donors(shop.desk) if d.id]
        donor = here[0] if here else kept(shop)
        for deed, cents in deeds:
            left = [p for p in again(shop, donor).parts if p.standing == "on it"]
            with contextlib.suppress(Problem):
                if deed == "add":
                    donors.add_to_donor(shop.desk, donor.id, f"thing {cents}", cents, 1 + cents % 3)
                elif deed == "cost":
                    donors.set_cost(shop.desk, donor.id, cents)
                elif deed == "sell":
                    for part in stock.parts(shop.desk, limit=1):
                        stock.sell_part(shop.desk, part.id, 1, cents, "a passer-by")
                elif left:
                    part = left[cents % len(left)]
                    if deed == "take":
                        donors.take_off(shop.technician, part.id)
                    elif deed == "lose":
                        donors.lose_on_donor(shop.technician, part.id, "cracked")
                    else:
                        donors.correct_on_donor(shop.desk, part.id, part.name, cents, part.quantity)
            now = again(shop, donor)
            assert sum(p.cost_cents for p in now.parts) == now.cost_cents
        now = again(shop, donor)
        with shop.desk.look() as session:
            query = sa.select(sa.func.sum(PartMovement.cost_cents)).where(PartMovement.kind == "off a donor")
            assert (session.scalar(query) or 0) == sum(
                p.cost_cents for p in now.parts if p.standing == "taken"
            )

    def test_covers_a_need_by_a_task_that_takes_it_off(self, shop):
        donor = kept(shop)
        taken = agreed(shop, *FOUR)
        need = next(n for n in needs.needs(shop.desk, job_id=taken.job_id) if n.quantity == 1)
        part = donor.parts[0]
        task_id = donors.cover_from_donor(shop.desk, need.id, part.id)
        row = next(n for n in needs.needs(shop.desk, job_id=taken.job_id) if n.id == need.id)
        assert (row.short, row.from_donor) == (0, donor.number)
        assert [p.id for p in again(shop, donor).to_strip] == [part.id]
        task = next(t for t in bench.tasks_today(shop.technician) if t.id == task_id)
        assert part.name in task.name
        assert "asbestos" in task.hazards
        with pytest.raises(Problem, match="off a donor already"):
            donors.cover_from_donor(shop.desk, need.id, donor.parts[1].id)
        donors.take_off(shop.technician, part.id, lies_at="B1")
        row = next(n for n in needs.needs(shop.desk, job_id=taken.job_id) if n.id == need.id)
        assert (row.covered, row.cost_cents, row.from_donor) == (1, part.cost_cents, "")
        assert again(shop, donor).used_cents == part.cost_cents
        with pytest.raises(Problem, match="not on the donor any more"):
            donors.take_off(shop.technician, part.id)
        assert checking.faults(shop.owner) == []

    def test_s_part_that_breaks_in_the_taking_leaves_its_need_short(self, shop):
        donor = kept(shop)
        taken = agreed(shop, *FOUR)
        need = needs.needs(shop.desk, job_id=taken.job_id)[0]
        donors.cover_from_donor(shop.desk, need.id, donor.parts[0].id)
        donors.lose_on_donor(shop.technician, donor.parts[0].id, "cracked at the lug")
        row = next(n for n in needs.needs(shop.desk, job_id=taken.job_id) if n.id == need.id)
        assert (row.short, row.from_donor) == (need.quantity, "")
        lost = again(shop, donor).parts[0]
        assert (lost.standing, lost.ended_because) == ("lost", "cracked at the lug")

    def test_s_sold_parts_say_what_they_fetched(self, shop):
        donor = kept(shop)
        part = donors.take_off(shop.technician, donor.parts[0].id)
        stock.sell_part(shop.desk, part, 1, 7777, "Orla Finch")
        assert again(shop, donor).sold_cents == 7777
        assert part_cards.part_card(shop.desk, part).moved[0].reason == "sold to Orla Finch"


class TestWants:
    def test_are_matched_with_the_shelf_donors_and_ranges_on_offer(self, shop):
        donor = kept(shop)
        name = donor.parts[0].name
        offered = looked_at(shop, maker="Hollimont", model="No. 7")
        part = stock.keep_part(shop.desk, name, count=1, lies_at="A4")
        draft = part_cards.PartDraft(name=name, lies_at="A4", fits=(Fit(maker="Corvane", certain=False),))
        part_cards.change_part(shop.desk, part, draft)
        taken = agreed(shop, *FOUR)
        wants.look_for(shop.desk, WantDraft(name=name, range_id=taken.range_id, worth_cents=99900))
        wants.look_for(shop.desk, WantDraft(name="lamp shade of amber glass"))
        first, second = wants.wants(shop.desk)
        said = {(m.kind, m.where, m.fit) for m in first.matches}
        assert ("donor", donor.number, Fitting.FITS) in said
        assert ("shelf", "A4", Fitting.MAY_FIT) in said
        assert ("offer", offered.number, Fitting.NOT_SAID) in said
        assert (first.for_whom, second.matches) == (taken.number, ())
        walk = walks.last_walk(shop.owner, offered.job_id)
        wanted = walks.judge_walk(shop.owner, walk.id)
        assert inspection.worth_of(shop.owner, walk.id).verdict.routes == wanted.routes
        offer = wants.on_offer(shop.desk)[0]
        assert (offer.number, offer.wanted) == (offered.number, (name,))
        assert 0 < offer.more_cents < 99900
        wants.end_want(shop.desk, first.id, "found at a yard sale")
        assert [w.name for w in wants.wants(shop.desk)] == ["lamp shade of amber glass"]
        assert wants.on_offer(shop.desk) == []
        plain = walks.judge_walk(shop.owner, walk.id)
        as_donor = [
            next(route.value.likely for route in verdict.routes if route.kind is RouteKind.DONOR)
            for verdict in (wanted, plain)
        ]
        assert as_donor[0] - as_donor[1] == pytest.approx(offer.more_cents, abs=1)

    def test_of_a_need_carry_its_range_and_promise_and_stand_once(self, shop):
        taken = agreed(shop, *FOUR)
        promises.promise(shop.desk, taken.job_id, in_days(shop.desk, 20))
        need = needs.needs(shop.desk, job_id=taken.job_id)[0]
        wants.look_for(shop.desk, WantDraft(name=need.name, need_id=need.id))
        row = wants.wants(shop.desk)[0]
        assert (row.maker, row.promised_on, row.need_id) == ("Corvane", in_days(shop.desk, 20), need.id)
        with pytest.raises(Problem, match="on the list of wants already"):
            wants.look_for(shop.desk, WantDraft(name=need.name, need_id=need.id))
        with pytest.raises(Problem, match="which part"):
            wants.look_for(shop.desk, WantDraft(name=" "))


class TestAStockTake:
    def test_books_explained_differences_and_tells_the_value_of_a_day(self, shop):
        first = shop.desk.today
        grease = stock.keep_part(shop.desk, "grease", lies_at="A1", price_in_cents=900, count=5)
        screws = stock.keep_part(shop.desk, "screws", lies_at="A1", price_in_cents=7, count=100)
        stock.keep_part(shop.desk, "plate", lies_at="B1", price_in_cents=5000, count=1)
        assert [b.name for b in stock_takes.bins(shop.desk)] == ["A1", "B1"]
        shop.clock.advance(days=3)
        counts = [Counted(grease, 4), Counted(screws, 103, "a box not booked")]
        with pytest.raises(Problem, match="grease: 5 by the ledger, 4 counted"):
            stock_takes.book(shop.desk, "A1", counts)
        assert {p.in_stock for p in stock_takes.sheet(shop.desk, "a1")} == {
            5,
            100,
        }
        done = stock_takes.book(shop.desk, "A1", [Counted(grease, 4, "dried out"), counts[1]])
        assert [(d.name, d.pieces, d.cost_cents) for d in done] == [("grease", -1, -900), ("screws", 3, 21)]
        assert stock_takes.bins(shop.desk)[-1].counted_on == shop.desk.today
        assert stock_takes.value_on(shop.desk, first).shelf_cents == 4500 + 700 + 5000
        assert stock_takes.value_on(shop.desk, shop.desk.today).shelf_cents == 3600 + 721 + 5000
        with pytest.raises(Problem, match="at least one part"):
            stock_takes.book(shop.desk, "A1", [])
        with pytest.raises(Problem, match="zero or more"):
            stock_takes.book(shop.desk, "A1", [Counted(grease, -1, "x")])

    def test_counts_what_is_set_aside_apart(self, shop):
        taken = agreed(shop, *FOUR)
        need = needs.needs(shop.desk, job_id=taken.job_id)[0]
        part = stock.keep_part(shop.desk, need.name, price_in_cents=250, count=need.quantity + 1)
        needs.cover_from_stock(shop.desk, need.id, part)
        value = stock_takes.value_on(shop.desk, shop.desk.today)
        assert (value.shelf_cents, value.aside_cents) == (250, 250 * need.quantity)


def test_reordering_suggests_from_the_use_the_ledger_shows_and_counts_what_is_coming(shop):
    part = stock.keep_part(shop.desk, "gasket rope, m", price_in_cents=300, count=60)
    draft = part_cards.PartDraft(name="gasket rope, m", consumable=True, lead_days=10, pack=25)
    part_cards.change_part(shop.desk, part, draft)
    for _ in range(20):
        stock.move_part(shop.desk, part, -2, "used at the bench")
        shop.clock.advance(days=1)
    row = reordering.low(shop.desk)[0]
    assert (row.in_stock, row.lead_days, row.suggested) == (20, 10, 25)
    assert 1.8 < row.per_day < 2.0
    assert row.point == pytest.approx(row.per_day * 10 + row.kept_back)
    supplier = a_firm(shop.desk, supplies=True)
    line = purchasing.OrderLine("gasket rope, m", 25, 300, part_id=part)
    purchasing.order_parts(shop.desk, supplier, [line])
    row = reordering.low(shop.desk)[0]
    assert (row.coming, row.suggested) == (25, 0)
    with shop.desk.look() as session:
        assert session.scalar(sa.select(sa.func.count(Need.id))) == 0  # nothing was ordered by itself
