"""Who and what a paper is about: the shop, the other side, the range."""

from dataclasses import dataclass, field

from shopdesk.wording import Region


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """An address by its parts, for programs; papers print its lines."""

    street: str = ""
    town: str = ""
    region: str = ""
    postcode: str = ""
    country: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopHead:
    """The letterhead. `registration`: a dealer's or licence number; `footer`: the shop's own line."""

    name: str
    address_lines: tuple[str, ...] = ()
    phone: str = ""
    email: str = ""
    web: str = ""
    tax_number: str = ""
    registration: str = ""
    footer: str = ""
    place: Place = field(default_factory=Place)
    logo: bytes | None = field(default=None, repr=False)
    region: Region = field(default_factory=Region)
    colour: str = ""  # of headings and rules, #rrggbb; "" for the program's own


@dataclass(frozen=True, slots=True, kw_only=True)
class PartyFacts:
    """A customer, seller or supplier as it stood when the paper was made."""

    name: str
    address_lines: tuple[str, ...] = ()
    phone: str = ""
    email: str = ""
    tax_number: str = ""
    place: Place = field(default_factory=Place)


@dataclass(frozen=True, slots=True, kw_only=True)
class RangeFacts:
    """One range. `build`: how it is built, in words; sizes as text in the shop's units."""

    number: str
    maker: str = ""
    model: str = ""
    serial: str = ""
    made_about: str = ""
    colour: str = ""
    gas_on_plate: str = ""
    build: str = ""
    width: str = ""
    depth: str = ""
    height: str = ""
    weight: str = ""
