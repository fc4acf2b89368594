"""A shop's own colour stands on its papers and on nobody else's, and the bytes follow from the facts."""

import io
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import paper_facts as make
import pypdf
import pytest
from every_paper import EVERY

from shopdesk.documents import papers

OXBLOOD, GREEN = "#7a1f1f", "#1f4d36"


def colours(pdf: bytes) -> set[str]:
    """Fill and stroke colours of every page, as `r g b rg`."""
    found = set()
    for page in pypdf.PdfReader(io.BytesIO(pdf)).pages:
        contents = page.get_contents()
        assert contents is not None
        for operands, operator in contents.operations:
            if operator in (b"rg", b"RG"):
                found.add("#" + "".join(f"{round(float(part) * 255):02x}" for part in operands))
    return found


def printed(kind: str, colour: str) -> bytes:
    return papers.render(EVERY[kind][1](shop=replace(make.a_shop(), colour=colour)))


@pytest.mark.parametrize("kind", ["invoice", "quote", "condition report", "reckoning", "before and after"])
def test_the_papers_take_the_shops_colour(kind: str) -> None:
    own, shops = colours(printed(kind, "")), colours(printed(kind, OXBLOOD))
    assert OXBLOOD in shops - own
    assert "#1c2b45" in own - shops


def test_two_shops_printing_at_once_keep_their_colours() -> None:
    alone = {colour: printed("invoice", colour) for colour in (OXBLOOD, GREEN, "")}
    wanted = [OXBLOOD, GREEN, ""] * 4
    with ThreadPoolExecutor(4) as pool:
        assert list(pool.map(lambda colour: printed("invoice", colour), wanted)) == [
            alone[colour] for colour in wanted
        ]
