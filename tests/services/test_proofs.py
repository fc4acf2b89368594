"""Proofs and releases: what was measured stays, and five proofs cannot be signed away."""

import pytest
from builders import agreed, covered, done, owned, prove, proved, released, stage_of

from shopdesk.domain.problem import NotFound, Problem
from shopdesk.domain.proving import Result
from shopdesk.domain.stage import Stage
from shopdesk.services import handovers, proofs, proving
from shopdesk.services.jacket import jacket
from shopdesk.services.papers.keeping import paper_bytes

NEVER_SIGNED = (
    "tightness-assembled",
    "gas-identity",
    "safety-shutoff",
    "co-oven",
    "co-burners",
    "electrical",
)


@pytest.fixture
def worked(shop):
    """A range whose work is done and whose proofs are all still due."""
    taken = agreed(shop)
    covered(shop, taken.job_id)
    done(shop, taken.job_id)
    return taken


def test_every_due_proof_is_listed_in_the_order_of_proving_with_where_it_stands(shop, worked):
    due = proofs.proofs_due(shop.technician, worked.job_id)
    assert set(NEVER_SIGNED) <= {d.code for d in due}
    assert [d.code for d in due if not d.signable and d.code in NEVER_SIGNED] == list(
        dict.fromkeys(d.code for d in due if d.code in NEVER_SIGNED)
    )
    assert not any(d.stands or d.last_result for d in due)
    prove(shop, worked.job_id, "doors", Result.DOES_NOT_MEET)
    doors = next(d for d in proofs.proofs_due(shop.technician, worked.job_id) if d.code == "doors")
    assert (doors.stands, doors.last_result, doors.last_at) == (False, "does not meet", shop.clock())


def test_a_reading_that_did_not_meet_stays_on_record_beside_the_later_one(shop, worked):
    prove(shop, worked.job_id, "doors", Result.DOES_NOT_MEET)
    shop.clock.advance(minutes=5)
    prove(shop, worked.job_id, "doors", note="hinge set")
    lines = [p for p in jacket(shop.desk, worked.range_id).proofs if p.kind == "doors"]
    assert [(p.result, p.who) for p in lines] == [
        ("does not meet", "Bram Tollgate"),
        ("meets", "Bram Tollgate"),
    ]
    assert all(("Doors tried", "12") in p.readings for p in lines)


@pytest.mark.parametrize("kind", NEVER_SIGNED)
def test_no_signature_replaces_a_proof_of_gas_monoxide_shut_off_or_electricity(shop, worked, kind):
    proved(shop, worked.job_id, but=(kind,))
    name = shop.owner.catalogue.proofs[kind].name
    with pytest.raises(Problem, match=r"not proved.*disconnected and red-tagged") as told:
        proofs.release(shop.owner, worked.job_id, without={kind: "it looks good"})
    assert name in str(told.value)
    assert proofs.release_state(shop.owner, worked.job_id).blocking == (name,)
    with pytest.raises(Problem, match="no release that stands"):
        handovers.hand_over(shop.desk, worked.job_id)


def test_the_owner_signs_for_a_lesser_proof_with_a_reason(shop, worked):
    proved(shop, worked.job_id, but=("doors",))
    with pytest.raises(Problem, match="not proved"):
        proofs.release(shop.owner, worked.job_id)
    with pytest.raises(Problem, match="needs a reason"):
        proofs.release(shop.owner, worked.job_id, without={"doors": " "})
    proofs.release(shop.owner, worked.job_id, without={"doors": "the customer brings the hinge"})
    state = proofs.release_state(shop.owner, worked.job_id)
    assert (state.given, state.by, state.blocking) == (True, "Odile Fennimarsh", ())
    assert state.without == (("Doors, springs and handles", "the customer brings the hinge"),)
    assert stage_of(shop.owner, worked) is Stage.READY


def test_a_range_whose_work_is_not_finished_is_not_released(shop):
    taken = owned(shop)
    proved(shop, taken.job_id)
    with pytest.raises(Problem, match="is not finished"):
        proofs.release(shop.owner, taken.job_id)


@pytest.mark.parametrize("result", [Result.MEETS, Result.DOES_NOT_MEET])
def test_a_result_needs_its_readings(shop, worked, result):
    with pytest.raises(Problem, match="Count the doors") as told:
        proving.prove(shop.technician, worked.job_id, "doors", {}, seen=result)
    assert told.value.field == "tried"


def test_a_proof_nobody_knows_is_refused(shop, worked):
    with pytest.raises(NotFound, match="no proof called moonlight"):
        prove(shop, worked.job_id, "moonlight")


def test_the_proof_at_home_is_made_there_and_signed_by_the_fitter(shop):
    taken = released(shop)
    with pytest.raises(Problem, match="is still here"):
        prove(shop, taken.job_id, "at-home", signed_by="Demo fitter")
    handovers.hand_over(shop.desk, taken.job_id)
    with pytest.raises(Problem, match="signed by the licensed fitter"):
        prove(shop, taken.job_id, "at-home")
    assert not next(d for d in proofs.proofs_due(shop.owner, taken.job_id) if d.code == "at-home").stands
    prove(shop, taken.job_id, "at-home", signed_by="Demo fitter")
    assert next(d for d in proofs.proofs_due(shop.owner, taken.job_id) if d.code == "at-home").stands


def test_the_proof_sheet_and_the_hand_over_sheet_are_kept(shop):
    taken = released(shop)
    assert proofs.print_proof_sheet(shop.technician, taken.job_id) == "F-0001"
    assert handovers.hand_over(shop.desk, taken.job_id) == "H-0001"
    for number in ("F-0001", "H-0001"):
        assert paper_bytes(shop.desk, number).startswith(b"%PDF")


def test_an_intake_receipt_is_for_a_customer(shop):
    taken = agreed(shop)
    assert handovers.print_intake_receipt(shop.desk, taken.job_id) == "N-0001"
    with pytest.raises(Problem, match="nobody needs a receipt"):
        handovers.print_intake_receipt(shop.desk, owned(shop).job_id)
