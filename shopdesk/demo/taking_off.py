"""What comes off a demo range: tags at the tasks that took it off, with pictures; a card half filled."""

from shopdesk.demo.drawn_pictures import picture
from shopdesk.demo.steps import Course
from shopdesk.services import intake, tags, thermostat_card, work_orders
from shopdesk.services.tags import TagDraft

_CAME_OFF: tuple[tuple[str, str, int, str, str, str], ...] = (
    ("strip-loose-parts", "Grates", 4, "grates", "parts shelf", "plate"),
    ("strip-loose-parts", "Valve handles and their springs", 5, "knobs", "tray 1", "valve"),
    ("take-off-top", "Cooktop, screws", 8, "top", "tray 1", "hole"),
    ("take-out-wiring", "Lamp with its shade", 1, "lamp", "parts shelf", "cord"),
    ("take-out-manifold", "Valve to manifold, plugs in their own bodies", 5, "valves", "tray 2", "valve"),
)


def take_off(course: Course, *, back: int = 0) -> None:
    """Tags what the ticked teardown tasks took off; the first `back` of them are on the range again."""
    seat = course.technician()
    done = {t.code: t.id for t in work_orders.task_lines(seat, course.job_id) if t.done_share == 100}
    made: list[tuple[int, int]] = []
    for code, what, count, part, lies, kind in _CAME_OFF:
        if code not in done:
            continue
        draft = TagDraft(what=what, how_many=count, goes_back=part, lies_at=lies, task_id=done[code])
        key = tags.tag_off(seat, course.job_id, draft)
        shot = picture(kind, key)
        intake.attach_photograph(seat, course.range_id, shot, task_id=done[code], tag_id=key, caption=what)
        made.append((key, count))
    for key, count in made[:back]:
        tags.put_back(seat, key, count)


def begin_card(course: Course) -> None:
    """The first questions of the thermostat card answered; the rest is open."""
    seat = course.technician()
    told = (("hold-flame", "cannot-light"), ("trouble", "runs-hot"), ("dial", "stiff"))
    for step, answer in told:
        thermostat_card.answer_card(seat, course.job_id, step, answer)
