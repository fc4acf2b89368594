"""The ways a range can go, each with what it costs, what it brings and what it may cost to buy."""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from shopdesk.domain.answers import Look
from shopdesk.domain.catalogue.model import Catalogue, Figures, Finding, Scope
from shopdesk.domain.estimate.lines import Sum
from shopdesk.domain.estimate.pert import draw, table_of
from shopdesk.domain.estimate.result import Estimate, likely_range, point, summary, whole
from shopdesk.domain.estimate.simulate import simulate
from shopdesk.domain.estimate.streams import Streams
from shopdesk.domain.estimate.unknown import Unknown
from shopdesk.domain.money import NOTHING, Spread
from shopdesk.domain.work.roots import finding_root, in_walk_order, stops_work
from shopdesk.domain.worth.donor import donor_value, stripping
from shopdesk.domain.worth.value import as_it_stands_draws, finished_draws, unrestored_cents


class RouteKind(StrEnum):
    """The verdict's words; a range the shop owns is not left but sold as it stands."""

    RESTORE = "restore"
    WORK_ONLY = "make it work only"
    DONOR = "keep as donor"
    LEAVE = "leave it"
    SELL = "sell it as it stands"


@dataclass(frozen=True, slots=True)
class Route:
    """One way to go; cents and minutes, low, likely and high.

    `value`: sale price. `cost`: work, with fetching it. `net`: what is left for the purchase
    and the margin after cost, selling and warranty. `limit_cents`: the price at which the
    margin is still cleared at the shop's confidence, before rounding and before the cap; it
    may be negative. `offer_cents`: the same rounded down to the shop's step, never below
    zero, never above what such a range fetches as it stands. `result`: what is left of `net`
    after paying `price_cents`, which is what the shop paid for a range it owns. `open`: the
    purpose, the scope and what was found allow it.
    """

    kind: RouteKind
    scope: Scope | None
    value: Spread
    cost: Spread
    minutes: Spread
    net: Spread
    limit_cents: int
    offer_cents: int
    price_cents: int
    result: Spread
    chance_of_loss: float
    open: bool
    estimate: Estimate | None = None
    left: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Ground:
    """What all routes of one judgement share."""

    catalogue: Catalogue
    look: Look
    figures: Figures
    streams: Streams
    doubts: tuple[Unknown, ...]

    @property
    def cap(self) -> int:
        return unrestored_cents(self.catalogue, self.look, self.figures)

    @property
    def owned(self) -> bool:
        return self.look.spent_cents is not None

    def fetching(self) -> Sum:
        """What it costs to fetch; a range the shop owns stands there already."""
        if self.owned:
            return np.zeros(self.streams.draws)
        return draw(table_of(self.figures.haulage), self.streams.apart("haulage")).astype(np.float64)


def restoring(ground: Ground, scope: Scope, *, bare: bool, open_: bool, donor_net: Sum) -> Route:
    """Restore to a scope, or (`bare`) do only what keeps it from working.

    In draws in which a finding turns up that rules out restoring, what is left is at most
    what a donor leaves.
    """
    figures, streams = ground.figures, ground.streams
    done = simulate(
        ground.catalogue,
        ground.look,
        scope,
        figures,
        streams,
        bare=bare,
        doubts=ground.doubts,
    )
    left = left_findings(ground, scope, bare)
    value = finished_draws(
        ground.catalogue,
        ground.look,
        figures,
        scope,
        streams,
        bare=bare,
        left=left,
        may_be_left=done.left,
    )
    cost = done.totals.cost + ground.fetching()
    net = value * (1.0 - figures.selling_share - figures.warranty_share) - cost
    for doubt in ground.doubts:
        if doubt.finding.decides:
            net[doubt.at] = np.minimum(net[doubt.at], donor_net[doubt.at])
    estimate = summary(done)
    kind = RouteKind.WORK_ONLY if bare else RouteKind.RESTORE
    codes = tuple(finding.code for finding in left)
    return _route(ground, kind, scope, value, cost, done.totals.minutes, net, open_, estimate, codes)


def left_findings(ground: Ground, scope: Scope, bare: bool) -> list[Finding]:
    """Findings that stay as they are on this route, in the order of the walk."""
    left = []
    for answer in in_walk_order(ground.catalogue, ground.look.answers):
        finding = ground.catalogue.findings[answer.finding or ""]
        passed_over = bare and not stops_work(ground.catalogue, finding)
        if passed_over or finding_root(finding, scope, answer.extent, answer.way) is None:
            left.append(finding)
    return left


def donor_draws(ground: Ground) -> tuple[Sum, Sum, Sum, Sum]:
    """Value, cost, minutes and what is left of a donor, in every draw."""
    value = donor_value(ground.catalogue, ground.look, ground.figures, ground.streams)
    totals = stripping(ground.catalogue, ground.look, ground.figures, ground.streams)
    cost = totals.cost + ground.fetching()
    return value, cost, totals.minutes, value * (1.0 - ground.figures.selling_share) - cost


def donating(ground: Ground, draws: tuple[Sum, Sum, Sum, Sum]) -> Route:
    """Keep it as a donor; always open."""
    value, cost, minutes, net = draws
    return _route(ground, RouteKind.DONOR, None, value, cost, minutes, net, True, None, ())


def leaving() -> Route:
    """Leave it where it stands: nothing spent, nothing earned."""
    return Route(RouteKind.LEAVE, None, NOTHING, NOTHING, NOTHING, NOTHING, 0, 0, 0, NOTHING, 0.0, open=True)


def selling(ground: Ground, donor: tuple[Sum, Sum, Sum, Sum]) -> Route:
    """Sell a range of the shop's own as it stands: nothing is done, and all that was found stays.

    Where something found rules out restoring, a buyer pays at most what its parts leave a
    buyer who strips it and wants a margin as the shop does; `donor` as `donor_draws` gives it.
    """
    found = [ground.catalogue.findings[a.finding or ""] for a in ground.look.found]
    value = as_it_stands_draws(ground.catalogue, ground.look, ground.figures, ground.streams, found)
    if any(finding.decides for finding in found):
        parts, _, _, net_of_parts = donor
        value = np.minimum(value, np.maximum(net_of_parts - ground.figures.margin * parts, 0.0))
    nothing = np.zeros(ground.streams.draws)
    net = value * (1.0 - ground.figures.selling_share)
    return _route(ground, RouteKind.SELL, None, value, nothing, nothing, net, True, None, ())


def _route(
    ground: Ground,
    kind: RouteKind,
    scope: Scope | None,
    value: Sum,
    cost: Sum,
    minutes: Sum,
    net: Sum,
    open_: bool,
    estimate: Estimate | None,
    left: tuple[str, ...],
) -> Route:
    figures = ground.figures
    limit = point(net - figures.margin * value, 1.0 - figures.confidence)
    buying = open_ and not ground.owned
    offer = round_down(min(limit, ground.cap), figures.offer_step) if buying else 0
    named = (ground.look.spent_cents, ground.look.asking_cents, offer)
    price = next(cents for cents in named if cents is not None)
    return Route(
        kind=kind,
        scope=scope,
        value=likely_range(value),
        cost=likely_range(cost),
        minutes=likely_range(minutes),
        net=likely_range(net),
        limit_cents=whole(limit),
        offer_cents=offer,
        price_cents=price,
        result=likely_range(net - price),
        chance_of_loss=float(np.mean(net < price)),
        open=open_,
        estimate=estimate,
        left=left,
    )


def round_down(cents: float, step: int) -> int:
    """Down to a whole step, never below zero."""
    return max(0, int(cents // step) * step)
