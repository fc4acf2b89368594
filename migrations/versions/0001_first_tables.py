"""The shop's first tables"""

import sqlalchemy as sa
from alembic import op

from shopdesk.storage import column_types

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

# Behind the services stands the database itself: what is issued, paid, proved or written into
# the journal is only ever added to.
_APPEND_ONLY = (
    "paper",
    "journal",
    "payment",
    "payment_share",
    "proof",
    "part_movement",
    "goods_in",
    "caution_seen",
    "hours_word",
)


def _sqlite_triggers() -> list[str]:
    made = []
    for table in _APPEND_ONLY:
        for verb in ("update", "delete"):
            made.append(
                f"CREATE TRIGGER {table}_no_{verb} BEFORE {verb.upper()} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, 'a row of {table} is never changed'); END"
            )
    for verb in ("update", "delete"):
        made.append(
            f"CREATE TRIGGER invoice_no_{verb} BEFORE {verb.upper()} ON invoice WHEN OLD.number IS NOT NULL "
            "BEGIN SELECT RAISE(ABORT, 'an issued invoice is never changed'); END"
        )
    new, old = "NEW.invoice_id", "OLD.invoice_id"
    for verb, row in (("insert", new), ("update", f"{new}, {old}"), ("delete", old)):
        made.append(
            f"CREATE TRIGGER invoice_line_no_{verb} BEFORE {verb.upper()} ON invoice_line "
            f"WHEN EXISTS (SELECT 1 FROM invoice WHERE id IN ({row}) AND number IS NOT NULL) "
            "BEGIN SELECT RAISE(ABORT, 'an issued invoice is never changed'); END"
        )
    return made


def _postgresql_triggers() -> list[str]:
    made = [
        "CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS "
        "$$ BEGIN RAISE EXCEPTION 'a row of %% is never changed', TG_TABLE_NAME; END $$",
        "CREATE FUNCTION refuse_issued_line() RETURNS trigger LANGUAGE plpgsql AS $$ "
        "DECLARE ids bigint[] := '{}'; BEGIN "
        "IF TG_OP <> 'DELETE' THEN ids := ids || NEW.invoice_id; END IF; "
        "IF TG_OP <> 'INSERT' THEN ids := ids || OLD.invoice_id; END IF; "
        "IF EXISTS (SELECT 1 FROM invoice WHERE id = ANY (ids) AND number IS NOT NULL) THEN "
        "RAISE EXCEPTION 'an issued invoice is never changed'; END IF; "
        "IF TG_OP = 'DELETE' THEN RETURN OLD; END IF; RETURN NEW; END $$",
        "CREATE TRIGGER invoice_no_change BEFORE UPDATE OR DELETE ON invoice FOR EACH ROW "
        "WHEN (OLD.number IS NOT NULL) EXECUTE FUNCTION refuse_change()",
        "CREATE TRIGGER invoice_line_no_change BEFORE INSERT OR UPDATE OR DELETE ON invoice_line "
        "FOR EACH ROW EXECUTE FUNCTION refuse_issued_line()",
    ]
    for table in _APPEND_ONLY:
        made.append(
            f"CREATE TRIGGER {table}_no_change BEFORE UPDATE OR DELETE ON {table} FOR EACH ROW "
            "EXECUTE FUNCTION refuse_change()"
        )
    return made


def _triggers() -> None:
    connection = op.get_bind()
    sqlite = connection.dialect.name == "sqlite"
    for statement in _sqlite_triggers() if sqlite else _postgresql_triggers():
        connection.exec_driver_sql(statement)  # not op.execute: its text() reads ':word' as a parameter


def upgrade() -> None:
    op.create_table(
        "instrument",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("serial", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("measures", column_types.Doc(), nullable=False),
        sa.Column("divisions", column_types.Doc(), nullable=False),
        sa.Column("calibration_due", column_types.Day(), nullable=True),
        sa.Column("note", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("retired", column_types.Flag(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_instrument")),
        sqlite_strict=True,
    )
    op.create_table(
        "journal",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("action", sa.Text(), nullable=False),
        sa.Column("record", sa.Text(), nullable=False),
        sa.Column("record_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("before", column_types.Doc(), nullable=False),
        sa.Column("after", column_types.Doc(), nullable=False),
        sa.Column("previous_hash", sa.Text(), nullable=False),
        sa.Column("hash", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_journal")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("journal", schema=None) as batch_op:
        batch_op.create_index("ix_journal_job", ["job_id", "id"], unique=False)
        batch_op.create_index("ix_journal_record", ["record", "record_id", "id"], unique=False)

    op.create_table(
        "labour_rate",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("from_day", column_types.Day(), nullable=False),
        sa.Column("cents_per_hour", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("cents_per_hour >= 0", name=op.f("ck_labour_rate_rate")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_labour_rate")),
        sa.UniqueConstraint("name", "from_day", name=op.f("uq_labour_rate_name_from_day")),
        sqlite_strict=True,
    )
    op.create_table(
        "number_series",
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("prefix", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("next", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("name", name=op.f("pk_number_series")),
        sqlite_strict=True,
    )
    op.create_table(
        "party",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("is_firm", column_types.Flag(), nullable=False),
        sa.Column("contact", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("email", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("phone", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("street", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("town", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("region", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("postcode", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("country", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("note", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("supplies", column_types.Flag(), nullable=False),
        sa.Column("trade", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("exempt_certificate", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("exempt_until", column_types.Day(), nullable=True),
        sa.Column("merged_into_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("erased_at", column_types.UtcTime(timezone=True), nullable=True),
        sa.Column("search_text", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["merged_into_id"], ["party.id"], name=op.f("fk_party_merged_into_id_party")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_party")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("party", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_party_merged_into_id"), ["merged_into_id"], unique=False)

    op.create_table(
        "photograph",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.Column("media_type", sa.Text(), server_default=sa.text("'image/jpeg'"), nullable=False),
        sa.Column("width", sa.Integer(), nullable=False),
        sa.Column("height", sa.Integer(), nullable=False),
        sa.Column("taken_in_at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("data", sa.LargeBinary(), nullable=False),
        sa.Column("thumbnail", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_photograph")),
        sa.UniqueConstraint("sha256", name=op.f("uq_photograph_sha256")),
        sqlite_strict=True,
    )
    op.create_table(
        "setting",
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("value", column_types.Doc(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("name", name=op.f("pk_setting")),
        sqlite_strict=True,
    )
    op.create_table(
        "staff",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("initials", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("skills", column_types.Doc(), nullable=False),
        sa.Column("active", column_types.Flag(), nullable=False),
        sa.Column("passphrase_hash", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.CheckConstraint("role in ('owner','technician','desk')", name=op.f("ck_staff_role")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_staff")),
        sqlite_strict=True,
    )
    op.create_table(
        "tax_rate",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("from_day", column_types.Day(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("category", sa.Text(), server_default=sa.text("'S'"), nullable=False),
        sa.Column("percent", column_types.Percent(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_tax_rate")),
        sa.UniqueConstraint("kind", "from_day", "name", name=op.f("uq_tax_rate_kind_from_day_name")),
        sqlite_strict=True,
    )
    op.create_table(
        "caution_seen",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("task_kind", sa.Text(), nullable=False),
        sa.Column("hazards", column_types.Doc(), nullable=False),
        sa.Column("at", column_types.UtcTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_caution_seen_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_caution_seen")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("caution_seen", schema=None) as batch_op:
        batch_op.create_index("ix_caution_seen_kind", ["staff_id", "task_kind"], unique=False)

    op.create_table(
        "consignment",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("firm_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("sent_on", column_types.Day(), nullable=False),
        sa.Column("expected_on", column_types.Day(), nullable=True),
        sa.Column("note", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["firm_id"], ["party.id"], name=op.f("fk_consignment_firm_id_party")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_consignment")),
        sa.UniqueConstraint("number", name=op.f("uq_consignment_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("consignment", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_consignment_firm_id"), ["firm_id"], unique=False)

    op.create_table(
        "gas_range",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("maker", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("model", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("serial", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("colour", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("made_about", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("gas_on_plate", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("spuds_found", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("house_gas", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("set_to_gas", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("gas_label", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("build", column_types.Doc(), nullable=False),
        sa.Column("width_in", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("weight_lb", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("stands_at", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("owner_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("note", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("search_text", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["owner_id"], ["party.id"], name=op.f("fk_gas_range_owner_id_party")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_gas_range")),
        sa.UniqueConstraint("number", name=op.f("uq_gas_range_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("gas_range", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_gas_range_owner_id"), ["owner_id"], unique=False)

    op.create_table(
        "hours_word",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("task_code", sa.Text(), nullable=False),
        sa.Column("at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("taken", column_types.Flag(), nullable=False),
        sa.Column("jobs", sa.Integer(), nullable=False),
        sa.Column("shipped", column_types.Doc(), nullable=False),
        sa.Column("proposed", column_types.Doc(), nullable=False),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_hours_word_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_hours_word")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("hours_word", schema=None) as batch_op:
        batch_op.create_index("ix_hours_word_task", ["task_code", "id"], unique=False)

    op.create_table(
        "purchase_order",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("supplier_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("currency", sa.Text(), server_default=sa.text("'USD'"), nullable=False),
        sa.Column("ordered_on", column_types.Day(), nullable=False),
        sa.Column("expected_on", column_types.Day(), nullable=True),
        sa.Column("cancelled_on", column_types.Day(), nullable=True),
        sa.Column("note", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["supplier_id"], ["party.id"], name=op.f("fk_purchase_order_supplier_id_party")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_purchase_order")),
        sa.UniqueConstraint("number", name=op.f("uq_purchase_order_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("purchase_order", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_purchase_order_supplier_id"), ["supplier_id"], unique=False)

    op.create_table(
        "wage",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("from_day", column_types.Day(), nullable=False),
        sa.Column(
            "cost_cents_per_hour", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False
        ),
        sa.CheckConstraint("cost_cents_per_hour >= 0", name=op.f("ck_wage_cost")),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_wage_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_wage")),
        sa.UniqueConstraint("staff_id", "from_day", name=op.f("uq_wage_staff_id_from_day")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("wage", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_wage_staff_id"), ["staff_id"], unique=False)

    op.create_table(
        "gas_reckoning",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("range_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("inputs", column_types.Doc(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["range_id"], ["gas_range.id"], name=op.f("fk_gas_reckoning_range_id_gas_range")
        ),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_gas_reckoning_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_gas_reckoning")),
        sa.UniqueConstraint("range_id", "kind", name=op.f("uq_gas_reckoning_range_id_kind")),
        sqlite_strict=True,
    )
    op.create_table(
        "job",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("range_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("customer_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("opened_on", column_types.Day(), nullable=False),
        sa.Column("purpose", sa.Text(), server_default=sa.text("'full'"), nullable=False),
        sa.Column("scope", sa.Text(), server_default=sa.text("'mechanical'"), nullable=False),
        sa.Column("complaint", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("asking_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("bought_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("booked_in_on", column_types.Day(), nullable=True),
        sa.Column("promised_on", column_types.Day(), nullable=True),
        sa.Column("gone_on", column_types.Day(), nullable=True),
        sa.Column("red_tagged", column_types.Flag(), nullable=False),
        sa.Column("ended_as", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("ended_on", column_types.Day(), nullable=True),
        sa.Column("ended_why", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("stage", sa.Text(), server_default=sa.text("'looked at'"), nullable=False),
        sa.Column("held_for", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("held_what", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("held_since", column_types.Day(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["customer_id"], ["party.id"], name=op.f("fk_job_customer_id_party")),
        sa.ForeignKeyConstraint(["range_id"], ["gas_range.id"], name=op.f("fk_job_range_id_gas_range")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_job")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("job", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_job_customer_id"), ["customer_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_job_range_id"), ["range_id"], unique=False)
        batch_op.create_index("ix_job_stage_promised", ["stage", "promised_on", "id"], unique=False)

    op.create_table(
        "part",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("condition", sa.Text(), server_default=sa.text("'new'"), nullable=False),
        sa.Column("lies_at", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("price_in_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("price_out_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("from_range_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("note", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.CheckConstraint("condition in ('new','used','exchanged','made')", name=op.f("ck_part_condition")),
        sa.ForeignKeyConstraint(
            ["from_range_id"], ["gas_range.id"], name=op.f("fk_part_from_range_id_gas_range")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_part")),
        sa.UniqueConstraint("number", name=op.f("uq_part_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("part", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_part_from_range_id"), ["from_range_id"], unique=False)

    op.create_table(
        "appointment",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("party_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("starts_at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("minutes", sa.Integer(), nullable=False),
        sa.Column("place", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("note", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("called_off", column_types.Flag(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_appointment_job_id_job")),
        sa.ForeignKeyConstraint(["party_id"], ["party.id"], name=op.f("fk_appointment_party_id_party")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_appointment")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("appointment", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_appointment_job_id"), ["job_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_appointment_party_id"), ["party_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_appointment_starts_at"), ["starts_at"], unique=False)

    op.create_table(
        "gas_conversion",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("range_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("from_gas", sa.Text(), nullable=False),
        sa.Column("to_gas", sa.Text(), nullable=False),
        sa.Column("inputs", column_types.Doc(), nullable=False),
        sa.Column("burners", column_types.Doc(), nullable=False),
        sa.Column("decided_by", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("decided_on", column_types.Day(), nullable=True),
        sa.Column("note", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_gas_conversion_job_id_job")),
        sa.ForeignKeyConstraint(
            ["range_id"], ["gas_range.id"], name=op.f("fk_gas_conversion_range_id_gas_range")
        ),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_gas_conversion_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_gas_conversion")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("gas_conversion", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_gas_conversion_job_id"), ["job_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_gas_conversion_range_id"), ["range_id"], unique=False)

    op.create_table(
        "hold_answer",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("hold", sa.Text(), nullable=False),
        sa.Column("at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("answer", sa.Text(), nullable=False),
        sa.Column("reference", sa.Text(), nullable=False),
        sa.CheckConstraint("answer in ('negative','positive')", name=op.f("ck_hold_answer_answer")),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_hold_answer_job_id_job")),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_hold_answer_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_hold_answer")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("hold_answer", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_hold_answer_job_id"), ["job_id"], unique=False)

    op.create_table(
        "invoice",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("customer_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.Text(), server_default=sa.text("'invoice'"), nullable=False),
        sa.Column("number", sa.Text(), nullable=True),
        sa.Column("corrects_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("issued_at", column_types.UtcTime(timezone=True), nullable=True),
        sa.Column("on_day", column_types.Day(), nullable=True),
        sa.Column("due_on", column_types.Day(), nullable=True),
        sa.Column("currency", sa.Text(), server_default=sa.text("'USD'"), nullable=False),
        sa.Column("net_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("tax_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("gross_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.CheckConstraint("kind in ('invoice','credit')", name=op.f("ck_invoice_kind")),
        sa.ForeignKeyConstraint(["corrects_id"], ["invoice.id"], name=op.f("fk_invoice_corrects_id_invoice")),
        sa.ForeignKeyConstraint(["customer_id"], ["party.id"], name=op.f("fk_invoice_customer_id_party")),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_invoice_job_id_job")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_invoice")),
        sa.UniqueConstraint("number", name=op.f("uq_invoice_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("invoice", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_invoice_corrects_id"), ["corrects_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_invoice_customer_id"), ["customer_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_invoice_job_id"), ["job_id"], unique=False)

    op.create_table(
        "job_release",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("without", column_types.Doc(), nullable=False),
        sa.Column("lapsed_at", column_types.UtcTime(timezone=True), nullable=True),
        sa.Column("lapsed_because", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_job_release_job_id_job")),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_job_release_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_job_release")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("job_release", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_job_release_job_id"), ["job_id"], unique=False)

    op.create_table(
        "paper",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("party_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("issued_at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("issued_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("corrects_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("facts", column_types.Doc(), nullable=False),
        sa.Column("pdf", sa.LargeBinary(), nullable=False),
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["corrects_id"], ["paper.id"], name=op.f("fk_paper_corrects_id_paper")),
        sa.ForeignKeyConstraint(["issued_by_id"], ["staff.id"], name=op.f("fk_paper_issued_by_id_staff")),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_paper_job_id_job")),
        sa.ForeignKeyConstraint(["party_id"], ["party.id"], name=op.f("fk_paper_party_id_party")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_paper")),
        sa.UniqueConstraint("number", name=op.f("uq_paper_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("paper", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_paper_corrects_id"), ["corrects_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_paper_job_id"), ["job_id"], unique=False)
        batch_op.create_index("ix_paper_kind", ["kind", "id"], unique=False)
        batch_op.create_index(batch_op.f("ix_paper_party_id"), ["party_id"], unique=False)

    op.create_table(
        "payment",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("party_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("kind", sa.Text(), server_default=sa.text("'payment'"), nullable=False),
        sa.Column("on_day", column_types.Day(), nullable=False),
        sa.Column("method", sa.Text(), nullable=False),
        sa.Column("reference", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("amount_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("currency", sa.Text(), server_default=sa.text("'USD'"), nullable=False),
        sa.Column("taken_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("kind in ('deposit','payment','refund')", name=op.f("ck_payment_kind")),
        sa.CheckConstraint("amount_cents <> 0", name=op.f("ck_payment_amount")),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_payment_job_id_job")),
        sa.ForeignKeyConstraint(["party_id"], ["party.id"], name=op.f("fk_payment_party_id_party")),
        sa.ForeignKeyConstraint(["taken_by_id"], ["staff.id"], name=op.f("fk_payment_taken_by_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_payment")),
        sa.UniqueConstraint("number", name=op.f("uq_payment_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("payment", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_payment_job_id"), ["job_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_payment_party_id"), ["party_id"], unique=False)

    op.create_table(
        "proof",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("result", sa.Text(), nullable=False),
        sa.Column("readings", column_types.Doc(), nullable=False),
        sa.Column("figures", column_types.Doc(), nullable=False),
        sa.Column("says", column_types.Doc(), nullable=False),
        sa.Column("curves", column_types.Doc(), nullable=False),
        sa.Column("instruments", column_types.Doc(), nullable=False),
        sa.Column("instrument", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("limit_text", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("limit_source", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("signed_by", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("note", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.CheckConstraint("result in ('meets','does not meet','cannot tell')", name=op.f("ck_proof_result")),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_proof_job_id_job")),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_proof_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_proof")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("proof", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_proof_job_id"), ["job_id"], unique=False)

    op.create_table(
        "quote",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("step", sa.Text(), server_default=sa.text("'job'"), nullable=False),
        sa.Column("scope", sa.Text(), server_default=sa.text("'mechanical'"), nullable=False),
        sa.Column("on_day", column_types.Day(), nullable=False),
        sa.Column("valid_until", column_types.Day(), nullable=True),
        sa.Column("deposit_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("ceiling_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("net_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("tax_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("gross_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("currency", sa.Text(), server_default=sa.text("'USD'"), nullable=False),
        sa.Column("declined_on", column_types.Day(), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.CheckConstraint("step in ('teardown','job','change')", name=op.f("ck_quote_step")),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_quote_job_id_job")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_quote")),
        sa.UniqueConstraint("number", name=op.f("uq_quote_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("quote", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_quote_job_id"), ["job_id"], unique=False)

    op.create_table(
        "thermostat_card",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("oven", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("answers", column_types.Doc(), nullable=False),
        sa.Column("notes", column_types.Doc(), nullable=False),
        sa.Column("forced_test", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("begun_at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("complete_at", column_types.UtcTime(timezone=True), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_thermostat_card_job_id_job")),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_thermostat_card_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_thermostat_card")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("thermostat_card", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_thermostat_card_job_id"), ["job_id"], unique=False)

    op.create_table(
        "walk_round",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("on_day", column_types.Day(), nullable=False),
        sa.Column("purpose", sa.Text(), server_default=sa.text("'full'"), nullable=False),
        sa.Column("examiner_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("place", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("circumstances", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("asking_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("accessories", column_types.Doc(), nullable=False),
        sa.Column("catalogue_version", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("seed", sa.Integer(), nullable=False),
        sa.Column("finished_at", column_types.UtcTime(timezone=True), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["examiner_id"], ["staff.id"], name=op.f("fk_walk_round_examiner_id_staff")),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_walk_round_job_id_job")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_walk_round")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("walk_round", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_walk_round_examiner_id"), ["examiner_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_walk_round_job_id"), ["job_id"], unique=False)

    op.create_table(
        "work_order",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("scope", sa.Text(), server_default=sa.text("'mechanical'"), nullable=False),
        sa.Column("written_at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_work_order_job_id_job")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_work_order")),
        sa.UniqueConstraint("job_id", name=op.f("uq_work_order_job_id")),
        sqlite_strict=True,
    )
    op.create_table(
        "agreement",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("quote_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("how", sa.Text(), nullable=False),
        sa.Column("number_called", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("taken_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("amount_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("note", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.CheckConstraint("how in ('signed','e-mail','telephone')", name=op.f("ck_agreement_how")),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_agreement_job_id_job")),
        sa.ForeignKeyConstraint(["quote_id"], ["quote.id"], name=op.f("fk_agreement_quote_id_quote")),
        sa.ForeignKeyConstraint(["taken_by_id"], ["staff.id"], name=op.f("fk_agreement_taken_by_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_agreement")),
        sa.UniqueConstraint("quote_id", name=op.f("uq_agreement_quote_id")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("agreement", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_agreement_job_id"), ["job_id"], unique=False)

    op.create_table(
        "change_order",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("found_on", column_types.Day(), nullable=False),
        sa.Column("found_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("quote_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["found_by_id"], ["staff.id"], name=op.f("fk_change_order_found_by_id_staff")
        ),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_change_order_job_id_job")),
        sa.ForeignKeyConstraint(["quote_id"], ["quote.id"], name=op.f("fk_change_order_quote_id_quote")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_change_order")),
        sa.UniqueConstraint("number", name=op.f("uq_change_order_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("change_order", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_change_order_job_id"), ["job_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_change_order_quote_id"), ["quote_id"], unique=False)

    op.create_table(
        "observation",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("walk_round_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("checkpoint", sa.Text(), nullable=False),
        sa.Column("finding", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("extent", sa.Integer(), nullable=False),
        sa.Column("evidence", sa.Text(), server_default=sa.text("'seen'"), nullable=False),
        sa.Column("way", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("note", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "evidence in ('not seen','claimed','seen','tested')", name=op.f("ck_observation_evidence")
        ),
        sa.CheckConstraint("extent between 1 and 99", name=op.f("ck_observation_extent")),
        sa.ForeignKeyConstraint(
            ["walk_round_id"], ["walk_round.id"], name=op.f("fk_observation_walk_round_id_walk_round")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_observation")),
        sa.UniqueConstraint(
            "walk_round_id",
            "checkpoint",
            "finding",
            name=op.f("uq_observation_walk_round_id_checkpoint_finding"),
        ),
        sqlite_strict=True,
    )
    with op.batch_alter_table("observation", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_observation_walk_round_id"), ["walk_round_id"], unique=False)

    op.create_table(
        "payment_share",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("payment_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("invoice_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("amount_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("amount_cents <> 0", name=op.f("ck_payment_share_amount")),
        sa.ForeignKeyConstraint(
            ["invoice_id"], ["invoice.id"], name=op.f("fk_payment_share_invoice_id_invoice")
        ),
        sa.ForeignKeyConstraint(
            ["payment_id"], ["payment.id"], name=op.f("fk_payment_share_payment_id_payment")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_payment_share")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("payment_share", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_payment_share_invoice_id"), ["invoice_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_payment_share_payment_id"), ["payment_id"], unique=False)

    op.create_table(
        "verdict",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("walk_round_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("route", sa.Text(), nullable=False),
        sa.Column("offer_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("cost_low_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("cost_likely_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("cost_high_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("reasons", column_types.Doc(), nullable=False),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_verdict_staff_id_staff")),
        sa.ForeignKeyConstraint(
            ["walk_round_id"], ["walk_round.id"], name=op.f("fk_verdict_walk_round_id_walk_round")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_verdict")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("verdict", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_verdict_walk_round_id"), ["walk_round_id"], unique=False)

    op.create_table(
        "task",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("work_order_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("code", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("stage", sa.Text(), server_default=sa.text("'repair'"), nullable=False),
        sa.Column("station", sa.Text(), server_default=sa.text("'bench'"), nullable=False),
        sa.Column("skills", column_types.Doc(), nullable=False),
        sa.Column("hazards", column_types.Doc(), nullable=False),
        sa.Column("proofs", column_types.Doc(), nullable=False),
        sa.Column("holds", column_types.Doc(), nullable=False),
        sa.Column("zone", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("count", sa.Integer(), nullable=False),
        sa.Column("minutes_low", sa.Integer(), nullable=False),
        sa.Column("minutes_likely", sa.Integer(), nullable=False),
        sa.Column("minutes_high", sa.Integer(), nullable=False),
        sa.Column("outwork_trade", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("outwork_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("outwork_days", sa.Integer(), nullable=False),
        sa.Column("done_share", sa.Integer(), nullable=False),
        sa.Column("done_at", column_types.UtcTime(timezone=True), nullable=True),
        sa.Column("done_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("assigned_to_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("blocked_because", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("note", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("dropped", column_types.Flag(), nullable=False),
        sa.Column("change_order_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("split_from_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("by_hand", column_types.Doc(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.CheckConstraint("done_share between 0 and 100", name=op.f("ck_task_done_share")),
        sa.ForeignKeyConstraint(["assigned_to_id"], ["staff.id"], name=op.f("fk_task_assigned_to_id_staff")),
        sa.ForeignKeyConstraint(
            ["change_order_id"], ["change_order.id"], name=op.f("fk_task_change_order_id_change_order")
        ),
        sa.ForeignKeyConstraint(["done_by_id"], ["staff.id"], name=op.f("fk_task_done_by_id_staff")),
        sa.ForeignKeyConstraint(["split_from_id"], ["task.id"], name=op.f("fk_task_split_from_id_task")),
        sa.ForeignKeyConstraint(
            ["work_order_id"], ["work_order.id"], name=op.f("fk_task_work_order_id_work_order")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_task")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("task", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_task_assigned_to_id"), ["assigned_to_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_task_change_order_id"), ["change_order_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_task_split_from_id"), ["split_from_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_task_work_order_id"), ["work_order_id"], unique=False)
        batch_op.create_index(
            "uq_task_code",
            ["work_order_id", "code"],
            unique=True,
            sqlite_where=sa.text("code <> ''"),
            postgresql_where=sa.text("code <> ''"),
        )

    op.create_table(
        "consignment_piece",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("consignment_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("task_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("base_metal", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("finish", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("count_out", sa.Integer(), nullable=False),
        sa.Column("count_back", sa.Integer(), nullable=False),
        sa.Column("back_on", column_types.Day(), nullable=True),
        sa.Column("accepted", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("cost_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("price_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("insured_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.CheckConstraint(
            "count_out > 0 and count_back between 0 and count_out", name=op.f("ck_consignment_piece_count")
        ),
        sa.ForeignKeyConstraint(
            ["consignment_id"],
            ["consignment.id"],
            name=op.f("fk_consignment_piece_consignment_id_consignment"),
        ),
        sa.ForeignKeyConstraint(["task_id"], ["task.id"], name=op.f("fk_consignment_piece_task_id_task")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_consignment_piece")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("consignment_piece", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_consignment_piece_consignment_id"), ["consignment_id"], unique=False
        )
        batch_op.create_index(batch_op.f("ix_consignment_piece_task_id"), ["task_id"], unique=False)

    op.create_table(
        "need",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("task_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("quantity", sa.Integer(), nullable=False),
        sa.Column("covered", sa.Integer(), nullable=False),
        sa.Column("cost_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("price_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("condition", sa.Text(), server_default=sa.text("'new'"), nullable=False),
        sa.Column("called_off", sa.Integer(), nullable=False),
        sa.Column("called_off_because", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.CheckConstraint("quantity > 0 and covered between 0 and quantity", name=op.f("ck_need_covered")),
        sa.ForeignKeyConstraint(["task_id"], ["task.id"], name=op.f("fk_need_task_id_task")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_need")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("need", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_need_task_id"), ["task_id"], unique=False)

    op.create_table(
        "task_after",
        sa.Column("task_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("after_task_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("task_id <> after_task_id", name=op.f("ck_task_after_not_itself")),
        sa.ForeignKeyConstraint(
            ["after_task_id"], ["task.id"], name=op.f("fk_task_after_after_task_id_task")
        ),
        sa.ForeignKeyConstraint(["task_id"], ["task.id"], name=op.f("fk_task_after_task_id_task")),
        sa.PrimaryKeyConstraint("task_id", "after_task_id", name=op.f("pk_task_after")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("task_after", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_task_after_after_task_id"), ["after_task_id"], unique=False)

    op.create_table(
        "task_cause",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("task_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("code", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("observation_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.CheckConstraint(
            "kind in ('finding','task','routine','not seen','hand','conversion')",
            name=op.f("ck_task_cause_kind"),
        ),
        sa.ForeignKeyConstraint(
            ["observation_id"], ["observation.id"], name=op.f("fk_task_cause_observation_id_observation")
        ),
        sa.ForeignKeyConstraint(["task_id"], ["task.id"], name=op.f("fk_task_cause_task_id_task")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_task_cause")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("task_cause", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_task_cause_observation_id"), ["observation_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_task_cause_task_id"), ["task_id"], unique=False)

    op.create_table(
        "time_entry",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("task_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("started_at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("minutes", sa.Integer(), nullable=True),
        sa.Column("note", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.CheckConstraint("minutes is null or minutes > 0", name=op.f("ck_time_entry_minutes")),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_time_entry_staff_id_staff")),
        sa.ForeignKeyConstraint(["task_id"], ["task.id"], name=op.f("fk_time_entry_task_id_task")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_time_entry")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("time_entry", schema=None) as batch_op:
        batch_op.create_index("ix_time_entry_staff", ["staff_id", "started_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_time_entry_task_id"), ["task_id"], unique=False)
        batch_op.create_index(
            "uq_time_entry_running",
            ["staff_id"],
            unique=True,
            sqlite_where=sa.text("minutes IS NULL"),
            postgresql_where=sa.text("minutes IS NULL"),
        )

    op.create_table(
        "invoice_line",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("invoice_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("task_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("need_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("piece_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("quantity", sa.Integer(), nullable=False),
        sa.Column("unit_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("net_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("tax_category", sa.Text(), server_default=sa.text("'O'"), nullable=False),
        sa.Column("tax_percent", column_types.Percent(), nullable=False),
        sa.Column("tax_name", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("condition", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("because", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.CheckConstraint(
            "kind in ('labour','part','outwork','delivery','charge')", name=op.f("ck_invoice_line_kind")
        ),
        sa.ForeignKeyConstraint(
            ["invoice_id"], ["invoice.id"], name=op.f("fk_invoice_line_invoice_id_invoice")
        ),
        sa.ForeignKeyConstraint(["need_id"], ["need.id"], name=op.f("fk_invoice_line_need_id_need")),
        sa.ForeignKeyConstraint(
            ["piece_id"], ["consignment_piece.id"], name=op.f("fk_invoice_line_piece_id_consignment_piece")
        ),
        sa.ForeignKeyConstraint(["task_id"], ["task.id"], name=op.f("fk_invoice_line_task_id_task")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_invoice_line")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("invoice_line", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_invoice_line_invoice_id"), ["invoice_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_invoice_line_need_id"), ["need_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_invoice_line_piece_id"), ["piece_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_invoice_line_task_id"), ["task_id"], unique=False)

    op.create_table(
        "purchase_line",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("order_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("need_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("part_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("quantity", sa.Integer(), nullable=False),
        sa.Column("unit_cost_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("quantity > 0", name=op.f("ck_purchase_line_quantity")),
        sa.ForeignKeyConstraint(["need_id"], ["need.id"], name=op.f("fk_purchase_line_need_id_need")),
        sa.ForeignKeyConstraint(
            ["order_id"], ["purchase_order.id"], name=op.f("fk_purchase_line_order_id_purchase_order")
        ),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_purchase_line_part_id_part")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_purchase_line")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("purchase_line", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_purchase_line_need_id"), ["need_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_purchase_line_order_id"), ["order_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_purchase_line_part_id"), ["part_id"], unique=False)

    op.create_table(
        "quote_line",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("quote_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("task_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("need_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("quantity", sa.Integer(), nullable=False),
        sa.Column("unit_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("net_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("tax_category", sa.Text(), server_default=sa.text("'O'"), nullable=False),
        sa.Column("tax_percent", column_types.Percent(), nullable=False),
        sa.Column("tax_name", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("condition", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("because", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.CheckConstraint(
            "kind in ('labour','part','outwork','delivery','charge')", name=op.f("ck_quote_line_kind")
        ),
        sa.ForeignKeyConstraint(["need_id"], ["need.id"], name=op.f("fk_quote_line_need_id_need")),
        sa.ForeignKeyConstraint(["quote_id"], ["quote.id"], name=op.f("fk_quote_line_quote_id_quote")),
        sa.ForeignKeyConstraint(["task_id"], ["task.id"], name=op.f("fk_quote_line_task_id_task")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_quote_line")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("quote_line", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_quote_line_need_id"), ["need_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_quote_line_quote_id"), ["quote_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_quote_line_task_id"), ["task_id"], unique=False)

    op.create_table(
        "tag",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("how_many", sa.Integer(), nullable=False),
        sa.Column("goes_back", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("goes_back_words", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("lies_at", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("task_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("piece_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("taken_off_at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("taken_off_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("back_at", column_types.UtcTime(timezone=True), nullable=True),
        sa.Column("back_by_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("not_back_because", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.CheckConstraint("how_many > 0", name=op.f("ck_tag_how_many")),
        sa.ForeignKeyConstraint(["back_by_id"], ["staff.id"], name=op.f("fk_tag_back_by_id_staff")),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_tag_job_id_job")),
        sa.ForeignKeyConstraint(
            ["piece_id"], ["consignment_piece.id"], name=op.f("fk_tag_piece_id_consignment_piece")
        ),
        sa.ForeignKeyConstraint(["taken_off_by_id"], ["staff.id"], name=op.f("fk_tag_taken_off_by_id_staff")),
        sa.ForeignKeyConstraint(["task_id"], ["task.id"], name=op.f("fk_tag_task_id_task")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_tag")),
        sa.UniqueConstraint("number", name=op.f("uq_tag_number")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("tag", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_tag_job_id"), ["job_id"], unique=False)
        batch_op.create_index("ix_tag_out", ["job_id", "back_at"], unique=False)
        batch_op.create_index(batch_op.f("ix_tag_piece_id"), ["piece_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_tag_task_id"), ["task_id"], unique=False)

    op.create_table(
        "goods_in",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("line_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("on_day", column_types.Day(), nullable=False),
        sa.Column("quantity", sa.Integer(), nullable=False),
        sa.Column("unit_cost_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("quantity > 0", name=op.f("ck_goods_in_quantity")),
        sa.ForeignKeyConstraint(
            ["line_id"], ["purchase_line.id"], name=op.f("fk_goods_in_line_id_purchase_line")
        ),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_goods_in_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_goods_in")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("goods_in", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_goods_in_line_id"), ["line_id"], unique=False)

    op.create_table(
        "photograph_use",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("photograph_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("range_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("observation_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("task_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("agreement_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("tag_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("proof_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("caption", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.ForeignKeyConstraint(
            ["agreement_id"], ["agreement.id"], name=op.f("fk_photograph_use_agreement_id_agreement")
        ),
        sa.ForeignKeyConstraint(
            ["observation_id"], ["observation.id"], name=op.f("fk_photograph_use_observation_id_observation")
        ),
        sa.ForeignKeyConstraint(
            ["photograph_id"], ["photograph.id"], name=op.f("fk_photograph_use_photograph_id_photograph")
        ),
        sa.ForeignKeyConstraint(["proof_id"], ["proof.id"], name=op.f("fk_photograph_use_proof_id_proof")),
        sa.ForeignKeyConstraint(
            ["range_id"], ["gas_range.id"], name=op.f("fk_photograph_use_range_id_gas_range")
        ),
        sa.ForeignKeyConstraint(["tag_id"], ["tag.id"], name=op.f("fk_photograph_use_tag_id_tag")),
        sa.ForeignKeyConstraint(["task_id"], ["task.id"], name=op.f("fk_photograph_use_task_id_task")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_photograph_use")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("photograph_use", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_photograph_use_agreement_id"), ["agreement_id"], unique=False)
        batch_op.create_index(
            batch_op.f("ix_photograph_use_observation_id"), ["observation_id"], unique=False
        )
        batch_op.create_index(batch_op.f("ix_photograph_use_photograph_id"), ["photograph_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_photograph_use_proof_id"), ["proof_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_photograph_use_range_id"), ["range_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_photograph_use_tag_id"), ["tag_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_photograph_use_task_id"), ["task_id"], unique=False)

    op.create_table(
        "part_movement",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("part_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("quantity", sa.Integer(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("need_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("goods_in_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("quantity <> 0", name=op.f("ck_part_movement_quantity")),
        sa.ForeignKeyConstraint(
            ["goods_in_id"], ["goods_in.id"], name=op.f("fk_part_movement_goods_in_id_goods_in")
        ),
        sa.ForeignKeyConstraint(["need_id"], ["need.id"], name=op.f("fk_part_movement_need_id_need")),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_part_movement_part_id_part")),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_part_movement_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_part_movement")),
        sqlite_strict=True,
    )
    with op.batch_alter_table("part_movement", schema=None) as batch_op:
        batch_op.create_index(batch_op.f("ix_part_movement_goods_in_id"), ["goods_in_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_part_movement_need_id"), ["need_id"], unique=False)
        batch_op.create_index(batch_op.f("ix_part_movement_part_id"), ["part_id"], unique=False)

    _triggers()


def downgrade() -> None:
    with op.batch_alter_table("part_movement", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_part_movement_part_id"))
        batch_op.drop_index(batch_op.f("ix_part_movement_need_id"))
        batch_op.drop_index(batch_op.f("ix_part_movement_goods_in_id"))

    op.drop_table("part_movement")
    with op.batch_alter_table("photograph_use", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_photograph_use_task_id"))
        batch_op.drop_index(batch_op.f("ix_photograph_use_tag_id"))
        batch_op.drop_index(batch_op.f("ix_photograph_use_range_id"))
        batch_op.drop_index(batch_op.f("ix_photograph_use_proof_id"))
        batch_op.drop_index(batch_op.f("ix_photograph_use_photograph_id"))
        batch_op.drop_index(batch_op.f("ix_photograph_use_observation_id"))
        batch_op.drop_index(batch_op.f("ix_photograph_use_agreement_id"))

    op.drop_table("photograph_use")
    with op.batch_alter_table("goods_in", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_goods_in_line_id"))

    op.drop_table("goods_in")
    with op.batch_alter_table("tag", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_tag_task_id"))
        batch_op.drop_index(batch_op.f("ix_tag_piece_id"))
        batch_op.drop_index("ix_tag_out")
        batch_op.drop_index(batch_op.f("ix_tag_job_id"))

    op.drop_table("tag")
    with op.batch_alter_table("quote_line", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_quote_line_task_id"))
        batch_op.drop_index(batch_op.f("ix_quote_line_quote_id"))
        batch_op.drop_index(batch_op.f("ix_quote_line_need_id"))

    op.drop_table("quote_line")
    with op.batch_alter_table("purchase_line", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_purchase_line_part_id"))
        batch_op.drop_index(batch_op.f("ix_purchase_line_order_id"))
        batch_op.drop_index(batch_op.f("ix_purchase_line_need_id"))

    op.drop_table("purchase_line")
    with op.batch_alter_table("invoice_line", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_invoice_line_task_id"))
        batch_op.drop_index(batch_op.f("ix_invoice_line_piece_id"))
        batch_op.drop_index(batch_op.f("ix_invoice_line_need_id"))
        batch_op.drop_index(batch_op.f("ix_invoice_line_invoice_id"))

    op.drop_table("invoice_line")
    with op.batch_alter_table("time_entry", schema=None) as batch_op:
        batch_op.drop_index(
            "uq_time_entry_running",
            sqlite_where=sa.text("minutes IS NULL"),
            postgresql_where=sa.text("minutes IS NULL"),
        )
        batch_op.drop_index(batch_op.f("ix_time_entry_task_id"))
        batch_op.drop_index("ix_time_entry_staff")

    op.drop_table("time_entry")
    with op.batch_alter_table("task_cause", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_task_cause_task_id"))
        batch_op.drop_index(batch_op.f("ix_task_cause_observation_id"))

    op.drop_table("task_cause")
    with op.batch_alter_table("task_after", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_task_after_after_task_id"))

    op.drop_table("task_after")
    with op.batch_alter_table("need", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_need_task_id"))

    op.drop_table("need")
    with op.batch_alter_table("consignment_piece", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_consignment_piece_task_id"))
        batch_op.drop_index(batch_op.f("ix_consignment_piece_consignment_id"))

    op.drop_table("consignment_piece")
    with op.batch_alter_table("task", schema=None) as batch_op:
        batch_op.drop_index(
            "uq_task_code", sqlite_where=sa.text("code <> ''"), postgresql_where=sa.text("code <> ''")
        )
        batch_op.drop_index(batch_op.f("ix_task_work_order_id"))
        batch_op.drop_index(batch_op.f("ix_task_split_from_id"))
        batch_op.drop_index(batch_op.f("ix_task_change_order_id"))
        batch_op.drop_index(batch_op.f("ix_task_assigned_to_id"))

    op.drop_table("task")
    with op.batch_alter_table("verdict", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_verdict_walk_round_id"))

    op.drop_table("verdict")
    with op.batch_alter_table("payment_share", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_payment_share_payment_id"))
        batch_op.drop_index(batch_op.f("ix_payment_share_invoice_id"))

    op.drop_table("payment_share")
    with op.batch_alter_table("observation", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_observation_walk_round_id"))

    op.drop_table("observation")
    with op.batch_alter_table("change_order", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_change_order_quote_id"))
        batch_op.drop_index(batch_op.f("ix_change_order_job_id"))

    op.drop_table("change_order")
    with op.batch_alter_table("agreement", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_agreement_job_id"))

    op.drop_table("agreement")
    op.drop_table("work_order")
    with op.batch_alter_table("walk_round", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_walk_round_job_id"))
        batch_op.drop_index(batch_op.f("ix_walk_round_examiner_id"))

    op.drop_table("walk_round")
    with op.batch_alter_table("thermostat_card", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_thermostat_card_job_id"))

    op.drop_table("thermostat_card")
    with op.batch_alter_table("quote", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_quote_job_id"))

    op.drop_table("quote")
    with op.batch_alter_table("proof", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_proof_job_id"))

    op.drop_table("proof")
    with op.batch_alter_table("payment", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_payment_party_id"))
        batch_op.drop_index(batch_op.f("ix_payment_job_id"))

    op.drop_table("payment")
    with op.batch_alter_table("paper", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_paper_party_id"))
        batch_op.drop_index("ix_paper_kind")
        batch_op.drop_index(batch_op.f("ix_paper_job_id"))
        batch_op.drop_index(batch_op.f("ix_paper_corrects_id"))

    op.drop_table("paper")
    with op.batch_alter_table("job_release", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_job_release_job_id"))

    op.drop_table("job_release")
    with op.batch_alter_table("invoice", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_invoice_job_id"))
        batch_op.drop_index(batch_op.f("ix_invoice_customer_id"))
        batch_op.drop_index(batch_op.f("ix_invoice_corrects_id"))

    op.drop_table("invoice")
    with op.batch_alter_table("hold_answer", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_hold_answer_job_id"))

    op.drop_table("hold_answer")
    with op.batch_alter_table("gas_conversion", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_gas_conversion_range_id"))
        batch_op.drop_index(batch_op.f("ix_gas_conversion_job_id"))

    op.drop_table("gas_conversion")
    with op.batch_alter_table("appointment", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_appointment_starts_at"))
        batch_op.drop_index(batch_op.f("ix_appointment_party_id"))
        batch_op.drop_index(batch_op.f("ix_appointment_job_id"))

    op.drop_table("appointment")
    with op.batch_alter_table("part", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_part_from_range_id"))

    op.drop_table("part")
    with op.batch_alter_table("job", schema=None) as batch_op:
        batch_op.drop_index("ix_job_stage_promised")
        batch_op.drop_index(batch_op.f("ix_job_range_id"))
        batch_op.drop_index(batch_op.f("ix_job_customer_id"))

    op.drop_table("job")
    op.drop_table("gas_reckoning")
    with op.batch_alter_table("wage", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_wage_staff_id"))

    op.drop_table("wage")
    with op.batch_alter_table("purchase_order", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_purchase_order_supplier_id"))

    op.drop_table("purchase_order")
    with op.batch_alter_table("hours_word", schema=None) as batch_op:
        batch_op.drop_index("ix_hours_word_task")

    op.drop_table("hours_word")
    with op.batch_alter_table("gas_range", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_gas_range_owner_id"))

    op.drop_table("gas_range")
    with op.batch_alter_table("consignment", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_consignment_firm_id"))

    op.drop_table("consignment")
    with op.batch_alter_table("caution_seen", schema=None) as batch_op:
        batch_op.drop_index("ix_caution_seen_kind")

    op.drop_table("caution_seen")
    op.drop_table("tax_rate")
    op.drop_table("staff")
    op.drop_table("setting")
    op.drop_table("photograph")
    with op.batch_alter_table("party", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_party_merged_into_id"))

    op.drop_table("party")
    op.drop_table("number_series")
    op.drop_table("labour_rate")
    with op.batch_alter_table("journal", schema=None) as batch_op:
        batch_op.drop_index("ix_journal_record")
        batch_op.drop_index("ix_journal_job")

    op.drop_table("journal")
    op.drop_table("instrument")
    if op.get_bind().dialect.name == "postgresql":
        op.get_bind().exec_driver_sql("DROP FUNCTION IF EXISTS refuse_change, refuse_issued_line")
