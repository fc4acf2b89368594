"""Text folded for searching: the same words whatever the accents, case or punctuation."""

import re
import unicodedata


def fold(text: str) -> str:
    """'Müller R-2' -> 'muller r 2'."""
    plain = "".join(c for c in unicodedata.normalize("NFKD", text) if not unicodedata.combining(c))
    return " ".join(re.findall(r"\w+", plain.casefold()))
