"""Where the figures of a judgement come from, line by line, each with the place it can be followed to.

A line is a fact, not a sum: spans of single causes do not add up to the span of the whole, because
seldom everything goes dear at once; the lines say so.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from shopdesk.domain.answers import Look
from shopdesk.domain.catalogue.model import Catalogue, Figures, Scope
from shopdesk.domain.estimate.result import Driver, DriverKind, Estimate, whole
from shopdesk.domain.money import Spread
from shopdesk.domain.worth.customer import ScopeCharge
from shopdesk.domain.worth.donor import sound_parts
from shopdesk.domain.worth.past_sales import PastSale, Valued
from shopdesk.domain.worth.routes import Route, RouteKind
from shopdesk.domain.worth.sentence import Fact, Sentence, sentence
from shopdesk.domain.worth.value import finish_share, finished_spread, taken_by

MOST_PARTS = 40


class Group(StrEnum):
    """Which figure a line stands behind."""

    VALUE = "what it brings"
    COST = "what it costs"
    PRICE = "the price"


@dataclass(frozen=True, slots=True)
class Line:
    """`figure` in cents, or None where the sentence says it. `leads_to`: a checkpoint or a job.

    `settled_in`: the key of a trade figure the shop can overwrite, as in figures.toml.
    """

    group: Group
    told: Sentence
    figure: Spread | None = None
    checkpoint: str = ""
    job_id: int = 0
    settled_in: str = ""


def behind_route(
    catalogue: Catalogue, look: Look, own: Valued, route: Route, cap_cents: int
) -> tuple[Line, ...]:
    """Everything behind one route's figures."""
    if route.kind is RouteKind.LEAVE:
        return (Line(Group.PRICE, sentence("Nothing is spent and nothing earned.")),)
    figures = own.figures
    if route.kind is RouteKind.SELL:
        value, work = list(_as_it_stands(catalogue, look, figures)), []
    elif route.kind is RouteKind.DONOR:
        value, work = list(_parts(catalogue, look, figures)), list(_stripping(figures))
    else:
        bare = route.kind is RouteKind.WORK_ONLY
        scope = route.scope or Scope.MECHANICAL
        value = list(_finished(catalogue, look, own, scope, route.left, bare=bare))
        work = list(_work(catalogue, route.estimate, figures.cost_per_hour, "cost_per_hour"))
    if look.spent_cents is not None:
        return (*value, *work, *_left(figures, route))
    haulage = Line(Group.COST, sentence("Fetching it"), figures.haulage, settled_in="haulage")
    return (*value, *work, haulage, *_price(figures, route, cap_cents))


def behind_charge(catalogue: Catalogue, look: Look, own: Valued, charge: ScopeCharge) -> tuple[Line, ...]:
    """Everything behind what a scope is charged for a customer's own range."""
    figures = own.figures
    value = _base(own, charge.scope, bare=False), *_extras(catalogue, look, figures)
    return (*value, *_work(catalogue, charge.estimate, figures.charge_per_hour, "charge_per_hour"))


def _finished(
    catalogue: Catalogue, look: Look, own: Valued, scope: Scope, left: tuple[str, ...], *, bare: bool
) -> Iterator[Line]:
    figures = own.figures
    yield _base(own, scope, bare=bare)
    for sale in own.of(scope) if not bare else ():
        yield _sale(sale)
    yield from _extras(catalogue, look, figures)
    better = figures.good_finish * finish_share(catalogue, look, figures, scope, bare)
    if better > 0:
        yield Line(
            Group.VALUE,
            sentence("Its own finish, found sound, adds {share} of 100", share=_hundred(better)),
            settled_in="good_finish",
        )  # fmt: skip
    yield from _taken_off(catalogue, left, figures)


def _as_it_stands(catalogue: Catalogue, look: Look, figures: Figures) -> Iterator[Line]:
    """What it fetches unrestored, and what was found on it and stays."""
    yield Line(
        Group.VALUE, sentence("Such a range unrestored"), figures.unrestored, settled_in="unrestored"
    )  # fmt: skip
    yield from _accessories(catalogue, look)
    found = [answer.finding or "" for answer in look.found]
    yield from _taken_off(catalogue, tuple(found), figures)
    if any(catalogue.findings[code].decides for code in found):
        yield Line(Group.VALUE, sentence("But no more than its parts leave, since it is not to be restored"))


def _taken_off(catalogue: Catalogue, left: tuple[str, ...], figures: Figures) -> Iterator[Line]:
    for code in left:
        finding = catalogue.findings[code]
        share = taken_by(finding, figures)
        if share > 0:
            yield Line(
                Group.VALUE,
                sentence("Left: {what}, {share} of 100 off", share=_hundred(share), what=finding.name),
                checkpoint=finding.checkpoint,
            )  # fmt: skip


def _base(own: Valued, scope: Scope, *, bare: bool) -> Line:
    spread = finished_spread(own.figures, scope, bare)
    if bare:
        return Line(
            Group.VALUE, sentence("One that merely works, between unrestored and mechanical-only"), spread,
            settled_in="unrestored",
        )  # fmt: skip
    sales = own.of(scope)
    if sales:
        return Line(
            Group.VALUE,
            sentence("A plain range of this finish, from {count} of the shop’s own sales", count=len(sales)),
            spread,
        )
    return Line(
        Group.VALUE, sentence("A plain range of this finish, as typed in Set-up"), spread,
        settled_in=f"finished/{scope.value}",
    )  # fmt: skip


def _sale(sale: PastSale) -> Line:
    price = Spread(sale.price_cents, sale.price_cents, sale.price_cents)
    told = sentence("{number}, sold {day}, with all it had", number=sale.number, day=sale.on_day)
    return Line(Group.VALUE, told, price, job_id=sale.job_id)


def _extras(catalogue: Catalogue, look: Look, figures: Figures) -> Iterator[Line]:
    """Features of the build, and what comes with it."""
    words = look.build.features | {f"burners{n}" for n in range(1, look.build.burners + 1)}
    for word, cents in figures.feature_worth.items():
        if word in words:
            told = sentence("It has: {feature}", feature=_FEATURES.get(word, word))
            yield Line(Group.VALUE, told, Spread(cents, cents, cents), settled_in=f"feature_worth/{word}")
    yield from _accessories(catalogue, look)


def _accessories(catalogue: Catalogue, look: Look) -> Iterator[Line]:
    for code in sorted(set(look.accessories)):
        accessory = catalogue.accessories[code]
        yield Line(Group.VALUE, sentence("With it comes: {name}", name=accessory.name), accessory.worth)


def _parts(catalogue: Catalogue, look: Look, figures: Figures) -> Iterator[Line]:
    parts = sorted(sound_parts(catalogue, look, figures), key=lambda pair: -pair[0].donor.likely * pair[1])
    sold = _hundred(figures.donor_sold_share)
    yield Line(
        Group.VALUE, sentence("{share} of 100 of its sound parts are sold", share=sold),
        settled_in="donor_sold_share",
    )  # fmt: skip
    for checkpoint, share in parts[:MOST_PARTS]:
        full = checkpoint.donor
        price = Spread(*(whole(cents * share) for cents in (full.low, full.likely, full.high)))
        yield Line(
            Group.VALUE, sentence("Sound: {part}", part=checkpoint.name), price, checkpoint=checkpoint.code
        )


def _stripping(figures: Figures) -> Iterator[Line]:
    yield Line(
        Group.COST, sentence("Stripping it, at what an hour costs the shop"), settled_in="cost_per_hour"
    )
    yield Line(Group.COST, sentence("Getting rid of the shell"), figures.disposal, settled_in="disposal")


def _work(catalogue: Catalogue, found: Estimate | None, rate: int, settled_in: str) -> Iterator[Line]:
    if found is None:
        return
    rated = Spread(rate, rate, rate)
    yield Line(Group.COST, sentence("An hour is reckoned at"), rated, settled_in=settled_in)
    yield Line(Group.COST, sentence("Of it labor"), found.labour)
    yield Line(Group.COST, sentence("Of it parts"), found.parts)
    yield Line(Group.COST, sentence("Of it outwork"), found.outwork)
    for driver in sorted(found.drivers, key=lambda d: (-d.expected, d.code)):
        yield _cause(catalogue, driver)


def _cause(catalogue: Catalogue, driver: Driver) -> Line:
    if driver.kind is DriverKind.ROUTINE:
        return Line(Group.COST, sentence("The work every range of this scope gets"), driver.cost)
    if driver.code in catalogue.checkpoints:  # not seen, and so looked into on every order
        told = sentence(
            "{place}: not seen, and looked into first", place=catalogue.checkpoints[driver.code].name
        )
        return Line(Group.COST, told, driver.cost, checkpoint=driver.code)
    finding = catalogue.findings[driver.code]
    facts: dict[str, Fact] = {
        "place": catalogue.checkpoints[finding.checkpoint].name, "finding": finding.name,
    }  # fmt: skip
    if driver.kind is DriverKind.FOUND:
        told = sentence("{place}: {finding}", **facts)
    else:
        chance = _hundred(driver.chance)
        told = sentence("Not seen, {chance} of 100 times {finding} ({place})", chance=chance, **facts)
    return Line(Group.COST, told, driver.cost, checkpoint=finding.checkpoint)


def _price(figures: Figures, route: Route, cap_cents: int) -> Iterator[Line]:
    yield from _shares(figures, route)
    limit = Spread(route.limit_cents, route.limit_cents, route.limit_cents)
    yield Line(Group.PRICE, sentence("So the price may be up to"), limit)
    cap = Spread(cap_cents, cap_cents, cap_cents)
    yield Line(
        Group.PRICE,
        sentence("But not above what such a range fetches as it stands"),
        cap,
        settled_in="unrestored",
    )
    step = Spread(figures.offer_step, figures.offer_step, figures.offer_step)
    yield Line(Group.PRICE, sentence("Rounded down to steps of"), step, settled_in="offer_step")


def _left(figures: Figures, route: Route) -> Iterator[Line]:
    """A range of the shop's own: what the way leaves, by which the ways are compared."""
    yield from _shares(figures, route)
    limit = Spread(route.limit_cents, route.limit_cents, route.limit_cents)
    yield Line(Group.PRICE, sentence("So it leaves, its margin cleared"), limit)
    paid = Spread(route.price_cents, route.price_cents, route.price_cents)
    yield Line(Group.PRICE, sentence("Paid for it, and spent whichever way it goes"), paid)


def _shares(figures: Figures, route: Route) -> Iterator[Line]:
    unwarranted = (RouteKind.DONOR, RouteKind.SELL)
    shares = (
        ("selling_share", figures.selling_share, "Selling takes {share} of 100 of the price"),
        ("warranty_share", figures.warranty_share, "Put aside for warranty: {share} of 100 of the price"),
        ("margin", figures.margin, "The shop’s margin: {share} of 100 of the price"),
        ("confidence", figures.confidence, "It is to be left in {share} of 100 cases"),
    )
    for key, share, text in shares:
        if route.kind not in unwarranted or key != "warranty_share":
            yield Line(Group.PRICE, sentence(text, share=_hundred(share)), settled_in=key)


def _hundred(share: float) -> int:
    return round(share * 100)


_FEATURES = {
    "burners6": "six burners", "two ovens": "two ovens", "deep well": "a deep well", "griddle": "a griddle",
    "fold top": "a fold top", "clock": "a clock", "lamp": "a lamp", "shelf": "a shelf",
    "window": "an oven window",
}  # fmt: skip
