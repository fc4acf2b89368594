"""What the reading of the catalogue refuses, and what a shop may change of its own."""

import shutil
from pathlib import Path

import pytest

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.catalogue.reading import read_catalogue
from shopdesk.domain.money import Spread
from shopdesk.domain.problem import Problem
from shopdesk.paths import resource

FILES = {
    "zones.toml": """
version = "7"
[[zone]]
code = "outside"
name = "Outside"
[[zone]]
code = "oven"
name = "Oven"
""",
    "checkpoints/oven.toml": """
zone = "oven"
[[checkpoint]]
code = "oven-floor"
name = "Oven floor"
tell = "Lift it."
sound = "Whole."
why = "It lies over the burner."
safety = 2
part = "oven-floor"
donor = ["10.00", "25.50", "60.00"]
[[checkpoint.finding]]
code = "worn"
name = "Worn"
severity = { cook = "minor", full = "minor", resale = "minor", donor = "none" }
chance = 0.2
ways = [
  { key = "season", scope = "mechanical", tasks = ["season"] },
  { key = "re-enamel", scope = "show", tasks = ["enamel"] },
]
[[checkpoint]]
code = "racks"
name = "Racks"
tell = "Slide them."
sound = "Smooth."
why = "Spills burn."
safety = 1
applies = ["lamp", "high back"]
[[checkpoint.finding]]
code = "bent"
name = "Bent"
severity = { cook = "minor", full = "minor", resale = "minor", donor = "none" }
chance = 0.1
""",
    "checkpoints/outside.toml": """
zone = "outside"
[[checkpoint]]
code = "front"
name = "Front"
tell = "Look."
sound = "Glossy."
why = "Seen first."
safety = 0
[[checkpoint.finding]]
code = "dull"
name = "Dull"
severity = { cook = "none", full = "minor", resale = "minor", donor = "none" }
chance = 0.1
""",
    "tasks/oven.toml": """
[[task]]
code = "lift-out"
name = "Lift it out"
group = "Oven"
hours = [0.1, 0.25, 0.5]
skills = ["helper"]
[[task]]
code = "season"
name = "Season it"
group = "Oven"
hours = [0.2, 0.55, 1.01]
skills = ["bench"]
needs = ["lift-out"]
after = ["enamel"]
proofs = ["co-oven"]
hazards = ["fire"]
parts = [{ name = "oil", each = ["1.00", "2.00", "3.05"], count = 2, per_extent = false }]
[[task]]
code = "enamel"
name = "Enamel it"
group = "Oven"
hours = [0.1, 0.1, 0.1]
skills = ["bench"]
outwork = { trade = "enameller", each = ["100.00", "150.00", "300.00"], days = [14, 35, 90] }
""",
    "proofs.toml": """
[[proof]]
code = "co-oven"
name = "Carbon monoxide"
how = "Measure."
meets = "Under the ceiling."
readings = ["ppm"]
basis = "common practice, no source"
order = 1
""",
    "cautions.toml": """
[[caution]]
code = "fire"
name = "Fire"
text = "Stay with it."
defer_to = "The fire authority."
""",
    "accessories.toml": """
[[accessory]]
code = "chart"
name = "Cooking chart"
worth = ["10.00", "20.00", "40.00"]
""",
    "figures.toml": """
cost_per_hour = "50.00"
charge_per_hour = "95.00"
margin = 0.2
confidence = 0.8
selling_share = 0.08
warranty_share = 0.04
haulage = ["80.00", "150.00", "300.00"]
disposal = ["20.00", "30.00", "60.00"]
correlation = 0.3
donor_sold_share = 0.6
unrestored = ["300.00", "500.00", "700.00"]
claimed_trust = 0.4
offer_step = "25.00"
good_finish = 0.1
most_taken = 0.4
[left_takes]
minor = 0
serious = 0.02
grave = 0.06
[still_sells]
none = 1
minor = 0.5
serious = 0
grave = 0
[finished]
mechanical = ["1.00", "2.00", "3.00"]
everyday = ["1.00", "2.00", "3.00"]
show = ["1.00", "2.00", "3.00"]
[feature_worth]
lamp = "75.00"
""",
    "phrases.toml": 'phrases = ["Bagged."]\n',
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name, text in FILES.items():
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return tmp_path


def swap(folder: Path, name: str, old: str, new: str) -> None:
    text = (folder / name).read_text(encoding="utf-8")
    assert old in text
    (folder / name).write_text(text.replace(old, new, 1), encoding="utf-8")


def complaints(folder: Path, overrides: dict[str, object] | None = None) -> list[str]:
    with pytest.raises(Problem) as refused:
        read_catalogue(folder, overrides)
    head, *lines = str(refused.value).splitlines()
    assert head == "The catalogue has to be mended first."
    return lines


def test_a_whole_folder_is_read_exactly(folder: Path) -> None:
    catalogue = read_catalogue(folder)
    assert catalogue.version == "7"
    assert list(catalogue.checkpoints) == ["front", "oven-floor", "racks"]
    assert catalogue.zones["oven"].order == 2
    assert catalogue.checkpoints["oven-floor"].donor == Spread(10_00, 25_50, 60_00)
    assert catalogue.checkpoints["racks"].applies == {"lamp", "high back"}
    season = catalogue.tasks["season"]
    assert season.minutes == Spread(12, 33, 61)  # 1.01 h is 60.6 minutes
    assert season.parts[0].each == Spread(1_00, 2_00, 3_05)
    assert (season.parts[0].count, season.parts[0].per_extent) == (2, False)
    outwork = catalogue.tasks["enamel"].outwork
    assert outwork is not None
    assert (outwork.trade, outwork.days) == ("enameller", Spread(14, 35, 90))
    assert catalogue.figures.cost_per_hour == 50_00
    assert catalogue.figures.finished["show"] == Spread(100, 200, 300)
    assert catalogue.figures.feature_worth == {"lamp": 75_00}
    assert catalogue.phrases == ("Bagged.",)


def test_half_a_minute_rounds_up(folder: Path) -> None:
    swap(folder, "tasks/oven.toml", "[0.1, 0.25, 0.5]", "[0.125, 0.225, 0.5]")
    assert read_catalogue(folder).tasks["lift-out"].minutes == Spread(8, 14, 30)  # 7.5 and 13.5


OVEN, TASKS = "checkpoints/oven.toml", "tasks/oven.toml"


@pytest.mark.parametrize(
    ("name", "old", "new", "expected"),
    [
        (OVEN, 'zone = "oven"', 'zone = "ovn"',
         "checkpoints/oven.toml: checkpoint oven-floor: zone names “ovn”, which is not there. "
         "Perhaps “oven” is meant."),
        (OVEN, '["season"]', '["seasn"]',
         "checkpoints/oven.toml: finding oven-floor.worn, way season: tasks names “seasn”, which is not "
         "there. Perhaps “season” is meant."),
        (OVEN, '["season"]', "[]",
         'checkpoints/oven.toml: checkpoint oven-floor, finding worn, way season: it names no task. Write '
         'tasks = ["..."].'),
        (OVEN, '"re-enamel", scope', '"season", scope',
         "checkpoints/oven.toml: checkpoint oven-floor, finding worn: two of its ways have one key. Give "
         "each way its own key."),
        (OVEN, 'scope = "show"', 'scope = "shiny"',
         "checkpoints/oven.toml: checkpoint oven-floor, finding worn, way re-enamel: scope “shiny” is not "
         "known. Write one of: mechanical, everyday, show."),
        (OVEN, 'chance = 0.2', "chance = 1.2",
         "checkpoints/oven.toml: checkpoint oven-floor, finding worn: chance is not between 0 and 1. Write "
         "chance = 0.1 for one in ten."),
        (OVEN, 'chance = 0.2', "chance = 1",
         "checkpoints/oven.toml: checkpoint oven-floor: the chances of its findings add up to one or more. "
         "Lower them: some ranges are sound here."),
        (OVEN, '["lamp", "high back"]', '["lamp", "rotisserie"]',
         "checkpoints/oven.toml: checkpoint racks: applies “rotisserie” is a word no build has. Use feature "
         "words of one build, or leave applies out."),
        (OVEN, '["lamp", "high back"]', '["high back", "low back"]',
         "checkpoints/oven.toml: checkpoint racks: applies high back, low back together fit no build. Use "
         "feature words of one build, or leave applies out."),
        (OVEN, '["10.00", "25.50", "60.00"]', '["10.00", "75.50", "60.00"]',
         "checkpoints/oven.toml: checkpoint oven-floor: donor is not in order from low to high. Put the "
         "smallest figure first."),
        (OVEN, '["10.00", "25.50", "60.00"]', "[10.00, 25.50, 60.00]",
         "checkpoints/oven.toml: checkpoint oven-floor: donor holds something that is not a figure of this "
         'kind. Write donor = ["10.00", "15.00", "30.00"].'),
        (OVEN, '"25.50"', '"25.505"',
         "checkpoints/oven.toml: checkpoint oven-floor: donor holds something that is not a figure of this "
         'kind. Write donor = ["10.00", "15.00", "30.00"].'),
        (OVEN, 'code = "racks"', 'code = "oven-floor"',
         "checkpoints/oven.toml: checkpoint oven-floor: the code is there twice. Give one checkpoint "
         "another code."),
        (OVEN, 'code = "racks"', 'code = "Racks"',
         "checkpoints/oven.toml: checkpoint Racks: code “Racks” is not a code. Use lower-case words joined "
         "by hyphens."),
        (OVEN, 'why = "Spills burn."', 'wy = "Spills burn."',
         'checkpoints/oven.toml: checkpoint racks: why is missing or not a text. Write why = "...".'),
        (OVEN, 'part = "oven-floor"', 'part = "cellar"',
         "checkpoints/oven.toml: checkpoint oven-floor: part “cellar” is not known. Write one of:"),
        (OVEN, "safety = 2", "safety = 4",
         "checkpoints/oven.toml: checkpoint oven-floor: safety is not a whole number from 0 to 3. Write "
         "safety = 0."),
        (OVEN, 'full = "minor", ', "",
         "checkpoints/oven.toml: checkpoint oven-floor, finding worn, severity: full “None” is not known. "
         "Write one of: none, minor, serious, grave."),
        (TASKS, 'needs = ["lift-out"]', 'needs = ["lift-off"]',
         "tasks/oven.toml: task season: needs names “lift-off”, which is not there. Perhaps “lift-out” is "
         "meant."),
        (TASKS, 'after = ["enamel"]', 'after = ["zzz"]',
         "tasks/oven.toml: task season: after names “zzz”, which is not there. Write a code that is there, "
         "or take it out."),
        (TASKS, 'after = ["enamel"]', 'then = ["enamle"]',
         "tasks/oven.toml: task season: then names “enamle”, which is not there. Perhaps “enamel” is meant."),
        (TASKS, '["co-oven"]', '["co-ovn"]',
         "tasks/oven.toml: task season: proofs names “co-ovn”, which is not there. Perhaps “co-oven” is "
         "meant."),
        (TASKS, '["fire"]', '["fir"]',
         "tasks/oven.toml: task season: hazards names “fir”, which is not there. Perhaps “fire” is meant."),
        (TASKS, "[0.1, 0.25, 0.5]", "[0.5, 0.25, 0.1]",
         "tasks/oven.toml: task lift-out: hours is not in order from low to high. Put the smallest figure "
         "first."),
        (TASKS, "hours = [0.1, 0.25, 0.5]", "",
         "tasks/oven.toml: task lift-out: hours are missing. Write hours = [0.2, 0.5, 1.0]."),
        (TASKS, 'group = "Oven"', 'group = "Oven"\nstage = "after"',
         "tasks/oven.toml: task lift-out: stage “after” is not known. Write one of:"),
        (TASKS, 'group = "Oven"', 'group = "Oven"\ncolour = "red"',
         "tasks/oven.toml: task lift-out: the field “colour” is not known. Take it out or use one of:"),
        ("figures.toml", "margin = 0.2", 'margin = "0.2"',
         "figures.toml: figures: margin is not between 0 and 1. Write margin = 0.1 for one in ten."),
        ("figures.toml", '"50.00"', "50.00",
         'figures.toml: figures: cost_per_hour is not an amount of money. Write cost_per_hour = "95.00".'),
        ("zones.toml", 'version = "7"', "",
         'zones.toml: version: version is missing or not a text. Write version = "...".'),
        ("proofs.toml", "[[proof]]", "[[prof]]",
         "proofs.toml: prof: is not known here. This file holds [[proof]] only."),
        ("cautions.toml", "[[caution]]", "[caution]",
         "cautions.toml: caution: is not a list of tables. Head each with [[caution]]."),
    ],
)  # fmt: skip
def test_a_mistake_is_named_with_file_entry_and_fix(
    folder: Path, name: str, old: str, new: str, expected: str
) -> None:
    swap(folder, name, old, new)
    assert any(line.startswith(expected) for line in complaints(folder)), complaints(folder)


def test_a_circle_in_the_order_of_the_work_is_shown(folder: Path) -> None:
    swap(folder, TASKS, 'skills = ["helper"]', 'skills = ["helper"]\nafter = ["season"]')
    (line,) = complaints(folder)
    assert line.startswith("tasks/oven.toml: task ")
    assert "season before lift-out" in line
    assert "lift-out before season" in line
    assert line.endswith("Take one of these out of after, needs or then.")


def test_what_is_put_back_comes_after_what_was_taken_off_also_in_circles(folder: Path) -> None:
    swap(folder, TASKS, 'after = ["enamel"]', 'after = ["enamel"]\nthen = ["enamel"]')
    assert "the order goes in a circle" in complaints(folder)[0]


def test_all_mistakes_are_named_at_once(folder: Path) -> None:
    swap(folder, OVEN, "chance = 0.2", "chance = 2")
    swap(folder, TASKS, '["fire"]', '["fir"]')
    swap(folder, "figures.toml", '"25.00"', '"a lot"')
    assert len(complaints(folder)) == 3


def test_a_missing_file_and_a_broken_one_are_named(folder: Path) -> None:
    (folder / "accessories.toml").unlink()
    swap(folder, "cautions.toml", 'code = "fire"', "code = fire")
    lines = complaints(folder)
    assert "accessories.toml: file: is missing. Put it back from the installation." in lines
    assert any(
        line.startswith("cautions.toml: file: cannot be read: ") and "line 3" in line for line in lines
    )


def test_an_empty_folder_is_refused_in_words(tmp_path: Path) -> None:
    assert "checkpoints: folder: holds no files. Put it back from the installation." in complaints(tmp_path)


def test_a_shop_switches_off_a_checkpoint_a_finding_and_a_task(folder: Path) -> None:
    swap(folder, OVEN, 'code = "bent"', 'code = "rusty"\nname = "Rusty"\nseverity = { cook = "none", full = '
         '"none", resale = "none", donor = "none" }\n[[checkpoint.finding]]\ncode = "bent"')  # fmt: skip
    without = read_catalogue(folder, {"off": ["racks.bent"]})
    assert "racks.bent" in without.findings, "an old answer still names it"
    assert [f.code for f in without.offered(without.checkpoints["racks"])] == ["racks.rusty"]
    changed = read_catalogue(folder, {"off": ["racks", "enamel"]})
    assert [c.code for c in changed.walk(Build())] == ["front", "oven-floor"]
    assert "racks" in changed.checkpoints
    assert "enamel" not in changed.tasks
    assert changed.tasks["season"].after == ()
    assert [way.key for way in changed.findings["oven-floor.worn"].ways] == ["season"]


def test_a_shop_rewords_what_people_read(folder: Path) -> None:
    words = {
        "oven-floor": {"tell": "Lift it with both hands."},
        "oven-floor.worn": {"means": "Ours is oil."},
        "season": {"name": "Oil the floor"},
    }
    changed = read_catalogue(folder, {"reword": words})
    assert changed.checkpoints["oven-floor"].tell == "Lift it with both hands."
    assert changed.findings["oven-floor.worn"].means == "Ours is oil."
    assert changed.tasks["season"].name == "Oil the floor"


def test_a_shop_adds_and_reorders(folder: Path) -> None:
    own = {
        "code": "shop-mark", "zone": "outside", "name": "Our mark", "tell": "Look.", "sound": "There.",
        "why": "We know it.", "safety": 0,
        "finding": [{"code": "gone", "name": "Gone", "ways": [
            {"key": "new", "scope": "show", "tasks": ["fit-mark"]}],
            "severity": dict.fromkeys(("cook", "full", "resale", "donor"), "none")}],
    }  # fmt: skip
    task = {
        "code": "fit-mark",
        "name": "Fit it",
        "group": "Ours",
        "hours": [0.5, 1, 2.0],
        "skills": ["bench"],
    }
    changed = read_catalogue(
        folder, {"add": {"checkpoint": [own], "task": [task]}, "order": {"outside": ["shop-mark"]}}
    )
    assert list(changed.checkpoints) == ["shop-mark", "front", "oven-floor", "racks"]
    way = changed.findings["shop-mark.gone"].way(Scope.SHOW)
    assert way is not None
    assert way.tasks == ("fit-mark",)
    assert changed.tasks["fit-mark"].minutes == Spread(30, 60, 120)


def test_a_shop_lays_its_own_figures_over_the_shipped_ones(folder: Path) -> None:
    """As a stored setting gives them: decimal fractions are floats there, money is text."""
    own = {"cost_per_hour": "61.50", "margin": 0.15, "finished": {"show": ["4.00", "5.00", "6.00"]}}
    figures = read_catalogue(folder, {"figures": own}).figures
    assert (figures.cost_per_hour, figures.charge_per_hour) == (61_50, 95_00)
    assert figures.margin == 0.15
    assert figures.finished == {
        "mechanical": Spread(100, 200, 300),
        "everyday": Spread(100, 200, 300),
        "show": Spread(400, 500, 600),
    }


@pytest.mark.parametrize(
    ("overrides", "expected"),
    [
        ({"off": ["rack"]}, "the shop's own changes: off rack: the code is not there."),
        ({"off": ["co-oven"]}, "the shop's own changes: off co-oven: the code is not there."),
        ({"reword": {"rack": {"name": "x"}}}, "the shop's own changes: reword rack: the code is not there."),
        ({"reword": {"racks": {"safety": "0"}}},
         "the shop's own changes: reword racks: safety is not a text of a checkpoint. Reword one of: name, "
         "sound, tell, why."),
        ({"order": {"oven": ["front"]}}, "the shop's own changes: order oven: “front” is not in this zone."),
        ({"add": {"proof": []}}, "the shop's own changes: add proof: cannot be added."),
        ({"add": {"task": ["x"]}}, "the shop's own changes: add task: cannot be added."),
        ({"figures": {"cost_per_hour": 61.5}},
         "the shop's own changes: figures: cost_per_hour is not an amount of money."),
        ({"figures": {"cost": "61.50"}}, "the shop's own changes: figures: the field “cost” is not known."),
        ({"of": []}, "the shop's own changes: of: is not a change of this kind."),
        ({"off": "racks"}, "the shop's own changes: off: is not a change of this kind."),
    ],
)  # fmt: skip
def test_a_change_that_cannot_be_made_is_named(
    folder: Path, overrides: dict[str, object], expected: str
) -> None:
    assert any(line.startswith(expected) for line in complaints(folder, overrides))


def test_the_files_stay_as_they_are(folder: Path) -> None:
    read_catalogue(folder, {"off": ["racks"], "reword": {"season": {"name": "x"}}})
    assert all((folder / name).read_text(encoding="utf-8") == text for name, text in FILES.items())


def damaged(text: str, place: int) -> str:
    lines = text.splitlines(keepends=True)
    return "".join(lines[:place] + lines[place + 1 :])


@pytest.mark.parametrize("name", sorted(FILES))
def test_losing_any_one_line_is_read_or_refused_in_words(folder: Path, name: str) -> None:
    for place in range(len(FILES[name].splitlines())):
        (folder / name).write_text(damaged(FILES[name], place), encoding="utf-8")
        try:
            read_catalogue(folder, {"off": [], "reword": {}, "order": {"oven": []}})
        except Problem as problem:
            assert ".toml: " in str(problem) or "folder" in str(problem)


def test_the_shipped_catalogue_reads_from_a_copy(tmp_path: Path) -> None:
    shutil.copytree(resource("catalogue"), tmp_path / "catalogue")
    assert read_catalogue(tmp_path / "catalogue") == read_catalogue(resource("catalogue"))
