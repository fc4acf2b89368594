"""Duplicates: marked on every page, on a copy, and the same from the same bytes."""

import io
from pathlib import Path

import paper_facts as make
import pypdf
import pytest
from reading import accepted_by_qpdf, pages

from shopdesk.documents import papers
from shopdesk.documents.duplicate import marked_copy

MARK = "Duplicate, made March 1, 2026"


@pytest.mark.parametrize("shop", [make.a_shop(), make.an_a4_shop()])
def test_every_page_of_a_duplicate_is_marked_and_else_as_it_was(shop: object, tmp_path: Path) -> None:
    issued = papers.render(make.a_report(shop=shop))
    made = marked_copy(issued, MARK)
    before, after = pages(issued), pages(made)
    assert len(before) > 1
    for old, new in zip(before, after, strict=True):
        assert new.replace(MARK, "").split() == old.split()
        assert new.count(MARK) == 1
    assert marked_copy(issued, MARK) == made
    assert papers.render(make.a_report(shop=shop)) == issued
    accepted_by_qpdf(made, tmp_path)


def test_a_duplicate_keeps_title_and_language() -> None:
    reader = pypdf.PdfReader(io.BytesIO(marked_copy(papers.render(make.an_invoice()), MARK)))
    assert reader.metadata is not None
    assert "Invoice" in str(reader.metadata.title)
    assert reader.trailer["/Root"]["/Lang"]
