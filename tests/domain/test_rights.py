"""Who may do what: the table of rights, role by role, written down a second time by hand."""

import pytest

from shopdesk.domain.problem import NotAllowed
from shopdesk.domain.rights import Acting, Action, Role, may, require

EVERYONE = {
    Action.LOOK, Action.KEEP_STORES, Action.RECEIVE, Action.SEND_OUT, Action.PRINT, Action.UNDO,
    Action.SIGN_IN,
}  # fmt: skip
MAY = {
    Role.OWNER: set(Action),
    Role.TECHNICIAN: EVERYONE
    | {
        Action.WALK, Action.PLAN_WORK, Action.WORK, Action.CLOCK, Action.FIND_MORE, Action.PROVE,
        Action.TAG, Action.READ_CAUTIONS, Action.TEST_THERMOSTAT, Action.KEEP_INSTRUMENTS,
        Action.RECKON_GAS, Action.CONVERT_GAS,
    },
    Role.DESK: EVERYONE
    | {
        Action.KEEP_PEOPLE, Action.BOOK_IN, Action.QUOTE, Action.AGREE, Action.ORDER, Action.INVOICE,
        Action.TAKE_PAYMENT, Action.WRITE_LETTER, Action.HAND_OVER, Action.WITHDRAW, Action.APPOINT,
        Action.PROMISE, Action.KEEP_HOURS,
    },
}  # fmt: skip


@pytest.mark.parametrize("action", Action)
@pytest.mark.parametrize("role", Role)
def test_each_role_may_do_what_is_its_own_and_no_more(role, action):
    acting = Acting(1, "Bram Tollgate", role)
    assert may(role, action) is (action in MAY[role])
    if action in MAY[role]:
        require(acting, action)
        return
    with pytest.raises(NotAllowed) as told:
        require(acting, action)
    assert str(told.value).startswith(f"Bram Tollgate may not {action.value}. This is for: ")
    assert "owner" in str(told.value)


def test_costs_and_releases_are_for_the_owner_alone():
    for action in (Action.SEE_COSTS, Action.SET_UP, Action.RELEASE, Action.DECIDE):
        assert [role for role in Role if may(role, action)] == [Role.OWNER]
