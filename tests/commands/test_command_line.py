"""The command line as a person or a script meets it: real processes, real files."""

import hashlib
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from published_rules import rule_faults, schema_faults
from pypdf import PdfReader

CHECKOUT = Path(__file__).resolve().parents[2]
STAGES = [
    "looked at", "booked in", "inspected", "quoted", "agreed", "on the bench", "proving", "ready", "gone",
    "settled",
]  # fmt: skip


def shopdesk(*words: object, **surroundings: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "shopdesk", *map(str, words)],
        capture_output=True,
        text=True,
        timeout=100,
        check=False,
        cwd=CHECKOUT,
        env={**os.environ, **surroundings},
    )


@pytest.fixture(scope="module")
def tour(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("tour") / "out"
    done = shopdesk("tour", folder)
    assert done.returncode == 0, done.stderr
    return folder


def told(tour: Path) -> dict:
    return json.loads((tour / "tour.json").read_text(encoding="utf-8"))


def test_the_tour_passes_every_stage_and_ends_with_nothing_owed(tour: Path) -> None:
    answer = told(tour)
    assert answer["stages"] == STAGES
    assert answer["balance_cents"] == 0
    assert answer["billed_cents"] == answer["paid_cents"] > 0
    assert answer["agreed_cents"] == answer["quoted_cents"]
    assert answer["minutes"] > 0
    assert answer["verdict"] == "restore"
    assert answer["offer_cents"] > 0


def test_the_tours_papers_are_readable_and_those_that_were_archived(tour: Path) -> None:
    papers = told(tour)["papers"]
    assert len({p["kind"] for p in papers}) >= 7
    for paper in papers:
        file = tour / paper["file"]
        assert hashlib.sha256(file.read_bytes()).hexdigest() == paper["sha256"]
        assert PdfReader(file).pages


def test_every_invoice_line_and_task_of_the_tour_names_what_caused_it(tour: Path) -> None:
    answer = told(tour)
    for line in answer["invoice_lines"]:
        assert line["because"]["kind"] in ("task", "part", "outwork", "charge")
        assert line["because"]["name"]
        assert line["because"]["words"]
    assert all(task["because"] for task in answer["tasks"])
    by_code = {task["code"]: task for task in answer["tasks"]}
    assert "burner-valves.seized" in by_code["free-valve"]["because"]
    assert "oven-floor.worn" in by_code["season-oven-floor"]["because"]


def test_a_customers_name_prints_as_written(tour: Path) -> None:
    invoice = next(p for p in told(tour)["papers"] if p["kind"] == "invoice")
    text = "".join(page.extract_text() for page in PdfReader(tour / invoice["file"]).pages)
    assert "Ruiz & Søn <b>" in text


def test_a_second_tour_in_the_same_folder_is_refused_in_one_sentence(tour: Path) -> None:
    again = shopdesk("tour", tour)
    assert again.returncode == 2
    assert again.stderr.strip().count("\n") == 0
    assert "empty folder" in again.stderr


def test_the_tours_shop_is_whole_and_can_be_copied(tour: Path, tmp_path: Path) -> None:
    shop = tour / "tour_shop.db"
    assert json.loads(shopdesk("check", shop, "--json").stdout) == {"whole": True, "faults": []}
    copy = tmp_path / "copy.db"
    assert shopdesk("backup", shop, copy).returncode == 0
    assert json.loads(shopdesk("check", copy, "--json").stdout)["whole"]
    refused = shopdesk("backup", shop, copy)
    assert refused.returncode == 2
    assert "already a file" in refused.stderr


def test_a_paper_is_written_byte_for_byte(tour: Path, tmp_path: Path) -> None:
    invoice = next(p for p in told(tour)["papers"] if p["kind"] == "invoice")
    out = tmp_path / "invoice.pdf"
    done = shopdesk(
        "paper", "invoice", invoice["number"], "--shop", tour / "tour_shop.db", "--out", out, "--json"
    )
    assert json.loads(done.stdout)["sha256"] == invoice["sha256"]
    assert hashlib.sha256(out.read_bytes()).hexdigest() == invoice["sha256"]
    missing = shopdesk("paper", "invoice", "I-9999", "--shop", tour / "tour_shop.db", "--out", out)
    assert missing.returncode == 2
    assert "I-9999" in missing.stderr


def test_an_upgrade_of_a_shop_that_is_up_to_date_changes_nothing(tour: Path) -> None:
    before = hashlib.sha256((tour / "tour_shop.db").read_bytes()).hexdigest()
    assert shopdesk("upgrade", tour / "tour_shop.db").returncode == 0
    assert hashlib.sha256((tour / "tour_shop.db").read_bytes()).hexdigest() == before


SHEET = """
shopdesk-sheet = 1
purpose = "resale"
scope = "mechanical"
asking = "450.00"
[range]
lamp = true
[[finding]]
code = "lamp-cord.frayed"
[[finding]]
code = "burner-valves.seized"
[[finding]]
code = "broiler-screws.pulled-through"
[[finding]]
code = "oven-floor.worn"
"""
FOUR = ["Rewire the lamp", "Free the valve", "Bracket the broiler screw", "Season the oven floor"]


def test_a_sheet_with_the_four_findings_gives_the_four_tasks_in_an_order_that_works(tmp_path: Path) -> None:
    file = tmp_path / "garage.toml"
    file.write_text(SHEET, encoding="utf-8")
    answer = json.loads(shopdesk("sheet", file, "--json").stdout)
    names = [task["name"] for task in answer["tasks"]]
    assert set(FOUR) <= set(names)
    place = {task["code"]: n for n, task in enumerate(answer["tasks"])}
    for task in answer["tasks"]:
        assert all(place[earlier] < place[task["code"]] for earlier in task["after"])
        assert task["hours_low"] <= task["hours_likely"] <= task["hours_high"]
    assert place["free-valve"] < place["bench-tightness"]
    assert answer["cost_low_cents"] <= answer["cost_likely_cents"] <= answer["cost_high_cents"]


def test_what_is_wrong_on_a_sheet_is_named_and_the_rest_answered_for_but_not_recorded(
    tour: Path, tmp_path: Path
) -> None:
    file, shop = tmp_path / "garage.toml", tmp_path / "shop.db"
    wrong = SHEET.replace("lamp-cord.frayed", "lamp-cord.frayd")
    file.write_text(wrong + "extent = -3\n", encoding="utf-8")
    done = shopdesk("sheet", file, "--json")
    assert done.returncode == 2
    told = json.loads(done.stdout)
    assert told["problems"] == done.stderr.strip().splitlines()
    assert len(told["problems"]) == 2
    assert "Did you mean lamp-cord.frayed?" in told["problems"][0]
    assert "extent is -3" in told["problems"][1]
    assert {"Free the valve", "Bracket the broiler screw"} <= {task["name"] for task in told["tasks"]}
    assert shopdesk("backup", tour / "tour_shop.db", shop).returncode == 0
    refused = shopdesk("sheet", file, "--into", shop)
    assert (refused.returncode, refused.stdout) == (2, "")
    assert "lamp-cord.frayd" in refused.stderr


def test_a_sheet_is_recorded_whole_in_a_shop(tour: Path, tmp_path: Path) -> None:
    file, shop = tmp_path / "garage.toml", tmp_path / "shop.db"
    file.write_text(SHEET, encoding="utf-8")
    assert shopdesk("backup", tour / "tour_shop.db", shop).returncode == 0
    recorded = json.loads(shopdesk("sheet", file, "--into", shop, "--json").stdout)
    assert recorded["range"] == "R-0002"
    assert json.loads(shopdesk("check", shop, "--json").stdout)["whole"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("check", "nowhere.db"), "There is no shop at"),
        (("check", "README.md"), "is not a shop"),
        (("sheet", "nowhere.toml"), "nowhere.toml"),
        (("gas", "drill", "--input-btuh", "many"), "--input-btuh"),
        (("backup", "nowhere.db", "copy.db"), "There is no shop at"),
    ],
)
def test_bad_input_ends_in_one_sentence_and_exit_2(words: tuple[str, ...], said: str) -> None:
    done = shopdesk(*words)
    assert done.returncode == 2
    assert said in done.stderr
    assert "Traceback" not in done.stderr
    assert len(done.stderr.strip().splitlines()) == 1


@pytest.mark.skipif(sys.platform != "linux", reason="only X11 and Wayland can be missing")
def test_without_a_display_the_window_says_so_and_ends_with_2() -> None:
    done = shopdesk("--sample", DISPLAY="", WAYLAND_DISPLAY="", QT_QPA_PLATFORM="")
    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert len(done.stderr.strip().splitlines()) == 1


def test_an_invoice_is_written_as_xml_and_as_a_duplicate(tour: Path, tmp_path: Path) -> None:
    number = next(p["number"] for p in told(tour)["papers"] if p["kind"] == "invoice")
    words = ("--shop", tour / "tour_shop.db", "--out")
    done = shopdesk("paper", "invoice", number, *words, tmp_path / "bill.xml", "--xml")
    assert done.returncode == 0, done.stderr
    xml = (tmp_path / "bill.xml").read_bytes()
    assert (schema_faults(xml), rule_faults(xml)) == ([], {})
    assert shopdesk("paper", "invoice", number, *words, tmp_path / "d.pdf", "--duplicate").returncode == 0
    assert "Duplicate, made" in PdfReader(tmp_path / "d.pdf").pages[0].extract_text()
    refused = shopdesk("paper", "quote", "Q-0001", *words, tmp_path / "q.xml", "--xml")
    assert (refused.returncode, refused.stdout) == (2, "")
    assert "Only invoices and credits have an XML form" in refused.stderr


def test_the_books_of_a_period_are_written(tour: Path, tmp_path: Path) -> None:
    shop = tour / "tour_shop.db"
    words = (
        "books",
        shop,
        "--from",
        "2020-01-01",
        "--to",
        "2030-12-31",
        "--out",
        tmp_path / "b.xlsx",
        "--json",
    )
    done = shopdesk(*words)
    assert done.returncode == 0, done.stderr
    answer = json.loads(done.stdout)
    assert answer["files"] == [str(tmp_path / "b.xlsx")]
    assert answer["papers"] >= 1
    assert (tmp_path / "b.xlsx").read_bytes().startswith(b"PK")
    wrong = shopdesk("books", shop, "--from", "31.1.2026", "--to", "2026-02-01", "--out", tmp_path / "c")
    assert (wrong.returncode, wrong.stdout) == (2, "")
    assert "--from 31.1.2026 is not a day" in wrong.stderr
