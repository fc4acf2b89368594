"""What a range brings as a donor: its sound parts, less stripping and disposal."""

from fractions import Fraction

import numpy as np

from shopdesk.domain.answers import Answer, Look
from shopdesk.domain.catalogue.model import Catalogue, Checkpoint, Evidence, Figures, Purpose, Severity
from shopdesk.domain.estimate.lines import Sum, Totals, unit_cost
from shopdesk.domain.estimate.pert import draw, table_of, table_of_all
from shopdesk.domain.estimate.streams import Streams
from shopdesk.domain.work.demand import calls
from shopdesk.domain.work.order import Cause, CauseKind
from shopdesk.domain.work.roots import Root
from shopdesk.domain.worth.value import accessory_draws

STRIPPING = ("strip-donor", "dispose-of-shell")


def part_share(checkpoint: Checkpoint, answers: list[Answer], figures: Figures) -> float:
    """The share of a part's price that counts: sound and seen all, claimed in part, not seen nothing.

    A finding leaves what `still_sells` says, by how much it matters to a donor.
    """
    if not answers:
        return 0.0
    if answers[0].finding is None:
        trust = {Evidence.CLAIMED: figures.claimed_trust, Evidence.NOT_SEEN: 0.0}
        return trust.get(answers[0].evidence, 1.0)
    by_code = {finding.code: finding for finding in checkpoint.findings}
    return min(
        figures.still_sells.get(by_code[a.finding].severity.get(Purpose.DONOR, Severity.NONE), 0.0)
        for a in answers
        if a.finding is not None
    )


def sound_parts(catalogue: Catalogue, look: Look, figures: Figures) -> list[tuple[Checkpoint, float]]:
    """The parts that count towards a donor, each with the share of its price that counts."""
    parts = []
    for checkpoint in catalogue.walk(look.build):
        if checkpoint.donor.high:
            here = [a for a in look.answers if a.checkpoint == checkpoint.code]
            share = part_share(checkpoint, here, figures)
            if share:
                parts.append((checkpoint, share))
    return parts


def exact_share(share: float) -> Fraction:
    """A share of the catalogue as the fraction it was written as, so that money is never a float."""
    return Fraction(str(share))


def donor_value(catalogue: Catalogue, look: Look, figures: Figures, streams: Streams) -> Sum:
    """What is sold of the parts, in every draw; part prices rise and fall together."""
    table = table_of_all([])
    for checkpoint, share in sound_parts(catalogue, look, figures):
        table = table + share * table_of(checkpoint.donor)
    price = draw(table, streams.apart("donor parts")).astype(np.float64) * figures.donor_sold_share
    return price + accessory_draws(catalogue, look, streams) + look.wanted_cents


def stripping(catalogue: Catalogue, look: Look, figures: Figures, streams: Streams) -> Totals:
    """Taking it apart and getting rid of the shell, with what those tasks need."""
    totals = Totals.empty(streams.draws, figures.cost_per_hour)
    known = tuple(code for code in STRIPPING if code in catalogue.tasks)
    called = calls(catalogue, look.build, Root(Cause(CauseKind.HAND, "donor"), known))
    for task in catalogue.tasks.values():
        if task.code in called:
            totals.add(unit_cost(task, streams), 1.0)
    totals.outwork += draw(table_of(figures.disposal), streams.apart("disposal"))
    return totals
