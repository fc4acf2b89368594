"""A proof stands while its last reading meets and nothing it speaks for was touched since."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.domain.catalogue.model import ProofKind
from shopdesk.domain.proving import Reading, Result, latest, missing, unsigned

NOON = dt.datetime(2026, 9, 15, 12, tzinfo=dt.UTC)


def a_kind(code: str, order: int, *, signable: bool = False) -> ProofKind:
    return ProofKind(code, code, "", "", (), "common practice, no source", order, signable)


TIGHT, DOORS, OVEN = a_kind("tight", 1), a_kind("doors", 3, signable=True), a_kind("co-oven", 2)


def read(kind: str, minutes: int = 0, result: Result = Result.MEETS) -> Reading:
    return Reading(kind, NOON + dt.timedelta(minutes=minutes), result)


def test_what_was_never_read_is_missing_in_the_order_of_proving():
    assert missing([DOORS, TIGHT, OVEN], [], {}) == [TIGHT, OVEN, DOORS]


@pytest.mark.parametrize("result", [Result.DOES_NOT_MEET, Result.CANNOT_TELL])
def test_only_a_reading_that_meets_stands(result):
    assert missing([TIGHT], [read("tight", 0, result)], {}) == [TIGHT]
    assert missing([TIGHT], [read("tight", 0, result), read("tight", 1)], {}) == []
    assert missing([TIGHT], [read("tight", 1, result), read("tight", 0)], {}) == [TIGHT]


def test_work_after_a_reading_makes_it_due_again_and_work_before_does_not():
    assert missing([TIGHT], [read("tight", 5)], {"tight": NOON}) == []
    assert missing([TIGHT], [read("tight", 0)], {"tight": NOON}) == []
    assert missing([TIGHT], [read("tight", -5)], {"tight": NOON}) == [TIGHT]
    assert missing([TIGHT, DOORS], [read("tight", -5), read("doors", -5)], {"tight": NOON}) == [TIGHT]


def test_the_owner_signs_only_for_the_lesser_proofs():
    assert unsigned([TIGHT, OVEN, DOORS], ["tight", "co-oven", "doors"]) == [TIGHT, OVEN]
    assert unsigned([DOORS], []) == [DOORS]


@given(st.lists(st.tuples(st.integers(-9, 9), st.sampled_from(list(Result))), max_size=8), st.integers(-9, 9))
def test_the_last_reading_speaks_whatever_came_before(readings, touched):
    proofs = [read("tight", minutes, result) for minutes, result in readings]
    lacking = missing([TIGHT], proofs, {"tight": NOON + dt.timedelta(minutes=touched)})
    if not proofs:
        assert lacking == [TIGHT]
        return
    last = latest(proofs)["tight"]
    assert last.at == max(p.at for p in proofs)
    stands = last.result is Result.MEETS and last.at >= NOON + dt.timedelta(minutes=touched)
    assert lacking == ([] if stands else [TIGHT])
