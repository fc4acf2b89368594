"""What Set-up asks, without widgets: choices, checks, and figures as the catalogue writes them."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any
from zoneinfo import available_timezones

from babel import Locale
from babel.numbers import get_currency_name

from shopdesk.domain.catalogue.model import Catalogue, Figures, Scope
from shopdesk.domain.money import Spread
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Role
from shopdesk.services.taxes import TAXED_KINDS
from shopdesk.wording import Region, languages, say

CURRENCIES = (
    "USD", "CAD", "EUR", "GBP", "AUD", "NZD", "CHF", "SEK", "NOK", "DKK", "PLN", "CZK", "HUF", "MXN", "JPY",
)  # fmt: skip
_LOCALES = (
    "en_US", "en_CA", "en_GB", "en_IE", "en_AU", "en_NZ", "de_DE", "de_AT", "de_CH", "fr_FR", "fr_CA",
    "nl_NL", "sv_SE", "nb_NO", "da_DK", "pl_PL", "cs_CZ", "hu_HU", "es_MX", "ja_JP",
)  # fmt: skip


# Region


def language_choices(now: str) -> list[tuple[str, str]]:
    """Ways of writing, each by its own name; the one in use is always among them."""
    codes = [*_LOCALES, *([now] if now.replace("-", "_") not in _LOCALES else [])]
    return [(code, _language_name(code)) for code in codes]


def _language_name(code: str) -> str:
    locale = Locale.parse(code.replace("-", "_"))
    name = locale.get_display_name(Locale("en")) or code
    if locale.language in languages():
        return name
    return say("{name} (figures and days; the words stay English)", name=name)


def currency_choices() -> list[tuple[str, str]]:
    """Currencies by code and name (ISO 4217)."""
    return [(code, f"{code}, {get_currency_name(code, locale='en')}") for code in CURRENCIES]


def zones() -> list[str]:
    """Time zones by their IANA names, for completing what is typed."""
    return sorted(name for name in available_timezones() if "/" in name and not name.startswith("Etc/"))


def read_region(values: Mapping[str, Any]) -> Region:
    """The region as typed; a Problem names its field."""
    zone = str(values["timezone"]).strip().replace(" ", "_")
    try:
        Region(timezone=zone)
    except Problem as problem:
        raise Problem(problem.text, field="timezone", **problem.facts) from None
    return Region(values["language"], values["currency"], values["units"], values["paper"], zone)


# People, rates, taxes


def roles() -> list[tuple[Role, str]]:
    return [
        (Role.OWNER, say("Owner: everything, and sees what things cost")),
        (Role.TECHNICIAN, say("Technician: walk-rounds, bench and proofs")),
        (Role.DESK, say("Desk: customers, quotes, invoices and payments")),
    ]


def skills(catalogue: Catalogue) -> list[tuple[str, str]]:
    """Skills that the catalogue's tasks ask for."""
    words = {
        "bench": say("bench work"), "desk": say("desk work"), "electrical": say("electrical work"),
        "gas": say("gas work"), "helper": say("a helper’s hands"),
        "licensed": say("licensed trades"), "owner": say("the owner’s own work"),
    }  # fmt: skip
    asked = sorted({skill for task in catalogue.tasks.values() for skill in task.skills})
    return [(skill, words.get(skill, skill)) for skill in asked]


def kinds() -> list[tuple[str, str]]:
    """Kinds of lines that carry tax."""
    words = {
        "labour": say("Labour"), "part": say("Parts"), "outwork": say("Outwork"),
        "delivery": say("Delivery"), "charge": say("Charges and sales"),
    }  # fmt: skip
    return [(kind, words[kind]) for kind in TAXED_KINDS]


def categories() -> list[tuple[str, str]]:
    """Tax categories by their UNCL5305 code (EN 16931, BT-151)."""
    return [
        ("S", say("Taxed")),
        ("Z", say("Taxed at zero")),
        ("E", say("Exempt")),
        ("O", say("Outside the scope of tax")),
    ]


def check_tax(values: Mapping[str, Any]) -> None:
    """A taxed line has a rate, the others have none."""
    percent = values["percent"] or Decimal(0)
    if values["category"] == "S" and not percent:
        raise Problem("Write the rate, or choose that it is taxed at zero.", field="percent")
    if values["category"] != "S" and percent:
        raise Problem("Only what is taxed has a rate. Empty it, or choose Taxed.", field="percent")


# Figures of the catalogue


@dataclass(frozen=True, slots=True)
class Figure:
    """One trade figure: `path` as in figures.toml, its kind, its name, and the shipped value."""

    path: tuple[str, ...]
    kind: str  # money, share, spread
    name: str
    shipped: Any

    @property
    def field(self) -> str:
        return "/".join(self.path)


def figures(shipped: Figures) -> list[Figure]:
    """Every figure a shop may overwrite, in the order in which they are read."""
    return [*_plain(shipped), *_shares(shipped), *_spreads(shipped), *_worths(shipped)]


def _plain(shipped: Figures) -> Iterator[Figure]:
    named = (
        ("charge_per_hour", "money", say("An hour is charged at")),
        ("cost_per_hour", "money", say("An hour costs the shop")),
        ("margin", "share", say("Margin that should be left, of the sale")),
        ("confidence", "share", say("How often it should be left")),
        ("selling_share", "share", say("Cost of selling, of the price")),
        ("warranty_share", "share", say("Put aside for warranty, of the price")),
        ("correlation", "share", say("How far overruns go together")),
        ("donor_sold_share", "share", say("Sound parts of a donor that are sold")),
        ("claimed_trust", "share", say("Risk that a mere claim takes away")),
        ("good_finish", "share", say("What a sound original finish adds to the price")),
        ("most_taken", "share", say("The most that faults left take off the price")),
        ("offer_step", "money", say("Offers are rounded to")),
    )
    for key, kind, name in named:
        yield Figure((key,), kind, name, getattr(shipped, key))


def _shares(shipped: Figures) -> Iterator[Figure]:
    """What a finding takes off, by how serious it is."""
    words = {
        "none": say("no matter"),
        "minor": say("minor"),
        "serious": say("serious"),
        "grave": say("grave"),
    }
    for severity in ("minor", "serious", "grave"):
        name = say("A fault left takes off the price: {severity}", severity=words[severity])
        yield Figure(("left_takes", severity), "share", name, shipped.left_takes[severity])
    for severity, share in shipped.still_sells.items():
        name = say("A donor part with a fault still brings: {severity}", severity=words[severity])
        yield Figure(("still_sells", severity), "share", name, share)


def _spreads(shipped: Figures) -> Iterator[Figure]:
    scopes = {
        Scope.MECHANICAL: say("mechanical-only"), Scope.EVERYDAY: say("everyday finish"),
        Scope.SHOW: say("show finish"),
    }  # fmt: skip
    yield Figure(("unrestored",), "spread", say("An unrestored range brings"), shipped.unrestored)
    for scope, word in scopes.items():
        name = say("A finished range brings, {scope}", scope=word)
        yield Figure(("finished", scope.value), "spread", name, shipped.finished[scope.value])
    yield Figure(("haulage",), "spread", say("Haulage of a range"), shipped.haulage)
    yield Figure(("disposal",), "spread", say("Disposal of a range"), shipped.disposal)


def _worths(shipped: Figures) -> Iterator[Figure]:
    words = {
        "burners6": say("six burners"), "two ovens": say("two ovens"), "deep well": say("a deep well"),
        "griddle": say("a griddle"), "fold top": say("a fold top"), "clock": say("a clock"),
        "lamp": say("a lamp"), "shelf": say("a shelf"), "window": say("an oven window"),
    }  # fmt: skip
    for feature, cents in shipped.feature_worth.items():
        name = say("Adds to its price: {what}", what=words.get(feature, feature))
        yield Figure(("feature_worth", feature), "money", name, cents)


def value_of(own: Figures, figure: Figure) -> Any:
    """What the shop works with now."""
    value: Any = own
    for key in figure.path:
        value = value[key] if isinstance(value, Mapping) else getattr(value, key)
    return value


def as_written(known: list[Figure], values: Mapping[str, Any]) -> dict[str, Any]:
    """The figures that differ from the shipped ones, as figures.toml writes them; empty ones are shipped."""
    own: dict[str, Any] = {}
    for figure in known:
        value = values[figure.field]
        if figure.kind == "share" and value is not None:
            value = float(value / 100)
        if value is None or value == figure.shipped:
            continue
        table = own if len(figure.path) == 1 else own.setdefault(figure.path[0], {})
        table[figure.path[-1]] = _written(value)
    return own


def as_percent(share: float) -> Decimal:
    """A share of one as the percentage people read."""
    return Decimal(str(share)) * 100


def _written(value: Any) -> Any:
    if isinstance(value, Spread):
        return [_written(value.low), _written(value.likely), _written(value.high)]
    if isinstance(value, int):
        return f"{value // 100}.{value % 100:02d}"
    return value
