"""The second language is whole: every text the program can say has its German, in the trade's words."""

import re
from collections.abc import Iterator

import pytest
from babel.messages.pofile import read_po

from shopdesk import paths
from shopdesk.wording import languages, say, say_n, use_language
from shopdesk.wording.gathering import texts


@pytest.fixture
def german() -> Iterator[None]:
    use_language("de")
    yield
    use_language("en")


def test_every_text_of_the_program_has_its_german() -> None:
    with paths.resource("wording", "de.po").open("rb") as stream:
        catalog = read_po(stream, locale="de")
    lacking = []
    for text in texts():
        message = catalog.get(text.one)
        said = message.string if message is not None else ""
        if not (all(said) if isinstance(said, tuple) else said):
            lacking.append(text.one)
    assert lacking == [], "run python -m shopdesk.wording.gathering and translate what is new"


@pytest.mark.usefixtures("german")
def test_the_trade_is_told_in_its_own_words() -> None:
    assert "de" in languages()
    assert [say(word) for word in ("Walk-round", "not seen", "Free the valve")] == [
        "Rundgang", "nicht gesehen", "Den Hahn lösen",
    ]  # fmt: skip
    told = say_n("{count} invoice or credit", "{count} invoices and credits", 2)
    assert told == "2 Rechnungen und Gutschriften"


@pytest.mark.usefixtures("german")
def test_a_key_letter_of_a_label_is_a_plain_letter() -> None:
    for text in texts():
        if re.search(r"(?<!&)&\w", text.one):
            letters = re.findall(r"(?<!&)&(.)", say(text.one))
            assert len(letters) == 1, text.one
            assert re.fullmatch(r"[A-Za-z0-9]", letters[0]), text.one


@pytest.mark.usefixtures("german")
def test_nothing_is_called_without_danger() -> None:
    """A safety pilot is a part; nothing else is `sicher`."""
    for text in texts():
        for one in (text.one, text.many):
            told = say(one) if one else ""
            assert not re.search(r"\b(un)?bedenklich|\bgefahrlos|\b(ist|sind|gilt|gelten) sicher\b", told), (
                one
            )
