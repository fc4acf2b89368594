"""Where needs, orders and pieces stand, in words and with a sign. Knows no widgets and no services' calls."""

import datetime as dt
from dataclasses import dataclass

from shopdesk.services.firm_records import FirmRecord
from shopdesk.services.needs import NeedRow
from shopdesk.services.outwork import ConsignmentRow, PieceRow
from shopdesk.services.people import PartyRow
from shopdesk.services.purchasing import OrderRow
from shopdesk.services.storeroom import OutworkTask
from shopdesk.wording import Region, say, say_n

LATE, SHORT = "late", "short"


@dataclass(frozen=True, slots=True)
class Standing:
    """`key` orders and marks; `words` say it; `pressing` stands out by letter, sign and colour."""

    key: str
    words: str

    @property
    def pressing(self) -> bool:
        return self.key in (LATE, SHORT, "rejected")

    @property
    def sign(self) -> str:
        """The icon beside the words."""
        signs = {
            LATE: "warning", SHORT: "warning", "rejected": "warning", "ordered": "truck", "open": "truck",
            "part": "box", "here": "tick", "received": "tick", "back": "tick", "cancelled": "close",
            "called off": "close", "out": "outwork",
            "donor": "hand", "making": "bench", "lost": "remove", "to send": "hand", "waits": "calendar",
        }  # fmt: skip
        return signs[self.key]


def days_late(on: dt.date, today: dt.date) -> str:
    return say_n("late, {count} day", "late, {count} days", (today - on).days)


def of_need(need: NeedRow, region: Region, today: dt.date) -> Standing:
    """Short first in weight, then what is late, on order, here, called off."""
    if need.short:
        words = say("short {count}", count=need.short)
        if need.in_stock:
            words = say("{words}, {count} on the shelf", words=words, count=need.in_stock)
        return Standing(SHORT, words)
    if need.on_order:
        if need.expected_on is not None and need.expected_on < today:
            return Standing(LATE, days_late(need.expected_on, today))
        due = region.day_short(need.expected_on, today) if need.expected_on else ""
        return Standing("ordered", say("on order, due {day}", day=due) if due else say("on order"))
    if need.from_donor or need.making:
        return _coming(need)
    if need.covered >= need.quantity:
        return Standing("here", say("here"))
    return Standing("called off", say("called off"))


def _coming(need: NeedRow) -> Standing:
    if need.from_donor:
        return Standing("donor", say("to come off {number}", number=need.from_donor))
    return Standing("making", say("being made"))


def needs_in_order(rows: list[NeedRow], region: Region, today: dt.date) -> list[NeedRow]:
    """Short first, then late, on order, here, called off; within each as the service gave them."""
    rank = {SHORT: 0, LATE: 1, "ordered": 2, "donor": 2, "making": 2, "here": 3, "called off": 4}
    return sorted(rows, key=lambda row: rank[of_need(row, region, today).key])


def of_order(order: OrderRow, today: dt.date) -> Standing:
    if order.standing == "late" and order.expected_on is not None:
        return Standing(LATE, days_late(order.expected_on, today))
    words = {
        "open": ("open", say("open")),
        "part received": ("part", say("part received")),
        "received": ("received", say("received")),
        "cancelled": ("cancelled", say("cancelled")),
    }
    return Standing(*words[order.standing])


def order_story(order: OrderRow, region: Region, today: dt.date) -> list[str]:
    """What happened between shop and supplier, and who waits, in sentences."""
    parts = []
    if order.sent_on is not None:
        parts.append(
            say("Sent {day}, {how}.", day=region.day_short(order.sent_on, today), how=order.sent_how)
        )
    if order.acknowledged_on is not None:
        number = order.their_number or say("without a number")
        parts.append(say("Acknowledged {day}, {number}.", number=number,
                         day=region.day_short(order.acknowledged_on, today)))  # fmt: skip
    if order.chased_on is not None:
        parts.append(say("Asked after {day}: {answer}.", answer=order.chased_answer.rstrip("."),
                         day=region.day_short(order.chased_on, today)))  # fmt: skip
    waits = sorted({line.range_number for line in order.lines if line.left and line.range_number})
    if waits and order.standing != "cancelled":
        parts.append(say("Waiting for it: {numbers}.", numbers=", ".join(waits)))
    wrong = sum(line.wrong for line in order.lines)
    if wrong:
        parts.append(
            say_n("{count} wrong piece is to go back.", "{count} wrong pieces are to go back.", wrong)
        )
    return parts


def count_in(order: OrderRow) -> str:
    """`3 of 5 pieces`, over all its lines."""
    wanted = sum(line.quantity for line in order.lines)
    came = sum(min(line.received, line.quantity) for line in order.lines)
    return say("{came} of {wanted}", came=came, wanted=wanted)


def over_or_under(wanted: int, received: int, counted: int) -> str:
    """What a count means against what was ordered; "" when it is just that."""
    left = wanted - received - counted
    if left > 0:
        return say_n("{count} is still to come.", "{count} are still to come.", left)
    if left < 0:
        return say_n(
            "{count} more than ordered; it goes on the shelf.",
            "{count} more than ordered; they go on the shelf.",
            -left,
        )
    return ""


def of_piece(sent: ConsignmentRow, piece: PieceRow, today: dt.date) -> Standing:
    if piece.accepted == "rejected":
        return Standing("rejected", say("rejected, to be done again"))
    if piece.back_on is not None and piece.lost:
        return Standing("lost", say("{count} lost", count=piece.lost))
    if piece.back_on is not None:
        return Standing("back", say("back"))
    if sent.expected_on is not None and sent.expected_on < today:
        return Standing(LATE, days_late(sent.expected_on, today))
    if piece.count_back:
        return Standing("part", say("part back"))
    return Standing("out", say("out"))


def of_outwork_task(task: OutworkTask) -> Standing:
    if task.waits:
        return Standing("waits", say("not yet to be sent"))
    return Standing("to send", say("can be sent"))


def what_it_does(firm: PartyRow) -> str:
    """`sells parts`, a trade, or both."""
    words = [say("sells parts")] if firm.supplies else []
    return ", ".join([*words, *([say(firm.trade)] if firm.trade else [])])


def record_words(record: FirmRecord, region: Region) -> str:
    """How a firm has done: how late it comes, what was rejected, what never came back."""
    parts = [say_n("{count} consignment so far.", "{count} consignments so far.", record.consignments)]
    if record.days_late:
        least, most = min(record.days_late), max(record.days_late)
        parts.append(
            say("Days late: {usual}, {least}-{most}.", usual=record.usually_late, least=least, most=most)
        )
    parts.append(
        say("{rejected} of {pieces} pieces rejected.", rejected=record.rejected, pieces=record.pieces)
    )
    if record.lost:
        parts.append(
            say("{lost} lost, worth {money}.", lost=record.lost, money=region.money(record.lost_cents))
        )
    return " ".join(parts)
