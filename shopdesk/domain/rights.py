"""Who may do what: one table of rights per action, asked by one function.

An action's value is its name in the journal and in the undo list.
"""

from dataclasses import dataclass
from enum import StrEnum

from shopdesk.domain.problem import NotAllowed


class Role(StrEnum):
    OWNER = "owner"
    TECHNICIAN = "technician"
    DESK = "desk"


class Action(StrEnum):
    LOOK = "look"
    SEE_COSTS = "see costs"
    SET_UP = "change the set-up"
    KEEP_PEOPLE = "keep people and firms"
    BOOK_IN = "book a range in"
    WALK = "record a walk-round"
    DECIDE = "record a verdict"
    PLAN_WORK = "write the work order"
    QUOTE = "write a quote"
    AGREE = "record an agreement"
    WORK = "tick a task"
    READ_CAUTIONS = "read cautions"
    TAG = "tag what came off"
    TEST_THERMOSTAT = "fill in a thermostat card"
    CLOCK = "clock hours"
    FIND_MORE = "report found more"
    KEEP_STORES = "keep stores"
    ORDER = "order parts"
    RECEIVE = "take goods in"
    SEND_OUT = "send outwork"
    PROVE = "record a proof"
    KEEP_INSTRUMENTS = "keep instruments"
    RECKON_GAS = "use the gas bench"
    CONVERT_GAS = "record a conversion"
    RELEASE = "release a range"
    INVOICE = "issue an invoice"
    TAKE_PAYMENT = "take a payment"
    WRITE_OFF = "write an invoice off"
    WRITE_LETTER = "write a letter"
    ERASE = "erase a customer"
    HAND_OVER = "hand a range over"
    WITHDRAW = "end a job"
    PRINT = "print a paper"
    UNDO = "take a deed back"
    SIGN_IN = "sign in"
    APPOINT = "make an appointment"
    PLAN_BENCH = "plan the bench"
    PROMISE = "promise a day"
    KEEP_HOURS = "keep hours and leave"


_EVERYONE = frozenset(Role)
_OWNER = frozenset({Role.OWNER})
_OFFICE = frozenset({Role.OWNER, Role.DESK})
_SHOP = frozenset({Role.OWNER, Role.TECHNICIAN})

_RIGHTS: dict[Action, frozenset[Role]] = {
    Action.LOOK: _EVERYONE,
    Action.SEE_COSTS: _OWNER,
    Action.SET_UP: _OWNER,
    Action.KEEP_PEOPLE: _OFFICE,
    Action.BOOK_IN: _OFFICE,
    Action.WALK: _SHOP,
    Action.DECIDE: _OWNER,
    Action.PLAN_WORK: _OWNER | _SHOP,
    Action.QUOTE: _OFFICE,
    Action.AGREE: _OFFICE,
    Action.WORK: _SHOP,
    Action.READ_CAUTIONS: _SHOP,
    Action.TAG: _SHOP,
    Action.TEST_THERMOSTAT: _SHOP,
    Action.CLOCK: _SHOP,
    Action.FIND_MORE: _SHOP,
    Action.KEEP_STORES: _EVERYONE,
    Action.ORDER: _OFFICE,
    Action.RECEIVE: _EVERYONE,
    Action.SEND_OUT: _EVERYONE,
    Action.PROVE: _SHOP,
    Action.KEEP_INSTRUMENTS: _SHOP,
    Action.RECKON_GAS: _SHOP,
    Action.CONVERT_GAS: _SHOP,
    Action.RELEASE: _OWNER,
    Action.INVOICE: _OFFICE,
    Action.TAKE_PAYMENT: _OFFICE,
    Action.WRITE_OFF: _OWNER,
    Action.WRITE_LETTER: _OFFICE,
    Action.ERASE: _OWNER,
    Action.HAND_OVER: _OFFICE,
    Action.WITHDRAW: _OFFICE,
    Action.PRINT: _EVERYONE,
    Action.UNDO: _EVERYONE,
    Action.SIGN_IN: _EVERYONE,
    Action.APPOINT: _OFFICE,
    Action.PLAN_BENCH: _OWNER,
    Action.PROMISE: _OFFICE,
    Action.KEEP_HOURS: _OFFICE,
}


@dataclass(frozen=True, slots=True)
class Acting:
    """The person on whose account something is done."""

    staff_id: int
    name: str
    role: Role


def may(role: Role, action: Action) -> bool:
    return role in _RIGHTS[action]


def require(acting: Acting, action: Action) -> None:
    """Refuses with a sentence that names the person, the action and who may do it."""
    if may(acting.role, action):
        return
    raise NotAllowed(
        "{name} may not {action}. This is for: {roles}.",
        name=acting.name,
        action=action.value,
        roles=", ".join(sorted(r.value for r in _RIGHTS[action])),
    )
