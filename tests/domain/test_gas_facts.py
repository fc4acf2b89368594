"""Gas identity: five facts kept apart, and when what is known of them disagrees."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from small_catalogue import a_look

from shopdesk import paths
from shopdesk.domain.answers import Answer
from shopdesk.domain.catalogue.model import Evidence
from shopdesk.domain.gas.gases import read_gases
from shopdesk.domain.gas_facts import CHECKPOINT, FACTS, FINDING, disagreement, with_finding

GASES = read_gases(paths.resource("gas", "gases.toml"))


def told(found):
    return [str(each) for each in found.says]


def test_two_gases_among_the_facts_disagree_and_every_known_fact_is_told():
    found = disagreement(
        {"gas_on_plate": "natural", "spuds_found": "propane", "gas_label": "natural"}, None, GASES
    )
    assert told(found) == [
        "On the plate: natural gas.",
        "Spuds found: propane.",
        "Label on the range: natural gas.",
    ]
    assert found.evidence is Evidence.SEEN


def test_what_hangs_on_the_supply_somebody_named_is_claimed():
    found = disagreement({"spuds_found": "natural", "house_gas": "propane"}, None, GASES)
    assert found.evidence is Evidence.CLAIMED


@pytest.mark.parametrize(
    ("gas", "inwc", "said"),
    [
        # A gas's manifold pressure is that of the table of gases (several appliance instructions):
        # natural 3.5 to 5, propane 10 to 11 in w.c.; a supply below it cannot feed the manifold.
        ("natural", 3.0, "less than the 3.5 in w.c."),
        ("propane", 7.0, "less than the 10 in w.c."),
        # Appliance regulators are commonly rated to 1/2 psi, 13.8 in w.c. (appliance instructions).
        ("natural", 14.0, "above 1/2 psi"),
        ("natural", 7.0, ""),
        ("propane", 11.0, ""),
    ],
)
def test_a_supply_pressure_that_does_not_fit_its_gas_disagrees(gas, inwc, said):
    found = disagreement({"house_gas": gas}, inwc, GASES)
    assert (said in told(found)[-1]) if said else found is None


def test_a_decided_conversion_explains_the_plate_and_nothing_else():
    facts = {"gas_on_plate": "propane", "spuds_found": "natural", "set_to_gas": "natural"}
    assert disagreement(facts, None, GASES) is not None
    assert disagreement(facts, None, GASES, converted_to="natural") is None
    assert disagreement({**facts, "house_gas": "propane"}, None, GASES, converted_to="natural") is not None


@given(st.fixed_dictionaries({name: st.sampled_from(["", *GASES]) for name in FACTS}))
def test_facts_disagree_exactly_when_two_gases_are_named(facts):
    found = disagreement(facts, None, GASES)
    assert (found is not None) == (len({gas for gas in facts.values() if gas}) > 1)


def test_the_finding_takes_the_place_of_sound_on_a_look_and_is_filed_once():
    found = disagreement({"gas_on_plate": "natural", "spuds_found": "propane"}, None, GASES)
    look = with_finding(a_look(Answer(CHECKPOINT), Answer("seal")), found)
    assert [(a.checkpoint, a.finding) for a in look.answers] == [("seal", None), (CHECKPOINT, FINDING)]
    assert with_finding(look, found) is look
    assert with_finding(look, None) is look
