"""Who sits down: passphrases where they are set, failures slowed and journaled."""

import pytest
from builders import Shop

from shopdesk.domain.problem import NotAllowed, Problem
from shopdesk.domain.rights import Action, Role
from shopdesk.services.signing_in import FREE_TRIES, asks, people_here, set_passphrase, sign_in
from shopdesk.storage.tables.shop import Journal, Staff

OWNERS = "four jars of black lead"
BRAMS = "the valve turns freely"


def with_passphrases(shop: Shop) -> tuple[int, int]:
    owner, bram = shop.owner.acting.staff_id, shop.technician.acting.staff_id
    set_passphrase(shop.owner, owner, OWNERS)
    set_passphrase(shop.owner, bram, BRAMS)
    return owner, bram


def test_a_shop_without_passphrases_asks_nobody(shop: Shop) -> None:
    assert not asks(shop.owner)
    bram = shop.technician.acting.staff_id
    assert sign_in(shop.owner, bram).acting.role is Role.TECHNICIAN
    assert shop.owner.taken_by(bram).acting.name == "Bram Tollgate"


def test_a_right_passphrase_sits_down_and_a_wrong_one_does_not(shop: Shop) -> None:
    owner, bram = with_passphrases(shop)
    assert asks(shop.owner)
    assert {person.id for person in people_here(shop.owner) if person.passphrase} == {owner, bram}
    assert sign_in(shop.owner, bram, BRAMS).acting.staff_id == bram
    for wrong in ("", BRAMS.upper(), OWNERS, BRAMS + " "):
        with pytest.raises(NotAllowed, match="not Bram Tollgate’s passphrase"):
            sign_in(shop.owner, bram, wrong)
        shop.clock.advance(minutes=10)
    with pytest.raises(Problem, match="signs in with a passphrase"):
        shop.owner.taken_by(bram)


def test_failures_are_slowed_more_and_more_and_written_into_the_journal(shop: Shop) -> None:
    _, bram = with_passphrases(shop)
    for _ in range(FREE_TRIES):
        with pytest.raises(NotAllowed, match="Try again"):
            sign_in(shop.owner, bram, "guess after guess")
    with pytest.raises(NotAllowed, match="Wait 5 seconds"):
        sign_in(shop.owner, bram, BRAMS)
    shop.clock.advance(minutes=0.1)
    with pytest.raises(NotAllowed, match="Try again"):
        sign_in(shop.owner, bram, "guess after guess")
    with pytest.raises(NotAllowed, match="Wait 10 seconds"):
        sign_in(shop.owner, bram, BRAMS)
    shop.clock.advance(minutes=1)
    sign_in(shop.owner, bram, BRAMS)
    with shop.owner.look() as session:
        rows = session.query(Journal).filter(Journal.action == Action.SIGN_IN).order_by(Journal.id).all()
        counts = [
            row.after[f"staff {bram}"].get("failed_count") for row in rows if f"staff {bram}" in row.after
        ]
        assert [count for count in counts if count] == [1, 2, 3, 4]
        assert BRAMS not in str([(row.before, row.after) for row in rows])
        kept = session.get_one(Staff, bram).passphrase_hash
    assert kept.startswith("$argon2id$")
    assert kept not in str([(row.before, row.after) for row in rows])


def test_a_clock_set_back_locks_nobody_out(shop: Shop) -> None:
    _, bram = with_passphrases(shop)
    later = type(shop.clock)(shop.clock())
    later.advance(days=3)
    shop.owner.file.clock = later
    for _ in range(FREE_TRIES):
        with pytest.raises(NotAllowed):
            sign_in(shop.owner, bram, "guess after guess")
    shop.owner.file.clock = shop.clock
    assert sign_in(shop.owner, bram, BRAMS).acting.staff_id == bram


def test_who_may_set_whose_passphrase(shop: Shop) -> None:
    owner, bram = with_passphrases(shop)
    at_work = sign_in(shop.owner, bram, BRAMS)
    with pytest.raises(NotAllowed, match="or an owner"):
        set_passphrase(at_work, owner, "mine from now on")
    with pytest.raises(NotAllowed, match="another one"):
        set_passphrase(at_work, bram, "a new one for me", "not the old one")
    set_passphrase(at_work, bram, "a new one for me", BRAMS)
    assert sign_in(shop.owner, bram, "a new one for me")
    with pytest.raises(Problem, match="at least 10"):
        set_passphrase(shop.owner, bram, "short")
    with pytest.raises(Problem, match="leave the shop open"):
        set_passphrase(shop.owner, owner, "")
    set_passphrase(shop.owner, bram, "")
    set_passphrase(shop.owner, owner, "")
    assert not asks(shop.owner)
