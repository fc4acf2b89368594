"""Whether a range gets to the place it is to stand in: door, opening, stairs against its size.

Common practice, no source: a range is carried through a door by the smaller of its width and its depth,
with an inch to spare for the hands; it stands in an opening no narrower than itself; on stairs its weight
decides how many carry it. Clearances to what burns are the local code's and are not judged here.
Inches and pounds; None is what nobody measured.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from shopdesk.domain.worth.sentence import Fact, Inches, Sentence, sentence

SIZES = ("width_in", "depth_in", "weight_lb", "door_in", "opening_in", "stairs")
"""Names under which the sizes that decide are kept."""
HANDS_IN = 1.0  # common practice, no source
HEAVY_LB = 250.0  # from here on stairs want more than two people; common practice, no source
_ALIKE = 0.01  # inches; a size kept to a hundredth is no finer


class Passage(StrEnum):
    """The verdict's words."""

    THROUGH = "goes through"
    NOT = "does not"
    NOT_MEASURED = "not measured"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """The range and the way it has to go; `stairs` counts steps."""

    width_in: float | None = None
    depth_in: float | None = None
    weight_lb: float | None = None
    door_in: float | None = None
    opening_in: float | None = None
    stairs: int | None = None


@dataclass(frozen=True, slots=True)
class Access:
    """`why` says each of the three in a sentence, the worst first."""

    passage: Passage
    why: tuple[Sentence, ...]


def access(sizes: Sizes) -> Access:
    """The plain verdict: one "does not" decides; else whatever was not measured leaves it open."""
    told = [_door(sizes), _opening(sizes), _stairs(sizes)]
    order = (Passage.NOT, Passage.NOT_MEASURED, Passage.THROUGH)
    told.sort(key=lambda pair: order.index(pair[0]))
    return Access(told[0][0], tuple(why for _, why in told))


def sizes_of(kept: Mapping[str, str]) -> Sizes:
    """Sizes as they are kept, in texts; what is no number above zero was not measured."""
    stairs = _number(kept.get("stairs", ""))
    return Sizes(
        width_in=_size(kept.get("width_in", "")),
        depth_in=_size(kept.get("depth_in", "")),
        weight_lb=_size(kept.get("weight_lb", "")),
        door_in=_size(kept.get("door_in", "")),
        opening_in=_size(kept.get("opening_in", "")),
        stairs=None if stairs is None or stairs < 0 else int(stairs),
    )


def _door(sizes: Sizes) -> tuple[Passage, Sentence]:
    known = [side for side in (sizes.width_in, sizes.depth_in) if side is not None]
    if sizes.door_in is None:
        return Passage.NOT_MEASURED, sentence("The narrowest door or turn on the way was not measured.")
    if not known:
        return Passage.NOT_MEASURED, sentence("Neither width nor depth of the range was measured.")
    narrow, room = min(known), sizes.door_in - HANDS_IN
    facts: dict[str, Fact] = {"side": Inches(narrow), "door": Inches(sizes.door_in)}
    if narrow <= room + _ALIKE:
        return Passage.THROUGH, sentence("It goes through the door: {side} through {door}.", **facts)
    if len(known) < 2:
        return Passage.NOT_MEASURED, sentence(
            "By the side that was measured it does not go through the door: {side} through {door}. "
            "Measure the other side.",
            **facts,
        )
    return Passage.NOT, sentence(
        "It does not go through the door with room for the hands: {side} through {door}. "
        "Look whether the door or the back of the range comes off.",
        **facts,
    )


def _opening(sizes: Sizes) -> tuple[Passage, Sentence]:
    if sizes.opening_in is None:
        return Passage.NOT_MEASURED, sentence("The kitchen’s opening was not measured.")
    if sizes.width_in is None:
        return Passage.NOT_MEASURED, sentence("The width of the range was not measured.")
    facts: dict[str, Fact] = {"width": Inches(sizes.width_in), "opening": Inches(sizes.opening_in)}
    if sizes.width_in <= sizes.opening_in + _ALIKE:
        return Passage.THROUGH, sentence(
            "It stands in the opening: {width} in {opening}. The local code says how far it keeps from "
            "what burns.",
            **facts,
        )
    return Passage.NOT, sentence("It is wider than the kitchen’s opening: {width} in {opening}.", **facts)


def _stairs(sizes: Sizes) -> tuple[Passage, Sentence]:
    if sizes.stairs is None:
        return Passage.NOT_MEASURED, sentence("Nobody counted the steps on the way.")
    if not sizes.stairs:
        return Passage.THROUGH, sentence("There are no steps on the way.")
    if sizes.weight_lb is None:
        return Passage.NOT_MEASURED, sentence(
            "There are {count} steps, and the weight is not known.", count=sizes.stairs
        )
    if sizes.weight_lb >= HEAVY_LB:
        return Passage.THROUGH, sentence(
            "There are {count} steps, and it is heavy: more than two people, and straps.", count=sizes.stairs
        )
    return Passage.THROUGH, sentence("There are {count} steps; two people with straps.", count=sizes.stairs)


def _size(kept: str) -> float | None:
    number = _number(kept)
    return number if number is not None and number > 0 else None


def _number(kept: str) -> float | None:
    try:
        number = float(kept)
    except ValueError:
        return None
    return number if number == number and abs(number) < 10_000 else None
