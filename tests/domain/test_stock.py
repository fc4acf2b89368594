"""The storeroom's arithmetic: no cent is lost, fits are told apart, the reorder point is a known one."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.domain.codes import Code, Thing, code_at_end, read_code
from shopdesk.domain.problem import Problem
from shopdesk.domain.stock import (
    DonorShare,
    Fit,
    Fitting,
    cost_out,
    exchanged,
    fitting,
    landed,
    one_name,
    reorder_point,
    shared_cost,
    suggestion,
)

CENTS = st.integers(0, 5_000_000)


@given(
    receipts=st.lists(st.tuples(st.integers(1, 40), CENTS), min_size=1, max_size=8),
    takes=st.lists(st.integers(1, 60), max_size=12),
)
def test_what_goes_out_and_what_is_left_sum_to_what_came_in(receipts, takes):
    there = value = came = gone = 0
    for pieces, cents in receipts:
        there, value, came = there + pieces, value + cents, came + cents
    for pieces in takes:
        if pieces > there:
            continue
        cost = cost_out(there, value, pieces, 1)
        assert cost >= 0
        there, value, gone = there - pieces, value - cost, gone + cost
    assert gone + value == came
    assert value == 0 or there


def test_pieces_beyond_what_is_there_cost_what_one_did_last():
    assert cost_out(2, 700, 3, 350) == 1050
    assert cost_out(-1, -350, 2, 350) == 700


@given(
    goods=st.lists(st.tuples(st.integers(1, 99), st.integers(0, 90_000)), min_size=1, max_size=12),
    freight=st.integers(0, 80_000),
    rate=st.decimals("0.01", "40", places=4),
)
def test_freight_and_foreign_money_are_shared_to_the_cent(goods, freight, rate):
    lines = landed(goods, freight, "EUR", "USD", rate)
    whole = exchanged(sum(n * each for n, each in goods), "EUR", "USD", rate)
    assert sum(line.goods_cents for line in lines) == whole
    assert sum(line.freight_cents for line in lines) == freight
    assert sum(line.total_cents for line in lines) == whole + freight


def test_money_is_exchanged_between_currencies_of_other_decimals():
    assert exchanged(1000, "JPY", "USD", Decimal("0.0067")) == 670  # ISO 4217: the yen has no decimals
    assert exchanged(1999, "USD", "USD", None) == 1999
    with pytest.raises(Problem, match="what 1 EUR is in USD"):
        exchanged(1000, "EUR", "USD", None)


@given(data=st.data(), cost=CENTS)
def test_a_donor_s_parts_carry_together_what_it_cost_whatever_is_taken_in_between(data, cost):
    parts = [DonorShare(data.draw(CENTS), 0, False) for _ in range(data.draw(st.integers(1, 8)))]
    for _ in range(6):
        shares = shared_cost(cost, parts)
        parts = [DonorShare(p.value_cents, s, p.settled) for p, s in zip(parts, shares, strict=True)]
        assert sum(shares) == cost
        deed = data.draw(st.sampled_from(["take", "add", "revalue"]))
        open_ = [i for i, p in enumerate(parts) if not p.settled]
        if deed == "add":
            parts.append(DonorShare(data.draw(CENTS), 0, False))
        elif open_:
            at = data.draw(st.sampled_from(open_))
            part = parts[at]
            parts[at] = (
                DonorShare(part.value_cents, part.cost_cents, True)
                if deed == "take"
                else DonorShare(data.draw(CENTS), part.cost_cents, False)
            )
    # a share that is settled is never touched again
    assert [s for s, p in zip(shared_cost(sum(p.cost_cents for p in parts), parts), parts, strict=True)
            if p.settled] == [p.cost_cents for p in parts if p.settled]  # fmt: skip


def test_a_donor_of_which_all_is_taken_takes_no_more_cost():
    with pytest.raises(Problem, match="Everything of this donor is taken"):
        shared_cost(900, [DonorShare(100, 800, True)])
    with pytest.raises(Problem, match="carry more than that"):
        shared_cost(700, [DonorShare(100, 800, True), DonorShare(5, 0, False)])


def test_the_reorder_point_is_the_textbook_s():
    """R = d·L + z·s·√L, the textbook formula for a fixed lead time and varying daily use.

    Worked example with published inputs d 30, s 5, L 10 days, z 1.65; results computed from the formula.
    """
    point = reorder_point(30, 5, 10, 1.65)
    assert point.point == pytest.approx(326.089, abs=5e-4)
    assert point.kept_back == pytest.approx(26.089, abs=5e-4)


def test_a_suggestion_comes_at_the_point_and_in_whole_packs():
    steady = [2] * 30
    enough = suggestion(steady, 10, 95, there=21, coming=0)
    assert (enough.pieces, enough.reorder.point) == (0, 20.0)
    low = suggestion(steady, 10, 95, there=15, coming=5, pack=12)
    assert low.pieces == 24  # 20 + 20 for the next lead time - 20 there or coming, in packs of 12
    assert suggestion([0] * 30, 10, 95, there=0, coming=0).pieces == 0
    with pytest.raises(Problem, match="50 to 99"):
        suggestion(steady, 10, 100, there=0, coming=0)


@pytest.mark.parametrize(
    ("maker", "model", "features", "said"),
    [
        ("Corvane", "No. 40", {"griddle"}, Fitting.FITS),
        ("CORVANE", "no 40", set(), Fitting.MAY_FIT),  # its build is not known to have the griddle
        ("Corvane", "No. 52", {"griddle"}, Fitting.MAY_FIT),
        ("Hollimont", "No. 40", {"griddle"}, Fitting.NO),
    ],
)
def test_fits_and_may_fit_are_told_apart(maker, model, features, said):
    fits = [Fit(maker="Corvane", model="No. 40", build=("griddle",)), Fit(maker="Corvane", certain=False)]
    assert fitting(fits, maker, model, frozenset(features)) is said
    assert fitting([], maker, model, frozenset(features)) is Fitting.NOT_SAID


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("griddle plate", "Griddle plates, cast", True),
        ("knob", "knobs, set of 5", True),
        ("oven door", "oven burner", False),
        ("side panel, white", "side panel", True),
        ("assemblies", "assembly", True),
        ("", "knob", False),
        ("the", "knob", False),
    ],
)
def test_names_of_the_same_part_are_known_by_their_words(one, other, same):
    assert one_name(one, other) is one_name(other, one) is same


@given(thing=st.sampled_from(Thing), name=st.text(min_size=1, max_size=30))
def test_a_code_that_was_written_is_read_again(thing, name):
    name = name.strip()
    if name and name.isprintable() and len(str(Code(thing, name))) <= 200:
        assert read_code(str(Code(thing, name))) == Code(thing, name)


@pytest.mark.parametrize(
    "text",
    ["https://example.org/shopdesk:part/S-1", "shopdesk:part/", "shopdesk:paper/I-1", "shopdesk:part/a b",
     "S-0001", "", "shopdesk:part/%00", "shopdesk:part/" + "9" * 300],
)  # fmt: skip
def test_only_our_own_codes_are_read(text):
    assert read_code(text) is None


def test_a_code_is_found_behind_what_was_typed_before_it():
    assert code_at_end("bracket shopdesk:bin/shelf%20A%2F2") == ("bracket ", Code(Thing.BIN, "shelf A/2"))
    assert code_at_end("SHOPDESK:TAG/B-0007") == ("", Code(Thing.TAG, "B-0007"))
    assert code_at_end("see shopdesk:tag/B-0007 there") is None
