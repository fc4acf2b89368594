"""Counter: what was added after the first tables"""

import sqlalchemy as sa
from alembic import op

from shopdesk.storage import column_types

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None

_APPEND_ONLY = ("agreement", "agreement_left_out", "comeback", "letter", "outlay", "write_off")
_SERIES = (("statement", "A-"), ("letter", "L-"), ("bill of sale", "D-"))


def _sqlite_triggers() -> list[str]:
    made = [
        f"CREATE TRIGGER {table}_no_{verb} BEFORE {verb.upper()} ON {table} "
        f"BEGIN SELECT RAISE(ABORT, 'a row of {table} is never changed'); END"
        for table in _APPEND_ONLY
        for verb in ("update", "delete")
    ]
    new, old = "NEW.invoice_id", "OLD.invoice_id"
    for verb, row in (("insert", new), ("update", f"{new}, {old}"), ("delete", old)):
        made.append(
            f"CREATE TRIGGER invoice_adjustment_no_{verb} BEFORE {verb.upper()} ON invoice_adjustment "
            f"WHEN EXISTS (SELECT 1 FROM invoice WHERE id IN ({row}) AND number IS NOT NULL) "
            "BEGIN SELECT RAISE(ABORT, 'an issued invoice is never changed'); END"
        )
    return made


def _postgresql_triggers() -> list[str]:
    made = [
        f"CREATE TRIGGER {table}_no_change BEFORE UPDATE OR DELETE ON {table} FOR EACH ROW "
        "EXECUTE FUNCTION refuse_change()"
        for table in _APPEND_ONLY
    ]
    made.append(
        "CREATE TRIGGER invoice_adjustment_no_change BEFORE INSERT OR UPDATE OR DELETE ON invoice_adjustment "
        "FOR EACH ROW EXECUTE FUNCTION refuse_issued_line()"
    )
    return made


def _agreement_triggers_off() -> None:
    """The other tables take theirs along when they are dropped."""
    connection = op.get_bind()
    if connection.dialect.name == "sqlite":
        for verb in ("update", "delete"):
            connection.exec_driver_sql(f"DROP TRIGGER agreement_no_{verb}")
    else:
        connection.exec_driver_sql("DROP TRIGGER agreement_no_change ON agreement")


def upgrade() -> None:
    op.create_table(
        "local_tax_rate",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("from_day", column_types.Day(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("category", sa.Text(), server_default=sa.text("'S'"), nullable=False),
        sa.Column("percent", column_types.Percent(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_local_tax_rate")),
        sa.UniqueConstraint(
            "place", "kind", "from_day", "name", name=op.f("uq_local_tax_rate_place_kind_from_day_name")
        ),
        sqlite_strict=True,
    )
    op.create_table(
        "comeback",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("of_job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("free", column_types.Flag(), nullable=False),
        sa.Column("why", sa.Text(), server_default=sa.text("''"), nullable=False),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_comeback_job_id_job")),
        sa.ForeignKeyConstraint(["of_job_id"], ["job.id"], name=op.f("fk_comeback_of_job_id_job")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_comeback")),
        sa.UniqueConstraint("job_id", name=op.f("uq_comeback_job_id")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_comeback_of_job_id"), "comeback", ["of_job_id"])
    op.create_table(
        "dispute",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("raised_on", column_types.Day(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("closed_on", column_types.Day(), nullable=True),
        sa.Column("outcome", sa.Text(), server_default=sa.text("''"), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_dispute_job_id_job")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_dispute")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_dispute_job_id"), "dispute", ["job_id"])
    op.create_table(
        "finish_grade",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("surface", sa.Text(), nullable=False),
        sa.Column("grade", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), server_default=sa.text("''"), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_finish_grade_job_id_job")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_finish_grade")),
        sa.UniqueConstraint("job_id", "surface", name=op.f("uq_finish_grade_job_id_surface")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_finish_grade_job_id"), "finish_grade", ["job_id"])
    op.create_table(
        "outlay",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("on_day", column_types.Day(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("amount_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("amount_cents <> 0", name=op.f("ck_outlay_amount")),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_outlay_job_id_job")),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_outlay_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_outlay")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_outlay_job_id"), "outlay", ["job_id"])
    op.create_table(
        "invoice_adjustment",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("invoice_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("deducts_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.Column("percent", column_types.Percent(), nullable=True),
        sa.Column("amount_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("tax_category", sa.Text(), server_default=sa.text("'O'"), nullable=False),
        sa.Column("tax_percent", column_types.Percent(), nullable=False),
        sa.Column("tax_name", sa.Text(), server_default=sa.text("''"), nullable=False),
        sa.ForeignKeyConstraint(
            ["deducts_id"], ["invoice.id"], name=op.f("fk_invoice_adjustment_deducts_id_invoice")
        ),
        sa.ForeignKeyConstraint(
            ["invoice_id"], ["invoice.id"], name=op.f("fk_invoice_adjustment_invoice_id_invoice")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_invoice_adjustment")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_invoice_adjustment_deducts_id"), "invoice_adjustment", ["deducts_id"])
    op.create_index(op.f("ix_invoice_adjustment_invoice_id"), "invoice_adjustment", ["invoice_id"])
    op.create_table(
        "letter",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("job_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("invoice_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("party_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("on_day", column_types.Day(), nullable=False),
        sa.Column("paper_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["invoice_id"], ["invoice.id"], name=op.f("fk_letter_invoice_id_invoice")),
        sa.ForeignKeyConstraint(["job_id"], ["job.id"], name=op.f("fk_letter_job_id_job")),
        sa.ForeignKeyConstraint(["paper_id"], ["paper.id"], name=op.f("fk_letter_paper_id_paper")),
        sa.ForeignKeyConstraint(["party_id"], ["party.id"], name=op.f("fk_letter_party_id_party")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_letter")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_letter_invoice_id"), "letter", ["invoice_id"])
    op.create_index(op.f("ix_letter_job_id"), "letter", ["job_id"])
    op.create_index(op.f("ix_letter_party_id"), "letter", ["party_id"])
    op.create_table(
        "quote_adjustment",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("quote_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.Column("percent", column_types.Percent(), nullable=True),
        sa.Column("amount_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("tax_category", sa.Text(), server_default=sa.text("'O'"), nullable=False),
        sa.Column("tax_percent", column_types.Percent(), nullable=False),
        sa.Column("tax_name", sa.Text(), server_default=sa.text("''"), nullable=False),
        sa.ForeignKeyConstraint(["quote_id"], ["quote.id"], name=op.f("fk_quote_adjustment_quote_id_quote")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_quote_adjustment")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_quote_adjustment_quote_id"), "quote_adjustment", ["quote_id"])
    op.create_table(
        "quote_finish",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("quote_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("surface", sa.Text(), nullable=False),
        sa.Column("grade", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), server_default=sa.text("''"), nullable=False),
        sa.ForeignKeyConstraint(["quote_id"], ["quote.id"], name=op.f("fk_quote_finish_quote_id_quote")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_quote_finish")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_quote_finish_quote_id"), "quote_finish", ["quote_id"])
    op.create_table(
        "quote_milestone",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("quote_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("share_percent", sa.Integer(), nullable=False),
        sa.CheckConstraint("share_percent between 1 and 100", name=op.f("ck_quote_milestone_share")),
        sa.ForeignKeyConstraint(["quote_id"], ["quote.id"], name=op.f("fk_quote_milestone_quote_id_quote")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_quote_milestone")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_quote_milestone_quote_id"), "quote_milestone", ["quote_id"])
    op.create_table(
        "write_off",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("invoice_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("on_day", column_types.Day(), nullable=False),
        sa.Column("amount_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("amount_cents > 0", name=op.f("ck_write_off_amount")),
        sa.ForeignKeyConstraint(["invoice_id"], ["invoice.id"], name=op.f("fk_write_off_invoice_id_invoice")),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_write_off_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_write_off")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_write_off_invoice_id"), "write_off", ["invoice_id"])
    op.create_table(
        "agreement_left_out",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("agreement_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("quote_line_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["agreement_id"], ["agreement.id"], name=op.f("fk_agreement_left_out_agreement_id_agreement")
        ),
        sa.ForeignKeyConstraint(
            ["quote_line_id"], ["quote_line.id"], name=op.f("fk_agreement_left_out_quote_line_id_quote_line")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_agreement_left_out")),
        sa.UniqueConstraint(
            "agreement_id", "quote_line_id", name=op.f("uq_agreement_left_out_agreement_id_quote_line_id")
        ),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_agreement_left_out_agreement_id"), "agreement_left_out", ["agreement_id"])
    op.create_index(op.f("ix_agreement_left_out_quote_line_id"), "agreement_left_out", ["quote_line_id"])
    op.add_column(
        "agreement", sa.Column("kept_text", sa.Text(), server_default=sa.text("('')"), nullable=False)
    )
    op.add_column("invoice", sa.Column("basis", sa.Text(), server_default=sa.text("'work'"), nullable=False))
    op.add_column(
        "invoice", sa.Column("milestone", sa.Text(), server_default=sa.text("('')"), nullable=False)
    )
    op.add_column(
        "invoice",
        sa.Column(
            "margin_tax_cents",
            sa.BigInteger().with_variant(sa.Integer(), "sqlite"),
            server_default=sa.text("0"),
            nullable=False,
        ),
    )
    op.add_column(
        "invoice_line",
        sa.Column(
            "adjust_cents",
            sa.BigInteger().with_variant(sa.Integer(), "sqlite"),
            server_default=sa.text("0"),
            nullable=False,
        ),
    )
    op.add_column(
        "invoice_line", sa.Column("adjust_why", sa.Text(), server_default=sa.text("('')"), nullable=False)
    )
    op.add_column("job", sa.Column("warranty_until", column_types.Day(), nullable=True))
    op.add_column("party", sa.Column("tax_number", sa.Text(), server_default=sa.text("('')"), nullable=False))
    op.add_column(
        "quote",
        sa.Column(
            "contingency_cents",
            sa.BigInteger().with_variant(sa.Integer(), "sqlite"),
            server_default=sa.text("0"),
            nullable=False,
        ),
    )
    op.add_column(
        "quote_line",
        sa.Column(
            "adjust_cents",
            sa.BigInteger().with_variant(sa.Integer(), "sqlite"),
            server_default=sa.text("0"),
            nullable=False,
        ),
    )
    op.add_column(
        "quote_line", sa.Column("adjust_why", sa.Text(), server_default=sa.text("('')"), nullable=False)
    )
    connection = op.get_bind()
    for name, prefix in _SERIES:  # shops that stand; a new one is given its series when it is set up
        connection.exec_driver_sql(
            f"INSERT INTO number_series (name, prefix, next) SELECT '{name}', '{prefix}', 1 "
            "WHERE EXISTS (SELECT 1 FROM number_series)"
        )
    sqlite = connection.dialect.name == "sqlite"
    for statement in _sqlite_triggers() if sqlite else _postgresql_triggers():
        connection.exec_driver_sql(statement)


def downgrade() -> None:
    _agreement_triggers_off()
    op.drop_column("quote_line", "adjust_why")
    op.drop_column("quote_line", "adjust_cents")
    op.drop_column("quote", "contingency_cents")
    op.drop_column("party", "tax_number")
    op.drop_column("job", "warranty_until")
    op.drop_column("invoice_line", "adjust_why")
    op.drop_column("invoice_line", "adjust_cents")
    op.drop_column("invoice", "margin_tax_cents")
    op.drop_column("invoice", "milestone")
    op.drop_column("invoice", "basis")
    op.drop_column("agreement", "kept_text")
    op.drop_index(op.f("ix_agreement_left_out_quote_line_id"), "agreement_left_out")
    op.drop_index(op.f("ix_agreement_left_out_agreement_id"), "agreement_left_out")
    op.drop_table("agreement_left_out")
    op.drop_index(op.f("ix_write_off_invoice_id"), "write_off")
    op.drop_table("write_off")
    op.drop_index(op.f("ix_quote_milestone_quote_id"), "quote_milestone")
    op.drop_table("quote_milestone")
    op.drop_index(op.f("ix_quote_finish_quote_id"), "quote_finish")
    op.drop_table("quote_finish")
    op.drop_index(op.f("ix_quote_adjustment_quote_id"), "quote_adjustment")
    op.drop_table("quote_adjustment")
    op.drop_index(op.f("ix_letter_party_id"), "letter")
    op.drop_index(op.f("ix_letter_job_id"), "letter")
    op.drop_index(op.f("ix_letter_invoice_id"), "letter")
    op.drop_table("letter")
    op.drop_index(op.f("ix_invoice_adjustment_invoice_id"), "invoice_adjustment")
    op.drop_index(op.f("ix_invoice_adjustment_deducts_id"), "invoice_adjustment")
    op.drop_table("invoice_adjustment")
    op.drop_index(op.f("ix_outlay_job_id"), "outlay")
    op.drop_table("outlay")
    op.drop_index(op.f("ix_finish_grade_job_id"), "finish_grade")
    op.drop_table("finish_grade")
    op.drop_index(op.f("ix_dispute_job_id"), "dispute")
    op.drop_table("dispute")
    op.drop_index(op.f("ix_comeback_of_job_id"), "comeback")
    op.drop_table("comeback")
    op.drop_table("local_tax_rate")
    op.get_bind().exec_driver_sql(
        "DELETE FROM number_series WHERE next = 1 AND name IN ('statement', 'letter', 'bill of sale')"
    )
