"""A chart laid out in fractions of its own box, for the window and for papers alike. Knows no painter."""

from dataclasses import dataclass

from shopdesk.domain.curve import Curve, Style, ticks
from shopdesk.domain.quantity import Quantity
from shopdesk.wording import Region, say
from shopdesk.wording.bench_measures import in_unit, shown, unit_of

Spot = tuple[float, float]  # across from the left, up from the bottom, 0 to 1


@dataclass(frozen=True, slots=True)
class Line:
    name: str
    style: Style
    spots: tuple[Spot, ...]


@dataclass(frozen=True, slots=True)
class Chart:
    """Everything a painter needs: ticks with their words, lines, marks, and a line right across."""

    title: str
    across: tuple[tuple[float, str], ...]
    up: tuple[tuple[float, str], ...]
    across_unit: str
    up_unit: str
    lines: tuple[Line, ...]
    marks: tuple[tuple[float, float, str], ...]
    level: tuple[float, str] | None  # drawn dotted, named in the legend
    words: str  # the chart told, for those who do not see it

    @property
    def legends(self) -> int:
        """Lines of the legend."""
        return len(self.lines) + (self.level is not None)


_WORD_ROOM = 0.12  # of the span, so that the words at marks stand clear of the axes


def chart_of(curve: Curve, region: Region) -> Chart:
    """Lays a curve out in the shop's units."""
    first, last, low, high = curve.span
    across = ticks(first, last, 6)
    bottom, top = (in_unit(value, curve.quantity, region) for value in (low, high))
    room = _WORD_ROOM * (top - bottom) if any(mark.word for mark in curve.marks) else 0.0
    up = ticks(bottom - room, top + room)

    def spot(minute: float, value: float) -> Spot:
        shown = in_unit(value, curve.quantity, region)
        return (minute - across[0]) / (across[-1] - across[0]), (shown - up[0]) / (up[-1] - up[0])

    level = None
    if curve.level is not None:
        level = (spot(first, curve.level)[1], say(curve.level_name))
    return Chart(
        title=title_of(curve, region),
        across=tuple(
            ((x - across[0]) / (across[-1] - across[0]), region.number(x) if curve.timed else "")
            for x in across
        ),
        up=tuple(((y - up[0]) / (up[-1] - up[0]), region.number(y)) for y in up),
        across_unit=unit_of(Quantity.MINUTES, region) if curve.timed else "",
        up_unit=unit_of(curve.quantity, region),
        lines=tuple(Line(_named(s.name), s.style, tuple(spot(*p) for p in s.points)) for s in curve.series),
        marks=tuple((*spot(m.minute, m.value), say(m.word)) for m in curve.marks),
        level=level,
        words=_told(curve, region),
    )


def title_of(curve: Curve, region: Region) -> str:
    """The curve's title; an oven's setting is written in the shop's unit."""
    if curve.quantity is Quantity.TEMPERATURE and curve.level is not None:
        return say("Oven, dial at {set}", set=_value(curve, curve.level, region))
    return say(curve.title)


def _named(name: str) -> str:
    """Before and after carry the name of the line behind a colon."""
    word, mark, rest = name.partition(": ")
    return f"{say(word)}: {say(rest)}" if mark else say(name)


def _value(curve: Curve, value: float, region: Region) -> str:
    return shown(value, curve.quantity, region)


def _told(curve: Curve, region: Region) -> str:
    lines = [
        say(
            "{name}: from {start} at {first} min to {end} at {last} min",
            name=_named(s.name), start=_value(curve, s.points[0][1], region),
            first=region.number(s.points[0][0]), end=_value(curve, s.points[-1][1], region),
            last=region.number(s.points[-1][0]),
        )
        for s in curve.series
    ]  # fmt: skip
    return "; ".join([title_of(curve, region), *lines])
