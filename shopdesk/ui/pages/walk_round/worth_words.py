"""What a walk-round comes to, in words and rows, in the shop's own money and hours. No widgets."""

from shopdesk.domain.catalogue.model import Catalogue, Scope
from shopdesk.domain.estimate.result import Driver, DriverKind, Estimate
from shopdesk.domain.money import Spread
from shopdesk.domain.worth import Route, RouteKind, ScopeCharge, Verdict
from shopdesk.domain.worth.past_sales import Valued
from shopdesk.services.inspection import Worth
from shopdesk.services.papers.words import in_words, route_name
from shopdesk.ui.pages.walk_round.span_bars import Bar, SpanRow
from shopdesk.ui.pages.walk_round.tornado import SwingRow
from shopdesk.wording import Region, say, say_n

DRIVERS = 6
_SMALLEST = 0.005  # share of the spread below which a cause is not worth a row


def scope_name(scope: Scope) -> str:
    return {
        Scope.MECHANICAL: say("mechanical-only"),
        Scope.EVERYDAY: say("everyday finish"),
        Scope.SHOW: say("show finish"),
    }[scope]


def verdict_words(verdict: Verdict) -> str:
    """`Restore, everyday finish`."""
    name = route_name(verdict.route)
    if verdict.scope is not None and verdict.route is RouteKind.RESTORE:
        name = say("{route}, {scope}", route=name, scope=scope_name(verdict.scope))
    return capital(name)


def span_words(region: Region, span: Spread) -> str:
    """`$1,900 to $4,200`, in whole units."""
    if span.low == span.high:
        return region.money_whole(span.likely)
    return say("{low} to {high}", low=region.money_whole(span.low), high=region.money_whole(span.high))


def hundred(chance: float) -> int:
    return round(chance * 100)


def figures(region: Region, worth: Worth, not_seen: int) -> list[str]:
    """The figures of the verdict, a line each."""
    verdict = worth.verdict
    lines = []
    if not worth.charges:
        lines = [
            say("Cost of the work: {span}", span=region.money_range(verdict.cost)),
            say("Time: {span}", span=region.hours_range(verdict.minutes)),
        ]
    if not worth.charges and verdict.route is not RouteKind.LEAVE:
        chance = hundred(verdict.chance_of_loss)
        price = region.money_whole(verdict.chosen.price_cents)
        left = verdict.chosen.result
        if verdict.spent_cents is None:
            text = "At {price} it leaves {span}, most likely {likely}."
        else:
            text = "After the {price} paid for it, it leaves {span}, most likely {likely}."
        likely = region.money_whole(left.likely)
        lines += [
            say(text, price=price, span=span_words(region, left), likely=likely),
            say("It ends in a loss in {chance} of 100 cases.", chance=chance),
        ]
    lines.append(not_seen_words(region, verdict, not_seen))
    return lines


def not_seen_words(region: Region, verdict: Verdict, not_seen: int) -> str:
    """How many were not seen, with the money they carry."""
    if not not_seen:
        return say("Every checkpoint was looked at or asked about.")
    estimate = estimate_of(verdict)
    if estimate is None:
        return say_n("{count} checkpoint not seen.", "{count} checkpoints not seen.", not_seen)
    money = region.money_whole(estimate.unseen_cents)
    return say_n(
        "{count} checkpoint not seen, counted at {money}.",
        "{count} checkpoints not seen, counted at {money}.",
        not_seen,
        money=money,
    )


def offer_words(region: Region, verdict: Verdict) -> str:
    """The highest price that still makes sense; of a range the shop owns what it paid."""
    if verdict.spent_cents is not None:
        return say("the shop’s own, bought for {price}", price=region.money_whole(verdict.spent_cents))
    if verdict.offer_cents <= 0:
        return say("no price makes sense")
    return say("offer up to {price}", price=region.money_whole(verdict.offer_cents))


def reasons(region: Region, verdict: Verdict) -> list[str]:
    return [in_words(told, region) for told in verdict.reasons]


def scope_reasons(catalogue: Catalogue, region: Region, worth: Worth) -> list[str]:
    """For a customer's own range: what ends it by itself, then each scope's charge against its worth."""
    ended = [say(catalogue.findings[code].decides) for code in worth.verdict.decisive]
    return ended + [_scope_reason(region, charge) for charge in worth.charges]


def _scope_reason(region: Region, charge: ScopeCharge) -> str:
    gap = charge.value.likely - charge.charge.likely
    name = capital(scope_name(charge.scope))
    if gap >= 0:
        text = say("{scope}: most likely worth {gap} more then than the work is charged.")
    else:
        text = say("{scope}: the work is most likely charged {gap} more than the range is worth then.")
    return text.format(scope=name, gap=region.money_whole(abs(gap)))


def would_change(region: Region, verdict: Verdict) -> list[str]:
    return [in_words(told, region) for told in verdict.would_change]


def against_cooking(region: Region, verdict: Verdict) -> list[str]:
    """What speaks against cooking on it as it stands; it never says that it may be lit."""
    return [in_words(told, region) for told in verdict.readiness.against] if verdict.readiness else []


def estimate_of(verdict: Verdict) -> Estimate | None:
    """The estimate of the chosen route, else of the first that has one."""
    return verdict.chosen.estimate or next((r.estimate for r in verdict.routes if r.estimate), None)


def route_rows(region: Region, verdict: Verdict) -> list[SpanRow]:
    """The routes side by side: what goes out hollow, what comes in filled."""
    return [_route_row(region, verdict, r) for r in verdict.routes if r.kind is not RouteKind.LEAVE]


def charge_rows(region: Region, charges: tuple[ScopeCharge, ...]) -> list[SpanRow]:
    """A customer's own range: each scope's charge against what the range is worth then."""
    return [
        SpanRow(
            capital(scope_name(charge.scope)),
            region.money_whole(charge.charge.likely),
            (Bar(charge.charge), Bar(charge.value, filled=True)),
            say("charged {cost}, {hours}; worth {value} then", cost=span_words(region, charge.charge),
                hours=region.hours_range(charge.minutes), value=span_words(region, charge.value)),
        )
        for charge in charges
    ]  # fmt: skip


def driver_rows(catalogue: Catalogue, region: Region, verdict: Verdict) -> list[SwingRow]:
    """What the cost hangs on most, the strongest first."""
    estimate = estimate_of(verdict)
    strong = [d for d in estimate.drivers if d.share >= _SMALLEST and d.swing][:DRIVERS] if estimate else []
    return [_driver_row(catalogue, region, driver, driver.swing) for driver in strong if driver.swing]


def sales_words(own: Valued, verdict: Verdict) -> str:
    """Whether the price of the finished range is the shop's own experience or a typed figure."""
    sales = own.of(verdict.scope) if verdict.route is RouteKind.RESTORE else ()
    if not sales:
        return ""
    return say_n(
        "The price it brings is taken from {count} past sale of like ranges.",
        "The price it brings is taken from {count} past sales of like ranges.", len(sales),
    )  # fmt: skip


def route_named(route: Route) -> str:
    """A route with its scope."""
    name = route_name(route.kind)
    if route.kind is RouteKind.RESTORE and route.scope is not None:
        name = say("{route}, {scope}", route=name, scope=scope_name(route.scope))
    return name


def _route_row(region: Region, verdict: Verdict, route: Route) -> SpanRow:
    name = route_named(route)
    if not route.open:
        figure = say("not open")
    elif verdict.spent_cents is not None:
        figure = say("leaves {amount}", amount=region.money_whole(route.net.likely))
    elif route.offer_cents:
        figure = say("to {price}", price=region.money_whole(route.offer_cents))
    else:
        figure = say("no offer")
    words = say(
        "out {cost}, in {value}, loss in {chance} of 100",
        cost=span_words(region, route.cost),
        value=span_words(region, route.value),
        chance=hundred(route.chance_of_loss),
    )
    chosen = (route.kind, route.scope) == (verdict.route, verdict.scope)
    bars = (Bar(route.cost), Bar(route.value, filled=True))
    return SpanRow(capital(name), figure, bars, words, chosen=chosen, faint=not route.open)


def _driver_row(catalogue: Catalogue, region: Region, driver: Driver, swing: Spread) -> SwingRow:
    code = ""
    if driver.kind is DriverKind.ROUTINE:
        name = say("The work every range gets")
        words = span_words(region, driver.cost)
    elif driver.code in catalogue.checkpoints:  # not seen, and so looked into on every order
        code = driver.code
        name = say("{checkpoint}: not seen, and looked into first",
                   checkpoint=say(catalogue.checkpoints[code].name))  # fmt: skip
        words = span_words(region, driver.cost)
    else:
        finding = catalogue.findings[driver.code]
        place, code = catalogue.checkpoints[finding.checkpoint].name, finding.checkpoint
        name = say("{checkpoint}: {finding}", checkpoint=say(place), finding=say(finding.name))
        words = span_words(region, driver.cost)
        if driver.kind is DriverKind.NOT_SEEN:
            words = say(
                "not seen; {chance} of 100 times, then {span}", chance=hundred(driver.chance), span=words
            )
    words = say("{share} of 100 of the spread; {words}", share=hundred(driver.share), words=words)
    low, high = (region.money_whole(end) for end in (swing.low, swing.high))
    return SwingRow(name, swing, low, high, words, code)


def capital(text: str) -> str:
    """The first letter large, for the beginning of a line."""
    return text[:1].upper() + text[1:]
