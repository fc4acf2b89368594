"""A shop's way of writing: language, currency, units, paper size and time zone."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from typing import Literal
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from babel import Locale, UnknownLocaleError
from babel.numbers import format_decimal

from shopdesk.domain.money import Spread, decimals
from shopdesk.domain.problem import Problem
from shopdesk.wording import day_hours, days, measures
from shopdesk.wording import hours as time_text
from shopdesk.wording import money as money_text

Paper = Literal["letter", "a4"]


@dataclass(frozen=True, slots=True)
class Region:
    """`language` is a locale code (`en_US`); `timezone` an IANA name. Checked when made."""

    language: str = "en_US"
    currency: str = "USD"
    units: measures.Units = "us"
    paper: Paper = "letter"
    timezone: str = "America/Los_Angeles"

    def __post_init__(self) -> None:
        decimals(self.currency)
        try:
            Locale.parse(self.language.replace("-", "_"))
        except (UnknownLocaleError, ValueError):
            raise Problem("The language {code} is not known.", code=self.language) from None
        try:
            ZoneInfo(self.timezone)
        except (ZoneInfoNotFoundError, ValueError, OSError):
            raise Problem("The time zone {name} is not known.", name=self.timezone) from None
        if self.units not in ("us", "metric"):
            raise Problem("Units are us or metric, not {units}.", units=self.units)
        if self.paper not in ("letter", "a4"):
            raise Problem("Paper is letter or a4, not {paper}.", paper=self.paper)

    @property
    def locale(self) -> str:
        return self.language.replace("-", "_")

    @property
    def territory(self) -> str:
        """The country of the locale (ISO 3166), or empty where it names none."""
        return Locale.parse(self.locale).territory or ""

    # Money: integer minor units of the shop's currency unless another is named.

    def money(self, cents: int, currency: str = "") -> str:
        return money_text.money(cents, currency or self.currency, self.locale)

    def money_whole(self, cents: int, currency: str = "") -> str:
        return money_text.money_whole(cents, currency or self.currency, self.locale)

    def money_range(self, span: Spread, currency: str = "") -> str:
        """`$2,800 ($1,900–$4,200)`, in whole units; one figure when there is no spread."""
        low, likely, high = (self.money_whole(v, currency) for v in (span.low, span.likely, span.high))
        return likely if low == high else f"{likely} ({low}–{high})"

    def amount(self, cents: int, currency: str = "") -> str:
        """The figure without its currency sign, for columns."""
        return money_text.plain_amount(cents, currency or self.currency, self.locale)

    def parse_money(self, text: str, *, currency: str = "", negative: bool = False, field: str = "") -> int:
        code = currency or self.currency
        return money_text.parse_money(text, code, self.locale, negative=negative, field=field)

    # Time: whole minutes, plain dates, instants in UTC.

    def hours(self, minutes: int) -> str:
        return time_text.hours(minutes)

    def hours_range(self, span: Spread) -> str:
        return time_text.hours_range(span, self.locale)

    def parse_minutes(self, text: str, *, field: str = "") -> int:
        return time_text.parse_minutes(text, field=field)

    def day(self, value: date) -> str:
        return days.day(value, self.locale)

    def day_short(self, value: date, today: date) -> str:
        """A day near today, without its year when that is this one."""
        return days.day_short(value, today, self.locale)

    def day_long(self, value: date) -> str:
        return days.day_long(value, self.locale)

    def weekday_long(self, value: date) -> str:
        return day_hours.weekday_long(value, self.locale)

    def weekday_short(self, value: date) -> str:
        return day_hours.weekday_short(value, self.locale)

    def time_of_day(self, minute: int) -> str:
        """Minutes after midnight on the shop's clock."""
        return day_hours.time_of_day(minute, self.locale)

    def parse_day(self, text: str, *, field: str = "") -> date:
        return days.parse_day(text, self.locale, field=field)

    def local(self, value: datetime) -> datetime:
        return days.local(value, self.timezone)

    def local_day(self, value: datetime) -> date:
        """The business day an instant falls on in the shop."""
        return self.local(value).date()

    def instant(self, value: datetime) -> str:
        return days.instant(value, self.timezone, self.locale)

    # Figures and measures.

    def number(self, value: float | Decimal, pattern: str = "#,##0.###") -> str:
        return format_decimal(value, format=pattern, locale=self.locale)

    def percent(self, rate: Decimal) -> str:
        """A rate in hundredths as text: `Decimal("8.25")` -> `8.25%`."""
        if isinstance(rate, float):
            raise TypeError("a rate is never a float")
        figure = format_decimal(rate, format="#,##0.####", locale=self.locale)
        before = Locale.parse(self.locale).percent_formats[None].pattern
        gap = "\u00a0" if "\u00a0" in before else ""
        return f"{figure}{gap}%"

    def parse_percent(self, text: str, *, field: str = "") -> Decimal:
        """A typed rate, `8.25` or `8.25 %`; Problem outside 0 to 100."""
        typed = text.strip().removesuffix("%").strip()
        rate = measures.parse_figure(typed, self.locale, field=field)
        if not 0 <= rate <= 100:
            raise Problem("A rate of {typed} % cannot be right. Write 0 to 100.", field=field, typed=typed)
        return rate

    def length(self, inches: float | Fraction) -> str:
        return measures.length(inches, self.units, self.locale)

    def weight(self, pounds: float) -> str:
        return measures.measured(pounds, measures.WEIGHT, self.units, self.locale)

    def temperature(self, fahrenheit: float) -> str:
        return measures.measured(fahrenheit, measures.TEMPERATURE, self.units, self.locale)

    def pressure(self, inwc: float) -> str:
        return measures.measured(inwc, measures.PRESSURE, self.units, self.locale)

    def heat(self, btu_per_hour: float) -> str:
        return measures.measured(btu_per_hour, measures.HEAT, self.units, self.locale)

    def parse_number(self, text: str, *, field: str = "") -> float:
        return measures.parse_number(text, self.locale, field=field)

    def parse_measured(self, text: str, kind: measures.Measure, *, field: str = "") -> float:
        """A typed value of LENGTH, WEIGHT, TEMPERATURE, PRESSURE or HEAT, kept in its US unit."""
        return measures.parse_measured(text, kind, self.units, self.locale, field=field)
