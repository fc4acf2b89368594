"""A row of the Floor as it is written: words from facts, made once when the rows come. Knows no widgets."""

import datetime as dt
from dataclasses import dataclass

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Catalogue
from shopdesk.domain.stage import Stage
from shopdesk.services.floor import FloorRow
from shopdesk.ui.range_picture import Wanted, pins_in_words, wanted_pins
from shopdesk.ui.range_words import held_words, is_late, name_of, owner_of, promise_words
from shopdesk.wording import Region, say


@dataclass(frozen=True, slots=True)
class ShownRow:
    """One range as the list draws it."""

    range_id: int
    job_id: int
    number: str
    name: str
    owner: str
    own: bool
    stage: Stage
    held: str
    day: str
    days: str
    late: bool
    open_money: str
    build: Build
    pins: Wanted

    def spoken(self) -> str:
        """The whole row as one sentence, for screen readers."""
        promised = f"{self.day}, {self.days}" if self.day else ""
        owes = say("{amount} open", amount=self.open_money) if self.open_money else ""
        found = pins_in_words(self.pins)
        parts = (f"{self.number} {self.name}", self.owner, say(self.stage), self.held, promised, owes, found)
        return "; ".join(part for part in parts if part)


def shown_row(catalogue: Catalogue, region: Region, today: dt.date, row: FloorRow) -> ShownRow:
    return ShownRow(
        row.range_id,
        row.job_id,
        row.number,
        name_of(row.maker, row.model, row.colour),
        owner_of(row.customer),
        not row.customer,
        row.stage,
        held_words(catalogue, region, today, row.held_for, row.held_what, row.held_since),
        _promised(region, today, row),
        _days(row, today),
        is_late(row.promised_on, row.stage, today),
        region.money(row.open_cents) if row.open_cents > 0 else "",
        row.build,
        wanted_pins(catalogue, row.findings),
    )


def _days(row: FloorRow, today: dt.date) -> str:
    """How far the promised day is, with its odds where the plan told them; a day that is past has none."""
    days = promise_words(row.promised_on, row.stage, today)
    if not days or row.odds_percent is None or is_late(row.promised_on, row.stage, today):
        return days
    return say("{days}, {percent} %", days=days, percent=min(99, max(1, row.odds_percent)))


def _promised(region: Region, today: dt.date, row: FloorRow) -> str:
    """The promise while it counts."""
    if row.promised_on is None or not promise_words(row.promised_on, row.stage, today):
        return ""
    return say("promised {day}", day=region.day_short(row.promised_on, today))
