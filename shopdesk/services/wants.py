"""Wants: parts looked for over all ranges, matched with the shelf, donors and ranges on offer."""

import datetime as dt
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.domain.build import Build
from shopdesk.domain.folding import fold
from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action
from shopdesk.domain.stage import Stage
from shopdesk.domain.stock import Fitting, fitting, one_name
from shopdesk.services import walks
from shopdesk.services.part_cards import fit_of
from shopdesk.services.seat import Seat
from shopdesk.services.wanted_parts import Priced, open_wants, priced_parts, wanted_of
from shopdesk.storage.tables.donors import Donor, DonorPart, Want
from shopdesk.storage.tables.people import Party
from shopdesk.storage.tables.ranges import Job, Range
from shopdesk.storage.tables.stores import Need, Part, PartMovement

_RANK = {Fitting.FITS: 0, Fitting.MAY_FIT: 1, Fitting.NOT_SAID: 2}


@dataclass(frozen=True, slots=True, kw_only=True)
class WantDraft:
    """A part looked for: for a need, a range, somebody outside, or nobody yet. `worth_cents` for one."""

    name: str
    quantity: int = 1
    maker: str = ""
    model: str = ""
    worth_cents: int = 0
    note: str = ""
    need_id: int | None = None
    range_id: int | None = None
    party_id: int | None = None


@dataclass(frozen=True, slots=True)
class Match:
    """Where a wanted part may be had: `kind` is shelf, donor or offer; `fit` what is known of it there."""

    kind: str
    key: int  # of the part, of what is on the donor, or of the range on offer
    what: str
    where: str
    fit: Fitting


@dataclass(frozen=True, slots=True)
class WantRow:
    id: int
    name: str
    quantity: int
    maker: str
    model: str
    worth_cents: int
    note: str
    opened_on: dt.date
    for_whom: str
    promised_on: dt.date | None
    need_id: int | None
    matches: tuple[Match, ...]


@dataclass(frozen=True, slots=True)
class OnOffer:
    """A range on offer with the wanted parts that are on it; cents.

    `parts_cents` is what its sound parts bring by themselves, `more_cents` what the wants add to that.
    """

    range_id: int
    number: str
    name: str
    asking_cents: int | None
    parts_cents: int
    more_cents: int
    wanted: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Offer:
    """A range looked at and not bought, with the sound parts of its walk-round and what each brings."""

    range: Range
    asking_cents: int | None
    parts: Priced


def look_for(seat: Seat, draft: WantDraft) -> int:
    """Writes a want down; returns its key."""
    if not draft.name.strip():
        raise Problem("Say which part is looked for.", field="name")
    if draft.quantity < 1 or draft.worth_cents < 0:
        raise Problem("One piece or more is wanted, worth zero or more.", field="quantity")
    with seat.change(Action.KEEP_STORES) as work:
        range_id = draft.range_id
        if draft.need_id is not None:
            need = work.get(Need, draft.need_id, "need")
            range_id = need.task.work_order.job.range_id
            if work.session.scalar(open_wants().where(Want.need_id == need.id)) is not None:
                raise Problem("{name} is on the list of wants already.", name=need.name)
        range_ = work.get(Range, range_id, "range") if range_id is not None else None
        want = work.add(
            Want(
                need_id=draft.need_id,
                range_id=range_id,
                party_id=draft.party_id,
                name=draft.name.strip(),
                quantity=draft.quantity,
                maker=draft.maker.strip() or (range_.maker if range_ else ""),
                model=draft.model.strip() or (range_.model if range_ else ""),
                build=", ".join(sorted(Build(**range_.build).features)) if range_ else "",
                worth_cents=draft.worth_cents,
                note=draft.note.strip(),
                opened_on=seat.today,
            )
        )
        work.session.flush()
        work.about(want)
        return want.id


def end_want(seat: Seat, want_id: int, because: str) -> None:
    """Found, or not looked for any more."""
    if not because.strip():
        raise Problem("Say whether it was found, or why it is not looked for any more.", field="because")
    with seat.change(Action.KEEP_STORES) as work:
        want = work.get(Want, want_id, "want")
        want.ended_on, want.ended_because = seat.today, because.strip()
        work.about(want)


def wants(seat: Seat) -> list[WantRow]:
    """Open wants with where they may be had: matched ones first, then by the promise that waits."""
    with seat.look() as session:
        found = list(session.scalars(open_wants().order_by(Want.id)))
        shelf, donors, offers = _shelf(session), _donors(session), _offers(seat, session)
        rows = [_row(session, want, _matches(want, shelf, donors, offers)) for want in found]
    far = dt.date.max
    return sorted(rows, key=lambda row: (not row.matches, row.promised_on or far, row.id))


def on_offer(seat: Seat) -> list[OnOffer]:
    """Ranges on offer on which something wanted is, the one that wants raise most first."""
    with seat.look() as session:
        looked_for = list(session.scalars(open_wants().order_by(Want.id)))
        rows = [_on_offer(offer, looked_for) for offer in _offers(seat, session)]
    return sorted((row for row in rows if row.wanted), key=lambda row: -row.more_cents)


def _on_offer(offer: _Offer, looked_for: list[Want]) -> OnOffer:
    wanted, more = wanted_of(offer.parts, looked_for)
    return OnOffer(
        offer.range.id,
        offer.range.number,
        " ".join(word for word in (offer.range.maker, offer.range.model) if word),
        offer.asking_cents,
        sum(cents for _, cents in offer.parts),
        more,
        wanted,
    )


def _offers(seat: Seat, session: Session) -> list[_Offer]:
    query = (
        sa.select(Job)
        .where(Job.stage == Stage.LOOKED_AT.value, Job.ended_as == "", Job.bought_cents.is_(None))
        .where(Job.customer_id.is_(None))
        .order_by(Job.id)
    )
    offers = []
    for job in session.scalars(query):
        walk = walks.newest(session, job.id)
        if walk is None:
            continue
        look, figures = walks.view_of(session, walk).look, seat.catalogue.figures
        parts = priced_parts(seat.catalogue, look, figures)
        offers.append(_Offer(job.range, job.asking_cents, parts))
    return offers


def _shelf(session: Session) -> list[Part]:
    free = sa.func.coalesce(sa.func.sum(PartMovement.quantity), 0)
    query = sa.select(Part).join(PartMovement).group_by(Part.id).having(free > 0).order_by(Part.id)
    return list(session.scalars(query))


def _donors(session: Session) -> list[tuple[DonorPart, Range]]:
    query = (
        sa.select(DonorPart, Range)
        .join(Donor, Donor.id == DonorPart.donor_id)
        .join(Range, Range.id == Donor.range_id)
        .where(DonorPart.standing == "on it", DonorPart.need_id.is_(None))
        .order_by(DonorPart.id)
    )
    return [(part, range_) for part, range_ in session.execute(query)]


def _matches(
    want: Want, shelf: list[Part], donors: list[tuple[DonorPart, Range]], offers: list[_Offer]
) -> tuple[Match, ...]:
    features = frozenset(word.strip() for word in want.build.split(",") if word.strip())
    found = [
        Match("shelf", part.id, part.name, part.lies_at or part.number,
              fitting([fit_of(row) for row in part.fits], want.maker, want.model, features))
        for part in shelf
        if one_name(want.name, part.name)
    ]  # fmt: skip
    found += [
        Match("donor", part.id, part.name, range_.number, _alike(want, range_))
        for part, range_ in donors
        if one_name(want.name, part.name)
    ]
    found += [
        Match("offer", offer.range.id, checkpoint.name, offer.range.number, _alike(want, offer.range))
        for offer in offers
        for checkpoint, _ in offer.parts
        if one_name(want.name, checkpoint.name)
    ]
    here = [match for match in found if match.fit is not Fitting.NO]
    return tuple(sorted(here, key=lambda match: _RANK[match.fit]))


def _alike(want: Want, range_: Range) -> Fitting:
    """Off a range of the same maker and model it fits, of the same maker it may; of others nobody knows."""
    if not want.maker or not range_.maker or fold(want.maker) != fold(range_.maker):
        return Fitting.NOT_SAID
    same = want.model and fold(want.model) == fold(range_.model)
    return Fitting.FITS if same else Fitting.MAY_FIT


def _row(session: Session, want: Want, matches: tuple[Match, ...]) -> WantRow:
    range_ = session.get(Range, want.range_id) if want.range_id else None
    party = session.get(Party, want.party_id) if want.party_id else None
    promised = range_.jobs[-1].promised_on if range_ and range_.jobs else None
    whom = range_.number if range_ else party.name if party else ""
    return WantRow(
        want.id, want.name, want.quantity, want.maker, want.model, want.worth_cents, want.note,
        want.opened_on, whom, promised, want.need_id, matches,
    )  # fmt: skip
