"""Where the window shows what a code names."""

from typing import TYPE_CHECKING

from shopdesk.domain.codes import Code, Thing
from shopdesk.ui.context import Context
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.services.found import Found
    from shopdesk.services.seat import Seat


def open_code(context: Context, code: Code) -> None:
    """Asks the shop what a code names, and shows it; the strip says when there is no such thing."""
    context.ask(lambda seat: _find(seat, code), lambda found: show_found(context, found), key="code")


def show_found(context: Context, found: "Found") -> None:
    if found.thing is Thing.RANGE:
        context.open_jacket(found.id)
    elif found.thing is Thing.TAG:
        context.go("tags", tag_id=found.id)
    elif found.thing is Thing.ORDER:
        context.go("stores", order_id=found.id)
    elif found.thing is Thing.CONSIGNMENT:
        context.go("stores", consignment_id=found.id)
    elif found.thing is Thing.PART:
        context.go("stores", part_id=found.id)
    else:
        context.go("stores", bin_name=found.name)


def tell_foreign(context: Context, text: str) -> None:
    """What was read is no code of this program; it is shown, and nothing is done with it."""
    shown = text if len(text) <= 80 else text[:80] + "…"
    context.tell(say("Read: {text}. That is no code of this shop.", text=shown))


def _find(seat: "Seat", code: Code) -> "Found":
    from shopdesk.services.found import find

    return find(seat, code)
