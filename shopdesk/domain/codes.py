"""What our labels say to a reader of codes: which thing of this shop they name.

`shopdesk:part/S-0012`. Only this scheme is ever followed; a code of anybody else's is text.
"""

import re
from dataclasses import dataclass
from enum import StrEnum
from urllib.parse import quote, unquote

SCHEME = "shopdesk:"
MOST = 200  # characters of a code


class Thing(StrEnum):
    """What a code may name."""

    TAG = "tag"
    PART = "part"
    BIN = "bin"
    RANGE = "range"
    ORDER = "order"
    CONSIGNMENT = "consignment"


_PATTERN = re.compile(rf"{SCHEME}({'|'.join(Thing)})/([\w.~%!$&'()*+,;=@:-]+)\Z", re.ASCII | re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Code:
    """A thing by its number, or a bin by its name."""

    thing: Thing
    name: str

    def __str__(self) -> str:
        return f"{SCHEME}{self.thing}/{quote(self.name, safe='')}"


def read_code(text: str) -> Code | None:
    """What a text names, if it is a code of ours and nothing else."""
    text = text.strip()
    found = _PATTERN.match(text) if len(text) <= MOST else None
    name = unquote(found.group(2)).strip() if found else ""
    if found is None or not name or any(not c.isprintable() for c in name):
        return None
    return Code(Thing(found.group(1).lower()), name)


def code_at_end(text: str) -> tuple[str, Code] | None:
    """A code that a text ends with, as a scanner types it behind other words, and what stands before it."""
    tail = text.rstrip()
    at = tail.lower().rfind(SCHEME)
    code = read_code(tail[at:]) if at >= 0 else None
    return (tail[:at], code) if code is not None else None
