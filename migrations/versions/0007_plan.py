"""Plan: who is there when, stations, kept plans, pins, promises and their odds"""

import sqlalchemy as sa
from alembic import op

from shopdesk.storage import column_types

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None


def _promises_are_only_added_to() -> None:
    connection = op.get_bind()
    if connection.dialect.name == "sqlite":
        for verb in ("update", "delete"):
            connection.exec_driver_sql(
                f"CREATE TRIGGER promise_no_{verb} BEFORE {verb.upper()} ON promise "
                "BEGIN SELECT RAISE(ABORT, 'a row of promise is never changed'); END"
            )
    else:
        connection.exec_driver_sql(
            "CREATE TRIGGER promise_no_change BEFORE UPDATE OR DELETE ON promise FOR EACH ROW "
            "EXECUTE FUNCTION refuse_change()"
        )


def upgrade() -> None:
    op.create_table(
        "odd_day",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("day", column_types.Day(), nullable=False),
        sa.Column("is_open", column_types.Flag(), nullable=False),
        sa.Column("why", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_odd_day")),
        sa.UniqueConstraint("day", name=op.f("uq_odd_day_day")),
        sqlite_strict=True,
    )
    op.create_table(
        "outwork_closure",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("trade", sa.Text(), nullable=False),
        sa.Column("first_day", column_types.Day(), nullable=False),
        sa.Column("last_day", column_types.Day(), nullable=False),
        sa.Column("why", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("called_off", column_types.Flag(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.CheckConstraint("last_day >= first_day", name=op.f("ck_outwork_closure_days")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_outwork_closure")),
        sqlite_strict=True,
    )
    op.create_table(
        "station",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("room", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.CheckConstraint("room > 0", name=op.f("ck_station_room")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_station")),
        sa.UniqueConstraint("code", name=op.f("uq_station_code")),
        sqlite_strict=True,
    )
    op.create_table(
        "bench_plan",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("made_at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("made_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("found_by", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("why", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("lateness", sa.Integer(), nullable=False),
        sa.Column("changes", sa.Integer(), nullable=False),
        sa.Column("pins", column_types.Doc(), nullable=False),
        sa.Column("left_out", column_types.Doc(), nullable=False),
        sa.Column("assumed", column_types.Doc(), nullable=False),
        sa.Column("undone_at", column_types.UtcTime(timezone=True), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["made_by_id"], ["staff.id"], name=op.f("fk_bench_plan_made_by_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_bench_plan")),
        sqlite_strict=True,
    )
    op.create_table(
        "leave",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("first_day", column_types.Day(), nullable=False),
        sa.Column("last_day", column_types.Day(), nullable=False),
        sa.Column("why", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("called_off", column_types.Flag(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.CheckConstraint("last_day >= first_day", name=op.f("ck_leave_days")),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_leave_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_leave")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("leave", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_leave_staff_id"), ["staff_id"], unique=False)

    op.create_table(
        "working_hours",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("week", column_types.Doc(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_working_hours_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_working_hours")),
        sa.UniqueConstraint("staff_id", name=op.f("uq_working_hours_staff_id")),
        sqlite_strict=True,
    )
    op.create_table(
        "morning_odds",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("on_day", column_types.Day(), nullable=False),
        sa.Column("promised_on", column_types.Day(), nullable=True),
        sa.Column("odds_percent", sa.Integer(), nullable=True),
        sa.Column("ready_50", column_types.Day(), nullable=True),
        sa.Column("ready_80", column_types.Day(), nullable=True),
        sa.Column("ready_95", column_types.Day(), nullable=True),
        sa.Column("reasons", column_types.Doc(), nullable=False),
        sa.Column("causes", column_types.Doc(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_morning_odds_job_id_job")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_morning_odds")),
        sa.UniqueConstraint("job_id", "on_day", name=op.f("uq_morning_odds_job_id_on_day")),
        sqlite_strict=True,
    )
    op.create_table(
        "promise",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("on_day", column_types.Day(), nullable=True),
        sa.Column("instead_of", column_types.Day(), nullable=True),
        sa.Column("why", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("note", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("chosen_percent", sa.Integer(), nullable=True),
        sa.Column("odds_percent", sa.Integer(), nullable=True),
        sa.Column("ready_50", column_types.Day(), nullable=True),
        sa.Column("ready_80", column_types.Day(), nullable=True),
        sa.Column("ready_95", column_types.Day(), nullable=True),
        sa.Column("assumptions", column_types.Doc(), nullable=False),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_promise_job_id_job")),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_promise_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_promise")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("promise", schema=None) as batch_op:
        batch_op.create_index("ix_promise_job", ["job_id", "id"], unique=False)

    op.create_table(
        "appointment_person",
        sa.Column("appointment_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["appointment_id"],
            ["appointment.id"],
            name=op.f("fk_appointment_person_appointment_id_appointment"),
        ),
        sa.ForeignKeyConstraint(
            ["staff_id"], ["staff.id"], name=op.f("fk_appointment_person_staff_id_staff")
        ),
        sa.PrimaryKeyConstraint("appointment_id", "staff_id", name=op.f("pk_appointment_person")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("appointment_person", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_appointment_person_staff_id"), ["staff_id"], unique=False)

    op.create_table(
        "pin",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("task_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("begins_on", column_types.Day(), nullable=True),
        sa.Column("begins_minute", sa.Integer(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.CheckConstraint("(begins_on is null) = (begins_minute is null)", name=op.f("ck_pin_begins")),
        sa.CheckConstraint("begins_on is not null or staff_id is not null", name=op.f("ck_pin_holds")),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_pin_staff_id_staff")),
        sa.ForeignKeyConstraint(["task_id"], ["task.id"], name=op.f("fk_pin_task_id_task")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_pin")),
        sa.UniqueConstraint("task_id", name=op.f("uq_pin_task_id")),
        sqlite_strict=True,
    )
    op.create_table(
        "planned_task",
        sa.Column("plan_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("task_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("sitting", sa.Text(), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("station", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("half_hours", sa.Integer(), nullable=False),
        sa.Column("begins_on", column_types.Day(), nullable=False),
        sa.Column("begins_minute", sa.Integer(), nullable=False),
        sa.Column("ends_on", column_types.Day(), nullable=False),
        sa.Column("ends_minute", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["plan_id"], ["bench_plan.id"], name=op.f("fk_planned_task_plan_id_bench_plan")
        ),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_planned_task_staff_id_staff")),
        sa.ForeignKeyConstraint(["task_id"], ["task.id"], name=op.f("fk_planned_task_task_id_task")),
        sa.PrimaryKeyConstraint("plan_id", "task_id", "sitting", name=op.f("pk_planned_task")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("planned_task", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_planned_task_task_id"), ["task_id"], unique=False)
    _promises_are_only_added_to()
    # A shop that is set up already numbers its weekly lists as a new one does.
    op.execute(
        "INSERT INTO number_series (name, prefix, next) SELECT 'weekly list', 'L-', 1 "
        "WHERE EXISTS (SELECT 1 FROM number_series)"
    )


def downgrade() -> None:
    op.execute("DELETE FROM number_series WHERE name = 'weekly list'")
    with op.batch_alter_table("planned_task", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_planned_task_task_id"))

    op.drop_table("planned_task")
    op.drop_table("pin")
    with op.batch_alter_table("appointment_person", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_appointment_person_staff_id"))

    op.drop_table("appointment_person")
    with op.batch_alter_table("promise", schema=None) as batch_op:
        batch_op.drop_index("ix_promise_job")

    op.drop_table("promise")
    op.drop_table("morning_odds")
    op.drop_table("working_hours")
    with op.batch_alter_table("leave", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_leave_staff_id"))

    op.drop_table("leave")
    op.drop_table("bench_plan")
    op.drop_table("station")
    op.drop_table("outwork_closure")
    op.drop_table("odd_day")
