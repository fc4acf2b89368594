"""Translation: English as fallback, catalogues read as they stand, slips named."""

from collections.abc import Iterator
from enum import StrEnum
from pathlib import Path

import pytest
from babel.messages.pofile import read_po

from shopdesk import paths
from shopdesk.domain.problem import Problem
from shopdesk.wording import languages, say, say_n, say_problem, speech, use_language

HEADER = r"""msgid ""
msgstr ""
"Content-Type: text/plain; charset=utf-8\n"
"Plural-Forms: nplurals=2; plural=(n != 1);\n"
"""


class Stage(StrEnum):
    READY = "ready"


@pytest.fixture(autouse=True)
def english_again() -> Iterator[None]:
    yield
    use_language("en")


def a_catalogue(folder: Path, body: str, code: str = "de") -> Path:
    (folder / f"{code}.po").write_text(HEADER + "\n" + body, encoding="utf-8")
    return folder


def test_english_needs_no_catalogue_and_fills_in_the_facts() -> None:
    assert say("Range {number} is ready.", number="R-7") == "Range R-7 is ready."
    assert say("100 % of {braces") == "100 % of {braces"
    assert say("") == ""


def test_plurals_follow_the_count() -> None:
    assert say_n("{count} range", "{count} ranges", 1) == "1 range"
    assert say_n("{count} range", "{count} ranges", 0) == "0 ranges"
    assert say_n("{count} range of {name}", "{count} ranges of {name}", 3, name="Ada") == "3 ranges of Ada"


def test_a_translation_is_used_and_missing_entries_stay_english(tmp_path: Path) -> None:
    body = 'msgid "Range {number}"\nmsgstr "Herd {number}"\n\n'
    body += 'msgid "{count} range"\nmsgid_plural "{count} ranges"\n'
    body += 'msgstr[0] "{count} Herd"\nmsgstr[1] "{count} Herde"\n\nmsgid "ready"\nmsgstr "bereit"\n'
    use_language("de_AT", a_catalogue(tmp_path, body))
    assert say("Range {number}", number=4) == "Herd 4"
    assert say_n("{count} range", "{count} ranges", 2) == "2 Herde"
    assert say("Not there") == "Not there"
    assert say("{stage}", stage=Stage.READY) == "bereit"
    assert say_problem(Problem("Range {number}", number=9)) == "Herd 9"
    assert languages(tmp_path) == ["en", "de"]


def test_a_translation_that_asks_for_an_unknown_fact_is_named(tmp_path: Path) -> None:
    folder = a_catalogue(tmp_path, 'msgid "Range {number}"\nmsgstr "Herd {nummer}"\n')
    with pytest.raises(Problem, match=r"de\.po.*nummer"):
        use_language("de", folder)


@pytest.mark.parametrize("code", ["xx", "zz_ZZ", "../en", "de"])
def test_a_missing_language_is_a_sentence_and_leaves_english(tmp_path: Path, code: str) -> None:
    with pytest.raises(Problem):
        use_language(code, tmp_path)
    assert say("Stores") == "Stores"


def test_a_broken_catalogue_is_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "de.po").write_bytes(b'msgid "a"\nmsgid_plural\nrubbish \xff\xfe\n')
    with pytest.raises(Problem, match="cannot be read"):
        use_language("de", tmp_path)


def test_every_shipped_language_loads() -> None:
    codes = languages()
    assert codes[0] == "en"
    for code in codes:
        use_language(code)
        if code != "en":
            with paths.resource("wording", f"{code}.po").open("rb") as stream:
                first = next(m for m in read_po(stream) if m.id and m.string and isinstance(m.id, str))
            assert speech.say(first.id) == first.string
