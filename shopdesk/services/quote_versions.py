"""What changed between two versions of a quote, line by line."""

from dataclasses import dataclass

from shopdesk.services.lines import Line
from shopdesk.services.quotes import QuoteView


@dataclass(frozen=True, slots=True)
class LineChange:
    """A line that both versions have, at other minutes, pieces or price."""

    before: Line
    after: Line


@dataclass(frozen=True, slots=True)
class Difference:
    """From the earlier version to the later one."""

    earlier: str
    added: tuple[Line, ...]
    gone: tuple[Line, ...]
    changed: tuple[LineChange, ...]
    net_before: int
    net_after: int

    @property
    def is_nothing(self) -> bool:
        return not (self.added or self.gone or self.changed) and self.net_before == self.net_after


def difference(earlier: QuoteView, later: QuoteView) -> Difference:
    """Lines are the same when they stand for the same part, or for the same task and kind."""
    before, after = _by_key(earlier.lines), _by_key(later.lines)
    changed = tuple(
        LineChange(before[key], line)
        for key, line in after.items()
        if key in before and _worth(before[key]) != _worth(line)
    )
    return Difference(
        earlier.row.number,
        tuple(line for key, line in after.items() if key not in before),
        tuple(line for key, line in before.items() if key not in after),
        changed,
        earlier.row.net_cents,
        later.row.net_cents,
    )


def earlier_version(views: tuple[QuoteView, ...], view: QuoteView) -> QuoteView | None:
    """The version before this one: the last quote of the same step and scope written before it.

    Quotes of other scopes are choices beside it, not versions of it.
    """
    sort = (view.row.step, view.row.scope)
    same = [each for each in views if (each.row.step, each.row.scope) == sort and each.row.id < view.row.id]
    return max(same, key=lambda each: each.row.id) if same and view.row.step != "change" else None


def _by_key(lines: tuple[Line, ...]) -> dict[tuple[object, ...], Line]:
    found: dict[tuple[object, ...], Line] = {}
    for line in lines:
        key: tuple[object, ...] = (line.kind, line.need_id or line.task_id or line.what, line.what)
        while key in found:
            key = (*key, "again")
        found[key] = line
    return found


def _worth(line: Line) -> tuple[int, int, int]:
    return line.quantity, line.unit_cents, line.net_cents
