"""The shop's own settings: frozen values kept as JSON documents under a name."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, fields
from typing import TYPE_CHECKING, Any, TypeVar

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.storage.tables.shop import Setting
from shopdesk.wording.region import Region

if TYPE_CHECKING:
    from shopdesk.storage.unit_of_work import UnitOfWork


@dataclass(frozen=True, slots=True)
class ShopIdentity:
    """Who the shop is, as it prints on its papers."""

    name: str = ""
    street: str = ""
    town: str = ""
    region: str = ""
    postcode: str = ""
    country: str = ""
    phone: str = ""
    email: str = ""
    registration: str = ""  # licence or registration number, where the law asks for one
    tax_number: str = ""
    logo_png: str = ""  # base64
    colour: str = ""  # of its papers, as `domain.colour.ink` gives it; "" for the program's own


@dataclass(frozen=True, slots=True)
class Terms:
    """The shop's own terms; percentages are whole numbers, days are calendar days."""

    deposit_percent: int = 30
    quote_valid_days: int = 30
    payment_days: int = 14
    ceiling_percent: int = 10
    part_markup_percent: int = 30
    outwork_handling_percent: int = 15
    sundries_percent: int = 3
    delivery_cents: int = 30000
    warn_at_percent: int = 80
    warranty_days: int = 90
    seed: int = 1


@dataclass(frozen=True, slots=True)
class Clocks:
    """The shop's own rules for what it waits for; days are calendar days, amounts minor units.

    A ready range stands free for `storage_free_days`, then costs `storage_cents` a day. Ready letters
    go out on these days after the range is ready, reminders on these days after a bill was due, each
    in its order. Local law comes first; the letters say so.
    """

    ready_days: tuple[int, ...] = (0, 14, 30, 60)
    reminder_days: tuple[int, ...] = (7, 21, 45)
    storage_free_days: int = 30
    storage_cents: int = 0
    dispute_days: int = 14  # within which a question is answered


@dataclass(frozen=True, slots=True)
class Letters:
    """The shop's own texts of its letters, by kind; an empty one is the program's."""

    texts: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Margin:
    """Tax on the margin of second-hand goods, where a shop chose that scheme; the rate as text."""

    on: bool = False
    percent: str = "0"
    note: str = ""  # prints on the invoice, as the law of the place words it


@dataclass(frozen=True, slots=True)
class Texts:
    """Standard sentences of the shop's papers; empty ones print nothing."""

    quote: str = ""
    invoice: str = ""
    report: str = ""
    warranty: str = ""
    local_law: str = ""


@dataclass(frozen=True, slots=True)
class TableColumns:
    """How the columns of tables from elsewhere were matched: by kind and firm, wanted thing to title."""

    matched: Mapping[str, Mapping[str, str]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class CatalogueChanges:
    """What the shop changed in the shipped catalogue (see `read_catalogue`) and its own figures."""

    catalogue: Mapping[str, Any] = field(default_factory=dict)
    figures: Mapping[str, Any] = field(default_factory=dict)
    edition: int = 0  # how often the shop changed its list of checkpoints; printed behind the version


_DAY = ((480, 720), (750, 990))


@dataclass(frozen=True, slots=True)
class ShopHours:
    """When the shop is open: seven days from Monday, each stretches in minutes after midnight.

    `country` and `subdivision` (ISO 3166) say which public holidays it keeps; empty: none.
    """

    week: tuple[tuple[tuple[int, int], ...], ...] = (_DAY, _DAY, _DAY, _DAY, _DAY, (), ())
    country: str = "US"
    subdivision: str = ""


@dataclass(frozen=True, slots=True)
class PlanTerms:
    """What the plan takes for granted where nobody has said a day; calendar days. Judgement, no source.

    `odds_percent` are the shop's chosen odds: the day quoted to a customer is kept that often.
    The doubts say how far hours, time away and surprises may be off while the shop has no record of
    its own; with one they count no more.
    """

    odds_percent: int = 80
    answer_days: int = 7  # until a change order is answered
    deposit_days: int = 7
    part_days: int = 14  # until a part that is not ordered yet comes
    laboratory_days: int = 10
    late_days: int = 7  # how much longer what is overdue is expected to take
    hours_factor_percent: int = 100
    surprises_percent: int = 100  # surprises a range, in hundredths
    hours_doubt_percent: int = 10
    wait_doubt_percent: int = 15
    surprises_doubt_percent: int = 80


@dataclass(frozen=True, slots=True)
class Copies:
    """Copies that make themselves: where to (empty: beside the shop), and every so many minutes."""

    folder: str = ""
    second_folder: str = ""  # another disk; empty: none
    every_minutes: int = 60  # while the shop changes


@dataclass(frozen=True, slots=True)
class Lock:
    """After so many minutes without a touch the window asks who is there; 0: never."""

    after_minutes: int = 15


@dataclass(frozen=True, slots=True)
class FirstRange:
    """People (their keys) who were led through a first range to its end, or do not want to be."""

    put_away: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Sample:
    """A sample shop's calendar stands still at this instant (ISO); empty for a real shop."""

    stands_at: str = ""


SETTINGS: dict[type, str] = {
    ShopIdentity: "shop",
    Region: "region",
    Terms: "terms",
    Clocks: "clocks",
    Letters: "letters",
    Margin: "margin",
    Texts: "texts",
    CatalogueChanges: "catalogue",
    Copies: "copies",
    Lock: "lock",
    Sample: "sample",
    FirstRange: "first range",
    TableColumns: "table columns",
    ShopHours: "shop hours",
    PlanTerms: "plan terms",
}
Value = TypeVar("Value")


def read(session: Session, kind: type[Value]) -> Value:
    """A setting, or its defaults; names this version does not know are passed over."""
    row = session.get(Setting, SETTINGS[kind])
    return _made(kind, row.value if row is not None else {})


def glance(connection: sa.Connection, kind: type[Value]) -> Value:
    """The same where nothing is being changed, and without mapped rows."""
    kept = connection.execute(sa.select(Setting.value).where(Setting.name == SETTINGS[kind])).scalar()
    return _made(kind, kept or {})


def _made(kind: type[Value], kept: Mapping[str, Any]) -> Value:
    known = {f.name for f in fields(kind)}  # type: ignore[arg-type]
    return kind(**{k: _frozen(v) for k, v in kept.items() if k in known})


def _frozen(value: Any) -> Any:
    """JSON gives lists back; settings hold tuples."""
    return tuple(value) if isinstance(value, list) else value


def write(work: "UnitOfWork", value: Any) -> None:
    """Keeps a setting whole."""
    name = SETTINGS[type(value)]
    row = work.session.get(Setting, name)
    if row is None:
        row = work.add(Setting(name=name, value=asdict(value)))
    else:
        row.value = asdict(value)
    work.about(row)
