"""The condition report, the traveller, the proof sheet and the hand-over sheet."""

import io
import itertools
from dataclasses import replace

import paper_facts as make
import pypdf
import pytest
import segno
from reading import in_order, pages, text
from reportlab.pdfgen.canvas import Canvas

from shopdesk.documents import condition_report, handover_sheet, proof_sheet, traveller
from shopdesk.documents.condition_findings import findings_by_zone
from shopdesk.documents.facts import FindingFacts, Photo
from shopdesk.documents.layout.drawn import QrCode
from shopdesk.documents.layout.page import BOTTOM, RUNNING_TOP
from shopdesk.domain.catalogue.model import Severity


def test_the_report_holds_what_a_condition_record_holds_in_reading_order() -> None:
    # Contents after Spectrum (Collections Trust) and, from memory, EN 16095:2012.
    told = text(condition_report.render(make.a_report()))
    in_order(
        told,
        "Condition report",
        "Examined on September 4, 2026",
        "Examiner Maren Holt",
        "Purpose cook on it now",
        "Serial number 48-20931",
        "Overall condition: grave",
        "Pins:",
        "How it was examined",
        "Circumstances",
        "Method",
        "Earlier work",
        "Gas identity",
        "Findings",
        "Outside",
        "Wiring",
        "frayed, conductor bare",
        "Cord at the back panel",
        "Gas train",
        "Not seen",
        "oven safety pilot; oven burner ports",
        "Only claimed",
        "Completeness",
        "Griddle cover missing",
        "Found sound",
        "What we advise",
        "Verdict: restore.",
        "28 h (15–45)",
        "$2,800 ($1,900–$4,200)",
        "Cautions",
        "What this report does not cover",
        "Maren Holt (examiner), date",
        "Ruiz & Søn <b>, date",
    )


def test_pins_on_the_drawing_carry_the_numbers_of_the_findings() -> None:
    drawn = make.a_pinned_drawing()
    assert {pin.number for pin in drawn.pins} == {1, 2, 3, 4}
    plain = make.a_report(photos=())
    first = pages(condition_report.render(plain))[0]
    bare = pages(condition_report.render(replace(plain, drawings=(replace(drawn, pins=()),))))[0]
    in_order(first[first.index("conductor bare") :], "1", "2", "3", "4")
    assert "Pins:" not in bare


def test_photographs_are_embedded_once_each_and_a_broken_one_is_said() -> None:
    pdf = condition_report.render(make.a_report())
    images = [image for page in pypdf.PdfReader(io.BytesIO(pdf)).pages for image in page.images]
    assert len(images) == 3
    assert "This picture cannot be read." in text(
        condition_report.render(make.a_report(photos=(Photo(b"x"),)))
    )


def test_a_report_without_findings_says_only_what_was_looked_at() -> None:
    told = text(condition_report.render(make.a_report(findings=(), overall=Severity.NONE, overall_why="")))
    in_order(
        told,
        "Overall condition: nothing wrong",
        "Nothing was found wrong where we looked.",
        "Not seen",
        "They are not taken to be sound",
    )


@pytest.mark.parametrize("severity", list(Severity))
def test_every_severity_has_its_word(severity: Severity) -> None:
    finding = FindingFacts(zone="Z", checkpoint="C", what="W", severity=severity, evidence="seen")
    told = text(condition_report.render(make.a_report(findings=(finding,), overall=severity)))
    word = "noted" if severity is Severity.NONE else severity.value
    in_order(told, "Findings", "C: W", f"seen {word}")


def test_two_hundred_findings_with_long_notes_break_over_pages() -> None:
    base = make.findings()
    many = tuple(
        replace(base[i % 4], number=i, what=f"defect {i:03}", note="word " * (i * 9)) for i in range(120)
    )
    whole = text(condition_report.render(make.a_report(findings=many)))
    assert all(whole.count(f"defect {i:03}") == 1 for i in range(120))


def test_five_findings_of_five_zones_stand_on_one_page_with_their_photographs() -> None:
    # Each with its photograph beside it; below it they would take two pages. 31 points: the heading.
    shown = tuple(
        replace(
            make.findings()[0],
            zone=f"Zone {i}",
            number=i,
            what=f"defect {i}",
            photos=(Photo(make.a_photograph(f"#5e6b{i}2")),),
        )
        for i in range(5)
    )
    (table,) = findings_by_zone(shown, 504.0)
    assert table.wrap(504.0, 1e6)[1] < 792 - RUNNING_TOP - BOTTOM - 31


def test_a_long_note_keeps_its_photograph_and_breaks_over_pages() -> None:
    photo = (Photo(make.a_photograph("#5e6b62"), "Its whole length"),)
    long = replace(make.findings()[0], note="word " * 2000, photos=photo)
    pdf = condition_report.render(make.a_report(findings=(long,), photos=()))
    assert sum(len(page.images) for page in pypdf.PdfReader(io.BytesIO(pdf)).pages) == 1
    in_order(text(pdf), "word word", "Its whole length")


def test_what_is_signed_stands_above_the_signatures_however_long_the_report() -> None:
    for lines in range(0, 60, 4):
        why = tuple(f"Reason {i}." for i in range(lines))
        last = pages(condition_report.render(make.a_report(verdict_why=why)))[-1]
        in_order(last, "What this report does not cover", "Maren Holt (examiner), date")


def test_cautions_print_once_in_full_and_by_name_at_each_task() -> None:
    told = text(traveller.render(make.a_traveller()))
    assert told.count("Look for leaks with fluid, never with a flame.") == 1
    assert "Defer to: the gas supplier and a licensed gas fitter." in told
    in_order(
        told,
        "Cautions on this job",
        "Teardown",
        "1 Take off griddle",
        "▲ Caution: Gas, Weight",
        "Repair",
        "2 Rewire the lamp",
        "▲ Caution: Mains",
        "Because lamp cord frayed",
        "After 1",
        "Parts 1 two-conductor",
        "Proofs due after it Electrical",
        "insulation, megohm",
        "1.3 h (0.8–2)",
        "time, initials",
        "Proofs due before it is ready",
    )


def test_a_stage_heading_stays_with_its_first_task() -> None:
    tasks = make.a_traveller().tasks
    for count in range(1, 14):
        many = [replace(tasks[0], place=i) for i in range(1, count)]
        last = replace(tasks[3], stage="Refitting", place=count, name="The first of its stage")
        for page in pages(traveller.render(make.a_traveller(tasks=(*many, last)))):
            if "Refitting" in page:
                in_order(page, "Refitting", "The first of its stage")


def test_the_qr_code_is_drawn_module_by_module_with_its_quiet_zone() -> None:
    code = QrCode("shopdesk:range/R-17", 92)
    expected = [list(row) for row in segno.make("shopdesk:range/R-17", error="m", micro=False).matrix]
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(92, 92), pageCompression=0, invariant=1)
    code.drawOn(canvas, 0, 0)
    canvas.save()
    unit = 92 / (len(expected) + 8)  # ISO/IEC 18004: four modules of quiet zone all round
    drawn = [[0] * len(expected) for _ in expected]
    for line in (
        pypdf.PdfReader(io.BytesIO(out.getvalue())).pages[0].get_contents().get_data().decode().split("\n")
    ):
        for x, y in _corners(line):
            drawn[round((92 - y) / unit) - 5][round(x / unit) - 4] = 1
    assert drawn == expected


def _corners(line: str) -> list[tuple[float, float]]:
    words = line.split()
    return [(float(words[i - 4]), float(words[i - 3])) for i, word in enumerate(words) if word == "re"]


def test_a_proof_shows_reading_instrument_person_limit_and_source() -> None:
    told = text(proof_sheet.render(make.a_proof_sheet()))
    in_order(
        told,
        "Gas identity",
        "Tightness of gas parts on the bench",
        "■ does not meet",
        "made again below",
        "Start: 12.0 in w.c.",
        "End: 11.4 in w.c.",
        "Tightness of gas parts on the bench",
        "○ meets",
        "Carbon monoxide, oven and broiler",
        "○ meets",
        "41 ppm at 12.3 % oxygen",
        "Instrument flue analyzer A1, calibrated June 2, 2026",
        "Made by Teo Lindqvist",
        "signed by Ida Vance, licensed fitter",
        "Limit 800 ppm air-free",
        "Limit from ANSI Z21",
        "Oven thermostat",
        "△ cannot tell",
        "common practice, no source",
    )


def test_only_three_words_are_results() -> None:
    wrong = replace(make.proofs()[0], result="passed")  # type: ignore[arg-type]
    with pytest.raises(KeyError):
        proof_sheet.render(make.a_proof_sheet(proofs=(wrong,)))


@pytest.mark.parametrize("render", ["proof sheet", "hand-over sheet"])
def test_without_required_proofs_the_paper_says_disconnected_and_red_tagged(render: str) -> None:
    if render == "proof sheet":
        told = text(proof_sheet.render(make.a_proof_sheet(standing=make.red_tagged())))
    else:
        told = text(handover_sheet.render(make.a_handover(standing=make.red_tagged())))
    in_order(told, "This range leaves disconnected and red-tagged.", "Carbon monoxide, oven and broiler")
    assert "Released by" not in told


def test_the_hand_over_names_what_is_still_to_prove_at_home_and_who_signs() -> None:
    told = text(handover_sheet.render(make.a_handover()))
    in_order(
        told,
        "Handed over to",
        "Released by Maren Holt",
        "Still to prove at home",
        "A licensed fitter connects it",
        "New connector",
        "Gas identity",
        "As it was set",
        "Manifold pressure",
        "What goes with it",
        "Living with it",
        "Cautions",
        "Warranty",
        "Handed over by Maren Holt, date",
        "Licensed fitter, after the proofs at home",
    )
    without = text(handover_sheet.render(make.a_handover(at_home=())))
    assert "Still to prove" not in without


def test_long_advice_and_notes_never_stop_a_paper_from_printing() -> None:
    prose = "The owner says it went out. " * 500
    tasks = tuple(replace(task, advice=prose) for task in make.a_traveller().tasks)
    proofs = tuple(replace(proof, note=prose) for proof in make.proofs())
    for pdf in (
        traveller.render(make.a_traveller(tasks=tasks, notes=(prose,))),
        proof_sheet.render(make.a_proof_sheet(proofs=proofs)),
        condition_report.render(make.a_report(circumstances=prose, verdict_why=(prose,))),
    ):
        told = pages(pdf)
        assert all(len(page) > 60 for page in told)
        assert list(itertools.accumulate(1 for _ in told))[-1] == len(told)


@pytest.mark.parametrize("shop", [make.a_shop(), make.an_a4_shop()], ids=["letter", "a4"])
def test_the_first_proof_follows_the_summary_and_nobody_signs_a_page_on_its_own(shop) -> None:
    first, *_, last = pages(proof_sheet.render(make.a_proof_sheet(shop=shop)))
    in_order(first, "In short", "Proofs in the order of proving", "11.4 in w.c.")
    in_order(last, "Oven thermostat", "Cautions", "Licensed fitter")


@pytest.mark.parametrize("shop", [make.a_shop(), make.an_a4_shop()], ids=["letter", "a4"])
def test_how_far_the_work_goes_is_compared_on_one_page(shop) -> None:
    told = pages(condition_report.render(make.a_report(shop=shop)))
    assert ["Everyday finish" in page for page in told] == [
        "Mechanical only (chosen)" in page for page in told
    ]
