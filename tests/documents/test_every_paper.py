"""What holds for every paper, in Letter and A4."""

import io
import json
import re
from pathlib import Path

import paper_facts as make
import pypdf
import pytest
from every_paper import EVERY
from reading import accepted_by_qpdf, in_order, pages, text

from shopdesk.documents import papers
from shopdesk.documents.facts import ShopHead, as_record
from shopdesk.wording import Region

SHOPS = {"letter": make.a_shop(), "a4": make.an_a4_shop()}
FRAMED = ("before and after",)  # drawn whole, without head or foot
NOT_FOR_A_CUSTOMER = (
    "traveller", "purchase order", "weekly list", "before and after", "log book", "reckoning",
)  # fmt: skip
SIZES = {"letter": (612.0, 792.0), "a4": (595.28, 841.89)}  # points; ANSI and ISO 216


def printed(kind: str, shop: ShopHead) -> bytes:
    render, facts = EVERY[kind]
    return render(facts(shop=shop))


@pytest.mark.parametrize("paper", SHOPS)
@pytest.mark.parametrize("kind", EVERY)
def test_a_paper_has_its_size_its_head_and_its_page_numbers(kind: str, paper: str) -> None:
    pdf = printed(kind, SHOPS[paper])
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    for page in reader.pages:
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(
            SIZES[paper], abs=0.1
        )
    if kind in FRAMED:
        return
    told = pages(pdf)
    in_order(told[0], "Ember & Latch Range Works", "14 Foundry Lane", "555-0142", EVERY[kind][1]().number)
    for number, page in enumerate(told, start=1):
        assert page.rstrip().endswith(f"Page {number} of {len(told)}")


@pytest.mark.parametrize("kind", EVERY)
def test_the_same_facts_give_the_same_bytes_whatever_was_printed_before(kind: str) -> None:
    first = printed(kind, SHOPS["letter"])
    printed("invoice", SHOPS["a4"])
    printed("traveller", SHOPS["letter"])
    assert printed(kind, SHOPS["letter"]) == first


@pytest.mark.parametrize("kind", EVERY)
def test_title_author_and_language_are_set(kind: str) -> None:
    reader = pypdf.PdfReader(io.BytesIO(printed(kind, SHOPS["a4"])))
    assert reader.metadata is not None
    assert EVERY[kind][1]().number in str(reader.metadata.title)
    assert reader.metadata.author == "Ember & Latch Range Works"
    assert reader.trailer["/Root"]["/Lang"] == "en-GB"


@pytest.mark.parametrize("kind", EVERY)
def test_every_font_is_ours_and_embedded(kind: str) -> None:
    reader = pypdf.PdfReader(io.BytesIO(printed(kind, SHOPS["letter"])))
    fonts = {
        str(font.get_object()["/BaseFont"]): font.get_object()
        for page in reader.pages
        for font in page["/Resources"]["/Font"].values()
    }
    assert fonts
    for name, font in fonts.items():
        assert re.fullmatch(r"/[A-Z]{6}\+ShopdeskText-\w+", name)
        assert "/FontFile2" in font["/FontDescriptor"]


@pytest.mark.parametrize("kind", [kind for kind in EVERY if kind not in NOT_FOR_A_CUSTOMER])
def test_a_customer_prints_as_written(kind: str) -> None:
    assert "Ruiz & Søn <b>" in text(printed(kind, SHOPS["letter"]))


@pytest.mark.parametrize("kind", EVERY)
def test_no_paper_calls_anything_safe(kind: str) -> None:
    said = re.findall(r"\bsafe\b|\bsafely\b", text(printed(kind, SHOPS["letter"])), flags=re.IGNORECASE)
    assert said == []


@pytest.mark.parametrize("paper", SHOPS)
@pytest.mark.parametrize("kind", EVERY)
def test_qpdf_accepts_it(kind: str, paper: str, tmp_path: Path) -> None:
    accepted_by_qpdf(printed(kind, SHOPS[paper]), tmp_path)


@pytest.mark.parametrize(
    "kind", ["condition report", "quote", "intake receipt", "proof sheet", "hand-over sheet", "log book"]
)
def test_papers_about_gas_and_mains_defer_to_local_codes_and_licensed_trades(kind: str) -> None:
    assert "The local code, the gas supplier and licensed trades decide" in text(
        printed(kind, SHOPS["letter"])
    )


def test_letters_of_other_alphabets_and_signs_survive() -> None:
    name = "Žofia Łękő, Ελένη & Жанна №4 ½ → ≤ 5 ☐"
    pdf = EVERY["payment receipt"][0](make.a_payment(customer=make.a_customer(name=name)))
    assert name in text(pdf)


def test_control_characters_and_odd_spaces_do_no_harm() -> None:
    pdf = EVERY["payment receipt"][0](make.a_payment(reference="A\x00B\x0bC\u2028D\tE"))
    assert "A B C D E" in text(pdf)


def test_the_shop_without_anything_but_a_name_still_prints() -> None:
    for render, facts in EVERY.values():
        assert "Bare" in text(render(facts(shop=ShopHead(name="Bare", region=Region()))))


def test_a_logo_is_placed_and_a_broken_one_is_said() -> None:
    render, facts = EVERY["invoice"]
    with_logo = render(facts(shop=make.a_shop(logo=make.a_photograph())))
    assert len(list(pypdf.PdfReader(io.BytesIO(with_logo)).pages[0].images)) == 1
    assert "This picture cannot be read." in text(render(facts(shop=make.a_shop(logo=b"no picture"))))


@pytest.mark.parametrize("kind", EVERY)
def test_any_paper_prints_through_one_door_and_its_facts_can_be_kept_as_json(kind: str) -> None:
    render, facts = EVERY[kind]
    assert papers.render(facts()) == render(facts())
    kept = json.loads(json.dumps(as_record(facts()), allow_nan=False))
    assert kept["number"] == facts().number
    assert kept["shop"]["name"] == "Ember & Latch Range Works"
    assert kept["day"] == facts().day.isoformat()


def test_kept_facts_name_pictures_by_their_hash_and_rates_exactly() -> None:
    report = as_record(make.a_report())
    assert len(report["photos"][0]["image"]["sha256"]) == 64
    assert report["findings"][1]["severity"] == "grave"
    assert as_record(make.an_invoice())["totals"]["groups"][1]["tax_kind"]["percent"] == "8.25"


def test_what_is_no_paper_is_refused() -> None:
    with pytest.raises(TypeError):
        papers.render(make.a_shop())
