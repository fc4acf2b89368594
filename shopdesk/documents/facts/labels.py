"""Facts of labels: for what came off a range, and the one that says its gas."""

from dataclasses import dataclass
from enum import StrEnum

from shopdesk.documents.facts.parties import ShopHead


class LabelSize(StrEnum):
    """What is in the printer."""

    LETTER = "letter, 3 by 10"
    A4 = "A4, 3 by 8"
    ROLL = "roll, 62 mm"
    LETTER_LARGE = "letter, 2 by 5"
    A4_LARGE = "A4, 2 by 7"
    ROLL_SMALL = "roll, 54 by 25 mm"
    ROLL_LARGE = "roll, 102 by 51 mm"


@dataclass(frozen=True, slots=True, kw_only=True)
class ThingLabel:
    """A part, a bin or a range: its number or name, what it is, and quiet lines below. `qr` opens it."""

    number: str
    what: str = ""
    lines: tuple[str, ...] = ()
    qr: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TagLabel:
    """One tag. `qr` opens it in the program; `range` is its number and name."""

    number: str
    what: str
    how_many: int
    range: str
    goes_back: str
    lies_at: str = ""
    qr: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSheetFacts:
    """Labels in their order; `first` is the first free place of a sheet begun before, from 1."""

    shop: ShopHead
    size: LabelSize
    labels: tuple[TagLabel | ThingLabel, ...]
    first: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class GasLabelFacts:
    """The label by the rating plate. `says`: pressure, conversion; `connecting`: who connects it, and how."""

    shop: ShopHead
    range: str
    gas: str
    says: tuple[str, ...] = ()
    connecting: tuple[str, ...] = ()
    by: str = ""
