"""Labels of parts, bins and ranges, read back by an independent reader of codes, open what they name."""

import shutil
import subprocess
from pathlib import Path

import pytest
import zxingcpp
from builders import a_firm, agreed, owned
from PIL import Image

from shopdesk.documents.facts import LabelSize
from shopdesk.domain.codes import Code, Thing, read_code
from shopdesk.domain.problem import NotFound, Problem
from shopdesk.domain.stock import Fit
from shopdesk.services import found, part_cards, purchasing, stock, tags
from shopdesk.services.papers import labels


def codes_on(pdf: bytes, folder: Path) -> list[str]:
    if shutil.which("pdftoppm") is None:
        pytest.skip("no pdftoppm on this machine (Debian: poppler-utils)")
    (folder / "labels.pdf").write_bytes(pdf)
    command = ["pdftoppm", "-gray", "-r", "200", "labels.pdf", "page"]
    subprocess.run(command, cwd=folder, check=True, capture_output=True)
    return [
        code.text
        for page in sorted(folder.glob("page*.pgm"))
        for code in zxingcpp.read_barcodes(Image.open(page))
    ]


def test_the_labels_of_parts_bins_tags_and_ranges_lead_back_to_what_they_name(shop, tmp_path):
    taken = agreed(shop, "top-enamel.chipped")
    part = stock.keep_part(shop.desk, "griddle plate", condition="used", lies_at="shelf A/2 <low>", count=1)
    draft = part_cards.PartDraft(name="griddle plate", condition="used", fits=(Fit(maker="Corvane"),),
                                 lies_at="shelf A/2 <low>")  # fmt: skip
    part_cards.change_part(shop.desk, part, draft)
    tag = tags.tag_off(shop.technician, taken.job_id, tags.TagDraft(what="knobs", goes_back_words="front"))
    printed = {
        Thing.PART: labels.part_labels(shop.desk, [part]),
        Thing.BIN: labels.bin_labels(shop.desk, ["shelf A/2 <low>"], LabelSize.ROLL_SMALL),
        Thing.RANGE: labels.range_labels(shop.desk, [taken.range_id], LabelSize.LETTER_LARGE),
        Thing.TAG: labels.tag_labels(shop.desk, [tag], LabelSize.A4_LARGE),
    }
    for thing, pdf in printed.items():
        folder = tmp_path / thing
        folder.mkdir()
        (text,) = codes_on(pdf, folder)
        code = read_code(text)
        assert code is not None
        there = found.find(shop.desk, code)
        assert there.thing is thing
        assert there.id in {part, tag, taken.range_id, 0}
        assert there.name in {"S-0001", "shelf A/2 <low>", taken.number, "B-0001"}


def test_a_code_finds_orders_whatever_its_case_and_says_when_there_is_none(shop):
    supplier = a_firm(shop.desk, supplies=True)
    order = purchasing.order_parts(shop.desk, supplier, [purchasing.OrderLine("clip", 1, 5)])
    assert found.find(shop.desk, Code(Thing.ORDER, "o-0001")).id == order
    with pytest.raises(NotFound, match="no consignment K-0009"):
        found.find(shop.desk, Code(Thing.CONSIGNMENT, "K-0009"))
    with pytest.raises(NotFound, match="no part %"):
        found.find(shop.desk, Code(Thing.PART, "%"))


def test_nothing_is_printed_of_nothing(shop):
    owned(shop, "top-enamel.chipped")
    for make, what in ((labels.part_labels, [99]), (labels.bin_labels, [" "]), (labels.range_labels, [99])):
        with pytest.raises(Problem, match="Choose at least one"):
            make(shop.desk, what)
    with pytest.raises(Problem, match="places 1 to 10"):
        labels.bin_labels(shop.desk, ["A1"], LabelSize.LETTER_LARGE, first=11)
