"""What came with a range and what is missing from it, as its newest walk-round says."""

from collections.abc import Iterable

from shopdesk.documents.facts import Piece
from shopdesk.domain.answers import Look
from shopdesk.domain.catalogue.model import Catalogue
from shopdesk.domain.condition import Condition, condition
from shopdesk.services.papers.words import counted
from shopdesk.wording import say


def pieces(catalogue: Catalogue, look: Look, known: Condition | None = None) -> tuple[Piece, ...]:
    """The range itself, what is missing, and the pieces that came with it."""
    known = known or condition(catalogue, look)
    missing = [
        Piece(
            found.checkpoint.name,
            found.finding.name
            if found.answer.extent == 1
            else f"{found.finding.name}, {counted(found.answer.extent, found.finding.per or 'piece')}",
            found.answer.note,
        )
        for found in known.missing
    ]
    return (_whole(known), *missing, *with_it(catalogue, look.accessories))


def with_it(catalogue: Catalogue, accessories: Iterable[str]) -> tuple[Piece, ...]:
    """The pieces with a price of their own that came with the range."""
    return tuple(
        Piece(catalogue.accessories[code].name if code in catalogue.accessories else code, say("here"))
        for code in accessories
    )


def _whole(known: Condition) -> Piece:
    states = {
        True: say("nothing found missing"),
        False: say("not complete"),
        None: say("nothing known missing"),
    }
    note = say("{count} checkpoints were not seen.", count=len(known.not_seen)) if known.not_seen else ""
    return Piece(say("The range itself"), states[known.complete], note)
