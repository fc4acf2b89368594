"""The help as web pages: whole, with its pictures, and never over what is there."""

import re
from pathlib import Path

import pytest

from shopdesk import paths
from shopdesk.domain.problem import Problem
from shopdesk.exchange.help_site import write_site
from shopdesk.wording.topics import topics


def test_every_topic_becomes_a_page_whose_links_and_pictures_are_there(tmp_path: Path) -> None:
    pages = write_site(tmp_path / "help")
    assert [page.stem for page in pages] == ["index", *(topic.key for topic in topics())]
    for page in pages:
        text = page.read_text(encoding="utf-8")
        wanted = re.findall(r'(?:src|href)="([^"]+)"', text)
        assert wanted
        assert all((page.parent / name).is_file() for name in wanted), page.name
    assert "<table>" in (tmp_path / "help" / "bench.html").read_text(encoding="utf-8")


def test_a_folder_with_something_in_it_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("mine")
    with pytest.raises(Problem, match="is not empty"):
        write_site(tmp_path)
    assert [file.name for file in tmp_path.iterdir()] == ["mine.txt"]


def test_topics_begin_with_their_title_and_are_numbered_once() -> None:
    files = sorted(paths.resource("help", "en").glob("*.md"))
    assert [file.name[:2] for file in files] == [f"{number:02}" for number in range(1, len(files) + 1)]
    assert all(file.read_text(encoding="utf-8").startswith("# ") for file in files)
