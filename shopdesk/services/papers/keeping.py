"""Issued papers: kept with their bytes and hash, never changed; found again by number."""

import datetime as dt
import hashlib
from dataclasses import dataclass

import sqlalchemy as sa

from shopdesk.documents.facts import as_record
from shopdesk.documents.papers import render
from shopdesk.domain.problem import NotFound
from shopdesk.services.seat import Seat
from shopdesk.storage.tables.counter import Paper
from shopdesk.storage.unit_of_work import UnitOfWork


@dataclass(frozen=True, slots=True)
class PaperRow:
    """An issued paper as lists show it."""

    id: int
    kind: str
    number: str
    title: str
    job_id: int | None
    issued_at: dt.datetime
    sha256: str


def keep_paper(
    work: UnitOfWork,
    kind: str,
    number: str,
    title: str,
    facts: object,
    *,
    job_id: int | None = None,
    party_id: int | None = None,
    corrects_id: int | None = None,
) -> Paper:
    """Prints a paper from its facts and keeps both in the transaction that issues it."""
    pdf = render(facts)
    paper = work.add(
        Paper(
            kind=kind,
            number=number,
            title=title,
            job_id=job_id,
            party_id=party_id,
            issued_at=work.now,
            issued_by_id=work.acting.staff_id,
            corrects_id=corrects_id,
            facts=as_record(facts),
            pdf=pdf,
            sha256=hashlib.sha256(pdf).hexdigest(),
        )
    )
    work.session.flush()
    return paper


def papers(seat: Seat, *, job_id: int | None = None, kind: str = "", limit: int = 200) -> list[PaperRow]:
    """Issued papers, newest first."""
    query = sa.select(
        Paper.id, Paper.kind, Paper.number, Paper.title, Paper.job_id, Paper.issued_at, Paper.sha256
    )
    if job_id is not None:
        query = query.where(Paper.job_id == job_id)
    if kind:
        query = query.where(Paper.kind == kind)
    with seat.look() as session:
        rows = session.execute(query.order_by(Paper.id.desc()).limit(limit))
        return [PaperRow(*row) for row in rows]


def issued_paper(seat: Seat, number: str, pdf: bytes) -> PaperRow | None:
    """The issued paper of that number if these are its archived bytes; None for anything else."""
    query = sa.select(
        Paper.id, Paper.kind, Paper.number, Paper.title, Paper.job_id, Paper.issued_at, Paper.sha256
    ).where(Paper.number == number, Paper.sha256 == hashlib.sha256(pdf).hexdigest())
    with seat.look() as session:
        row = session.execute(query).one_or_none()
        return PaperRow(*row) if row else None


def paper_bytes(seat: Seat, number: str, kind: str = "") -> bytes:
    """An issued paper's PDF exactly as it was archived."""
    query = sa.select(Paper.pdf).where(Paper.number == number)
    if kind:
        query = query.where(Paper.kind == kind)
    with seat.look() as session:
        pdf = session.scalar(query)
    if pdf is None:
        raise NotFound(
            "There is no {kind} {number} in this shop. Check the number.", kind=kind or "paper", number=number
        )
    return pdf
