"""The condition of a range: the most serious single finding rules, and what nobody saw is listed."""

import pytest
from small_catalogue import a_catalogue, a_checkpoint, a_finding, a_look, a_task, found

from shopdesk.domain.answers import Answer, Look
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Evidence, Purpose, Severity
from shopdesk.domain.condition import condition
from shopdesk.domain.problem import Problem

VALVE = {
    Purpose.COOK: Severity.GRAVE,
    Purpose.FULL: Severity.MINOR,
    Purpose.RESALE: Severity.MINOR,
    Purpose.DONOR: Severity.NONE,
}
CATALOGUE = a_catalogue(
    [
        a_checkpoint("skin", a_finding("skin.chipped"), a_finding("skin.dented", severity=Severity.SERIOUS)),
        a_checkpoint("valve", a_finding("valve.seized", "free", severity=VALVE), zone="oven"),
        a_checkpoint("lid", a_finding("lid.glass-missing", severity=Severity.NONE)),
        a_checkpoint("stairs", a_finding("stairs.tight"), zone="house"),
    ],
    [a_task("free")],
)


def test_the_overall_condition_is_the_most_serious_single_finding():
    # Collections Trust, Spectrum: the overall condition is the most serious individual condition found.
    found_three = a_look(found("skin.chipped"), found("skin.dented"), found("valve.seized"), Answer("lid"))
    told = condition(CATALOGUE, found_three)
    assert told.overall is Severity.SERIOUS
    assert [f.finding.code for f in told.worst] == ["skin.dented"]


@pytest.mark.parametrize(
    ("purpose", "severity"), [(Purpose.COOK, Severity.GRAVE), (Purpose.DONOR, Severity.NONE)]
)
def test_the_condition_follows_the_purpose(purpose, severity):
    assert condition(CATALOGUE, a_look(found("valve.seized"), purpose=purpose)).overall is severity


def test_nothing_seen_means_nothing_can_be_said():
    told = condition(CATALOGUE, a_look())
    assert told.overall is None
    assert told.complete is None
    assert [c.code for c in told.not_seen] == ["skin", "valve", "lid"]


def test_all_seen_and_sound_is_a_condition_without_findings():
    told = condition(CATALOGUE, a_look(Answer("skin"), Answer("valve"), Answer("lid")))
    assert told.overall is Severity.NONE
    assert told.complete is True
    assert told.not_seen == ()


def test_what_is_missing_makes_it_incomplete():
    told = condition(CATALOGUE, a_look(found("lid.glass-missing")))
    assert told.complete is False
    assert [f.finding.code for f in told.missing] == ["lid.glass-missing"]


def test_findings_stand_by_zone_in_the_order_of_the_walk():
    told = condition(CATALOGUE, a_look(found("valve.seized"), found("skin.dented")))
    assert [(z.zone, [f.finding.code for f in z.found], z.answered, z.checkpoints) for z in told.zones] == [
        ("top", ["skin.dented"], 1, 2),
        ("oven", ["valve.seized"], 1, 1),
    ]
    assert [z.overall for z in told.zones] == [Severity.SERIOUS, Severity.MINOR]


def test_what_somebody_only_claimed_is_listed():
    told = condition(CATALOGUE, a_look(Answer("lid", evidence=Evidence.CLAIMED)))
    assert [c.code for c in told.claimed] == ["lid"]


def test_the_house_belongs_to_a_range_that_has_one():
    assert "house" in [z.zone for z in condition(CATALOGUE, a_look(purpose=Purpose.FULL)).zones]
    assert "house" not in [z.zone for z in condition(CATALOGUE, a_look(purpose=Purpose.RESALE)).zones]


@pytest.mark.parametrize("extent", [0, -3, 100])
def test_an_extent_outside_1_to_99_is_a_problem(extent):
    with pytest.raises(Problem, match=rf"skin.chipped is {extent}"):
        found("skin.chipped", extent)


def test_sound_and_a_finding_at_one_checkpoint_contradict():
    with pytest.raises(Problem, match=r"skin is answered as skin\.chipped"):
        a_look(Answer("skin"), found("skin.chipped"))


def test_several_findings_at_one_checkpoint_are_fine_but_not_the_same_twice():
    assert len(a_look(found("skin.chipped"), found("skin.dented")).found) == 2
    with pytest.raises(Problem, match="twice"):
        a_look(found("skin.chipped"), found("skin.chipped", 2))


def test_a_finding_cannot_be_not_seen():
    with pytest.raises(Problem, match="not seen"):
        found("skin.chipped", evidence=Evidence.NOT_SEEN)


def test_an_asking_price_below_zero_is_a_problem():
    with pytest.raises(Problem, match="zero or more"):
        Look(Build(), Purpose.COOK, asking_cents=-1)
