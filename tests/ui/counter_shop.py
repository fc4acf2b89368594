"""A shop for the tests of the Counter: an agreed job whose first work is ticked, and one that waits."""

from collections.abc import Sequence

from shop_at_work import ShopAtWork, make_shop_at_work

from shopdesk.domain.rights import Action
from shopdesk.services import people, stages
from shopdesk.services.seat import Seat


def make_counter_shop(seat: Seat) -> ShopAtWork:
    """The shop at work, with addresses to bill and some work of the agreed job done."""
    work = make_shop_at_work(seat)
    for row in people.parties(seat, kind="customer"):
        kept = people.party_draft(seat, row.id)
        fields = {name: getattr(kept, name) for name in people.PartyDraft.__dataclass_fields__}
        people.keep_party(seat, people.PartyDraft(**{**fields, "street": "12 Larder Lane"}), row.id)
    tick(seat, work.agreed.job_id, ("intake", "teardown"))
    return work


def tick(seat: Seat, job_id: int, of_stages: Sequence[str]) -> None:
    """All tasks of some stages ticked at once, as the rows would have it."""
    with seat.change(Action.WORK) as work:
        for task in stages.tasks_of(work.session, job_id):
            if task.stage in of_stages:
                task.done_share, task.done_at, task.done_by_id = 100, work.now, seat.acting.staff_id
                work.about(task, job_id)
