"""The sheet: what it says is read, what is wrong with it is named, the rest is kept."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopdesk import paths
from shopdesk.commands.sheet import tell
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Evidence, Purpose, Scope
from shopdesk.domain.catalogue.reading import read_catalogue
from shopdesk.domain.work import plan_work
from shopdesk.domain.worth import RouteKind, judge
from shopdesk.exchange.sheet import LARGEST, SheetProblem, examine_sheet, read_sheet

CATALOGUE = read_catalogue(paths.resource("catalogue"))
EVERYTHING = (
    "griddle = true\ndeep-well = true\nlamp = true\nclock = true\noutlet = true\n"
    "shelf = true\nfold-top = true\nwindow = true\novens = 2\n"
)


def a_sheet(top="", build="lamp = true", findings=""):
    return f"shopdesk-sheet = 1\n{top}\n[range]\n{build}\n{findings}"


def problems_of(text):
    return [str(problem) for problem in examine_sheet(text, CATALOGUE)[1]]


def test_the_shipped_example_reads_whole():
    sheet = read_sheet(paths.resource("sheet", "example.toml"), CATALOGUE)
    assert sheet.scope is Scope.MECHANICAL
    assert sheet.look.purpose is Purpose.RESALE
    assert sheet.look.asking_cents == 45_000
    assert sheet.look.accessories == ("baking-insert",)
    assert sheet.identity.serial == "HW 20418"
    assert sheet.identity.seller == "Bertram Oake"
    assert sheet.day == "2026-03-14"
    assert [a.finding for a in sheet.look.found] == [
        "lamp-cord.frayed",
        "burner-valves.seized",
        "broiler-screws.pulled-through",
        "oven-floor.worn",
    ]


def test_the_shipped_example_gives_an_order_and_an_offer():
    sheet = read_sheet(paths.resource("sheet", "example.toml"), CATALOGUE)
    order = plan_work(CATALOGUE, sheet.look.build, sheet.look.answers, sheet.scope)
    assert {"rewire-lamp", "free-valve", "bracket-broiler-screw", "season-oven-floor"} <= set(order.codes)
    verdict = judge(CATALOGUE, sheet.look, scope=sheet.scope)
    assert 50_000 <= verdict.offer_cents <= 100_000


def test_the_fields_of_the_build_and_their_defaults_are_those_of_the_format():
    assert read_sheet("shopdesk-sheet = 1", CATALOGUE).look.build == Build()
    text = a_sheet(
        build='back = "low"\nburners = 6\noven-side = "left"\nlighting = "match"\ndeep-well = true'
    )
    built = Build(back="low", burners=6, oven_side="left", lighting="match", deep_well=True)
    assert read_sheet(text, CATALOGUE).look.build == built


def test_what_is_not_named_is_not_seen():
    look = read_sheet(a_sheet('sound = ["oven-floor"]'), CATALOGUE).look
    assert look.evidence("oven-floor") is Evidence.SEEN
    assert look.evidence("burner-valves") is Evidence.NOT_SEEN
    assert "burner-valves" in [c.code for c in look.not_seen(CATALOGUE)]


def test_sound_tested_and_claimed_carry_their_evidence():
    text = a_sheet('sound = ["oven-floor"]\ntested = ["damper"]\nclaimed = ["racks"]')
    look = read_sheet(text, CATALOGUE).look
    assert [(a.checkpoint, a.evidence) for a in look.answers] == [
        ("oven-floor", Evidence.SEEN),
        ("damper", Evidence.TESTED),
        ("racks", Evidence.CLAIMED),
    ]


def test_a_finding_keeps_extent_evidence_way_and_note():
    text = a_sheet(findings='[[finding]]\ncode = "burner-valves.seized"\nextent = 3\nevidence = "tested"\n'
                            'way = "donor"\nnote = "left three <b>"')  # fmt: skip
    (answer,) = read_sheet(text, CATALOGUE).look.answers
    assert (answer.extent, answer.evidence, answer.way, answer.note) == (
        3,
        Evidence.TESTED,
        "donor",
        "left three <b>",
    )


@pytest.mark.parametrize(
    ("asking", "cents"), [('"450.00"', 45_000), ('"450"', 45_000), ("450", 45_000), ('"0.05"', 5)]
)
def test_an_asking_price_is_a_text_or_a_whole_number(asking, cents):
    assert read_sheet(a_sheet(f"asking = {asking}"), CATALOGUE).look.asking_cents == cents


@pytest.mark.parametrize("asking", ["450.00", '"-1"', '"1.005"', '"nan"', '"much"', "true", '"1e99"'])
def test_any_other_asking_price_is_named(asking):
    (problem,) = problems_of(a_sheet(f"asking = {asking}"))
    assert problem.startswith("sheet, sheet: asking is ")
    assert '"450.00"' in problem


def test_an_unknown_finding_offers_the_nearest():
    (problem,) = problems_of(a_sheet(findings='[[finding]]\ncode = "oven-floor.wron"'))
    assert problem == (
        "sheet, finding 1: the catalogue has no finding oven-floor.wron. Did you mean oven-floor.worn?"
    )


def test_an_unknown_checkpoint_offers_the_nearest():
    (problem,) = problems_of(a_sheet('sound = ["oven-flor"]'))
    assert "no such checkpoint. Did you mean oven-floor?" in problem


@pytest.mark.parametrize("extent", ["-3", "0", "100", "1.5", "true", '"2"'])
def test_an_extent_that_is_no_count_is_named_with_its_finding(extent):
    (problem,) = problems_of(a_sheet(findings=f'[[finding]]\ncode = "oven-floor.worn"\nextent = {extent}'))
    assert problem.startswith("sheet, finding 1 (oven-floor.worn): extent is ")
    assert "from 1 to 99" in problem


def test_everything_wrong_is_collected_and_the_rest_is_kept():
    text = a_sheet(
        'purpose = "eating"\nsound = ["damper", "no-such"]\ncolour = 1',
        findings='[[finding]]\ncode = "oven-floor.worn"\n[[finding]]\ncode = "x"\n'
        '[[finding]]\ncode = "racks.bent"\nway = "prayer"',
    )
    sheet, problems = examine_sheet(text, CATALOGUE)
    told = " | ".join(map(str, problems))
    assert len(problems) == 5
    for named in ("eating", "no-such", "colour", "finding 2", "prayer"):
        assert named in told
    assert [a.checkpoint for a in sheet.look.answers] == ["damper", "oven-floor"]
    with pytest.raises(SheetProblem) as raised:
        read_sheet(text, CATALOGUE)
    assert len(str(raised.value).splitlines()) == 5


def test_sound_and_a_finding_at_one_checkpoint_are_named_and_the_finding_is_kept():
    text = a_sheet('sound = ["oven-floor"]', findings='[[finding]]\ncode = "oven-floor.worn"')
    sheet, (problem,) = examine_sheet(text, CATALOGUE)
    assert "oven-floor, which also has a finding" in str(problem)
    assert [a.finding for a in sheet.look.answers] == ["oven-floor.worn"]


def test_a_checkpoint_of_a_feature_the_range_has_not_is_named():
    (problem,) = problems_of(a_sheet('sound = ["lamp-cord"]', build="lamp = false"))
    assert "lamp-cord belongs to ranges with: lamp" in problem


@pytest.mark.parametrize("build", ["burners = 99", "burners = 1", 'back = "tall"', "lamp = 1", "legs = true"])
def test_a_build_that_cannot_be_is_named(build):
    (problem,) = problems_of(a_sheet(build=build))
    assert problem.startswith("sheet, range: ")


def test_a_sheet_without_its_format_number_is_refused():
    (problem,) = problems_of('purpose = "cook"')
    assert "shopdesk-sheet = 1" in problem


def test_bad_toml_is_named_with_file_and_line(tmp_path):
    file = tmp_path / "garage.toml"
    file.write_text('shopdesk-sheet = 1\npurpose = "cook\n')
    with pytest.raises(SheetProblem, match=r"garage\.toml cannot be read as TOML: .*line 2"):
        read_sheet(file, CATALOGUE)


def test_a_file_of_fifty_megabytes_is_refused_by_its_size(tmp_path):
    file = tmp_path / "huge.toml"
    with file.open("wb") as handle:
        handle.truncate(50_000_000)
    with pytest.raises(SheetProblem, match=rf"huge\.toml has 50000000 bytes; a sheet has at most {LARGEST}"):
        read_sheet(file, CATALOGUE)


def test_a_file_that_is_not_there_or_no_text_is_named(tmp_path):
    with pytest.raises(SheetProblem, match=r"none\.toml cannot be opened"):
        read_sheet(tmp_path / "none.toml", CATALOGUE)
    picture = tmp_path / "picture.toml"
    picture.write_bytes(b"\xff\xd8\xff\xe0")
    with pytest.raises(SheetProblem, match="not a text in UTF-8"):
        read_sheet(picture, CATALOGUE)


@pytest.mark.parametrize(
    "text", ["shopdesk-sheet = 1\nx = " + "[" * 50_000, "shopdesk-sheet = " + "9" * 9000]
)
def test_a_text_made_to_break_the_reader_is_a_problem_like_any_other(text):
    sheet, problems = examine_sheet(text, CATALOGUE)
    assert sheet is None
    assert len(problems) == 1


def sheets_of_every_finding():
    """Few sheets on which every finding of the catalogue stands once, each checkpoint with one at a time."""
    for extra in ("", 'base = "legs"\n', 'back = "low"\n'):
        build = read_sheet(a_sheet(build=extra + EVERYTHING), CATALOGUE).look.build
        walk = CATALOGUE.walk(build)
        if extra:  # the others stand on the first sheets already
            walk = [c for c in walk if {"legs", "low back"} & c.applies]
        for turn in range(max((len(c.findings) for c in walk), default=0)):
            codes = [c.findings[turn].code for c in walk if turn < len(c.findings)]
            found = "".join(f'[[finding]]\ncode = "{code}"\nextent = 2\n' for code in codes)
            yield codes, a_sheet(build=extra + EVERYTHING, findings=found)


def test_every_finding_of_the_catalogue_can_stand_on_a_sheet_and_brings_its_work():
    seen = set()
    for codes, text in sheets_of_every_finding():
        look = read_sheet(text, CATALOGUE).look
        assert [a.finding for a in look.answers] == codes
        seen.update(codes)
        order = plan_work(
            CATALOGUE, look.build, look.answers, Scope.SHOW
        )  # Problem where it goes in a circle
        caused = {cause.code for task in order.tasks for cause in task.because}
        asking = {code for code in codes if (way := CATALOGUE.findings[code].way(Scope.SHOW)) and way.tasks}
        assert asking <= caused
    assert seen == set(CATALOGUE.findings)


def test_the_command_tells_of_every_finding_its_verdict_and_its_work_in_order(tmp_path):
    seen, file = set(), tmp_path / "every.toml"
    for codes, text in sheets_of_every_finding():
        file.write_text(text, encoding="utf-8")
        told = json.loads(json.dumps(tell(file)))
        assert told["verdict"] in [kind.value for kind in RouteKind]
        assert told["reasons"]
        assert told["would_change"]
        assert told["cost_low_cents"] <= told["cost_likely_cents"] <= told["cost_high_cents"]
        place = {task["code"]: n for n, task in enumerate(told["tasks"])}
        assert all(
            place[earlier] < place[task["code"]] for task in told["tasks"] for earlier in task["after"]
        )
        causes = {cause for task in told["tasks"] for cause in task["because"]}
        scope = Scope(told["scope"])
        asking = {code for code in codes if (way := CATALOGUE.findings[code].way(scope)) and way.tasks}
        assert asking <= causes
        seen.update(codes)
    assert seen == set(CATALOGUE.findings)


def test_facts_of_the_gas_that_disagree_are_a_finding_on_a_sheet_too(tmp_path):
    file = tmp_path / "gas.toml"
    facts = 'gas-on-plate = "LP"\nspuds-found = "natural"\n'
    file.write_text(a_sheet(build=facts), encoding="utf-8")
    causes = {task["code"]: task["because"] for task in tell(file)["tasks"]}
    assert "gas-on-plate.disagree" in causes["gauge-spuds"]
    file.write_text(a_sheet(build=facts.replace("LP", "natural gas")), encoding="utf-8")
    assert not any("gas-on-plate.disagree" in task["because"] for task in tell(file)["tasks"])


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=80))
def test_no_text_does_more_than_raise_a_problem(text):
    sheet, problems = examine_sheet("shopdesk-sheet = 1\n" + text, CATALOGUE)
    assert problems or sheet is not None
