"""What "restored" means here, surface by surface, and what is left as it is."""

from collections.abc import Sequence

from reportlab.platypus import Flowable

from shopdesk.documents.facts.counter import FinishFacts
from shopdesk.documents.layout.blocks import section
from shopdesk.documents.layout.tables import Column, Grid
from shopdesk.documents.layout.text import para
from shopdesk.wording import say


def finish_list(finishes: Sequence[FinishFacts], wide: float) -> list[Flowable]:
    """A table of the surfaces that are worked on, then the others in one sentence."""
    if not finishes:
        return []
    content: list[Flowable] = [
        para(say("On this job, restored means what this list says of each surface, and nothing more."))
    ]
    worked = [each for each in finishes if not each.kept]
    if worked:
        grid = Grid([Column(say("Surface"), 150), Column(say("Finish")), Column(say("Remark"), wide * 0.34)])
        for each in worked:
            grid.row(each.surface, each.grade, each.note)
        content.append(grid.table(wide))
    kept = [f"{each.surface} ({each.note})" if each.note else each.surface for each in finishes if each.kept]
    if kept:
        content.append(para(say("Left as it is: {surfaces}.", surfaces=", ".join(kept))))
    return section(say("Finish, surface by surface"), content)
