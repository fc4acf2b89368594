"""Making and setting up a shop; people, wages, rates, taxes; and what each role is refused."""

import datetime as dt
from decimal import Decimal
from functools import partial

import pytest
from builders import IDENTITY, a_customer, a_firm, a_range

from shopdesk.domain.catalogue.model import Purpose
from shopdesk.domain.money import Spread
from shopdesk.domain.problem import NotAllowed, NotFound, Problem
from shopdesk.domain.proving import Result
from shopdesk.domain.rights import Role
from shopdesk.domain.stage import Stage
from shopdesk.services import (
    agreements,
    bench,
    checking,
    handovers,
    intake,
    invoices,
    outwork,
    payments,
    people,
    proofs,
    proving,
    quotes,
    shops,
    stores,
    taxes,
    walks,
    work_orders,
)
from shopdesk.services.people import PartyDraft
from shopdesk.services.seat import is_sample, open_shop
from shopdesk.services.settings import CatalogueChanges, Sample, ShopIdentity, Terms, Texts
from shopdesk.storage import ShopFile
from shopdesk.wording.region import Region


@pytest.fixture(params=["file", "server"])
def empty_place(request, tmp_path):
    return (
        str(tmp_path / "new.db") if request.param == "file" else request.getfixturevalue("empty_pg_database")
    )


def test_a_new_shop_has_its_owner_series_wage_and_rate(empty_place, clock):
    seat = shops.new_shop(empty_place, clock, IDENTITY, Region(timezone="UTC"), " Odile Fennimarsh ")
    try:
        assert [(s.name, s.initials, s.role) for s in shops.staff(seat)] == [
            ("Odile Fennimarsh", "OF", Role.OWNER)
        ]
        assert shops.wages(seat)[0].cost_cents_per_hour == seat.catalogue.figures.cost_per_hour
        assert shops.setting(seat, ShopIdentity) == IDENTITY
        assert a_range(seat).number == "R-0001"
        assert not is_sample(seat)
        with pytest.raises(Problem, match="set up already"):
            shops.set_up(seat, IDENTITY, Region(), "Somebody else")
        assert checking.faults(seat) == []
    finally:
        seat.file.close()


@pytest.mark.parametrize(("name", "owner", "field"), [(" ", "Odile", "name"), ("Emberlow", " ", "owner")])
def test_a_shop_without_a_name_or_an_owner_is_not_made(tmp_path, clock, name, owner, field):
    with pytest.raises(Problem) as told:
        shops.new_shop(tmp_path / "new.db", clock, ShopIdentity(name=name), Region(), owner)
    assert told.value.field == field
    assert not (tmp_path / "new.db").exists()


def test_a_sample_stands_still_at_its_own_instant(shop, set_up_place, clock):
    shops.keep_setting(shop.owner, Sample("2026-03-02T17:00:00+00:00"))
    shop.owner.file.close()
    seat = open_shop(set_up_place, clock)
    try:
        assert seat.now == dt.datetime(2026, 3, 2, 17, tzinfo=dt.UTC)
        assert is_sample(seat)
    finally:
        seat.file.close()


def test_the_business_day_is_the_one_where_the_shop_stands(shop, clock):
    shops.keep_setting(shop.owner, Region(timezone="Pacific/Auckland"))
    clock.advance(hours=5)  # half past one in the afternoon, UTC
    assert shop.owner.refreshed().today == dt.date(2026, 9, 16)
    assert shop.owner.today == dt.date(2026, 9, 15)


def test_the_last_active_owner_stays_one(shop):
    key = shop.owner.acting.staff_id
    for wrong in (
        shops.StaffDraft("Odile Fennimarsh", Role.DESK),
        shops.StaffDraft("Odile Fennimarsh", Role.OWNER, active=False),
    ):
        with pytest.raises(Problem, match="is the only owner"):
            shops.keep_staff(shop.owner, wrong, key)
    shops.keep_staff(shop.owner, shops.StaffDraft("Wilf Orrery", Role.OWNER))
    shops.keep_staff(shop.owner, shops.StaffDraft("Odile Fennimarsh", Role.DESK), key)
    with pytest.raises(Problem, match="needs a name"):
        shops.keep_staff(shop.owner, shops.StaffDraft(" ", Role.DESK))


def test_somebody_who_left_takes_no_seat(shop):
    key = shop.technician.acting.staff_id
    shops.keep_staff(shop.owner, shops.StaffDraft("Bram Tollgate", Role.TECHNICIAN, active=False), key)
    assert "Bram Tollgate" not in [s.name for s in shops.staff(shop.owner)]
    assert "Bram Tollgate" in [s.name for s in shops.staff(shop.owner, everyone=True)]
    with pytest.raises(Problem, match="no longer works here"):
        shop.owner.taken_by(key)
    with pytest.raises(NotFound, match="not in the shop"):
        shop.owner.taken_by(4711)


def test_wages_rates_and_taxes_are_kept_from_a_day_on(shop):
    day = shop.owner.today
    key = shop.technician.acting.staff_id
    shops.keep_wage(shop.owner, key, day, 4200)
    shops.keep_wage(shop.owner, key, day, 4300)  # the same day is corrected
    assert [w.cost_cents_per_hour for w in shops.wages(shop.owner) if w.staff_id == key] == [4300]
    shops.keep_rate(shop.owner, "bench", day + dt.timedelta(days=9), 11000)
    taxes.keep_taxes(shop.owner, [taxes.TaxRow("part", day, "Sales tax", "S", Decimal("7.250"))])
    with shop.owner.look() as session:
        assert shops.hourly_rate(session, day) == 9500
        assert shops.hourly_rate(session, day + dt.timedelta(days=9)) == 11000
        with pytest.raises(Problem, match="No hourly rate"):
            shops.hourly_rate(session, day - dt.timedelta(days=1))
        assert taxes.tax_on(session, "part", day).percent == Decimal("7.25")
        assert taxes.tax_on(session, "part", day - dt.timedelta(days=1)).percent == 0
        assert taxes.tax_on(session, "labour", day).category == "O"
    assert {t.kind for t in taxes.taxes(shop.owner)} == {"part", "charge"}


def test_figures_that_cannot_be_are_refused(shop):
    day = shop.owner.today
    refused = [
        partial(shops.keep_wage, shop.owner, shop.owner.acting.staff_id, day, -1),
        partial(shops.keep_rate, shop.owner, "bench", day, -1),
        partial(taxes.keep_taxes, shop.owner, [taxes.TaxRow("air", day, "x", "S", Decimal(1))]),
        partial(taxes.keep_taxes, shop.owner, [taxes.TaxRow("part", day, "x", "S", Decimal(101))]),
        *(partial(shops.keep_setting, shop.owner, Terms(**{name: 101})) for name in (
            "deposit_percent", "ceiling_percent", "outwork_handling_percent", "sundries_percent",
        )),
        *(partial(shops.keep_setting, shop.owner, Terms(**{name: -1})) for name in (
            "quote_valid_days", "payment_days", "delivery_cents", "part_markup_percent", "warranty_days",
        )),
    ]  # fmt: skip
    before = (shops.wages(shop.owner), taxes.taxes(shop.owner), shops.setting(shop.owner, Terms))
    for deed in refused:
        with pytest.raises(Problem):
            deed()
    assert (shops.wages(shop.owner), taxes.taxes(shop.owner), shops.setting(shop.owner, Terms)) == before


def test_changes_to_the_catalogue_are_kept_only_if_it_can_be_read_with_them(shop, set_up_place, clock):
    shops.keep_setting(shop.owner, CatalogueChanges(figures={"charge_per_hour": "110.00"}))
    assert shop.owner.refreshed().catalogue.figures.charge_per_hour == 11000
    with pytest.raises(Problem, match="has to be mended"):
        shops.keep_setting(shop.owner, CatalogueChanges(figures={"charge_per_hour": "a lot"}))
    shop.owner.file.close()
    open_shop(set_up_place, clock).file.close()  # the shop still opens


def test_texts_come_back_as_they_were_kept(shop):
    texts = Texts(quote="Prices stand.\nNothing else does.", warranty="90 days, Søn & <b>")
    shops.keep_setting(shop.owner, texts)
    assert shops.setting(shop.owner, Texts) == texts


class TestPeopleAndFirms:
    def test_are_found_by_any_word_without_accents(self, shop):
        key = a_customer(shop.desk, "Müller-Söhne", town="Østerby")
        for words in ("muller", "SOHNE osterby", "555 0142", "müll"):
            assert [p.id for p in people.parties(shop.desk, words)] == [key]
        assert people.parties(shop.desk, "muller ferrow") == []
        assert people.parties(shop.desk, "%") != []  # no word at all narrows nothing

    def test_are_listed_by_what_they_are(self, shop):
        ruiz = a_customer(shop.desk)
        brindle = a_firm(shop.desk, supplies=True)
        plater = a_firm(shop.desk, "Lustrewick Platers", trade="plater")
        for kind, key in (("customer", ruiz), ("supplier", brindle), ("outworker", plater)):
            assert [p.id for p in people.parties(shop.desk, kind=kind)] == [key]

    def test_are_corrected(self, shop):
        key = a_customer(shop.desk)
        people.keep_party(shop.desk, PartyDraft(name=" Ruiz ", email="r@home.example"), key)
        assert people.party_draft(shop.desk, key) == PartyDraft(name="Ruiz", email="r@home.example")
        assert people.parties(shop.desk, "larder") == []  # the folded words went with the street

    @pytest.mark.parametrize(("draft", "field"), [({"name": " "}, "name"), ({"email": "nowhere"}, "email")])
    def test_need_a_name_and_an_address_that_can_be_one(self, shop, draft, field):
        with pytest.raises(Problem) as told:
            people.keep_party(shop.desk, PartyDraft(**{"name": "Ruiz", **draft}))
        assert told.value.field == field
        with pytest.raises(NotFound, match="no customer 4711"):
            people.keep_party(shop.desk, PartyDraft(name="Ruiz"), 4711)


NOBODY, SPREAD = 4711, Spread(1, 2, 3)
OWNER, OFFICE, BENCH = {Role.OWNER}, {Role.OWNER, Role.DESK}, {Role.OWNER, Role.TECHNICIAN}
DEEDS = {
    "keep a setting": (OWNER, lambda s: shops.keep_setting(s, Terms())),
    "see wages": (OWNER, shops.wages),
    "release": (OWNER, lambda s: proofs.release(s, NOBODY)),
    "decide": (OWNER, lambda s: intake.buy(s, NOBODY, 1)),
    "keep people": (OFFICE, lambda s: people.keep_party(s, PartyDraft(name="x"), NOBODY)),
    "book in": (OFFICE, lambda s: intake.book_in(s, NOBODY)),
    "quote": (OFFICE, lambda s: quotes.write_quote(s, NOBODY)),
    "agree": (OFFICE, lambda s: agreements.agree(s, NOBODY, who="x", how="signed")),
    "draft an invoice": (OFFICE, lambda s: invoices.draft_invoice(s, NOBODY)),
    "issue an invoice": (OFFICE, lambda s: invoices.issue_invoice(s, NOBODY)),
    "credit": (OFFICE, lambda s: invoices.credit_invoice(s, NOBODY, "x")),
    "take a payment": (OFFICE, lambda s: payments.take_payment(s, NOBODY, 1, "cash")),
    "refund": (OFFICE, lambda s: payments.refund(s, NOBODY, 1, "cash")),
    "hand over": (OFFICE, lambda s: handovers.hand_over(s, NOBODY)),
    "end": (OFFICE, lambda s: intake.end_job(s, NOBODY, Stage.WITHDRAWN, "")),
    "order": (OFFICE, lambda s: stores.order_parts(s, NOBODY, [stores.OrderLine("x", 1, 1)])),
    "walk": (BENCH, lambda s: walks.open_walk(s, NOBODY)),
    "write the order": (BENCH, lambda s: work_orders.write_order(s, NOBODY)),
    "tick": (BENCH, lambda s: bench.tick(s, NOBODY)),
    "clock": (BENCH, lambda s: bench.clock_on(s, NOBODY)),
    "find more": (BENCH, lambda s: bench.find_more(s, NOBODY, "x", SPREAD)),
    "prove": (BENCH, lambda s: proving.prove(s, NOBODY, "doors", {}, seen=Result.MEETS)),
    "take goods in": (set(Role), lambda s: stores.take_goods_in(s, NOBODY, 1)),
    "send out": (set(Role), lambda s: outwork.take_back(s, NOBODY, 1)),
    "move a part": (set(Role), lambda s: stores.move_part(s, NOBODY, 1, "x")),
}


def test_every_deed_asks_who_is_acting_before_anything_else(shop):
    seats = {Role.OWNER: shop.owner, Role.TECHNICIAN: shop.technician, Role.DESK: shop.desk}
    for name, (allowed, deed) in DEEDS.items():
        for role, seat in seats.items():
            refused = None
            try:
                deed(seat)
            except NotAllowed as told:
                refused = told
            except Problem:
                pass  # allowed, and then there is no such record
            assert (refused is None) is (role in allowed), f"{name} by {role}"
            if refused is not None:
                assert str(refused).startswith(f"{seat.acting.name} may not ")


def test_a_shop_opened_to_look_changes_nothing(shop, set_up_place, clock):
    seat = open_shop(set_up_place, clock, looking=True)
    try:
        with pytest.raises(Problem, match="open to look at only"):
            a_customer(seat)
        assert people.parties(seat) == []
    finally:
        seat.file.close()


def test_a_made_shop_that_nobody_set_up_opens_for_its_set_up(shop_place, clock):
    seat = open_shop(shop_place, clock)
    try:
        assert (seat.acting.name, seat.acting.role) == ("set-up", Role.OWNER)
        assert shops.set_up(seat, IDENTITY, Region(), "Odile").acting.name == "Odile"
    finally:
        seat.file.close()
    assert isinstance(seat.file, ShopFile)


def test_a_range_is_taken_on_for_somebody_who_is_there(shop):
    draft = intake.JobDraft(customer_id=NOBODY, purpose=Purpose.FULL)
    with pytest.raises(NotFound, match="no customer 4711"):
        intake.take_on(shop.desk, intake.RangeDraft(), draft)
    assert a_range(shop.desk).number == "R-0001"
