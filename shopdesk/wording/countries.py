"""Countries as people write them, and their two-letter codes (ISO 3166-1)."""

from functools import cache

from babel import Locale

# As they stand on envelopes (common practice, no source).
_SHORT = {
    "usa": "US", "u.s.a.": "US", "u.s.": "US", "united states of america": "US", "america": "US",
    "uk": "GB", "u.k.": "GB", "great britain": "GB", "england": "GB", "scotland": "GB", "wales": "GB",
    "northern ireland": "GB", "the netherlands": "NL", "holland": "NL",
}  # fmt: skip


def country_code(text: str, locale: str) -> str:
    """The code of a country written in English, in the shop's language or as its code.

    Without a country it is the one of the locale; empty when the word is not known.
    """
    word = " ".join(text.split()).casefold()
    if not word:
        return Locale.parse(locale).territory or ""
    if word in _SHORT:
        return _SHORT[word]
    known = _codes("en") | _codes(locale)
    return word.upper() if word.upper() in known.values() else known.get(word, "")


def is_country_code(text: str) -> bool:
    return text in _codes("en").values()


@cache
def _codes(locale: str) -> dict[str, str]:
    names = Locale.parse(locale).territories
    return {name.casefold(): code for code, name in names.items() if len(code) == 2 and code.isalpha()}
