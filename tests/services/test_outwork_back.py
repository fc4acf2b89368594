"""Pieces back from other trades: eleven sent and ten back, done again, billed once accepted, lost by name."""

from decimal import Decimal

import pytest
from builders import a_firm, agreed, held_of, in_days, task_of

from shopdesk.domain.problem import Problem
from shopdesk.services import checking, firm_records, outwork, outwork_back
from shopdesk.services.outwork import PieceDraft


@pytest.fixture
def firm(shop) -> int:
    return a_firm(shop.desk, "Arcady Welding", trade="welder")


@pytest.fixture
def sent(shop, firm):
    """Eleven pieces priced by the piece and a panel by its area, due in ten days."""
    taken = agreed(shop, "top-enamel.rusted-through")
    task = task_of(shop.owner, taken.job_id, "weld-patch")
    drafts = [
        PieceDraft(task_id=task.id, name="trim strip", count=11, base_metal="steel", finish="bright",
                   unit_price_cents=350, insured_cents=22000),
        PieceDraft(task_id=task.id, name="top", count=1, priced_by="area", area=Decimal("5.25"),
                   unit_price_cents=1210, insured_cents=40000),
    ]  # fmt: skip
    outwork.send_out(shop.technician, firm, drafts, expected_on=in_days(shop.desk, 10))
    return taken


def one(shop) -> outwork.ConsignmentRow:
    return outwork.consignments(shop.desk)[0]


def test_prices_by_piece_and_by_area_are_what_all_of_it_costs(shop, sent):
    strip, top = one(shop).pieces
    assert (strip.cost_cents, top.cost_cents) == (3850, 6353)  # 5.25 × 12.10 = 63.525, half up
    assert (strip.out, strip.base_metal, top.area) == (11, "steel", Decimal("5.25"))


def test_ten_of_eleven_come_back_and_the_eleventh_is_a_named_loss(shop, sent):
    strip, top = one(shop).pieces
    outwork.take_back(shop.technician, strip.id, 10)
    outwork.take_back(shop.technician, top.id, 1)
    row = one(shop)
    assert (row.standing, row.pieces[0].out, row.pieces[0].back_on) == ("part back", 1, None)
    with pytest.raises(Problem, match="trim strip is not back and accepted yet"):
        outwork_back.take_bill(shop.desk, row.id, "7788", 10203)
    with pytest.raises(Problem, match="what became of it"):
        outwork_back.lose(shop.desk, strip.id, 1, " ")
    with pytest.raises(Problem, match="1 of trim strip are not back"):
        outwork_back.lose(shop.desk, strip.id, 2, "mislaid")
    outwork_back.lose(shop.desk, strip.id, 1, "mislaid at the polisher's")
    row = one(shop)
    assert (row.standing, row.pieces[0].lost, row.pieces[0].lost_cents) == ("back", 1, 2000)
    assert row.pieces[0].accepted == "accepted"
    assert "outwork" not in held_of(shop.desk, sent)
    outwork_back.take_bill(shop.desk, row.id, "7788", 10001)
    row = one(shop)
    assert (row.bill_number, row.bill_cents) == ("7788", 10001)
    assert sum(piece.cost_cents for piece in row.pieces) == 10001
    with pytest.raises(Problem, match="do not add up"):
        outwork_back.take_bill(shop.desk, row.id, "7789", 500, by_piece={strip.id: 499})
    assert checking.faults(shop.owner) == []


def test_what_is_rejected_is_done_again_before_its_bill(shop, sent):
    strip, top = one(shop).pieces
    outwork.take_back(shop.technician, top.id, 1)
    outwork_back.take_back(shop.technician, strip.id, 11, rejected=3, why="cloudy")
    row = one(shop).pieces[0]
    assert (row.rejected, row.accepted, row.back_on) == (3, "rejected", None)
    with pytest.raises(Problem, match="not back and accepted"):
        outwork_back.take_bill(shop.desk, one(shop).id, "1", 1)
    outwork_back.send_again(shop.technician, strip.id, expected_on=in_days(shop.desk, 20))
    row = one(shop).pieces[0]
    assert (row.count_back, row.out, row.times_redone) == (8, 3, 1)
    with pytest.raises(Problem, match="Nothing of trim strip is rejected"):
        outwork_back.send_again(shop.technician, strip.id)
    outwork.take_back(shop.technician, strip.id, 11)
    assert one(shop).standing == "back"


def test_a_firm_is_known_by_its_days_late_rejects_and_losses(shop, sent, firm):
    strip, top = one(shop).pieces
    assert firm_records.firm_records(shop.desk)[0].days_late == ()  # out, and not due yet
    outwork_back.take_back(shop.technician, strip.id, 10, rejected=2)
    outwork_back.send_again(shop.technician, strip.id)
    shop.clock.advance(days=14)
    assert firm_records.firm_records(shop.desk)[0].days_late == (4,)
    outwork.take_back(shop.technician, strip.id, 10)
    outwork_back.lose(shop.technician, strip.id, 1, "mislaid")
    outwork.take_back(shop.technician, top.id, 1)
    record = firm_records.firm_records(shop.desk)[0]
    assert (record.firm, record.pieces, record.rejected, record.lost) == ("Arcady Welding", 12, 2, 1)
    assert (record.usually_late, record.out_now, record.lost_cents) == (4, 0, 2000)


def test_an_area_price_needs_its_area(shop, firm):
    taken = agreed(shop, "top-enamel.rusted-through")
    task = task_of(shop.owner, taken.job_id, "weld-patch")
    draft = PieceDraft(task_id=task.id, name="top", priced_by="area", unit_price_cents=100)
    with pytest.raises(Problem, match="the area of one top"):
        outwork.send_out(shop.desk, firm, [draft])
