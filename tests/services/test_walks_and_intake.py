"""Walk-rounds, pictures, sheets and what is written down of a range."""

from dataclasses import replace
from pathlib import Path

import pytest
from builders import FOUR, a_range, found, stage_of, walked

from shopdesk import paths
from shopdesk.demo.drawn_pictures import picture
from shopdesk.domain.answers import Answer
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Evidence, Purpose, Scope
from shopdesk.domain.gas_facts import CHECKPOINT, FINDING
from shopdesk.domain.problem import NotFound, Problem
from shopdesk.domain.stage import Stage
from shopdesk.domain.worth import judge
from shopdesk.exchange.sheet import read_sheet
from shopdesk.services import checking, intake, sheets, walks, work_orders
from shopdesk.services.jacket import jacket


@pytest.fixture
def walk(shop):
    return walks.open_walk(shop.technician, a_range(shop.desk).job_id, place=" bay 1 ")


def given(shop, walk: int) -> dict[str, Answer]:
    view = walks.walk_view(shop.technician, walk)
    return {g.answer.finding or g.answer.checkpoint: g.answer for g in view.given}


def test_an_open_walk_round_is_gone_on_with_and_a_finished_one_is_not(shop, walk):
    view = walks.walk_view(shop.technician, walk)
    assert view.place == "bay 1"
    assert walks.open_walk(shop.technician, view.job_id) == walk
    with pytest.raises(Problem, match="Nothing is answered"):
        walks.finish(shop.technician, walk)
    walks.answer(shop.technician, walk, found("oven-floor.worn"))
    walks.finish(shop.technician, walk)
    for deed in (
        lambda: walks.answer(shop.technician, walk, Answer("lamp-cord")),
        lambda: walks.take_back(shop.technician, walk, "oven-floor", "oven-floor.worn"),
        lambda: walks.set_terms(shop.technician, walk, place="elsewhere"),
        lambda: walks.finish(shop.technician, walk),
    ):
        with pytest.raises(Problem, match="is finished and stays as it is"):
            deed()
    second = walks.open_walk(shop.technician, view.job_id)
    assert second != walk
    assert walks.last_walk(shop.technician, view.job_id).id == second
    assert set(given(shop, walk)) == {"oven-floor.worn"}


def test_a_finding_takes_the_place_of_sound_and_the_other_way_round(shop, walk):
    walks.answer(shop.technician, walk, Answer("oven-floor", evidence=Evidence.SEEN))
    assert set(given(shop, walk)) == {"oven-floor"}
    walks.answer(shop.technician, walk, found("oven-floor.worn", note="at the front"))
    walks.answer(shop.technician, walk, found("oven-floor.worn", extent=2, note="all over"))
    assert given(shop, walk)["oven-floor.worn"].note == "all over"
    assert set(given(shop, walk)) == {"oven-floor.worn"}
    walks.answer(shop.technician, walk, Answer("oven-floor"))
    assert set(given(shop, walk)) == {"oven-floor"}
    walks.take_back(shop.technician, walk, "oven-floor")
    assert given(shop, walk) == {}
    assert checking.faults(shop.owner) == []


def test_facts_of_the_gas_that_disagree_are_a_finding_by_itself_and_it_goes_when_they_agree(shop):
    taken = a_range(shop.desk)
    draft = intake.described(shop.desk, taken.range_id)
    intake.describe(shop.desk, taken.range_id, replace(draft, gas_on_plate="natural", spuds_found="LP"))
    walk = walks.open_walk(shop.technician, taken.job_id)
    (filed,) = walks.walk_view(shop.technician, walk).given
    assert (filed.answer.finding, filed.answer.evidence) == (FINDING, Evidence.SEEN)
    assert filed.filed_for == "On the plate: natural gas. Spuds found: propane."
    for deed in (
        lambda: walks.answer(shop.technician, walk, Answer(CHECKPOINT)),
        lambda: walks.take_back(shop.technician, walk, CHECKPOINT, FINDING),
    ):
        with pytest.raises(Problem, match="while these facts disagree"):
            deed()
    walks.answer(shop.technician, walk, found("gas-on-plate.natural"))  # a finding beside it is fine
    work_orders.write_order(shop.owner, taken.job_id, Scope.MECHANICAL)
    causes = {t.code: t.because for t in work_orders.task_lines(shop.owner, taken.job_id)}["gauge-spuds"]
    assert FINDING in {cause.code for cause in causes}
    intake.describe(shop.desk, taken.range_id, replace(draft, gas_on_plate="natural", spuds_found="natural"))
    assert set(given(shop, walk)) == {"gas-on-plate.natural"}
    assert checking.faults(shop.owner) == []


def test_a_disagreement_somebody_found_by_hand_is_theirs(shop, walk):
    walks.answer(shop.technician, walk, found(FINDING, note="mark on the hood"))
    view = walks.walk_view(shop.technician, walk)
    draft = intake.described(shop.desk, view.range_id)
    intake.describe(shop.desk, view.range_id, replace(draft, gas_on_plate="natural", spuds_found="natural"))
    (kept,) = walks.walk_view(shop.technician, walk).given
    assert (kept.answer.note, kept.filed_for) == ("mark on the hood", "")


@pytest.mark.parametrize(
    ("answer", "said"),
    [
        (Answer("moon"), "no checkpoint moon"),
        (Answer("oven-floor", "lamp-cord.frayed"), "no finding lamp-cord.frayed at oven-floor"),
        (found("oven-floor.worn", way="prayer"), "not put right by the way prayer"),
    ],
)
def test_what_the_catalogue_does_not_know_is_refused(shop, walk, answer, said):
    with pytest.raises(Problem, match=said):
        walks.answer(shop.technician, walk, answer)
    assert given(shop, walk) == {}


def test_terms_are_kept_with_the_walk_round_and_the_job(shop, walk):
    walks.set_terms(
        shop.technician, walk, purpose=Purpose.RESALE, asking_cents=45000, accessories=("baking-insert",),
        circumstances=" by daylight ",
    )  # fmt: skip
    view = walks.walk_view(shop.technician, walk)
    assert (view.purpose, view.asking_cents, view.accessories, view.circumstances) == (
        Purpose.RESALE, 45000, ("baking-insert",), "by daylight",
    )  # fmt: skip
    with pytest.raises(Problem, match="zero or more"):
        walks.set_terms(shop.technician, walk, asking_cents=-1)
    with pytest.raises(Problem, match="no accessory moon"):
        walks.set_terms(shop.technician, walk, accessories=("moon",))


def test_the_verdict_moves_as_findings_come_in_and_is_kept_as_it_was_decided(shop, walk):
    before = walks.judge_walk(shop.owner, walk)
    for code in FOUR:
        walks.answer(shop.technician, walk, found(code))
    after = walks.judge_walk(shop.owner, walk)
    assert after.cost.likely != before.cost.likely
    assert walks.record_verdict(shop.owner, walk) == after
    assert walks.judge_walk(shop.owner, walk) == after  # the same answers, the same figures
    view = walks.walk_view(shop.owner, walk)  # and those no database has a say in
    assert judge(shop.owner.catalogue, view.look, seed=view.seed) == after


def test_a_picture_is_kept_once_and_stays_with_the_range_when_its_answer_goes(shop, walk):
    view = walks.walk_view(shop.technician, walk)
    answer = walks.answer(shop.technician, walk, found("oven-floor.worn"))
    shot = picture("rust", 1)
    one = intake.attach_photograph(shop.technician, view.range_id, shot, observation_id=answer)
    two = intake.attach_photograph(shop.technician, view.range_id, shot, caption="again")
    assert one == two
    assert walks.walk_view(shop.technician, walk).given[0].photographs == (one,)
    assert intake.photograph(shop.desk, one) == shot.data
    assert intake.photograph(shop.desk, one, small=True) == shot.thumbnail
    walks.take_back(shop.technician, walk, "oven-floor", "oven-floor.worn")
    assert jacket(shop.desk, view.range_id).photographs == (one,)
    for wrong in ({"observation_id": 4711}, {"task_id": 4711}, {"agreement_id": 4711}):
        with pytest.raises(NotFound):
            intake.attach_photograph(shop.technician, view.range_id, shot, **wrong)
    assert checking.faults(shop.owner) == []


def test_a_range_is_described_and_a_build_asks_for_its_proofs(shop):
    taken = a_range(shop.desk, lamp=False)
    draft = intake.described(shop.desk, taken.range_id)
    assert (draft.maker, draft.build) == ("Corvane", Build())
    changed = replace(draft, maker=" Wrexley ", build=Build(deep_well=True, lamp=True))
    intake.describe(shop.desk, taken.range_id, changed)
    assert intake.described(shop.desk, taken.range_id) == replace(changed, maker="Wrexley")
    with pytest.raises(NotFound, match="no range 4711"):
        intake.describe(shop.desk, 4711, draft)


def test_a_range_is_booked_in_once(shop):
    taken = a_range(shop.desk, booked_in=False)
    intake.book_in(shop.desk, taken.job_id)
    with pytest.raises(Problem, match="R-0001 was booked in already"):
        intake.book_in(shop.desk, taken.job_id)
    for deed in (
        lambda: intake.buy(shop.owner, taken.job_id, -1),
        lambda: intake.take_on(shop.desk, intake.RangeDraft(), intake.JobDraft(asking_cents=-1)),
    ):
        with pytest.raises(Problem, match="zero or more"):
            deed()


def test_a_sheet_becomes_a_range_looked_at_with_its_walk_round(shop):
    sheet = read_sheet(Path(paths.resource("sheet", "example.toml")), shop.technician.catalogue)
    recorded = sheets.record_sheet(shop.technician, sheet)
    view = walks.walk_view(shop.technician, recorded.walk_id)
    assert view.finished
    assert {g.answer for g in view.given} == set(sheet.look.answers)
    assert stage_of(shop.desk, recorded.taken) is Stage.LOOKED_AT
    assert view.accessories == sheet.look.accessories
    assert checking.faults(shop.owner) == []


def test_two_walk_rounds_of_a_job_stand_side_by_side(shop):
    taken = a_range(shop.desk)
    first = walked(shop.technician, taken.job_id, "oven-floor.worn")
    second = walked(shop.technician, taken.job_id, "lamp-cord.frayed")
    assert "oven-floor.worn" in given(shop, first)
    assert "oven-floor.worn" not in given(shop, second)
    assert [f.code for f in jacket(shop.desk, taken.range_id).findings] == ["lamp-cord.frayed"]
