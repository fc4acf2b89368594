"""Fields for a time of day and for the hours of a day."""

from shopdesk.ui.widgets.fields import ParsedField
from shopdesk.wording import Region, say
from shopdesk.wording.day_hours import parse_stretches, parse_time_of_day, stretches


class TimeField(ParsedField):
    """Minutes after midnight: 9:30, 14 or 2 pm."""

    def __init__(self, region: Region) -> None:
        super().__init__(parse_time_of_day, region.time_of_day, say("9:30"))


class DayHoursField(ParsedField):
    """Stretches of hours, 8:00-12:00, 12:30-16:30; empty is a day off."""

    def __init__(self) -> None:
        super().__init__(parse_stretches, stretches, say("off"))
