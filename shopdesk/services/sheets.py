"""A walk-round sheet recorded in a shop: a range looked at, with everything the sheet says."""

from dataclasses import dataclass, fields

from shopdesk.domain.gas_facts import with_finding
from shopdesk.domain.rights import Action
from shopdesk.exchange.sheet import Sheet
from shopdesk.services import gas_identity, observing, walks
from shopdesk.services.intake import JobDraft, RangeDraft, Taken, write_down
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.ranges import Job


@dataclass(frozen=True, slots=True)
class Recorded:
    """The keys of what a sheet became."""

    taken: Taken
    walk_id: int


def record_sheet(seat: Seat, sheet: Sheet) -> Recorded:
    """Writes down the range and a finished walk-round with the sheet's answers, whole or not at all."""
    look = sheet.look
    job = JobDraft(purpose=look.purpose, asking_cents=look.asking_cents)
    with seat.change(Action.WALK) as work:
        taken = write_down(seat, work, _range_draft(sheet), job, booked_in=False)
        row = work.get(Job, taken.job_id, "job")
        if sheet.scope is not None:
            row.scope = sheet.scope.value
        walk = walks.begin(seat, work, row, place=sheet.place, circumstances=sheet.circumstances)
        walk.accessories = list(look.accessories)
        look = with_finding(look, gas_identity.disagreement_of(work.session, row.range))
        for given in look.answers:
            observing.give(seat, work, walk, given)
        if look.answers:
            walk.finished_at = work.now
        work.about(walk, taken.job_id)
        return Recorded(taken, walk.id)


def _range_draft(sheet: Sheet) -> RangeDraft:
    """What the sheet says of the range; who offers it and the sheet's own note go into the range's note."""
    known = sheet.identity
    texts = {f.name: getattr(known, f.name) for f in fields(RangeDraft) if hasattr(known, f.name)}
    seller = ", ".join(t for t in (known.seller, known.seller_telephone, known.seller_address) if t)
    note = "\n".join(t for t in (sheet.note, seller, sheet.day, sheet.examiner) if t)
    return RangeDraft(**{**texts, "note": note}, build=sheet.look.build)
