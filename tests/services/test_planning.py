"""The plan of a whole shop: what goes into it, what it keeps to, and how it is kept and undone."""

import datetime as dt
import io

import icalendar
import pypdf
import pytest
from builders import FOUR, a_firm, agreed, done, in_days, owned, quoted
from plan_checker import faults
from sqlalchemy import select

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.problem import NotAllowed, Problem
from shopdesk.domain.rights import Role
from shopdesk.services import bench, outwork, shops, storeroom, stores, work_orders
from shopdesk.services.floor import floor
from shopdesk.services.papers.keeping import paper_bytes
from shopdesk.services.planning import appointments, hours, making, plans, promises, weekly
from shopdesk.services.planning.agreeing import agree
from shopdesk.services.planning.making import gather, make_plan, plan_close
from shopdesk.services.planning.morning import morning
from shopdesk.services.planning.outlook import odds_of, ready_by
from shopdesk.services.planning.picture import picture
from shopdesk.services.planning.plans import keep_plan
from shopdesk.services.planning.suppose import Hire, HoldTask, MovePromise, Shut, TakeIn
from shopdesk.services.planning.what_if import what_if
from shopdesk.storage.tables.plan import Promise

SHOWN = ("trim-strips.worn", "burner-valves.seized")
NINE = ((9 * 60, 12 * 60), (13 * 60, 17 * 60))


def planned(seat, **more):
    """A plan by rules and some starts, checked by code that is not the planner's."""
    made = make_plan(seat, seconds=0.2, workers=1, **more)
    assert faults(made.work.instance, made.plan) == []
    return made


def place_of(made, task_id):
    return next(p for p in making.places_of(made) if p.task_id == task_id)


def test_every_open_task_has_a_place_that_keeps_order_people_stations_and_hours(shop):
    taken, own = agreed(shop, *FOUR), owned(shop, *FOUR)
    made = planned(shop.owner)
    placed = {place.task_id for place in making.places_of(made)}
    for job in (taken.job_id, own.job_id):
        open_tasks = {t.id for t in work_orders.task_lines(shop.owner, job) if t.done_share < 100}
        assert open_tasks - placed == set()
    assert made.left_out == ()


def test_what_waits_for_its_quotes_answer_is_not_planned_but_can_be_supposed(shop):
    waiting, _ = quoted(shop, *FOUR)
    assert gather(shop.owner).facts.unanswered == (waiting.job_id,)
    answer = what_if(shop.owner, TakeIn(waiting.job_id, shop.owner.today), seconds=0.2)
    assert answer.taken_in is not None
    assert answer.taken_in.after is not None
    assert answer.odds is not None
    assert answer.odds.ready_50 <= answer.odds.ready_80 <= answer.odds.ready_95


def test_nobody_works_outside_the_hours_on_leave_or_on_a_public_holiday(shop):
    owned(shop, *FOUR)
    seat = shop.owner
    hours.keep_shop_hours(seat, [NINE] * 5 + [(), ()], "US", "")
    hours.keep_working_hours(seat, shop.technician.acting.staff_id, [((780, 1020),)] * 5 + [(), ()])
    hours.keep_leave(seat, seat.acting.staff_id, seat.today, in_days(seat, 60), "Walking")
    hours.keep_odd_day(seat, in_days(seat, 1), is_open=False, why="Stock-taking")
    for place in making.places_of(planned(seat)):
        assert place.begins_on.weekday() < 5
        assert place.begins_on != in_days(seat, 1)
        if place.staff_id == shop.technician.acting.staff_id and place.half_hours:
            assert place.begins_minute >= 780
            assert place.ends_minute <= 1020
            assert place.begins_on != dt.date(2026, 10, 12)  # the second Monday in October is kept
        assert place.staff_id != seat.acting.staff_id or place.begins_on > in_days(seat, 60)


def test_a_skill_nobody_has_is_said_in_a_sentence_and_the_rest_is_planned(shop):
    owned(shop, *FOUR)
    for row in shops.staff(shop.owner):
        shops.keep_staff(
            shop.owner, shops.StaffDraft(row.name, row.role, skills=("bench", "helper", "desk")), row.id
        )
    made = planned(shop.owner)
    told = next(each for each in made.left_out if "gas" in each.sentence)
    assert told.sentence.startswith("Nobody who may do ")
    assert told.tasks
    assert making.places_of(made)


def test_a_part_on_order_without_a_day_leaves_its_tasks_out_and_says_so(shop):
    taken = agreed(shop, *FOUR)
    need = stores.needs(shop.owner, job_id=taken.job_id, short_only=True)[0]
    supplier = a_firm(shop.owner, supplies=True)
    stores.order_parts(shop.owner, supplier, [stores.OrderLine(need.name, 1, 500, need_id=need.id)])
    made = planned(shop.owner)
    told = next(each for each in made.left_out if need.name in each.sentence)
    assert "nobody knows when that comes" in told.sentence
    rows = {row.job_id: row for row in picture_rows(shop.owner, made)}
    assert rows[taken.job_id].ready_on is None


def picture_rows(seat, made):
    keep_plan(seat, made)
    return picture(seat).ranges


def test_a_running_clock_stays_with_its_person_now(shop):
    own = owned(shop, *FOUR)
    first = next(t for t in bench.tasks_today(shop.technician) if t.job_id == own.job_id and not t.waits)
    bench.clock_on(shop.technician, first.id)
    made = planned(shop.owner)
    place = place_of(made, first.id)
    assert place.staff_id == shop.technician.acting.staff_id
    assert place.begins_on == shop.owner.today
    assert made.plan.placed[str(first.id)].start == made.work.now


def test_outwork_takes_days_without_people_and_pieces_that_are_out_come_back_when_expected(shop):
    taken = agreed(shop, *SHOWN, scope=Scope.SHOW)
    piece = next(t for t in storeroom.outwork_tasks(shop.owner) if t.trade == "plater")
    before = planned(shop.owner)
    away = [p for p in making.places_of(before) if p.task_id == piece.task_id and p.staff_id is None]
    assert (away[-1].ends_on - away[-1].begins_on).days >= 30  # the catalogue's plater takes 35 days or more
    assert taken.job_id in {row.job_id for row in picture_rows(shop.owner, before)}
    firm = a_firm(shop.owner, "Lustrewick Platers", trade="plater")
    pieces = [outwork.PieceDraft(task_id=piece.task_id, name="top trim")]
    outwork.send_out(shop.owner, firm, pieces, expected_on=in_days(shop.owner, 8))
    out = place_of(planned(shop.owner), piece.task_id)
    assert out.begins_on == shop.owner.today
    assert abs((out.ends_on - in_days(shop.owner, 8)).days) <= 1


def test_pieces_leave_on_a_day_the_van_comes_and_are_back_on_a_day_it_brings_them(shop):
    agreed(shop, *SHOWN, scope=Scope.SHOW)
    piece = next(t for t in storeroom.outwork_tasks(shop.owner) if t.trade == "plater")
    a_firm(shop.owner, "Lustrewick Platers", trade="plater", send_days="2", return_days="4")
    made = planned(shop.owner)
    keep_plan(shop.owner, made)

    def seen(plan):
        return next(p for p in making.places_of(plan) if p.task_id == piece.task_id and p.staff_id is None)

    there = seen(made)
    assert (there.begins_on.isoweekday(), there.ends_on.isoweekday()) == (2, 4)
    assert (there.ends_on - there.begins_on).days >= 30
    assert seen(plan_close(shop.owner, seconds=0.1)) == there
    # A second firm of the trade without days of its own makes every day one.
    a_firm(shop.owner, "Gilt & Kettle Plating", trade="plater")
    assert gather(shop.owner).facts.vans["plater"].send is None


def test_pieces_that_are_out_are_counted_with_on_the_next_day_they_are_given_back(shop):
    agreed(shop, *SHOWN, scope=Scope.SHOW)
    piece = next(t for t in storeroom.outwork_tasks(shop.owner) if t.trade == "plater")
    expected = in_days(shop.owner, 8)
    day = (expected.isoweekday() % 7 + 1) % 7 + 1  # two days after it is expected
    firm = a_firm(shop.owner, "Lustrewick Platers", trade="plater", return_days=str(day))
    pieces = [outwork.PieceDraft(task_id=piece.task_id, name="top trim")]
    outwork.send_out(shop.owner, firm, pieces, expected_on=expected)
    out = place_of(planned(shop.owner), piece.task_id)
    assert out.begins_on == shop.owner.today
    assert out.ends_on >= expected
    assert out.ends_on.isoweekday() == day


def test_a_weekday_that_is_none_is_refused_at_its_field(shop):
    with pytest.raises(Problem) as refused:
        a_firm(shop.owner, "Lustrewick Platers", trade="plater", send_days="8")
    assert refused.value.field == "send_days"


def test_pins_hold_a_half_hour_and_a_person_until_let_go(shop):
    owned(shop, *FOUR)
    made = planned(shop.owner)
    some = next(p for p in making.places_of(made) if p.half_hours and p.staff_id and not p.sitting)
    task = some.task_id
    day = in_days(shop.owner, 6)
    plans.pin(shop.owner, task, day=day, minute=9 * 60, staff_id=shop.owner.acting.staff_id)
    pinned = place_of(planned(shop.owner), task)
    assert (pinned.begins_on, pinned.begins_minute) == (day, 9 * 60)
    assert pinned.staff_id == shop.owner.acting.staff_id
    plans.unpin(shop.owner, task)
    assert place_of(planned(shop.owner), task).begins_on < day


def test_the_newest_plan_is_in_force_and_undoing_it_brings_back_plan_and_pins(shop):
    owned(shop, *FOUR)
    with pytest.raises(Problem, match="no earlier plan"):
        plans.undo_plan(shop.owner)
    first = keep_plan(shop.owner, planned(shop.owner), "the first")
    task = plans.kept_plan(shop.owner).places[0].task_id
    plans.pin(shop.owner, task, staff_id=shop.owner.acting.staff_id)
    second = keep_plan(shop.owner, planned(shop.owner), "with a pin")
    assert plans.kept_plan(shop.owner).id == second
    assert plans.kept_plan(shop.owner).can_undo
    plans.undo_plan(shop.owner)
    assert plans.kept_plan(shop.owner).id == first
    assert gather(shop.owner).facts.pins == {}


def test_planning_anew_after_a_change_leaves_nine_in_ten_others_in_place(shop):
    for findings in (FOUR, FOUR, ("oven-floor.worn",)):
        owned(shop, *findings)
    keep_plan(shop.owner, planned(shop.owner))
    before = {(p.task_id, p.sitting): p for p in plans.kept_plan(shop.owner).places}
    blocked = next(p.task_id for p in before.values() if p.half_hours)
    bench.block(shop.technician, blocked, "the key is lost")
    made = plan_close(shop.owner, touched=(blocked,), seconds=0.2)
    assert faults(made.work.instance, made.plan) == []
    assert "the key is lost" in made.left_out[0].sentence
    after = {(p.task_id, p.sitting): p for p in making.places_of(made)}
    stayed = [k for k in after if after[k].staff_id == before[k].staff_id]
    assert len(stayed) >= 0.9 * len(after)


def test_only_the_owner_plans_and_everyone_may_look(shop):
    owned(shop, *FOUR)
    made = planned(shop.technician)
    with pytest.raises(NotAllowed):
        keep_plan(shop.technician, made)
    keep_plan(shop.owner, made)
    assert picture(shop.desk).bars


def test_a_change_of_promise_asks_for_a_reason_and_makes_the_note(shop):
    taken = agreed(shop, *FOUR)
    first = promises.promise(shop.desk, taken.job_id, in_days(shop.desk, 30))
    assert first.startswith("Dear Ruiz")
    assert "will be ready on" in first
    with pytest.raises(Problem) as refused:
        promises.promise(shop.desk, taken.job_id, in_days(shop.desk, 50), "  ")
    assert refused.value.field == "why"
    note = promises.promise(shop.desk, taken.job_id, in_days(shop.desk, 50), "The plater is late.")
    assert "will not be ready on" in note
    assert "The reason: The plater is late." in note
    kept = promises.promises(shop.desk, taken.job_id)
    assert [row.on_day for row in kept] == [in_days(shop.desk, 50), in_days(shop.desk, 30)]
    assert kept[0].instead_of == in_days(shop.desk, 30)
    assert kept[0].note == note


def test_a_promise_at_the_shops_odds_keeps_what_it_rested_on(shop):
    taken = agreed(shop, *FOUR)
    odds, whole = ready_by(shop.owner, taken.job_id, draws=60)
    promises.promise(shop.desk, taken.job_id, odds.chosen_on, told=(odds, whole))
    with shop.owner.look() as session:
        row = session.scalars(select(Promise)).one()
        assert (row.chosen_percent, row.odds_percent, row.on_day) == (80, 80, odds.ready_80)
        assert row.assumptions["correlation"] == 0.3
        assert row.assumptions["draws"] == 60
    again = odds_of(plan_close(shop.owner, seconds=0.2), draws=60).of(taken.job_id)
    assert again.percent >= 80


def test_what_if_says_who_pays_and_keeps_nothing(shop):
    one, two = agreed(shop, *FOUR), agreed(shop, *FOUR)
    for taken in (one, two):
        promises.promise(shop.desk, taken.job_id, in_days(shop.desk, 8))
    keep_plan(shop.owner, planned(shop.owner))
    before = plans.kept_plan(shop.owner)
    first = in_days(shop.owner, 1)
    hire = what_if(shop.owner, Hire("A helper", first, in_days(shop.owner, 14)), seconds=0.2, with_odds=False)
    assert hire.pays == ()
    new = what_if(shop.owner, TakeIn(one.job_id, shop.owner.today, new=True), seconds=0.2, with_odds=False)
    assert new.taken_in.after is not None
    moved = what_if(shop.owner, MovePromise(two.job_id, in_days(shop.owner, 2)), seconds=0.2)
    mine = next(row for row in moved.ranges if row.job_id == two.job_id)
    assert mine.promised_on == in_days(shop.owner, 2)
    assert plans.kept_plan(shop.owner) == before
    with pytest.raises(Problem, match="past"):
        what_if(shop.owner, Shut("plater", dt.date(2020, 8, 1), dt.date(2020, 8, 31)))


def test_a_plater_shut_for_a_month_makes_his_ranges_pay(shop):
    taken = agreed(shop, *SHOWN, scope=Scope.SHOW)
    keep_plan(shop.owner, planned(shop.owner))
    shut = Shut("plater", shop.owner.today, in_days(shop.owner, 40))
    answer = what_if(shop.owner, shut, seconds=0.2, with_odds=False)
    assert [row.job_id for row in answer.pays] == [taken.job_id]
    assert answer.pays[0].days >= 30


def test_a_task_put_elsewhere_is_asked_first_and_then_held(shop):
    owned(shop, *FOUR)
    keep_plan(shop.owner, planned(shop.owner))
    place = next(p for p in plans.kept_plan(shop.owner).places if p.staff_id and p.half_hours)
    day = in_days(shop.owner, 37)
    answer = what_if(shop.owner, HoldTask(place.task_id, day, 10 * 60), seconds=0.2, with_odds=False)
    assert place_of(answer.made, place.task_id).begins_on == day
    assert answer.pays


def test_an_appointment_takes_its_people_from_the_bench(shop):
    owned(shop, *FOUR)
    who = shop.owner.acting.staff_id
    drafts = appointments.AppointmentDraft(
        kind="delivery", day=shop.owner.today, minute=9 * 60, minutes=180, going=(who,)
    )
    key = appointments.appoint(shop.desk, drafts)
    row = appointments.appointments(shop.owner)[0]
    assert (row.kind, row.minute, row.going) == ("delivery", 540, ((who, "Odile Fennimarsh"),))
    for place in making.places_of(planned(shop.owner)):
        if place.staff_id == who and place.begins_on == shop.owner.today and place.half_hours:
            assert place.begins_minute >= 12 * 60 or place.ends_minute <= 9 * 60
    appointments.call_off(shop.desk, key)
    assert appointments.appointments(shop.owner) == []


def test_a_person_of_the_desk_is_no_bench_hand(shop):
    owned(shop, *FOUR)
    desk = next(row for row in shops.staff(shop.owner) if row.role is Role.DESK)
    for place in making.places_of(planned(shop.owner)):
        assert place.staff_id != desk.id or place.station in ("", "bay")


def test_no_two_papers_count_under_the_same_letters():
    assert len(set(shops.SERIES.values())) == len(shops.SERIES)


def test_a_weeks_list_prints_what_the_plan_gives_a_person(shop):
    owned(shop, *FOUR)
    with pytest.raises(Problem, match="no plan yet"):
        weekly.print_week(shop.technician, shop.technician.acting.staff_id)
    keep_plan(shop.owner, planned(shop.owner))
    first = next(p for p in plans.kept_plan(shop.owner).places if p.staff_id)
    number = weekly.print_week(shop.technician, first.staff_id)
    assert number == "WL-0001"
    pages = pypdf.PdfReader(io.BytesIO(paper_bytes(shop.owner, number, "weekly list"))).pages
    told = " ".join(page.extract_text() for page in pages)
    name = next(row.name for row in shops.staff(shop.owner) if row.id == first.staff_id)
    task = next(bar.task for bar in picture(shop.owner).bars if bar.key == (first.task_id, first.sitting))
    assert name in told
    assert task.split()[0] in told


def test_the_calendar_file_holds_the_plan_and_a_later_one_moves_its_entries(shop):
    taken = agreed(shop, *FOUR)
    promises.promise(shop.desk, taken.job_id, in_days(shop.desk, 30))
    keep_plan(shop.owner, planned(shop.owner))
    first = icalendar.Calendar.from_ical(weekly.export_calendar(shop.owner))
    events = {str(event["uid"]): event for event in first.walk("VEVENT")}
    places = plans.kept_plan(shop.owner).places
    assert len(events) == len(places) + 1
    promised = next(event for uid, event in events.items() if uid.startswith("promise-"))
    assert promised["dtstart"].dt == in_days(shop.desk, 30)
    shop.clock.advance(days=1)
    keep_plan(shop.owner, planned(shop.owner))
    again = icalendar.Calendar.from_ical(weekly.export_calendar(shop.owner))
    assert {str(event["uid"]) for event in again.walk("VEVENT")} == set(events)


def test_a_morning_tells_how_likely_each_promise_is_and_why_its_odds_fell(shop):
    taken = agreed(shop, *SHOWN, scope=Scope.SHOW)
    piece = next(t for t in storeroom.outwork_tasks(shop.owner) if t.trade == "plater")
    firm = a_firm(shop.owner, "Lustrewick Platers", trade="plater")
    pieces = [outwork.PieceDraft(task_id=piece.task_id, name="top trim")]
    outwork.send_out(shop.owner, firm, pieces, expected_on=in_days(shop.owner, 8))
    promises.promise(shop.desk, taken.job_id, in_days(shop.desk, 45))
    first = morning(shop.owner, draws=60).rows[0]
    assert first.odds.percent >= 80
    assert (first.before, first.reasons) == (None, ())
    rows = {row.job_id: row.odds_percent for row in floor(shop.desk)}
    assert rows[taken.job_id] == first.odds.percent
    shop.clock.advance(days=36)
    second = morning(shop.owner, draws=60).rows[0]
    assert second.fell
    assert second.before == first.odds.percent
    assert second.reasons[0] == "the plater is 28 days late"


def test_a_country_whose_holidays_nobody_knows_is_refused_at_the_field(shop):
    with pytest.raises(Problem, match="are not known") as refused:
        hours.keep_shop_hours(shop.owner, [NINE] * 7, "US", "ZZ")
    assert refused.value.field == "country"
    hours.keep_shop_hours(shop.owner, [NINE] * 7, "", "")
    assert gather(shop.owner).axis.hours_on(dt.date(2026, 12, 25)) == NINE


def test_without_the_solver_rules_and_many_starts_make_the_plan(shop, monkeypatch):
    monkeypatch.setattr("shopdesk.domain.planning.model.available", lambda: False)
    owned(shop, *FOUR)
    keep_plan(shop.owner, planned(shop.owner))
    shown = picture(shop.owner)
    assert shown.bars
    assert not shown.with_solver


def test_another_range_like_one_here_brings_all_its_work_not_what_is_left_of_it(shop):
    own = owned(shop, *FOUR)
    keep_plan(shop.owner, planned(shop.owner))
    whole = what_if(shop.owner, TakeIn(own.job_id, shop.owner.today, new=True), seconds=0.2, with_odds=False)
    done(shop, own.job_id, "intake", "teardown", "repair")
    after = what_if(shop.owner, TakeIn(own.job_id, shop.owner.today, new=True), seconds=0.2, with_odds=False)

    def new_pieces(answer):
        return [piece.id for piece in answer.made.work.instance.tasks if piece.id.startswith("n")]

    assert new_pieces(after) == new_pieces(whole)


def test_what_is_agreed_holds_with_the_plan_that_was_shown_and_a_hire_cannot_be_agreed_here(shop):
    own = owned(shop, *FOUR)
    promises.promise(shop.desk, own.job_id, in_days(shop.desk, 20))
    keep_plan(shop.owner, planned(shop.owner))
    first = plans.kept_plan(shop.owner)
    moved = what_if(shop.owner, MovePromise(own.job_id, in_days(shop.owner, 30)), seconds=0.2)
    with pytest.raises(Problem, match="Say why it changes"):
        agree(shop.owner, moved)
    assert plans.kept_plan(shop.owner) == first  # all of it or nothing
    agree(shop.owner, moved, "The customer is away until then.")
    assert promises.promises(shop.owner, own.job_id)[0].on_day == in_days(shop.owner, 30)
    assert plans.kept_plan(shop.owner).why == "a promise was moved"
    hire = what_if(shop.owner, Hire("Someone", shop.owner.today, in_days(shop.owner, 9)), seconds=0.2)
    with pytest.raises(Problem, match="only be supposed"):
        agree(shop.owner, hire)
