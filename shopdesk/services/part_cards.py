"""Everything about one part: what it fits, where it lies, what moved and why, its pictures, its counts."""

import datetime as dt
from dataclasses import dataclass
from zoneinfo import ZoneInfo

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.stock import Fit
from shopdesk.exchange.pictures import take_in
from shopdesk.services import intake, stock
from shopdesk.services.seat import Seat
from shopdesk.services.stock import CONDITIONS, PartRow
from shopdesk.storage.tables.ranges import Photograph, Range
from shopdesk.storage.tables.shop import Staff
from shopdesk.storage.tables.stock_takes import StoresPhotograph
from shopdesk.storage.tables.stores import Need, Part, PartFit, PartMovement
from shopdesk.storage.tables.work import Task


@dataclass(frozen=True, slots=True, kw_only=True)
class PartDraft:
    """What is written down of a part. Its count is not: that follows from its movements."""

    name: str
    condition: str = "new"
    state: str = ""
    lies_at: str = ""
    price_in_cents: int = 0
    price_out_cents: int = 0
    note: str = ""
    consumable: bool = False
    lead_days: int = 0
    served_percent: int = 95
    pack: int = 1
    fits: tuple[Fit, ...] = ()


@dataclass(frozen=True, slots=True)
class Moved:
    """One row of the ledger, with the count after it; cents of all of it."""

    at: dt.datetime
    quantity: int
    count: int
    kind: str
    reason: str
    who: str
    cost_cents: int
    price_cents: int


@dataclass(frozen=True, slots=True)
class PartCard:
    """A part with its history, newest first; `set_aside` pieces wait for tasks that are not done yet."""

    row: PartRow
    draft: PartDraft
    from_range: str
    set_aside: int
    moved: tuple[Moved, ...]


def part_card(seat: Seat, part_id: int) -> PartCard:
    with seat.look() as session:
        part = session.get_one(Part, part_id)
        count, value = stock.holding(session, part_id)
        donor = session.get(Range, part.from_range_id) if part.from_range_id else None
        return PartCard(
            stock.part_row(part, count, value),
            _draft(part),
            donor.number if donor else "",
            set_aside(session).get(part_id, 0),
            tuple(_history(session, part_id)),
        )


def change_part(seat: Seat, part_id: int, draft: PartDraft) -> None:
    """Corrects what is written down of a part; what moved stays as it is."""
    _check(draft)
    with seat.change(Action.KEEP_STORES) as work:
        part = work.get(Part, part_id, "part")
        for name in PartDraft.__dataclass_fields__:
            if name != "fits":
                value = getattr(draft, name)
                setattr(part, name, value.strip() if isinstance(value, str) else value)
        part.fits = [
            PartFit(
                maker=fit.maker.strip(), model=fit.model.strip(), build=", ".join(sorted(fit.build)),
                certain=fit.certain, note=fit.note.strip(),
            )
            for fit in draft.fits
        ]  # fmt: skip
        work.session.flush()
        work.about(part)


def lay_part(seat: Seat, part_id: int, lies_at: str) -> None:
    """Where a part lies from now on."""
    with seat.change(Action.KEEP_STORES) as work:
        part = work.get(Part, part_id, "part")
        part.lies_at = lies_at.strip()
        work.about(part)


def count_on(seat: Seat, part_id: int, day: dt.date) -> int:
    """How many lay on the shelf when a business day ended."""
    with seat.look() as session:
        return stock.holding(session, part_id, end_of(seat, day))[0]


def end_of(seat: Seat, day: dt.date) -> dt.datetime:
    """The instant at which the next business day begins, in the shop's time zone."""
    return dt.datetime.combine(day + dt.timedelta(days=1), dt.time(), tzinfo=ZoneInfo(seat.region.timezone))


def fit_of(row: PartFit) -> Fit:
    words = tuple(word.strip() for word in row.build.split(",") if word.strip())
    return Fit(maker=row.maker, model=row.model, build=words, certain=row.certain, note=row.note)


def set_aside(session: Session) -> dict[int, int]:
    """By part: pieces taken off the shelf for tasks that are still to be done."""
    query = (
        sa.select(PartMovement.part_id, -sa.func.sum(PartMovement.quantity))
        .join(Need, Need.id == PartMovement.need_id)
        .join(Task, Task.id == Need.task_id)
        .where(Task.done_share < 100, Task.dropped == False)
        .group_by(PartMovement.part_id)
    )
    return {key: int(count) for key, count in session.execute(query) if count}


def photograph_part(seat: Seat, part_id: int, data: bytes, name: str, *, caption: str = "") -> int:
    """Keeps a picture of a part as it was brought (JPEG, PNG, HEIC); returns its key."""
    picture = take_in(data, name)
    with seat.change(Action.KEEP_STORES) as work:
        part = work.get(Part, part_id, "part")
        kept = intake.keep_picture(work, picture)
        work.add(StoresPhotograph(photograph_id=kept.id, part_id=part_id, caption=caption.strip()))
        work.about(part)
        return kept.id


def part_pictures(seat: Seat, part_id: int) -> list[tuple[int, str, bytes]]:
    """The pictures of a part: key, caption, small JPEG."""
    query = (
        sa.select(Photograph.id, StoresPhotograph.caption, Photograph.thumbnail)
        .join(Photograph, Photograph.id == StoresPhotograph.photograph_id)
        .where(StoresPhotograph.part_id == part_id)
        .order_by(StoresPhotograph.id)
    )
    with seat.look() as session:
        return [(key, caption, small) for key, caption, small in session.execute(query)]


def _history(session: Session, part_id: int) -> list[Moved]:
    names = dict(session.execute(sa.select(Staff.id, Staff.name)).all())
    rows, count = [], 0
    query = sa.select(PartMovement).where(PartMovement.part_id == part_id).order_by(PartMovement.id)
    for m in session.scalars(query):
        count += m.quantity
        who = names.get(m.staff_id, "")
        rows.append(Moved(m.at, m.quantity, count, m.kind, m.reason, who, m.cost_cents, m.price_cents))
    return rows[::-1]


def _draft(part: Part) -> PartDraft:
    plain = {name: getattr(part, name) for name in PartDraft.__dataclass_fields__ if name != "fits"}
    return PartDraft(**plain, fits=tuple(fit_of(row) for row in part.fits))


def _check(draft: PartDraft) -> None:
    if not draft.name.strip():
        raise Problem("A part needs a name.", field="name")
    if draft.condition not in CONDITIONS:
        raise Problem("A part is new, used, exchanged or made.", field="condition")
    if min(draft.price_in_cents, draft.price_out_cents) < 0:
        raise Problem("A price is zero or more.", field="price_in")
    if draft.pack < 1 or draft.lead_days < 0:
        raise Problem("A pack holds one piece or more, and days are zero or more.", field="pack")
    if not 50 <= draft.served_percent <= 99:
        raise Problem("Write how often it is to be there when asked for: 50 to 99 of 100.",
                      field="served_percent")  # fmt: skip
