"""Blocks that several papers share: sections, parties, the range, totals, notices, signatures."""

from collections.abc import Sequence

from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, Spacer, Table

from shopdesk.documents.facts.condition import Piece
from shopdesk.documents.facts.parties import PartyFacts, RangeFacts
from shopdesk.documents.layout.cells import Command, cells
from shopdesk.documents.layout.look import (
    ACCENT,
    BODY,
    DUE,
    DUE_RIGHT,
    GAP,
    INK,
    LEDE_STRONG,
    RIGHT,
    RULE_WIDTH,
    SECTION,
    SMALL,
    STRONG,
)
from shopdesk.documents.layout.tables import Cell, Column, Grid, pairs
from shopdesk.documents.layout.text import listed, para
from shopdesk.wording import say


def section(title: str, content: Sequence[Flowable], room: float = 60) -> list[Flowable]:
    """A heading over its content, nothing when there is none; `room` points must follow on the page."""
    if not content:
        return []
    return [CondPageBreak(room), para(title, SECTION), *content]


def kept_section(title: str, content: Sequence[Flowable]) -> list[Flowable]:
    """A section that is not broken over pages unless it fills more than one."""
    return [KeepTogether([para(title, SECTION), *content])] if content else []


def bullets(title: str, texts: tuple[str, ...]) -> list[Flowable]:
    """A section that is a plain list."""
    return section(title, listed(texts))


def party(label: str, who: PartyFacts) -> list[Flowable]:
    """A name with its address and ways to reach it."""
    lines = [*who.address_lines, who.phone, who.email]
    if who.tax_number:
        lines.append(say("Tax number {number}", number=who.tax_number))
    return [para(label, SMALL), para(who.name, STRONG), *(para(line) for line in lines if line)]


def range_name(about: RangeFacts) -> str:
    """What a range is called in a line: maker, model, number."""
    return " ".join(piece for piece in (about.maker, about.model) if piece) or say("Range")


def range_pairs(about: RangeFacts) -> list[tuple[str, str]]:
    """A range's identity; what no one could read says so, since duties ask for it."""
    unknown = say("not known")
    return [
        (say("Range"), about.number),
        (say("Maker"), about.maker or unknown),
        (say("Model"), about.model or unknown),
        (say("Serial number"), about.serial or unknown),
        (say("Made about"), about.made_about),
        (say("Color"), about.colour),
        (say("Gas on the plate"), about.gas_on_plate),
        (say("Build"), about.build),
        (say("Size"), _size(about)),
        (say("Weight"), about.weight),
    ]


def _size(about: RangeFacts) -> str:
    told = []
    if about.width:
        told.append(say("{length} wide", length=about.width))
    if about.depth:
        told.append(say("{length} deep", length=about.depth))
    if about.height:
        told.append(say("{length} high", length=about.height))
    return ", ".join(told)


def pieces_table(pieces: Sequence[Piece], width: float) -> list[Flowable]:
    """The completeness list."""
    if not pieces:
        return []
    grid = Grid([Column(say("Piece")), Column(say("State"), 110), Column(say("Remark"), width * 0.36)])
    for piece in pieces:
        grid.row(piece.name, piece.state, piece.note)
    return [grid.table(width)]


def sums(rows: Sequence[tuple[str, str]], last: tuple[str, str] | None, width: float) -> Table:
    """The totals at the right edge; `last` stands large under an accent rule."""
    set_rows = [[para(label, BODY), para(figure, RIGHT)] for label, figure in rows]
    style: list[Command] = [
        ("VALIGN", (0, 0), (-1, -1), "BOTTOM"),
        ("TOPPADDING", (0, 0), (-1, -1), 1.5),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 1.5),
    ]
    if last:
        at = len(set_rows)
        set_rows.append([para(last[0], DUE), para(last[1], DUE_RIGHT)])
        style += [("LINEABOVE", (0, at), (-1, at), 0.9, ACCENT), ("TOPPADDING", (0, at), (-1, at), 5)]
    wide = min(width, 290.0)
    table = cells(set_rows, [wide * 0.66, wide * 0.34], *style, align="RIGHT")
    table.spaceBefore = GAP
    return table


def notice(title: str, content: Sequence[Flowable], width: float) -> list[Flowable]:
    """Something no reader may miss: between two heavy rules, its title in words."""
    body = cells(
        [[[para(title, LEDE_STRONG), *content]]],
        [width],
        ("LINEABOVE", (0, 0), (-1, 0), 1.8, INK),
        ("LINEBELOW", (0, -1), (-1, -1), 1.8, INK),
        ("TOPPADDING", (0, 0), (-1, -1), GAP),
        ("BOTTOMPADDING", (0, 0), (-1, -1), GAP),
    )
    return [Spacer(0, GAP * 1.5), KeepTogether([body]), Spacer(0, GAP)]


def signatures(labels: Sequence[str], width: float, before: Sequence[Flowable] = ()) -> Flowable:
    """Lines to sign and date on, two to a row, kept together with what is signed."""
    gap = GAP * 4
    wide = (width - gap) / 2
    captions: list[Cell] = [para(label, SMALL) for label in labels]
    rows: list[list[Cell]] = []
    style: list[Command] = [("TOPPADDING", (0, 0), (-1, -1), 3)]
    for start in range(0, len(captions), 2):
        left, right = [*captions[start : start + 2], ""][:2]
        rows += [["", "", ""], [left, "", right]]
        at = len(rows) - 1
        style.append(("LINEABOVE", (0, at), (0, at), RULE_WIDTH, INK))
        if right:
            style.append(("LINEABOVE", (2, at), (2, at), RULE_WIDTH, INK))
    heights = [34 if row % 2 == 0 else None for row in range(len(rows))]
    lines = cells(rows, [wide, gap, wide], *style, heights=heights)
    return KeepTogether([Spacer(0, GAP), *before, lines])


def labelled(title: str, facts: Sequence[tuple[str, str]], width: float) -> list[Flowable]:
    """A section of labels and facts, kept on one page."""
    return kept_section(title, pairs(facts, width))
