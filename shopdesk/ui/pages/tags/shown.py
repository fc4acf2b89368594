"""Tags as strips of a list, and in sentences beside it. Facts in, words out; knows no widgets."""

from collections.abc import Iterable, Sequence

from shopdesk.services.tag_places import PieceOut
from shopdesk.services.tags import TagRow
from shopdesk.ui.widgets.strip_list import Strip, Tone
from shopdesk.wording import Region, say, say_n


def strips(rows: Iterable[TagRow], region: Region) -> list[Strip]:
    return [strip_of(row, region) for row in rows]


def strip_of(row: TagRow, region: Region) -> Strip:
    """Number, count and what; whose and where it goes back; at the right where it lies."""
    title = say("{number}: {count} × {what}", number=row.number, count=row.how_many, what=row.what)
    second = say("{range}, goes back to: {place}", range=row.range_number, place=row.goes_back)
    lies, word = where(row, region)
    tone: Tone = "hold" if row.standing in ("out", "sent") else "muted"
    return Strip(row.id, title, second, lies, word, tone, strong=row.standing in ("out", "sent"))


def where(row: TagRow, region: Region) -> tuple[str, str]:
    """Where it lies now, and how it stands."""
    if row.standing == "back" and row.back_at is not None:
        return say("on the range"), say("back {day}", day=region.day(region.local_day(row.back_at)))
    if row.standing == "not back":
        return row.not_back_because, say("not going back")
    lies = row.lies_at or say("nobody wrote where")
    return lies, say("with another trade") if row.standing == "sent" else say("off the range")


def story(row: TagRow, region: Region) -> str:
    """What is known of a tag, in sentences."""
    taken = region.day(region.local_day(row.taken_off_at))
    told = [say("Goes back to: {place}.", place=row.goes_back)]
    if row.standing in ("out", "sent"):
        told.append(say("Lies: {place}.", place=row.lies_at or say("nobody wrote where")))
    told.append(say("Taken off on {day} by {who}.", day=taken, who=row.taken_off_by))
    if row.task:
        told.append(say("At the task “{task}”.", task=row.task))
    if row.back_at is not None:
        back = region.day(region.local_day(row.back_at))
        if row.standing == "not back":
            told.append(say("Not going back since {day}, says {who}: {why}.", day=back, who=row.back_by,
                            why=row.not_back_because))  # fmt: skip
        else:
            told.append(say("Put back on {day} by {who}, counted.", day=back, who=row.back_by))
    return " ".join(told)


def found(rows: Iterable[TagRow], typed: str) -> list[TagRow]:
    """Those in which every typed word stands; a scanned code counts as its number."""
    words = typed.strip().lower().removeprefix("shopdesk:tag/").split()
    return [row for row in rows if all(word in _text(row) for word in words)]


def count_words(rows: Sequence[TagRow]) -> str:
    """`12 tags out, 2 of them with another trade`."""
    out = [row for row in rows if row.back_at is None]
    sent = sum(row.standing == "sent" for row in out)
    told = say_n("{count} tag is off its range", "{count} tags are off their ranges", len(out))
    if not sent:
        return told
    with_trade = say_n("{count} of them with another trade", "{count} of them with other trades", sent)
    return f"{told}, {with_trade}"


def piece_words(piece: PieceOut) -> str:
    """A piece that is out, and how much of its count is named by tags."""
    return say("{piece}, {firm} ({number}): {tagged} of {count} named by tags", piece=piece.name,
               firm=piece.firm, number=piece.number, tagged=piece.tagged, count=piece.count_out)  # fmt: skip


def _text(row: TagRow) -> str:
    parts = (row.number, row.range_number, row.what, row.goes_back, row.lies_at, row.task, row.consignment)
    return " ".join(parts).lower()
