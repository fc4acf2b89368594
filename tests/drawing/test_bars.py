"""Bars laid out in fractions: within their box, from nothing on, with the spans of what is a range."""

import io

import pypdf
from hypothesis import given
from hypothesis import strategies as st

from shopdesk.documents.facts import FigureTable, ReckoningFacts, ShopHead
from shopdesk.documents.reckoning import render
from shopdesk.drawing.bars import Series, bars_of
from shopdesk.wording import Region

CENTS = st.integers(-10_000_000, 10_000_000)


@given(st.lists(st.tuples(CENTS, CENTS), min_size=1, max_size=12), st.booleans())
def test_every_bar_lies_within_its_box_and_begins_or_ends_at_nothing(values, upright) -> None:
    spans = tuple((min(pair), max(pair)) for pair in values)
    series = [
        Series("billed", "hollow", tuple(first for first, _ in values)),
        Series("left", "hatched", tuple(second for _, second in values), spans),
    ]
    bars = bars_of("Money", [str(n) for n in range(len(values))], series, str, upright=upright, step=100)
    assert 0 <= bars.zero <= 1
    assert [text for _, text in bars.scale] == sorted((t for _, t in bars.scale), key=int)
    for group, pair in zip(bars.groups, values, strict=True):
        for bar, value in zip(group.bars, pair, strict=True):
            assert -1e-9 <= bar.begin <= bar.end <= 1 + 1e-9
            assert abs((bar.begin if value >= 0 else bar.end) - bars.zero) < 1e-9
            assert bar.words == str(value)
        low, high = group.bars[1].span or (2, -1)
        assert -1e-9 <= low <= high <= 1 + 1e-9


def test_longer_is_more() -> None:
    bars = bars_of("Money", ["a", "b"], [Series("x", "solid", (100, 300))], str, keys=["one", "two"])
    first, second = (group.bars[0] for group in bars.groups)
    assert abs((second.end - bars.zero) - 3 * (first.end - bars.zero)) < 1e-9
    assert [group.key for group in bars.groups] == ["one", "two"]
    assert bars.words == "Money; a: x 100; b: x 300"


def test_nothing_to_show_is_laid_out_too() -> None:
    assert bars_of("Money", [], [Series("x", "solid", ())], str).groups == ()
    flat = bars_of("Money", ["a"], [Series("x", "solid", (0,))], str).groups[0].bars[0]
    assert flat.begin == flat.end


def test_on_paper_bars_are_lines_not_pictures() -> None:
    series = [Series("billed", "hatched", (500, 200)), Series("spent", "crossed", (-100, 300))]
    bars = bars_of("Money", ["Valves", "Oven floor"], series, str)
    section = FigureTable(
        title="Money", note="", heads=("Finding", "Left"), rows=(("Valves", "4"),), bars=bars
    )
    facts = ReckoningFacts(
        shop=ShopHead(name="Emberlow", region=Region()), number="2026", day=Region().parse_day("2026-03-17"),
        in_short=(), sections=(section,),
    )  # fmt: skip
    reader = pypdf.PdfReader(io.BytesIO(render(facts)))
    assert all(not page.images for page in reader.pages)
    told = reader.pages[0].extract_text()
    for word in ("Valves", "Oven floor", "billed", "spent", "-100"):
        assert word in told
