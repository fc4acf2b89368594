"""Labels for what came off: where they lie on the sheet, and what a reader of codes makes of them."""

import io
import shutil
import subprocess
from pathlib import Path

import paper_facts as make
import pypdf
import pytest
import zxingcpp
from PIL import Image
from reading import accepted_by_qpdf, text

from shopdesk.documents import labels, papers
from shopdesk.documents.facts import LabelSheetFacts, LabelSize, TagLabel
from shopdesk.documents.labels import SHEETS

# ISO 216 and ANSI paper; 62 mm is a usual width of label tape (common practice, no source). Points.
PAGES = {LabelSize.LETTER: (612, 792), LabelSize.A4: (595.28, 841.89), LabelSize.ROLL: (175.75, 102.05),
         LabelSize.LETTER_LARGE: (612, 792), LabelSize.A4_LARGE: (595.28, 841.89),
         LabelSize.ROLL_SMALL: (153.07, 70.87), LabelSize.ROLL_LARGE: (289.13, 144.57)}  # fmt: skip


def sheet(size: LabelSize, count: int, first: int = 1) -> LabelSheetFacts:
    made = tuple(
        TagLabel(
            number=f"B-{n:04d}",
            what="screws of the oven door, upper hinge, with their washers & <springs>",
            how_many=n,
            range="R-0017, Corvane No. 40",
            goes_back="Oven door, upper hinge",
            lies_at="tin 4, shelf A1",
            qr=f"shopdesk:tag/B-{n:04d}",
        )
        for n in range(1, count + 1)
    )
    return LabelSheetFacts(shop=make.a_shop(), size=size, labels=made, first=first)


def page_images(pdf: bytes, folder: Path) -> list[Image.Image]:
    """The pages as a printer of 200 dots per inch would show them."""
    if shutil.which("pdftoppm") is None:
        pytest.skip("no pdftoppm on this machine (Debian: poppler-utils)")
    (folder / "labels.pdf").write_bytes(pdf)
    subprocess.run(
        ["pdftoppm", "-gray", "-r", "200", "labels.pdf", "page"], cwd=folder, check=True, capture_output=True
    )
    return [Image.open(path) for path in sorted(folder.glob("page*.pgm"))]


@pytest.mark.parametrize("size", LabelSize)
def test_every_label_s_code_is_read_back_where_it_was_put(size: LabelSize, tmp_path: Path) -> None:
    places = SHEETS[size].places
    first = min(places, 3)
    facts = sheet(size, places + 2, first)
    seen = []
    for number, image in enumerate(page_images(labels.render(facts), tmp_path)):
        for code in zxingcpp.read_barcodes(image):
            at = code.position.top_left
            scale = 72 / 200
            column = int((at.x * scale - SHEETS[size].left) // SHEETS[size].label[0])
            row = int((at.y * scale - SHEETS[size].top) // (SHEETS[size].down or 1e9))
            seen.append((number * places + row * SHEETS[size].columns + column, code.text))
    wanted = [(first - 1 + n, label.qr) for n, label in enumerate(facts.labels)]
    assert sorted(seen) == wanted


@pytest.mark.parametrize("size", LabelSize)
def test_a_page_has_the_size_of_what_is_in_the_printer_and_holds_its_labels(size: LabelSize) -> None:
    pdf = labels.render(sheet(size, SHEETS[size].places + 1))
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    assert len(pages) == 2
    for page in pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(
            PAGES[size], abs=0.1
        )
    plan = SHEETS[size]
    x, y = plan.corner(plan.places - 1)
    assert x + plan.label[0] <= plan.page[0] + 0.01
    assert y >= -0.01


def test_a_label_says_what_and_where_it_goes_back_and_cuts_what_is_too_long() -> None:
    told = text(labels.render(sheet(LabelSize.LETTER, 1)))
    assert "B-0001" in told
    assert "1 × screws of the oven" in told
    assert "Back to: Oven door" in told
    assert "R-0017" in told


def test_no_word_of_a_label_leaves_its_label() -> None:
    plan = SHEETS[LabelSize.LETTER]
    page = pypdf.PdfReader(io.BytesIO(labels.render(sheet(LabelSize.LETTER, 30)))).pages[0]
    found: list[tuple[str, float, float]] = []
    page.extract_text(visitor_text=lambda word, cm, tm, _font, _size: found.append((word, tm[4], tm[5])))
    spoken = [(x, y) for word, x, y in found if word.strip()]
    assert len(spoken) > 100
    corners = [plan.corner(place) for place in range(30)]
    for x, y in spoken:
        assert any(
            left <= x <= left + plan.label[0] and low <= y <= low + plan.label[1] for left, low in corners
        )


@pytest.mark.parametrize("size", LabelSize)
def test_the_same_labels_give_the_same_bytes_through_the_one_door(size: LabelSize, tmp_path: Path) -> None:
    facts = sheet(size, 2)
    assert papers.render(facts) == labels.render(facts) == labels.render(facts)
    accepted_by_qpdf(labels.render(facts), tmp_path)
