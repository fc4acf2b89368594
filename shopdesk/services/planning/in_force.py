"""The plan in force, as the tables have it."""

import sqlalchemy as sa
from sqlalchemy.orm import Session

from shopdesk.services.planning.open_work import KeptPlace
from shopdesk.storage.tables.plan import BenchPlan, PlannedTask


def in_force(session: Session, below: int | None = None) -> BenchPlan | None:
    """The newest plan that is not undone; with `below` the one before that."""
    query = sa.select(BenchPlan).where(BenchPlan.undone_at.is_(None))
    if below is not None:
        query = query.where(BenchPlan.id < below)
    return session.scalars(query.order_by(BenchPlan.id.desc()).limit(1)).first()


def places_in(session: Session, plan_id: int) -> tuple[KeptPlace, ...]:
    """Where a plan has every sitting, by time."""
    columns = (
        PlannedTask.task_id, PlannedTask.sitting, PlannedTask.staff_id, PlannedTask.station,
        PlannedTask.half_hours, PlannedTask.begins_on, PlannedTask.begins_minute, PlannedTask.ends_on,
        PlannedTask.ends_minute,
    )  # fmt: skip
    query = sa.select(*columns).where(PlannedTask.plan_id == plan_id)
    order = (PlannedTask.begins_on, PlannedTask.begins_minute, PlannedTask.task_id, PlannedTask.sitting)
    return tuple(KeptPlace(*row) for row in session.execute(query.order_by(*order)))
