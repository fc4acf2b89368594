"""Proofs made from their readings, on both databases: the result is worked out, the record stays."""

import datetime as dt
import io
from dataclasses import replace

import pytest
from builders import a_customer, a_range, agreed, covered, done, owned, proved, released, walked
from PIL import Image
from pypdf import PdfReader

from shopdesk.demo.readings import readings_of
from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.problem import NotFound, Problem
from shopdesk.domain.proof_forms.identity import NO_HOUSE
from shopdesk.domain.proving import Result
from shopdesk.services import (
    agreements,
    handovers,
    instruments,
    intake,
    invoices,
    loggers,
    proof_pictures,
    proofs,
    proving,
    quotes,
    sales,
    work_orders,
)
from shopdesk.services.jacket import jacket
from shopdesk.services.papers.gas_label import gas_label
from shopdesk.services.papers.keeping import paper_bytes
from shopdesk.wording.bench_measures import say_problem_in


@pytest.fixture
def worked(shop):
    """A range whose work is done and whose proofs are all still due."""
    taken = agreed(shop)
    covered(shop, taken.job_id)
    done(shop, taken.job_id)
    return taken


def made(shop, job_id, kind, *, seen=None, signed_by="", with_instruments=(), **other):
    guide = proving.guide(shop.technician, job_id, kind)
    values = {**readings_of(guide.form), **other}
    if guide.form.by_eye and seen is None:
        seen = Result.MEETS
    proving.prove(
        shop.technician,
        job_id,
        kind,
        values,
        seen=seen,
        signed_by=signed_by,
        with_instruments=with_instruments,
    )
    return proving.records(shop.technician, job_id, kind)[-1]


def test_every_form_of_the_catalogue_meets_with_good_readings(shop, worked):
    for code, kind in shop.owner.catalogue.proofs.items():
        if kind.at_home:
            continue
        record = made(shop, worked.job_id, code)
        assert record.result == "meets", f"{code}: {record.says}"
        assert record.readings
        assert record.limit
        assert record.source
        assert record.by == "Bram Tollgate"


@pytest.mark.parametrize(
    ("kind", "other", "result", "told"),
    [
        ("tightness-bench", {"end_inwc": 11.0}, "does not meet", "Something leaks"),
        ("tightness-bench", {"end_f": None}, "cannot tell", "Both temperatures are needed"),
        ("tightness-bench", {"resolution_inwc": None}, "cannot tell", "without the manometer's resolution"),
        ("tightness-bench", {"minutes": 2.0}, "cannot tell", "are too short"),
        ("tightness-bench", {"bubbles": "bubbles"}, "does not meet", "Leak fluid bubbled: every cap"),
        ("tightness-bench", {"bubbles": None}, "cannot tell", "Leak fluid was not tried"),
        ("tightness-assembled", {"detector": "reads"}, "does not meet", "The detector reads gas"),
        ("gas-identity", {"house_gas": "propane"}, "does not meet", "The facts do not agree"),
        ("gas-identity", {"house_gas": None}, "cannot tell", "Not known: supply at the house"),
        ("gas-identity", {"plate_gas": "town"}, "does not meet", "If it was converted"),
        (
            "gas-identity",
            {"plate_gas": "town", "converted_by": "M. Hale"},
            "meets",
            "converted to natural gas by M. Hale",
        ),
        ("gas-identity", {"manifold_inwc": 5.6}, "does not meet", "lies outside 3.5 to 5"),
        ("gas-identity", {"inlet_inwc": 4.5}, "does not meet", "is too low"),
        ("safety-shutoff", {"limit_s": None}, "cannot tell", "until it is entered with its source"),
        ("safety-shutoff", {"limit_from": None}, "cannot tell", "until it is entered with its source"),
        ("safety-shutoff", {"shut_off_s": 75.0}, "does not meet", "later than 60 s"),
        ("safety-shutoff", {"passing": "gas"}, "does not meet", "Gas passes after the shut-off"),
        ("co-oven", {"co_ppm_1": 900.0}, "does not meet", "above the ceiling of 800 ppm"),
        ("co-oven", {"co_ppm_1": 200.0}, "cannot tell", "not under the action level"),
        ("co-oven", {"room_ppm": 41.0}, "does not meet", "stop, shut off the gas, leave"),
        ("co-burners", {"oxygen_pct_1": None}, "cannot tell", "without the oxygen"),
        ("thermostat", {"cycles_300": None}, "cannot tell", "Not measured yet with the dial at 300"),
        ("thermostat", {"cycles_350": ((330.0, 372.0),)}, "cannot tell", "too few"),
        ("thermostat", {"cycles_450": ((340.0, 380.0),) * 3}, "does not meet", "more than 25 °F off"),
        ("electrical", {"megohm": 0.4}, "does not meet", "current leaks to the frame"),
        ("electrical", {"shell": "no"}, "does not meet", "screw shell is live"),
        ("electrical", {"length_ft": None}, "cannot tell", "cord's own resistance is not known"),
        ("input-rate", {"plate_btuh": None}, "cannot tell", "Without the plate's input"),
        ("input-rate", {"plate_btuh": 40000.0}, "does not meet", "off the plate"),
        ("valves", {"passing": 1.0}, "does not meet", "valves pass gas when off"),
        ("burners", {"flame": "back"}, "does not meet", "burns back"),
        ("oven-lighting", {"cold_s": 9.0}, "does not meet", "more than about 4 s"),
        ("oven-lighting", {"failed": 1.0}, "does not meet", "tries failed"),
        ("doors", {"tried": 1.0}, "cannot tell", "1 of 2 doors"),
        ("stance", {"slips": 2.0}, "does not meet", "slipped 2 times"),
        ("burn-off", {"minutes": 30.0}, "cannot tell", "less than two hours"),
        ("pilots", {"highest_in": 1.0}, "does not meet", "not between 0.25 in and 0.5 in"),
    ],
)
def test_the_readings_decide_whatever_the_eye_says(shop, worked, kind, other, result, told):
    record = made(shop, worked.job_id, kind, **other)
    assert record.result == result
    assert told in " ".join(record.says)
    due = {d.code: d for d in proofs.proofs_due(shop.owner, worked.job_id)}
    if kind in due:
        assert due[kind].stands == (result == "meets")


@pytest.mark.parametrize(
    ("kind", "other", "field"),
    [
        ("co-oven", {"oxygen_pct_1": 20.9}, "oxygen_pct_1"),
        ("co-oven", {"co_ppm_2": -4.0}, "co_ppm_2"),
        ("input-rate", {"seconds": 0.0}, "seconds"),
        ("thermostat", {"cycles_350": ((-40.0, 380.0),)}, "cycles_350"),
        ("thermostat", {"cycles_350": ((380.0, 330.0),)}, "cycles_350"),
        ("tightness-bench", {"start_inwc": 0.0}, "start_inwc"),
        ("tightness-bench", {"minutes": 0.0}, "minutes"),
        ("tightness-bench", {"start_inwc": float("nan")}, "start_inwc"),
        ("tightness-bench", {"start_inwc": "twelve"}, "start_inwc"),
        ("tightness-bench", {"moon": 1.0}, "moon"),
        ("tightness-bench", {"bubbles": "perhaps"}, "bubbles"),
        ("electrical", {"gauge_awg": 17.5}, "gauge_awg"),
        ("electrical", {"leakage_ma": -1.0}, "leakage_ma"),
        ("safety-shutoff", {"shut_off_s": -1.0}, "shut_off_s"),
        ("gas-identity", {"manifold_inwc": None}, "manifold_inwc"),
        ("valves", {"tried": 300.0}, "tried"),
    ],
)
def test_a_reading_that_cannot_be_is_refused_beside_its_field_and_nothing_is_written(
    shop, worked, kind, other, field
):
    with pytest.raises(Problem) as told:
        made(shop, worked.job_id, kind, **other)
    assert told.value.field == field
    assert proving.records(shop.owner, worked.job_id) == []


def test_an_eye_that_says_nothing_is_asked(shop, worked):
    guide = proving.guide(shop.technician, worked.job_id, "doors")
    with pytest.raises(Problem, match="Say what it showed") as told:
        proving.prove(shop.technician, worked.job_id, "doors", readings_of(guide.form))
    assert told.value.field == "result"


def test_the_eye_cannot_talk_a_bad_figure_good_nor_a_good_one_into_more(shop, worked):
    record = made(shop, worked.job_id, "doors", seen=Result.DOES_NOT_MEET)
    assert record.result == "does not meet"


def test_a_proof_says_what_it_was_made_with_and_that_its_calibration_had_run_out(shop, worked):
    tech = shop.technician
    good = instruments.keep_instrument(
        tech,
        instruments.InstrumentDraft(
            "manometer 2", "M2", ("pressure",), {"pressure": 0.05}, tech.today + dt.timedelta(days=9)
        ),
    )
    old = instruments.keep_instrument(
        tech,
        instruments.InstrumentDraft(
            "thermometer 1", "", ("temperature",), {}, tech.today - dt.timedelta(days=1)
        ),
    )
    record = made(shop, worked.job_id, "tightness-bench", with_instruments=(good, old))
    assert "manometer 2, M2, calibration due" in record.instrument
    assert "thermometer 1, past its calibration" in record.instrument
    assert record.says[0] == "thermometer 1 was past its calibration on the day."
    with pytest.raises(Problem, match="no instrument 404"):
        made(shop, worked.job_id, "tightness-bench", with_instruments=(404,))


def test_an_instrument_is_kept_changed_and_taken_out_of_use(shop):
    tech = shop.technician
    with pytest.raises(Problem, match="a name"):
        instruments.keep_instrument(tech, instruments.InstrumentDraft(" "))
    with pytest.raises(Problem, match="what the instrument measures"):
        instruments.keep_instrument(tech, instruments.InstrumentDraft("gauge"))
    with pytest.raises(Problem, match="above nought"):
        instruments.keep_instrument(
            tech, instruments.InstrumentDraft("gauge", "", ("pressure",), {"pressure": 0.0})
        )
    draft = instruments.InstrumentDraft("gauge", "7", ("pressure",), {"pressure": 0.1})
    key = instruments.keep_instrument(tech, draft)
    assert [row.past for row in instruments.instruments(tech, ("pressure",))] == [True]
    assert instruments.instruments(tech, ("gas",)) == []
    instruments.retire(tech, key)
    assert instruments.instruments(tech) == []
    assert [row.retired for row in instruments.instruments(tech, with_retired=True)] == [True]
    with pytest.raises(Problem, match="may not keep instruments"):
        instruments.retire(shop.desk, key)


def test_gas_identity_writes_what_was_found_at_the_range_to_its_record(shop, worked):
    made(shop, worked.job_id, "gas-identity")
    found = jacket(shop.owner, worked.range_id).described
    assert (found.gas_on_plate, found.set_to_gas, found.gas_label) == ("natural gas",) * 3
    assert proving.guide(shop.technician, worked.job_id, "gas-identity").known["set_gas"] == "natural"


def test_a_bad_reading_after_a_release_takes_the_release_back(shop):
    taken = released(shop)
    assert proofs.release_state(shop.owner, taken.job_id).given
    shop.clock.advance(minutes=5)
    made(shop, taken.job_id, "co-oven", co_ppm_1=900.0)
    state = proofs.release_state(shop.owner, taken.job_id)
    assert not state.given
    assert "Carbon monoxide, oven and broiler" in state.lapsed_because
    with pytest.raises(Problem, match="no release that stands"):
        handovers.hand_over(shop.desk, taken.job_id)


def test_a_lamp_added_after_the_release_makes_wiring_due_and_stops_the_hand_over(shop):
    taken = a_range(shop.owner, lamp=False)
    walked(shop.owner, taken.job_id)
    work_orders.write_order(shop.owner, taken.job_id, Scope.MECHANICAL)
    quote_id = quotes.write_quote(shop.desk, taken.job_id)
    agreements.agree(shop.desk, quote_id, who="Mr Ruiz", how="signed")
    covered(shop, taken.job_id)
    done(shop, taken.job_id)
    proved(shop, taken.job_id)
    proofs.release(shop.owner, taken.job_id)
    described = intake.described(shop.owner, taken.range_id)
    lit = intake.RangeDraft(maker=described.maker, build=replace(described.build, lamp=True))
    intake.describe(shop.owner, taken.range_id, lit)
    assert proofs.release_state(shop.owner, taken.job_id).lapsed_because == "due again: Wiring"
    with pytest.raises(Problem, match="no release that stands"):
        handovers.hand_over(shop.desk, taken.job_id)


def test_the_home_proof_follows_the_gas_the_range_was_set_to(shop):
    taken = released(shop)
    handovers.hand_over(shop.desk, taken.job_id)
    record = made(shop, taken.job_id, "at-home", signed_by="M. Hale", supply_gas="propane")
    assert record.result == "does not meet"
    assert "It is not lit; disconnect it" in " ".join(record.says)
    with pytest.raises(Problem, match="licence number"):
        made(shop, taken.job_id, "at-home", signed_by="M. Hale", licence=None)
    assert made(shop, taken.job_id, "at-home", signed_by="M. Hale").result == "meets"
    assert jacket(shop.owner, taken.range_id).stage.value in ("gone", "settled")


def in_words(pdf):
    """The words of a paper on one line."""
    return " ".join(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages).split())


@pytest.fixture
def for_resale(shop):
    """A range of the shop's own, every proof made but its gas identity."""
    taken = owned(shop)
    covered(shop, taken.job_id)
    done(shop, taken.job_id)
    done(shop, taken.job_id, "proving")
    proved(shop, taken.job_id, but=("gas-identity",))
    return taken


def test_a_range_for_resale_is_released_as_set_to_a_stated_gas(shop, for_resale):
    job_id = for_resale.job_id
    assert proving.guide(shop.technician, job_id, "gas-identity").known == {"house_gas": NO_HOUSE}
    with pytest.raises(Problem, match="is set to is not written down"):
        gas_label(shop.desk, job_id)
    no_label = made(shop, job_id, "gas-identity", house_gas=NO_HOUSE, label_gas=None)
    assert (no_label.result, "on the label put on" in no_label.says[0]) == ("cannot tell", True)
    wrong = made(shop, job_id, "gas-identity", house_gas=NO_HOUSE, label_gas="propane")
    assert wrong.result == "does not meet"
    shop.clock.advance(minutes=1)
    record = made(shop, job_id, "gas-identity", house_gas=NO_HOUSE)
    assert record.result == "meets"
    assert ("Supply at the house", "not sold, no house yet") in record.readings
    assert "checks where it goes that the supply is natural gas" in " ".join(record.says)
    proofs.release(shop.owner, job_id)
    label = in_words(gas_label(shop.desk, job_id))
    assert "Set for natural gas" in label
    assert "checks there that the supply is natural gas" in label
    sheet = in_words(paper_bytes(shop.owner, proofs.print_proof_sheet(shop.owner, job_id)))
    checked = "not known: a licensed fitter checks there that it is natural gas"
    assert checked in sheet
    sale = sales.draft_sale(shop.desk, job_id, a_customer(shop.desk, "Vane"), 320000)
    invoices.issue_invoice(shop.desk, sale)
    assert checked in in_words(paper_bytes(shop.owner, handovers.hand_over(shop.desk, job_id)))
    at_home = made(shop, job_id, "at-home", signed_by="M. Hale", supply_gas="propane")
    assert at_home.result == "does not meet"


def test_a_buyer_whose_house_has_another_gas_takes_the_release_back(shop, for_resale):
    made(shop, for_resale.job_id, "gas-identity", house_gas=NO_HOUSE)
    proofs.release(shop.owner, for_resale.job_id)
    found = intake.described(shop.owner, for_resale.range_id)
    intake.describe(shop.owner, for_resale.range_id, replace(found, house_gas="propane"))
    assert proofs.release_state(shop.owner, for_resale.job_id).lapsed_because.startswith(
        "due again: Gas identity"
    )
    with pytest.raises(Problem, match="cannot be released: Gas identity"):
        proofs.release(shop.owner, for_resale.job_id, without={"gas-identity": "the buyer is in a hurry"})
    intake.describe(shop.owner, for_resale.range_id, replace(found, house_gas="natural gas, 7 in w.c."))
    proofs.release(shop.owner, for_resale.job_id)


def test_a_customer_s_range_does_not_leave_its_house_open(shop, worked):
    with pytest.raises(Problem, match="is not one of the answers"):
        made(shop, worked.job_id, "gas-identity", house_gas=NO_HOUSE)


def test_a_metric_shop_is_refused_in_its_units(shop, worked):
    metric = replace(shop.technician, region=replace(shop.technician.region, units="metric"))
    form = proving.guide(metric, worked.job_id, "tightness-bench").form
    with pytest.raises(Problem) as refused:
        proving.prove(metric, worked.job_id, "tightness-bench", {**readings_of(form), "start_inwc": 4000.0})
    told = say_problem_in(refused.value, metric.region)
    assert told.startswith("A gauge pressure of 9964 mbar is outside -996.4 to 4235 mbar.")


def test_a_metric_shop_reads_and_writes_in_its_units(shop, worked):
    region = replace(shop.technician.region, units="metric")
    metric = replace(shop.technician, region=region)
    guide = proving.guide(metric, worked.job_id, "tightness-bench")
    proving.prove(metric, worked.job_id, "tightness-bench", readings_of(guide.form))
    record = proving.records(metric, worked.job_id, "tightness-bench")[-1]
    assert ("Pressure at the start", "29.89 mbar") in [
        (name, text.replace("\u00a0", " ")) for name, text in record.readings
    ]
    assert "From 29.89 to 29.89 mbar" in record.says[0]
    assert "in w.c." not in " ".join(record.says)
    assert "mbar" in record.limit


def test_a_picture_hangs_on_its_proof(shop, worked):
    record = made(shop, worked.job_id, "stance")
    with pytest.raises(NotFound):
        proof_pictures.photograph_proof(shop.technician, 404, b"", "x.png")
    with pytest.raises(Problem):
        proof_pictures.photograph_proof(shop.technician, record.id, b"no picture", "x.png")
    kept = io.BytesIO()
    Image.new("RGB", (64, 48), (10, 90, 40)).save(kept, "PNG")
    key = proof_pictures.photograph_proof(
        shop.technician, record.id, kept.getvalue(), "x.png", caption="level"
    )
    (picture,) = proving.records(shop.owner, worked.job_id)[-1].pictures
    assert (picture.id, picture.caption) == (key, "level")
    assert Image.open(io.BytesIO(picture.thumbnail)).size == (64, 48)


def test_the_desk_makes_no_proof(shop, worked):
    with pytest.raises(Problem, match="may not record a proof"):
        proving.prove(shop.desk, worked.job_id, "stance", {}, seen=Result.MEETS)


def test_curves_before_and_after_print_on_the_proof_sheet(shop, worked):
    for lowest in (300.0, 326.0):
        shop.clock.advance(minutes=30)
        record = made(shop, worked.job_id, "thermostat", cycles_350=((lowest, lowest + 45.0),) * 3)
    assert record.result == "meets"
    number = proofs.print_proof_sheet(shop.technician, worked.job_id)
    pages = PdfReader(io.BytesIO(paper_bytes(shop.owner, number))).pages
    told = " ".join(page.extract_text() for page in pages)
    for wanted in ("Oven, dial at 350", "before: on and off points", "after: on and off points"):
        assert wanted in told
    assert "That is more than 25 °F off." in told
    assert "made again below" in told


def test_a_loggers_file_of_two_million_rows_is_read_and_its_curve_kept_small():
    rows = (
        f"{n},{335 + (n % 9000 if n % 9000 < 4500 else 9000 - n % 9000) / 112.5:.1f}"
        for n in range(2_000_000)
    )
    raw = ("seconds,temperature_f\n" + "\n".join(rows)).encode()
    logged = loggers.read_logger(raw, "oven.csv", 350.0)
    assert len(logged.cycles) > 200
    assert all(abs(on - 335) < 1 and abs(off - 375) < 1 for on, off in logged.cycles[1:-1])
    assert len(logged.curve.series[0].points) <= 402
    assert any("2,000,000 rows" in str(told) for told in logged.says)


def test_a_loggers_file_with_a_gap_says_where_and_counts_no_cycle_across_it():
    lines = [f"{n},{335 + (n % 80 if n % 80 < 40 else 80 - n % 80)}" for n in range(800) if not 300 < n < 500]
    raw = ("seconds,temperature_f\n" + "\n".join(lines)).encode()
    logged = loggers.read_logger(raw, "oven.csv", 350.0)
    assert any("Readings are missing from minute 5 to minute 8.3" in str(told) for told in logged.says)


@pytest.mark.parametrize("raw", [b"", b"\x00\x01" * 400, b"a,b\n1,2\n"])
def test_a_file_that_is_no_log_is_a_sentence(raw, tmp_path):
    with pytest.raises(Problem):
        loggers.read_logger(raw, "x.bin", 350.0)
    with pytest.raises(Problem, match="cannot be read"):
        loggers.read_logger_file(tmp_path / "gone.csv", 350.0)
    with pytest.raises(Problem, match="not set to -40"):
        loggers.read_logger_file(tmp_path / "gone.csv", -40.0)
