"""Ways of writing offered for a new shop; each can be changed later in Set-up."""

from PySide6.QtCore import QTimeZone

from shopdesk.domain.problem import Problem
from shopdesk.wording import Region, say


def regions() -> list[tuple[Region, str]]:
    """Each region with what it is called; the first is the default."""
    return [
        (_here("en_US", "USD", "us", "letter", "America/New_York"), say("United States: US dollar, inches")),
        (_here("en_CA", "CAD", "us", "letter", "America/Toronto"), say("Canada: Canadian dollar, inches")),
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


def _here(language: str, currency: str, units: str, paper: str, usual_zone: str) -> Region:
    """In the computer's time zone where it has one, else in the region's usual one."""
    zone = bytes(QTimeZone.systemTimeZoneId().data()).decode("ascii", "replace")
    if "/" not in zone or zone.startswith("Etc/"):
        zone = usual_zone
    try:
        return Region(language, currency, units, paper, zone)  # type: ignore[arg-type]
    except Problem:
        return Region(language, currency, units, paper, usual_zone)  # type: ignore[arg-type]
