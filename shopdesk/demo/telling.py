"""What the invented workshop tells its customers: pictures of the work, a letter, things to keep."""

from shopdesk.demo.drawn_pictures import picture
from shopdesk.demo.steps import Course
from shopdesk.services import before_and_after, intake, log_books, progress_letters, work_orders

_SHOWN = 2  # tasks with a picture; more would swell the sample


def show_work(course: Course) -> None:
    """A picture of the first things that were mended."""
    done = [
        t
        for t in work_orders.task_lines(course.seat, course.job_id)
        if t.stage == "repair" and t.done_share == 100
    ]
    for number, task in enumerate(done[:_SHOWN]):
        shot = picture("mended", course.range_id * 10 + number)
        intake.attach_photograph(
            course.technician(), course.range_id, shot, task_id=task.id, caption=task.name
        )


def write_letter(course: Course) -> str:
    """The progress letter as the thread tells it."""
    draft = progress_letters.draft_progress(course.seat, course.job_id)
    return progress_letters.write_progress(course.seat, course.job_id, draft.text, draft.chosen)


def give_to_keep(course: Course) -> None:
    """What goes home with a finished range: the page to frame and the log book."""
    pair = before_and_after.best_pair(course.seat, course.range_id)
    before_and_after.print_pair(course.seat, course.range_id, pair.before, pair.after, pair.words)
    log_books.print_log_book(course.seat, course.range_id)
