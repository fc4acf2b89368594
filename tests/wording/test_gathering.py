"""What translators are given: every text people can read, each once, and nothing of the program's own."""

from pathlib import Path

from babel.messages.catalog import Catalog

from shopdesk.wording.gathering import brought_up, missing, texts

SOURCE = '''"""A room."""
from enum import StrEnum


class Stage(StrEnum):
    READY = "ready to go"


LABELS = {"a": "Booked in by", "column": "booked_in"}
__all__ = ["Stage"]


def line(count: int) -> str:
    """Not said."""
    raise ValueError("Nobody reads this one")
    say_n("{count} range", "{count} ranges", count)
    raise Problem("There is no range {number}.", number=1)
    return say("Book a range in") + f"no part of it {count}"
'''


def gathered(folder: Path) -> dict[str, str]:
    (folder / "ui").mkdir()
    (folder / "ui" / "room.py").write_text(SOURCE, encoding="utf-8")
    return {text.one: text.many for text in texts(folder) if text.where[0] == "ui/room.py"}


def test_what_is_said_is_gathered_wherever_it_is_written(tmp_path: Path) -> None:
    assert gathered(tmp_path) == {
        "ready to go": "",
        "Booked in by": "",
        "{count} range": "{count} ranges",
        "There is no range {number}.": "",
        "Book a range in": "",
    }


def test_the_catalogue_and_the_whole_program_are_gathered() -> None:
    found = {text.one for text in texts()}
    assert {"Take back what was done", "Book a range in", "not seen", "Free the valve"} <= found


def test_a_catalogue_is_brought_up_and_says_what_it_lacks() -> None:
    old = Catalog("de")
    old.add("Book a range in", "Herd aufnehmen")
    old.add("Gone from the program", "Fort")
    new = brought_up(old, "de")
    assert new.get("Book a range in").string == "Herd aufnehmen"
    assert new.get("Gone from the program") is None
    assert "Free the valve" in missing(new)
    assert "Book a range in" not in missing(new)
