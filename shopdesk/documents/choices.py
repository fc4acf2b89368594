"""Scopes side by side, for a customer who chooses: a paper of talk, with no number and nothing agreed."""

from reportlab.platypus import Flowable, Spacer

from shopdesk.documents.facts.counter import ChoiceFacts, ChoicesFacts, Kind
from shopdesk.documents.layout.blocks import party, range_name, range_pairs, section
from shopdesk.documents.layout.lines import kind_name
from shopdesk.documents.layout.look import GAP, LEDE
from shopdesk.documents.layout.page import printed, width
from shopdesk.documents.layout.standing import closing_deferral
from shopdesk.documents.layout.tables import Cell, Column, Grid, beside, pairs
from shopdesk.documents.layout.text import para, paras
from shopdesk.wording import say

_KINDS: tuple[Kind, ...] = ("labour", "part", "outwork", "delivery", "charge")


def render(facts: ChoicesFacts) -> bytes:
    """The paper as PDF bytes."""
    wide, region = width(facts.shop), facts.shop.region
    left = [
        *party(say("For"), facts.customer),
        Spacer(0, GAP),
        *pairs(
            [
                (say("Date"), region.day_long(facts.day)),
                (say("Prices hold until"), region.day_long(facts.valid_until) if facts.valid_until else ""),
            ],
            wide / 2 - GAP * 2,
            92,
        ),
    ]
    story: list[Flowable] = [
        beside(left, pairs(range_pairs(facts.range), wide / 2), wide),
        Spacer(0, GAP),
        para(_opening(facts), LEDE),
        Spacer(0, GAP),
        _money(facts, wide),
        *section(say("What each means"), paras(tuple(f"{c.scope}: {c.means}" for c in facts.choices))),
        *_finishes(facts, wide),
        *section(say("Conditions"), paras(facts.terms)),
        closing_deferral(),
    ]
    about = say("Range {number}, {name}", number=facts.range.number, name=range_name(facts.range))
    return printed(facts.shop, say("Your choices"), facts.range.number, story, about=about)


def _opening(facts: ChoicesFacts) -> str:
    said = say("How far the work can go, side by side. This is for choosing; a quote of its own follows.")
    if facts.teardown_cents:
        amount = facts.shop.region.money(facts.teardown_cents)
        first = say(
            "It can go in two steps: the teardown first, for {amount} without tax, then a stop and the job "
            "with what was found.",
            amount=amount,
        )
        said = f"{said} {first}"
    return said


def _money(facts: ChoicesFacts, wide: float) -> Flowable:
    region = facts.shop.region
    each = (wide - 130) / max(1, len(facts.choices))
    label = say("Amounts ({currency})", currency=region.currency)
    grid = Grid([Column(label), *(Column(choice.scope, each, True) for choice in facts.choices)])

    def row(name: str, figures: list[int]) -> None:
        if any(figures):
            grid.row(name, *(region.amount(cents) if cents else "" for cents in figures))

    for kind in _KINDS:
        row(kind_name(kind), [dict(choice.kinds).get(kind, 0) for choice in facts.choices])
    row(say("Without tax"), [choice.totals.without_tax for choice in facts.choices])
    row(say("Tax"), [choice.totals.tax for choice in facts.choices])
    row(say("With tax"), [choice.totals.with_tax for choice in facts.choices])
    row(say("Deposit asked"), [choice.deposit_cents for choice in facts.choices])
    row(say("Contingency, for the hours"), [choice.contingency_cents for choice in facts.choices])
    row(say("Not above, without tax"), [choice.ceiling_cents for choice in facts.choices])
    return grid.table(wide)


def _finishes(facts: ChoicesFacts, wide: float) -> list[Flowable]:
    """Every surface with its finish in each scope."""
    surfaces = list(dict.fromkeys(f.surface for choice in facts.choices for f in choice.finishes))
    if not surfaces:
        return []
    each = (wide - 130) / max(1, len(facts.choices))
    grid = Grid([Column(say("Surface")), *(Column(choice.scope, each) for choice in facts.choices)])
    for surface in surfaces:
        cells: list[Cell] = [_grade(choice, surface) for choice in facts.choices]
        grid.row(surface, *cells)
    return section(say("Finish, surface by surface"), [grid.table(wide)])


def _grade(choice: ChoiceFacts, surface: str) -> str:
    return next((f.grade for f in choice.finishes if f.surface == surface), "")
