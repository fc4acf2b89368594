"""What a range fetches: finished to a scope, made to work only, or as it stands.

The figures are the shop's own and stand for ordinary ranges. Two shares of them move the price:
what a scope leaves as it is takes `left_takes` off, by how serious it is to whoever buys the
range (light wear belongs to an original finish and takes nothing), at most `most_taken`; and
where every place that the scope would leave as it is was found sound, the finish is better than
ordinary and adds up to `good_finish`.
"""

from collections.abc import Iterable

import numpy as np

from shopdesk.domain.answers import Look
from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import (
    Catalogue,
    Checkpoint,
    Evidence,
    Figures,
    Finding,
    Purpose,
    Scope,
    Severity,
)
from shopdesk.domain.estimate.lines import Sum
from shopdesk.domain.estimate.pert import Table, draw, table_of, table_of_all
from shopdesk.domain.estimate.streams import Streams
from shopdesk.domain.estimate.unknown import Unknown
from shopdesk.domain.money import Spread
from shopdesk.domain.work.roots import finding_root, stops_work

WORKING = "working"
"""Key under which a shop may keep what a range fetches that merely works."""


def features_cents(build: Build, figures: Figures) -> int:
    """What a build's features add; "burners6" counts from six top burners on."""
    words = build.features | {f"burners{n}" for n in range(1, build.burners + 1)}
    return sum(cents for word, cents in figures.feature_worth.items() if word in words)


def finished_spread(figures: Figures, scope: Scope, bare: bool) -> Spread:
    """What a common range fetches; one that merely works stands half-way to the mechanical scope."""
    if not bare:
        return figures.finished[scope]
    if WORKING in figures.finished:
        return figures.finished[WORKING]
    low, high = figures.unrestored, figures.finished[Scope.MECHANICAL]
    return Spread(
        (low.low + high.low) // 2, (low.likely + high.likely) // 2, max((low.high + high.high) // 2, 0)
    )


def accessory_worths(catalogue: Catalogue, look: Look) -> list[Spread]:
    return [catalogue.accessories[code].worth for code in sorted(set(look.accessories))]


def unrestored_cents(catalogue: Catalogue, look: Look, figures: Figures) -> int:
    """What such a range most likely fetches unrestored, with what comes with it; no offer exceeds it."""
    return figures.unrestored.likely + sum(worth.likely for worth in accessory_worths(catalogue, look))


def taken_by(finding: Finding, figures: Figures) -> float:
    """The share a finding takes off when it is left as it is."""
    if not finding.only_costs:
        return 0.0
    return figures.left_takes.get(finding.severity.get(Purpose.RESALE, Severity.NONE), 0.0)


def leaves(catalogue: Catalogue, checkpoint: Checkpoint, scope: Scope, bare: bool) -> bool:
    """Whether a scope would leave something as it is here that a larger one puts right."""
    for finding in checkpoint.findings:
        root = finding_root(finding, scope)
        if finding.ways and (root is None or (bare and not stops_work(catalogue, finding))):
            return True
    return False


def finish_share(catalogue: Catalogue, look: Look, figures: Figures, scope: Scope, bare: bool) -> float:
    """How much of what the scope leaves as it is was found sound; a claim counts in part."""
    places = [c for c in catalogue.walk(look.build) if leaves(catalogue, c, scope, bare)]
    sound = {a.checkpoint: a.evidence for a in look.answers if a.sound}
    trust = {Evidence.CLAIMED: figures.claimed_trust}
    counted = sum(trust.get(sound[c.code], 1.0) for c in places if c.code in sound)
    return counted / len(places) if places else 0.0


def finished_draws(
    catalogue: Catalogue,
    look: Look,
    figures: Figures,
    scope: Scope,
    streams: Streams,
    *,
    bare: bool,
    left: Iterable[Finding],
    may_be_left: Iterable[Unknown],
) -> Sum:
    """Sale price in every draw: the finished range less what is left as it is, plus accessories."""
    taken = np.full(streams.draws, float(sum(taken_by(finding, figures) for finding in left)))
    for doubt in may_be_left:
        taken[doubt.at] += taken_by(doubt.finding, figures)
    table: Table = table_of(finished_spread(figures, scope, bare)) + features_cents(look.build, figures)
    whole_price = draw(table, streams.apart("finished")).astype(np.float64)
    better = figures.good_finish * finish_share(catalogue, look, figures, scope, bare)
    price: Sum = whole_price * (1.0 + better - np.minimum(taken, figures.most_taken))
    return price + accessory_draws(catalogue, look, streams)


def as_it_stands_draws(
    catalogue: Catalogue, look: Look, figures: Figures, streams: Streams, found: Iterable[Finding]
) -> Sum:
    """What the range fetches unrestored in every draw: less what was found on it, plus accessories."""
    taken = min(sum(taken_by(finding, figures) for finding in found), figures.most_taken)
    price = draw(table_of(figures.unrestored), streams.apart("unrestored")).astype(np.float64)
    return price * (1.0 - taken) + accessory_draws(catalogue, look, streams)


def accessory_draws(catalogue: Catalogue, look: Look, streams: Streams) -> Sum:
    """What the accessories that come with it fetch, in every draw."""
    worths = accessory_worths(catalogue, look)
    if not worths:
        return np.zeros(streams.draws)
    return draw(table_of_all(worths), streams.apart("accessories")).astype(np.float64)
