"""The plan in the tables, judged by code that shares nothing with the planner, on both databases."""

import datetime as dt

from builders import FOUR, agreed, in_days, owned
from kept_plan_faults import kept_faults

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.rights import Action, Role
from shopdesk.services import shops
from shopdesk.services.planning import appointments, hours, plans
from shopdesk.services.planning.in_force import in_force
from shopdesk.services.planning.making import make_plan, plan_close
from shopdesk.services.planning.plans import keep_plan
from shopdesk.storage.tables.plan import PlannedTask

HOLIDAYS = {  # public holidays of the United States in the plan's reach (5 U.S.C. 6103)
    dt.date(2026, 10, 12), dt.date(2026, 11, 11), dt.date(2026, 11, 26), dt.date(2026, 12, 25),
    dt.date(2027, 1, 1), dt.date(2027, 1, 18), dt.date(2027, 2, 15),
}  # fmt: skip


def a_busy_shop(shop):
    """Four ranges, a helper with own hours, leave, appointments, an odd day, and few places."""
    shops.keep_staff(shop.owner, shops.StaffDraft("Wilf Orrery", Role.TECHNICIAN, skills=("helper", "bench")))
    for _ in range(2):
        owned(shop, *FOUR)
        agreed(shop, *FOUR, "trim-strips.worn", scope=Scope.SHOW)
    wilf = next(p.id for p in shops.staff(shop.owner) if p.name == "Wilf Orrery")
    hours.keep_working_hours(shop.owner, wilf, [((540, 780),)] * 4 + [(), (), ()])
    hours.keep_leave(shop.owner, shop.owner.acting.staff_id, in_days(shop.owner, 2), in_days(shop.owner, 6))
    hours.keep_odd_day(shop.owner, in_days(shop.owner, 1), is_open=False)
    hours.keep_station(shop.owner, "bench", 1)
    draft = appointments.AppointmentDraft(
        kind="delivery", day=in_days(shop.owner, 3), minute=10 * 60 + 15, minutes=100,
        going=(shop.technician.acting.staff_id, wilf),
    )  # fmt: skip
    appointments.appoint(shop.desk, draft)
    return wilf


def test_a_plan_as_kept_breaks_neither_order_nor_hours_nor_room_nor_skills_nor_pins(shop):
    wilf = a_busy_shop(shop)
    keep_plan(shop.owner, make_plan(shop.owner, seconds=1.0, workers=1))
    assert kept_faults(shop.owner, HOLIDAYS) == []

    places = [p for p in plans.kept_plan(shop.owner).places if p.staff_id == wilf and p.half_hours]
    plans.pin(shop.owner, places[0].task_id, staff_id=shop.technician.acting.staff_id)
    later = places[-1].begins_on + dt.timedelta(days=7)
    plans.pin(shop.owner, places[-1].task_id, day=later, minute=9 * 60)
    hours.keep_leave(shop.owner, wilf, in_days(shop.owner, 8), in_days(shop.owner, 12))
    shop.clock.advance(days=1)
    keep_plan(shop.owner, plan_close(shop.owner, seconds=0.5))
    assert kept_faults(shop.owner, HOLIDAYS) == []


def test_the_judge_sees_a_plan_that_was_spoilt(shop):
    a_busy_shop(shop)
    keep_plan(shop.owner, make_plan(shop.owner, seconds=0.3, workers=1))
    place = next(p for p in plans.kept_plan(shop.owner).places if p.staff_id and p.half_hours)

    with shop.owner.change(Action.PLAN_BENCH) as work:
        row = work.session.query(PlannedTask).filter_by(task_id=place.task_id, sitting=place.sitting).one()
        row.begins_on = row.ends_on = dt.date(2026, 12, 25)
        row.begins_minute, row.ends_minute = 6 * 60, 23 * 60
        work.about(in_force(work.session))
    assert kept_faults(shop.owner, HOLIDAYS)
