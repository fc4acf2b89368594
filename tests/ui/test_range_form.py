"""The form of a range: what is typed comes back, the drawing follows the build, wrong sizes are told."""

from hypothesis import given
from hypothesis import strategies as st
from pytestqt.qtbot import QtBot

from shopdesk.domain.build import Build
from shopdesk.services.intake import RangeDraft
from shopdesk.ui.pages.range_form.draft import gases_disagree, range_draft, range_values
from shopdesk.ui.pages.range_form.form import RangeForm
from shopdesk.wording import Region

BUILDS = st.builds(
    Build,
    back=st.sampled_from(["high", "low", "none"]),
    burners=st.integers(2, 8),
    ovens=st.integers(1, 3),
    deep_well=st.booleans(),
    griddle=st.booleans(),
    lighting=st.sampled_from(["match", "spark"]),
)


@given(BUILDS, st.sampled_from(["", "39", "36.5"]), st.text(max_size=20))
def test_a_range_comes_back_from_its_values_as_it_went_in(build: Build, width: str, maker: str) -> None:
    draft = RangeDraft(maker=maker, width_in=width, house_gas="propane", build=build)
    assert range_draft(range_values(draft)) == draft


def test_what_is_written_down_of_a_range_comes_back_from_the_form(qtbot: QtBot) -> None:
    form = RangeForm(Region())
    qtbot.addWidget(form)
    draft = RangeDraft(
        maker="Corvane", model="No. 40", width_in="39", weight_lb="420",
        build=Build(burners=6, deep_well=True, broiler=False, oven_side="left"),
    )  # fmt: skip
    form.show_draft(draft)
    assert form.draft() == draft


def test_the_drawing_changes_as_the_build_is_said(qtbot: QtBot) -> None:
    form = RangeForm(Region())
    qtbot.addWidget(form)
    before = form.drawing.drawing
    assert before is not None
    assert before.part("deep-well") is None
    form.form["features"].ticks["deep_well"].click()
    form.form["burners"].setValue(6)
    after = form.drawing.drawing
    assert after is not None
    assert after != before


def test_a_width_that_is_no_number_is_told_beside_its_field(qtbot: QtBot) -> None:
    form = RangeForm(Region())
    qtbot.addWidget(form)
    form.form["width_in"].setTyped("about so")
    assert form.draft() is None
    assert "is not a number" in form.form["width_in"].accessibleDescription()


def test_metric_shops_read_millimetres_and_keep_inches(qtbot: QtBot) -> None:
    form = RangeForm(Region(language="en_GB", currency="GBP", units="metric", paper="a4"))
    qtbot.addWidget(form)
    form.form["width_in"].setTyped("1016")
    draft = form.draft()
    assert draft is not None
    assert draft.width_in == "40"


def test_two_gases_among_the_five_facts_are_noticed() -> None:
    assert gases_disagree({"gas_on_plate": "Natural", "house_gas": "propane", "gas_label": "none"})
    assert not gases_disagree({"gas_on_plate": "natural", "house_gas": " Natural gas ", "set_to_gas": ""})
    assert not gases_disagree({"gas_on_plate": "natural", "spuds_found": "#43 and #54"})
    (supply, pressure) = gases_disagree({"house_gas": "propane"}, 4.0)
    assert "propane" in str(supply)
    assert "4 in w.c." in str(pressure)


def test_every_control_of_the_form_has_a_name(qtbot: QtBot, unnamed) -> None:  # type: ignore[no-untyped-def]
    form = RangeForm(Region())
    qtbot.addWidget(form)
    assert unnamed(form) == []


def test_the_form_says_whether_the_range_gets_to_its_kitchen_as_one_types(qtbot: QtBot) -> None:
    form = RangeForm(Region())
    qtbot.addWidget(form)
    assert "not measured" in form.access.text()
    sizes = {
        "width_in": 39.0,
        "depth_in": 27.0,
        "weight_lb": 400.0,
        "door_in": 32.0,
        "opening_in": 40.0,
        "stairs": 0.0,
    }
    form.form.show_values(sizes)
    form.follow()
    assert "The way there: goes through." in form.access.text()
    form.form["door_in"].setTyped("26")
    form.form["door_in"].edited.emit()
    assert "does not go through" in form.access.text()
    draft = form.draft()
    assert draft is not None
    assert (draft.door_in, draft.stairs) == ("26", "0")
