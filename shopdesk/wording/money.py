"""Amounts of money as text and back. Amounts are integer minor units; floats never appear."""

import re
from decimal import Decimal

from babel.numbers import (
    format_currency,
    get_currency_symbol,
    get_decimal_symbol,
    get_group_symbol,
)

from shopdesk.domain.money import decimals, round_half_up
from shopdesk.domain.problem import Problem

_MOST_DIGITS = 11  # whole units; far above any job, far below what a column holds
_SPACES = " \u00a0\u202f\u2009'’"


def money(cents: int, currency: str, locale: str) -> str:
    """`123450, "USD"` -> `$1,234.50`; all digits of the currency, a true minus for the negative."""
    if isinstance(cents, bool) or not isinstance(cents, int):
        raise TypeError("money is integer minor units")
    places = decimals(currency)
    return format_currency(Decimal(cents).scaleb(-places), currency, locale=locale)


def money_whole(cents: int, currency: str, locale: str) -> str:
    """An estimate in whole units, rounded half up: `123450` -> `$1,235`."""
    units = round_half_up(Decimal(cents).scaleb(-decimals(currency)))
    text = format_currency(Decimal(units), currency, locale=locale)
    return re.sub(re.escape(get_decimal_symbol(locale)) + r"0+(?=\D*$)", "", text)


def plain_amount(cents: int, currency: str, locale: str) -> str:
    """The amount without its currency sign, for columns: `1,234.50`."""
    places = decimals(currency)
    text = format_currency(Decimal(cents).scaleb(-places), currency, locale=locale)
    bare = text.replace(get_currency_symbol(currency, locale), "").replace(currency, "")
    return bare.strip(" \u00a0\u202f")


def parse_money(text: str, currency: str, locale: str, *, negative: bool = False, field: str = "") -> int:
    """What people type as minor units: `1,234.50`, `1234.5`, `$12`, `12 USD`, `.5`.

    Raises Problem for what is not one amount, for more decimals than the currency has, for a
    negative unless `negative`, and for absurdly long figures.
    """
    sample = plain_amount(123450 if decimals(currency) == 2 else 1234, currency, locale)
    typed, minus = _without_signs(text, currency, locale)
    point, group = get_decimal_symbol(locale), get_group_symbol(locale)
    groups = "[" + re.escape(group + _SPACES) + "]"
    found = re.fullmatch(
        rf"(\d{{1,3}}(?:{groups}\d{{3}})+|\d*)(?:{re.escape(point)}(\d*))?", typed, flags=re.ASCII
    )
    if not found or not any(found.groups(default="")):
        raise Problem(
            "“{typed}” is not an amount. Write it like {sample}.",
            field=field,
            typed=text.strip(),
            sample=sample,
        )
    whole = re.sub(r"\D", "", found[1])
    cents = _in_minor(whole, found[2] or "", currency, text, field)
    if minus and cents and not negative:
        raise Problem(
            "The amount {typed} is below zero. Write it without the minus.", field=field, typed=text.strip()
        )
    return -cents if minus else cents


def _without_signs(text: str, currency: str, locale: str) -> tuple[str, bool]:
    typed = text.strip(_SPACES).replace("−", "-").replace("\u200e", "")
    for sign in (currency, get_currency_symbol(currency, locale), get_currency_symbol(currency, "en_US")):
        typed = re.sub(rf"^(-?){re.escape(sign)}|{re.escape(sign)}$", r"\1", typed, flags=re.IGNORECASE)
        typed = typed.strip(_SPACES)
    if typed.startswith("(") and typed.endswith(")"):
        return typed[1:-1], True
    minus = typed.startswith("-")
    return (typed[1:] if minus else typed).strip(_SPACES), minus


def _in_minor(whole: str, part: str, currency: str, text: str, field: str) -> int:
    places = decimals(currency)
    if len(part.rstrip("0")) > places:
        raise Problem(
            "{typed} has more decimals than {currency} has. Write at most {places}.",
            field=field,
            typed=text.strip(),
            currency=currency,
            places=places,
        )
    if len(whole.lstrip("0")) > _MOST_DIGITS:
        raise Problem("{typed} is too large an amount. Look at it again.", field=field, typed=text.strip())
    return int((whole or "0") + part[:places].ljust(places, "0"))
