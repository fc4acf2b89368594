"""Ways of writing offered for a new shop; each can be changed later in Set-up."""

from babel import Locale, UnknownLocaleError
from babel.numbers import get_currency_name, get_territory_currencies
from PySide6.QtCore import QLocale, QTimeZone

from shopdesk.domain.problem import Problem
from shopdesk.wording import Region, say

# Territories whose paper is letter (Unicode CLDR 46, supplemental/units "paperSize", US-Letter).
_LETTER = frozenset({"BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"})


def regions() -> list[tuple[Region, str]]:
    """Each region with what it is called; the first is as the computer is set, if that says enough."""
    listed = [
        (_here("en_US", "USD", "us", "letter", "America/New_York"), say("United States: US dollar, inches")),
        (_here("en_CA", "CAD", "us", "letter", "America/Toronto"), say("Canada: Canadian dollar, inches")),
        (
            _here("fr_CA", "CAD", "us", "letter", "America/Toronto"),
            say("Canada, in French: Canadian dollar, inches"),
        ),
        (_here("en_GB", "GBP", "metric", "a4", "Europe/London"), say("United Kingdom: pound, metric")),
        (_here("en_IE", "EUR", "metric", "a4", "Europe/Dublin"), say("Ireland: euro, metric")),
        (_here("en_AU", "AUD", "metric", "a4", "Australia/Sydney"), say("Australia: dollar, metric")),
        (_here("en_NZ", "NZD", "metric", "a4", "Pacific/Auckland"), say("New Zealand: dollar, metric")),
        (_here("de_DE", "EUR", "metric", "a4", "Europe/Berlin"), say("Germany: euro, metric")),
        (_here("de_AT", "EUR", "metric", "a4", "Europe/Vienna"), say("Austria: euro, metric")),
        (_here("de_CH", "CHF", "metric", "a4", "Europe/Zurich"), say("Switzerland: franc, metric")),
        (_here("fr_FR", "EUR", "metric", "a4", "Europe/Paris"), say("France: euro, metric")),
        (_here("nl_NL", "EUR", "metric", "a4", "Europe/Amsterdam"), say("Netherlands: euro, metric")),
        (_here("sv_SE", "SEK", "metric", "a4", "Europe/Stockholm"), say("Sweden: krona, metric")),
    ]
    computer = QLocale.system().name()
    same = [entry for entry in listed if entry[0].locale == computer]
    near = [entry for entry in listed if entry[0].locale[-3:] == computer[-3:]]
    own = (same or near)[:1] or _of_computer(computer)
    return [*own, *(entry for entry in listed if entry not in own)]


def _of_computer(computer: str) -> list[tuple[Region, str]]:
    """A region that is not in the list, as its locale has it; nothing when that says too little."""
    try:
        locale = Locale.parse(computer)
    except (UnknownLocaleError, ValueError):
        return []
    currencies = get_territory_currencies(locale.territory) if locale.territory else []
    if not currencies:
        return []
    metric = QLocale(computer).measurementSystem() == QLocale.MeasurementSystem.MetricSystem
    paper = "letter" if locale.territory in _LETTER else "a4"
    made = _here(computer, currencies[0], "metric" if metric else "us", paper, "UTC")
    place = locale.get_territory_name("en") or computer
    money = get_currency_name(currencies[0], locale="en")
    if metric:
        return [(made, say("{place}: {money}, metric", place=place, money=money))]
    return [(made, say("{place}: {money}, inches", place=place, money=money))]


def _here(language: str, currency: str, units: str, paper: str, usual_zone: str) -> Region:
    """In the computer's time zone where it has one, else in the region's usual one."""
    zone = bytes(QTimeZone.systemTimeZoneId().data()).decode("ascii", "replace")
    if "/" not in zone or zone.startswith("Etc/"):
        zone = usual_zone
    try:
        return Region(language, currency, units, paper, zone)  # type: ignore[arg-type]
    except Problem:
        return Region(language, currency, units, paper, usual_zone)  # type: ignore[arg-type]
