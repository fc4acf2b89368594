"""What other seats at this shop change, for a window that wants to show it."""

from collections.abc import Callable
from threading import Event

from shopdesk.services.seat import Seat
from shopdesk.storage.hearing import Heard, hear

__all__ = ["Heard", "hear_others"]


def hear_others(seat: Seat, stop: Event, told: Callable[[Heard], None]) -> None:
    """Hands over other seats' changes until `stop` is set; at once done for a shop file."""
    if not seat.file.is_file:
        hear(seat.file.url, stop, told)
