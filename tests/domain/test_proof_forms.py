"""Forms of proofs and of the gas bench, their curves, and how both are said in a shop's units."""

import math

import pytest
from gas_tables import DRILLS, GASES
from hypothesis import example, given
from hypothesis import strategies as st

from shopdesk.demo.readings import readings_of
from shopdesk.domain.build import Build
from shopdesk.domain.curve import from_document, reduced, ticks, to_document
from shopdesk.domain.gas.calculators import calculators
from shopdesk.domain.gas.whole_range import conversion_fields, lit_on_another, plan_conversion
from shopdesk.domain.measured import Result, figure, sentence
from shopdesk.domain.problem import Problem
from shopdesk.domain.proof_forms.asked import worst
from shopdesk.domain.proof_forms.burner_names import all_burners
from shopdesk.domain.proof_forms.forms import _FORMS, OnRange
from shopdesk.domain.quantity import Quantity
from shopdesk.wording import Region
from shopdesk.wording.bench_measures import bare, measure_of, parsed, say_sentence, shown

METRIC = Region(units="metric")
BUILDS = (
    Build(),
    Build(burners=6, ovens=2, griddle=True, deep_well=True, lamp=True, clock=True),
    Build(burners=2, broiler=False, thermostat=False, lighting="match"),
)


def form(code: str, build: Build = BUILDS[0]):
    return _FORMS[code](OnRange(build, GASES, "natural"))


@pytest.mark.parametrize("build", BUILDS)
@pytest.mark.parametrize("code", sorted(_FORMS))
def test_every_form_names_each_field_once_and_meets_with_good_readings(code: str, build: Build) -> None:
    made = form(code, build)
    names = [field.name for field in made.fields]
    assert len(names) == len(set(names))
    assert all(field.choices for field in made.fields if field.kind == "choice")
    told = made.judge(readings_of(made), Result.MEETS if made.by_eye else None)
    assert told.result is Result.MEETS, [str(s) for s in told.says]


@pytest.mark.parametrize("code", sorted(_FORMS))
def test_a_form_left_empty_is_a_sentence_that_names_a_field(code: str) -> None:
    made = form(code)
    with pytest.raises(Problem) as told:
        made.judge({}, Result.MEETS)
    assert told.value.field in {f.name for f in made.fields} | {"result"}


@pytest.mark.parametrize("code", sorted(_FORMS))
@given(data=st.data())
def test_whatever_is_typed_ends_in_a_word_or_in_a_sentence(code: str, data: st.DataObject) -> None:
    made = form(code, BUILDS[1])
    values = dict(readings_of(made))
    figures = st.one_of(
        st.floats(allow_nan=True, allow_infinity=True),
        st.integers(-(10**9), 10**9).map(float),
        st.sampled_from([0.0, -40.0, 20.9, 1e308]),
    )
    for field in made.fields:
        if field.kind == "number" and data.draw(st.booleans()):
            values[field.name] = data.draw(figures)
        if field.kind == "pairs" and data.draw(st.booleans()):
            values[field.name] = tuple(data.draw(st.lists(st.tuples(figures, figures), max_size=3)))
    try:
        told = made.judge(values, Result.MEETS if made.by_eye else None)
    except Problem as problem:
        assert str(problem)
    else:
        assert told.result in set(Result)
        assert all(str(s) for s in told.says)


@pytest.mark.parametrize("seen", list(Result))
def test_a_bad_figure_outweighs_the_eye_and_a_bad_eye_outweighs_good_figures(seen: Result) -> None:
    made = form("oven-lighting")
    good = readings_of(made)
    assert made.judge(good, seen).result is seen
    assert made.judge({**good, "cold_s": 30.0}, seen).result is Result.DOES_NOT_MEET
    assert worst([Result.MEETS, Result.CANNOT_TELL]) is Result.CANNOT_TELL


@given(
    noise=st.lists(st.floats(-0.049, 0.049), min_size=2, max_size=2),
    end=st.floats(10.0, 12.5),
)
def test_noise_below_the_gauges_division_never_turns_a_leak_into_tight(
    noise: list[float], end: float
) -> None:
    made = form("tightness-bench")
    values = {**readings_of(made), "end_inwc": end}
    shaken = {**values, "start_inwc": values["start_inwc"] + noise[0], "end_inwc": end + noise[1]}
    before, after = made.judge(values).result, made.judge(shaken).result
    assert {before, after} != {Result.MEETS, Result.DOES_NOT_MEET}


@given(st.lists(st.tuples(st.floats(0, 1e4), st.floats(-500, 900)), min_size=1, max_size=3000))
def test_a_reduced_curve_keeps_its_ends_and_its_highest_and_lowest(points: list[tuple[float, float]]) -> None:
    rising = tuple(sorted(points))
    kept = reduced(rising, 60)
    assert kept[0] == rising[0]
    assert kept[-1] == rising[-1]
    assert len(kept) <= max(len(rising) if len(rising) <= 60 else 0, 64)
    for pick in (min, max):
        assert pick(v for _, v in kept) == pick(v for _, v in rising)
    assert list(kept) == sorted(kept)


@given(low=st.floats(-1e5, 1e5), span=st.floats(0, 1e5))
@example(low=0.0, span=5e-324)
def test_ticks_cover_what_is_drawn_with_few_round_figures(low: float, span: float) -> None:
    marks = ticks(low, low + span)
    near = 1e-7 * max(1, abs(low), span)
    assert marks[0] <= low + near
    assert marks[-1] >= low + span - near
    assert 2 <= len(marks) <= 9
    assert list(marks) == sorted(marks)


def test_a_curve_comes_back_from_its_document_as_it_was() -> None:
    made = form("tightness-bench")
    (curve,) = made.judge({**readings_of(made), "between": ((3.0, 11.9),)}).curves
    assert from_document(to_document(curve)) == curve
    assert curve.series[1].style == "dashed"
    assert len(curve.marks) == 3


@pytest.mark.parametrize("calculator", calculators(GASES, DRILLS), ids=lambda c: c.kind)
def test_a_calculator_left_empty_or_given_nonsense_answers_in_a_sentence(calculator) -> None:
    with pytest.raises(Problem) as told:
        calculator.reckon({})
    assert told.value.field in {f.name for f in calculator.fields}
    numbers = [f.name for f in calculator.fields if f.kind == "number"]
    choices = {f.name: f.choices[0][0] for f in calculator.fields if f.kind == "choice"}
    with pytest.raises(Problem):
        calculator.reckon({**choices, "drill": "50", **dict.fromkeys(numbers, math.inf)} if
                          any(f.name == "drill" for f in calculator.fields)
                          else {**choices, **dict.fromkeys(numbers, math.inf)})  # fmt: skip


@given(
    spuds=st.lists(
        st.sampled_from([d.size for d in DRILLS if 0.03 < d.diameter_in < 0.1]), min_size=1, max_size=7
    ),
    gases=st.permutations(["natural", "propane", "town"]),
)
def test_a_conversion_there_and_back_stays_near_the_drill_it_began_with(
    spuds: list[str], gases: list[str]
) -> None:
    """Each step rounds to a drill, so that a burner may come back one size off at most two."""
    burners = all_burners(BUILDS[1])
    there = plan_conversion(
        {"from_gas": gases[0], "to_gas": gases[1], **{f"spud_{n}": s for n, s in enumerate(spuds, 1)}},
        burners, GASES, DRILLS,
    )  # fmt: skip
    back = plan_conversion(
        {
            "from_gas": gases[1], "to_gas": gases[0],
            **{f"spud_{n}": c.choice.chosen.drill.size for n, c in enumerate(there.changes, 1)},
        },
        burners, GASES, DRILLS,
    )  # fmt: skip
    sizes = [d.size for d in DRILLS]
    for size, change in zip(spuds, back.changes, strict=True):
        assert abs(sizes.index(size) - sizes.index(change.choice.chosen.drill.size)) <= 2
    assert sum(count for _, _, count in there.spuds) == len(spuds)


def test_lp_is_warned_of_as_heavier_than_air_and_town_gas_spuds_in_figures() -> None:
    plan = plan_conversion(
        {"from_gas": "natural", "to_gas": "propane", "spud_1": "0.0935"}, ("A",), GASES, DRILLS
    )
    assert any("sinks and pools" in str(told) for told in plan.says)
    assert "1.84 times" in str(lit_on_another(GASES["town"], GASES["natural"]))
    assert lit_on_another(GASES["natural"], GASES["natural"]) is None
    assert len(conversion_fields(GASES, all_burners(BUILDS[1]))) == 7 + len(all_burners(BUILDS[1]))


@pytest.mark.parametrize("quantity", list(Quantity))
@pytest.mark.parametrize("region", [Region(), METRIC, Region(language="de_DE", units="metric")])
@given(value=st.floats(0.01, 9000))
def test_what_is_shown_is_read_back_as_the_same_value(
    quantity: Quantity, region: Region, value: float
) -> None:
    step = 1.0 if measure_of(quantity).us_format == "#,##0" else 0.06
    written = bare(value, quantity, region)
    again = parsed(written, quantity, region)
    room = (
        step
        if region.units == "us"
        else max(abs(measure_of(quantity).to_us(step) - measure_of(quantity).to_us(0)), 1e-9)
    )
    assert abs(again - value) <= room
    assert parsed(shown(value, quantity, region), quantity, region) == again


def test_fractions_of_an_inch_are_read_as_people_write_them() -> None:
    assert parsed("3/8", Quantity.LENGTH, Region()) == 0.375
    assert parsed("1 1/2", Quantity.LENGTH, Region()) == 1.5
    with pytest.raises(Problem):
        parsed("3/0", Quantity.LENGTH, Region())


def test_a_metric_shop_hears_no_inch_of_water() -> None:
    told = sentence(
        "From {start} in w.c. at {warm} °F, {off} °F off, {rate} ft³/h; 1/2 psi (13.8 in w.c.).",
        start=figure(10, 2, Quantity.PRESSURE), warm=figure(350, 0, Quantity.TEMPERATURE),
        off=figure(9, 1, Quantity.WARMTH), rate=figure(10, 2, Quantity.FLOW),
    )  # fmt: skip
    said = say_sentence(told, METRIC).replace("\u00a0", " ")
    assert said == "From 24.91 mbar at 177 °C, 5 °C off, 0.28 m³/h; 1/2 psi (34.47 mbar)."
    assert say_sentence(told, Region()).startswith("From 10 in w.c. at 350 °F, 9 °F off")
