"""Pictures taken at the bench, hung on the task they show."""

from collections.abc import Sequence

from shopdesk.exchange.pictures import take_in
from shopdesk.services import bench_day, intake
from shopdesk.services.seat import Seat


def photograph_task(seat: Seat, task_id: int, data: bytes, name: str, *, caption: str = "") -> int:
    """Keeps a picture as it was brought (JPEG, PNG, HEIC) with the task and its range; returns its key."""
    range_id, _ = bench_day.task_place(seat, task_id)
    return intake.attach_photograph(seat, range_id, take_in(data, name), task_id=task_id, caption=caption)


def photograph_found(seat: Seat, change_id: int, pictures: Sequence[tuple[str, bytes]], caption: str) -> None:
    """Keeps pictures (name, bytes) of what was found more with the task its change order brought."""
    task_id = bench_day.found_more_task(seat, change_id)
    for name, data in pictures:
        photograph_task(seat, task_id, data, name, caption=caption)
