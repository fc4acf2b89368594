"""The clock of the tests: it stands still until it is moved."""

from datetime import UTC, datetime, timedelta

A_TUESDAY_MORNING = datetime(2026, 9, 15, 8, 30, tzinfo=UTC)


class FixedClock:
    """Call it for the aware UTC instant; `advance(minutes=5)` moves it on."""

    def __init__(self, start: datetime = A_TUESDAY_MORNING) -> None:
        if start.tzinfo is None:
            raise ValueError("the clock starts at an aware instant")
        self._now = start.astimezone(UTC)

    def __call__(self) -> datetime:
        return self._now

    def advance(self, *, days: float = 0, hours: float = 0, minutes: float = 0) -> datetime:
        """Move on by the sum of what is given and answer the new instant; never back."""
        step = timedelta(days=days, hours=hours, minutes=minutes)
        if step < timedelta(0):
            raise ValueError("time does not run backwards")
        self._now += step
        return self._now
