"""Text folded for searching: the same words whatever the accents, case or punctuation."""

import re
import unicodedata

# Letters that Unicode does not take apart into a plain letter and a mark.
_PLAIN = str.maketrans({"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i"})


def fold(text: str) -> str:
    """'Müller R-2' -> 'muller r 2', 'Søn' -> 'son'."""
    plain = "".join(c for c in unicodedata.normalize("NFKD", text) if not unicodedata.combining(c))
    return " ".join(re.findall(r"\w+", plain.casefold().translate(_PLAIN)))
