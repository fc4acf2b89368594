"""Public holidays of the shop's country, from the kept library that follows the laws."""

import datetime as dt
from functools import cache

from shopdesk.domain.problem import Problem


def check_place(country: str, subdivision: str) -> None:
    """Refuses a country or a part of it whose holidays are not known; empty is allowed."""
    if country:
        public_holidays(country, subdivision, 2026, 2026)
    elif subdivision:
        raise Problem("Name the country before a part of it.", field="country")


@cache
def public_holidays(country: str, subdivision: str, first_year: int, last_year: int) -> dict[dt.date, str]:
    """Day -> name, for whole years; none for a shop that keeps none."""
    if not country:
        return {}
    import holidays  # three tenths of a second; only a plan needs it

    if country not in countries() or (subdivision and subdivision not in countries()[country]):
        raise Problem(
            "The public holidays of {country} {part} are not known. Write the two letters of the country "
            "and the code of its part, or leave them empty and enter closed days by hand.",
            field="country",
            country=country,
            part=subdivision,
        )
    found = holidays.country_holidays(
        country, subdiv=subdivision or None, years=range(first_year, last_year + 1)
    )
    return dict(sorted(found.items()))


@cache
def countries() -> dict[str, tuple[str, ...]]:
    """Every country known, by its two letters, with the codes of its parts."""
    import holidays

    return {code: tuple(parts) for code, parts in sorted(holidays.list_supported_countries().items())}
