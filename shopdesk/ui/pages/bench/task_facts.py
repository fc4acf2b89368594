"""What stands beside one task, asked of the shop at once; and the words it is told in. Makes no widgets."""

from dataclasses import dataclass

from shopdesk.services import agreed_hours, bench_day, cautions, tag_pictures, tags
from shopdesk.services.agreed_hours import AgreedHours
from shopdesk.services.bench import BenchTask
from shopdesk.services.bench_day import BenchDay, TaskSheet
from shopdesk.services.cautions import TaskCautions
from shopdesk.services.seat import Seat
from shopdesk.services.tag_pictures import TagPicture
from shopdesk.services.tag_places import known_places
from shopdesk.services.tags import TagRow
from shopdesk.wording import Region, say

PUT_TOGETHER = ("refit", "delivery")
THERMOSTAT = "thermostat"


@dataclass(frozen=True, slots=True)
class Day:
    """The bench's day, the agreed hours of its jobs by job, and where tagged things lie."""

    day: BenchDay
    agreed: dict[int, AgreedHours]
    places: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TaskFacts:
    """`off` is what this task took off; where it puts things together, all that is still off its range.

    `torn` are the pictures of taking apart, the last one first.
    """

    sheet: TaskSheet
    cautions: TaskCautions
    off: tuple[TagRow, ...]
    torn: tuple[TagPicture, ...]


def ask_day(seat: Seat, staff_id: int | None) -> Day:
    day = bench_day.bench_day(seat, staff_id)
    agreed = {r.job_id: agreed_hours.agreed_hours(seat, r.job_id) for r in day.ranges}
    return Day(day, agreed, tuple(known_places(seat)))


def ask_facts(seat: Seat, task: BenchTask) -> TaskFacts:
    together = task.stage in PUT_TOGETHER
    rows = tags.tags(seat, job_id=task.job_id)
    off = [t for t in rows if (t.back_at is None if together else t.task_id == task.id)]
    torn = tag_pictures.teardown_pictures(seat, task.id) if together else []
    return TaskFacts(
        bench_day.task_sheet(seat, task.id), cautions.cautions_for(seat, task.id), tuple(off), tuple(torn)
    )


def hours_warning(region: Region, hours: AgreedHours | None) -> str:
    """What the bench is told of the agreed hours; "" while nothing is near its end."""
    if hours is None or not hours.warn:
        return ""
    agreed, clocked = region.hours(hours.agreed), region.hours(hours.clocked)
    if hours.stop:
        return say(
            "Stop, ask first. {agreed} are agreed, {clocked} are worked. The clock goes on; what is beyond "
            "is not billed before the customer agrees.",
            agreed=agreed, clocked=clocked,
        )  # fmt: skip
    return say(
        "{left} are left of the {agreed} that are agreed. Tell the counter before they are used up.",
        left=region.hours(hours.left), agreed=agreed,
    )  # fmt: skip


def hours_in_short(region: Region, hours: AgreedHours | None) -> str:
    """The same beside a range's name."""
    if hours is None or not hours.warn:
        return ""
    if hours.stop:
        return say("stop, ask first: the agreed {agreed} are used up", agreed=region.hours(hours.agreed))
    return say("{left} of the agreed hours left", left=region.hours(hours.left))


def read_words(region: Region, read: TaskCautions) -> str:
    """Whether this person has read these cautions for this kind of task."""
    if not read.cautions:
        return ""
    if read.read_at is None:
        return say("New to you at this kind of task.")
    return say("You read these on {day} ({kind}).", day=region.day(region.local_day(read.read_at)),
               kind=read.kind_name)  # fmt: skip


def tag_line(tag: TagRow) -> str:
    """`T-0004: 6 × Oven door, screws; tray 2`."""
    what = say("{number}: {count} × {what}", number=tag.number, count=tag.how_many, what=tag.what)
    where = say("back on the range") if tag.standing == "back" else tag.lies_at
    if tag.standing == "not back":
        where = say("not going back: {why}", why=tag.not_back_because)
    return f"{what}; {where}" if where else what
