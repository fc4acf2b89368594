"""Stores: fits, landed cost, price lists, donors, wants, what befell pieces sent out, stock-takes"""

import sqlalchemy as sa
from alembic import op

from shopdesk.storage import column_types

revision = "0005"
down_revision = "0003"
branch_labels = None
depends_on = None

_APPEND_ONLY = ("goods_back", "table_in", "piece_event", "stock_take", "stock_take_line")


def upgrade() -> None:
    _make_tables()
    _add_columns()
    _protect()
    _cost_what_moved_before()


def _protect() -> None:
    connection = op.get_bind()
    for table in _APPEND_ONLY:
        if connection.dialect.name != "sqlite":
            connection.exec_driver_sql(
                f"CREATE TRIGGER {table}_no_change BEFORE UPDATE OR DELETE ON {table} FOR EACH ROW "
                "EXECUTE FUNCTION refuse_change()"
            )
            continue
        for verb in ("update", "delete"):
            connection.exec_driver_sql(_guard(table, verb))


def _guard(table: str, verb: str) -> str:
    return (
        f"CREATE TRIGGER {table}_no_{verb} BEFORE {verb.upper()} ON {table} "
        f"BEGIN SELECT RAISE(ABORT, 'a row of {table} is never changed'); END"
    )


def _cost_what_moved_before() -> None:
    """Movements and goods in from before carry a cost from now on; their guards rest meanwhile."""
    connection = op.get_bind()
    sqlite = connection.dialect.name == "sqlite"
    for table in ("part_movement", "goods_in"):
        connection.exec_driver_sql(
            f"DROP TRIGGER {table}_no_update"
            if sqlite
            else f"ALTER TABLE {table} DISABLE TRIGGER {table}_no_change"
        )
    connection.exec_driver_sql(
        "UPDATE part_movement SET cost_cents = quantity * "
        "(SELECT price_in_cents FROM part WHERE part.id = part_movement.part_id), "
        "kind = CASE WHEN need_id IS NOT NULL THEN 'set aside' "
        "WHEN goods_in_id IS NOT NULL THEN 'goods in' ELSE 'moved' END"
    )
    connection.exec_driver_sql("UPDATE goods_in SET landed_cents = quantity * unit_cost_cents")
    for table in ("part_movement", "goods_in"):
        connection.exec_driver_sql(
            _guard(table, "update") if sqlite else f"ALTER TABLE {table} ENABLE TRIGGER {table}_no_change"
        )


def _make_tables() -> None:
    op.create_table(
        "stock_take",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("on_day", column_types.Day(), nullable=False),
        sa.Column("bin", sa.Text(), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_stock_take_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stock_take")),
        sqlite_strict=True,
    )
    op.create_table(
        "supplier_price",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("supplier_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("theirs", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("price_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("currency", sa.Text(), server_default=sa.text("'USD'"), nullable=False),
        sa.Column("pack", sa.Integer(), nullable=False),
        sa.Column("lead_days", sa.Integer(), nullable=True),
        sa.Column("on_day", column_types.Day(), nullable=False),
        sa.Column("folded", sa.Text(), nullable=False),
        sa.CheckConstraint("price_cents >= 0 and pack > 0", name=op.f("ck_supplier_price_price")),
        sa.ForeignKeyConstraint(
            ["supplier_id"], ["party.id"], name=op.f("fk_supplier_price_supplier_id_party")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_supplier_price")),
        sa.UniqueConstraint("supplier_id", "theirs", name=op.f("uq_supplier_price_supplier_id_theirs")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_supplier_price_folded"), "supplier_price", ["folded"], unique=False)
    op.create_table(
        "table_in",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("at", column_types.UtcTime(timezone=True), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("file_name", sa.Text(), nullable=False),
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.Column("party_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("taken", sa.Integer(), nullable=False),
        sa.Column("refused", sa.Integer(), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["party_id"], ["party.id"], name=op.f("fk_table_in_party_id_party")),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_table_in_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_table_in")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_table_in_party_id"), "table_in", ["party_id"], unique=False)
    op.create_table(
        "donor",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("range_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("cost_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("opened_on", column_types.Day(), nullable=False),
        sa.Column("note", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["range_id"], ["gas_range.id"], name=op.f("fk_donor_range_id_gas_range")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_donor")),
        sa.UniqueConstraint("range_id", name=op.f("uq_donor_range_id")),
        sqlite_strict=True,
    )
    op.create_table(
        "part_fit",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("part_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("maker", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("model", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("build", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("certain", column_types.Flag(), nullable=False),
        sa.Column("note", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_part_fit_part_id_part")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_part_fit")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_part_fit_part_id"), "part_fit", ["part_id"], unique=False)
    op.create_table(
        "stock_take_line",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("take_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("part_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("expected", sa.Integer(), nullable=False),
        sa.Column("counted", sa.Integer(), nullable=False),
        sa.Column("because", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("cost_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("counted >= 0", name=op.f("ck_stock_take_line_counted")),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_stock_take_line_part_id_part")),
        sa.ForeignKeyConstraint(
            ["take_id"], ["stock_take.id"], name=op.f("fk_stock_take_line_take_id_stock_take")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stock_take_line")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_stock_take_line_part_id"), "stock_take_line", ["part_id"], unique=False)
    op.create_index(op.f("ix_stock_take_line_take_id"), "stock_take_line", ["take_id"], unique=False)
    op.create_table(
        "donor_part",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("donor_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("checkpoint", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("quantity", sa.Integer(), nullable=False),
        sa.Column("value_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("cost_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("standing", sa.Text(), server_default=sa.text("'on it'"), nullable=False),
        sa.Column("ended_on", column_types.Day(), nullable=True),
        sa.Column("ended_because", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("part_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("need_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("task_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.CheckConstraint("standing in ('on it','taken','lost')", name=op.f("ck_donor_part_standing")),
        sa.CheckConstraint("quantity > 0 and value_cents >= 0", name=op.f("ck_donor_part_quantity")),
        sa.ForeignKeyConstraint(["donor_id"], ["donor.id"], name=op.f("fk_donor_part_donor_id_donor")),
        sa.ForeignKeyConstraint(["need_id"], ["need.id"], name=op.f("fk_donor_part_need_id_need")),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_donor_part_part_id_part")),
        sa.ForeignKeyConstraint(["task_id"], ["task.id"], name=op.f("fk_donor_part_task_id_task")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_donor_part")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_donor_part_donor_id"), "donor_part", ["donor_id"], unique=False)
    op.create_index(op.f("ix_donor_part_need_id"), "donor_part", ["need_id"], unique=False)
    op.create_index(op.f("ix_donor_part_part_id"), "donor_part", ["part_id"], unique=False)
    op.create_index(op.f("ix_donor_part_task_id"), "donor_part", ["task_id"], unique=False)
    op.create_table(
        "piece_event",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("piece_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("on_day", column_types.Day(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("count", sa.Integer(), nullable=False),
        sa.Column("cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("note", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(
            ["piece_id"], ["consignment_piece.id"], name=op.f("fk_piece_event_piece_id_consignment_piece")
        ),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_piece_event_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_piece_event")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_piece_event_piece_id"), "piece_event", ["piece_id"], unique=False)
    op.create_table(
        "making",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("need_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("task_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.ForeignKeyConstraint(["need_id"], ["need.id"], name=op.f("fk_making_need_id_need")),
        sa.ForeignKeyConstraint(["task_id"], ["task.id"], name=op.f("fk_making_task_id_task")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_making")),
        sa.UniqueConstraint("need_id", name=op.f("uq_making_need_id")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_making_task_id"), "making", ["task_id"], unique=False)
    op.create_table(
        "want",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("need_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("range_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("party_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("quantity", sa.Integer(), nullable=False),
        sa.Column("maker", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("model", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("build", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("worth_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("note", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("opened_on", column_types.Day(), nullable=False),
        sa.Column("ended_on", column_types.Day(), nullable=True),
        sa.Column("ended_because", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.CheckConstraint("quantity > 0", name=op.f("ck_want_quantity")),
        sa.ForeignKeyConstraint(["need_id"], ["need.id"], name=op.f("fk_want_need_id_need")),
        sa.ForeignKeyConstraint(["party_id"], ["party.id"], name=op.f("fk_want_party_id_party")),
        sa.ForeignKeyConstraint(["range_id"], ["gas_range.id"], name=op.f("fk_want_range_id_gas_range")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_want")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_want_need_id"), "want", ["need_id"], unique=False)
    op.create_index(op.f("ix_want_party_id"), "want", ["party_id"], unique=False)
    op.create_index(op.f("ix_want_range_id"), "want", ["range_id"], unique=False)
    op.create_table(
        "stores_photograph",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("photograph_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("part_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("donor_part_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("piece_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
        sa.Column("caption", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.ForeignKeyConstraint(
            ["donor_part_id"], ["donor_part.id"], name=op.f("fk_stores_photograph_donor_part_id_donor_part")
        ),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_stores_photograph_part_id_part")),
        sa.ForeignKeyConstraint(
            ["photograph_id"], ["photograph.id"], name=op.f("fk_stores_photograph_photograph_id_photograph")
        ),
        sa.ForeignKeyConstraint(
            ["piece_id"],
            ["consignment_piece.id"],
            name=op.f("fk_stores_photograph_piece_id_consignment_piece"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stores_photograph")),
        sqlite_strict=True,
    )
    op.create_index(
        op.f("ix_stores_photograph_donor_part_id"), "stores_photograph", ["donor_part_id"], unique=False
    )
    op.create_index(op.f("ix_stores_photograph_part_id"), "stores_photograph", ["part_id"], unique=False)
    op.create_index(
        op.f("ix_stores_photograph_photograph_id"), "stores_photograph", ["photograph_id"], unique=False
    )
    op.create_index(op.f("ix_stores_photograph_piece_id"), "stores_photograph", ["piece_id"], unique=False)
    op.create_table(
        "goods_back",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("goods_in_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("on_day", column_types.Day(), nullable=False),
        sa.Column("quantity", sa.Integer(), nullable=False),
        sa.Column("because", sa.Text(), nullable=False),
        sa.Column("cost_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("credit_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("staff_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.CheckConstraint("quantity > 0", name=op.f("ck_goods_back_quantity")),
        sa.ForeignKeyConstraint(
            ["goods_in_id"], ["goods_in.id"], name=op.f("fk_goods_back_goods_in_id_goods_in")
        ),
        sa.ForeignKeyConstraint(["staff_id"], ["staff.id"], name=op.f("fk_goods_back_staff_id_staff")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_goods_back")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_goods_back_goods_in_id"), "goods_back", ["goods_in_id"], unique=False)


def _add_columns() -> None:
    op.add_column(
        "consignment", sa.Column("bill_number", sa.Text(), server_default=sa.text("('')"), nullable=False)
    )
    op.add_column(
        "consignment",
        sa.Column("bill_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
    )
    op.add_column("consignment", sa.Column("billed_on", column_types.Day(), nullable=True))
    op.add_column(
        "consignment_piece",
        sa.Column("priced_by", sa.Text(), server_default=sa.text("'piece'"), nullable=False),
    )
    op.add_column(
        "consignment_piece",
        sa.Column(
            "unit_price_cents",
            sa.BigInteger().with_variant(sa.Integer(), "sqlite"),
            server_default=sa.text("0"),
            nullable=False,
        ),
    )
    op.add_column("consignment_piece", sa.Column("area", column_types.Percent(), nullable=True))
    op.add_column(
        "consignment_piece",
        sa.Column("count_rejected", sa.Integer(), server_default=sa.text("0"), nullable=False),
    )
    op.add_column(
        "consignment_piece",
        sa.Column("times_redone", sa.Integer(), server_default=sa.text("0"), nullable=False),
    )
    op.add_column(
        "consignment_piece",
        sa.Column("count_lost", sa.Integer(), server_default=sa.text("0"), nullable=False),
    )
    op.add_column(
        "consignment_piece",
        sa.Column("lost_because", sa.Text(), server_default=sa.text("('')"), nullable=False),
    )
    op.add_column(
        "consignment_piece",
        sa.Column(
            "lost_cents",
            sa.BigInteger().with_variant(sa.Integer(), "sqlite"),
            server_default=sa.text("0"),
            nullable=False,
        ),
    )
    op.add_column(
        "goods_in", sa.Column("wrong_as", sa.Text(), server_default=sa.text("('')"), nullable=False)
    )
    op.add_column(
        "goods_in",
        sa.Column(
            "freight_cents",
            sa.BigInteger().with_variant(sa.Integer(), "sqlite"),
            server_default=sa.text("0"),
            nullable=False,
        ),
    )
    op.add_column(
        "goods_in",
        sa.Column("landed_cents", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=True),
    )
    op.add_column("part", sa.Column("state", sa.Text(), server_default=sa.text("('')"), nullable=False))
    op.add_column(
        "part", sa.Column("consumable", column_types.Flag(), server_default=sa.false(), nullable=False)
    )
    op.add_column("part", sa.Column("lead_days", sa.Integer(), server_default=sa.text("0"), nullable=False))
    op.add_column(
        "part", sa.Column("served_percent", sa.Integer(), server_default=sa.text("95"), nullable=False)
    )
    op.add_column("part", sa.Column("pack", sa.Integer(), server_default=sa.text("1"), nullable=False))
    op.add_column(
        "part_movement", sa.Column("kind", sa.Text(), server_default=sa.text("'moved'"), nullable=False)
    )
    op.add_column(
        "part_movement",
        sa.Column(
            "cost_cents",
            sa.BigInteger().with_variant(sa.Integer(), "sqlite"),
            server_default=sa.text("0"),
            nullable=False,
        ),
    )
    op.add_column(
        "part_movement",
        sa.Column(
            "price_cents",
            sa.BigInteger().with_variant(sa.Integer(), "sqlite"),
            server_default=sa.text("0"),
            nullable=False,
        ),
    )
    op.add_column("party", sa.Column("currency", sa.Text(), server_default=sa.text("('')"), nullable=False))
    op.add_column(
        "party", sa.Column("our_account", sa.Text(), server_default=sa.text("('')"), nullable=False)
    )
    op.add_column("party", sa.Column("lead_days", sa.Integer(), server_default=sa.text("0"), nullable=False))
    op.add_column(
        "purchase_line", sa.Column("theirs", sa.Text(), server_default=sa.text("('')"), nullable=False)
    )
    op.add_column(
        "purchase_line", sa.Column("called_off", sa.Integer(), server_default=sa.text("0"), nullable=False)
    )
    op.add_column(
        "purchase_line",
        sa.Column("called_off_because", sa.Text(), server_default=sa.text("('')"), nullable=False),
    )
    op.add_column("purchase_order", sa.Column("rate", column_types.Percent(), nullable=True))
    op.add_column("purchase_order", sa.Column("sent_on", column_types.Day(), nullable=True))
    op.add_column(
        "purchase_order", sa.Column("sent_how", sa.Text(), server_default=sa.text("('')"), nullable=False)
    )
    op.add_column("purchase_order", sa.Column("acknowledged_on", column_types.Day(), nullable=True))
    op.add_column(
        "purchase_order", sa.Column("their_number", sa.Text(), server_default=sa.text("('')"), nullable=False)
    )
    op.add_column("purchase_order", sa.Column("chased_on", column_types.Day(), nullable=True))
    op.add_column(
        "purchase_order",
        sa.Column("chased_answer", sa.Text(), server_default=sa.text("('')"), nullable=False),
    )


def downgrade() -> None:
    op.drop_column("purchase_order", "chased_answer")
    op.drop_column("purchase_order", "chased_on")
    op.drop_column("purchase_order", "their_number")
    op.drop_column("purchase_order", "acknowledged_on")
    op.drop_column("purchase_order", "sent_how")
    op.drop_column("purchase_order", "sent_on")
    op.drop_column("purchase_order", "rate")
    op.drop_column("purchase_line", "called_off_because")
    op.drop_column("purchase_line", "called_off")
    op.drop_column("purchase_line", "theirs")
    op.drop_column("party", "lead_days")
    op.drop_column("party", "our_account")
    op.drop_column("party", "currency")
    op.drop_column("part_movement", "price_cents")
    op.drop_column("part_movement", "cost_cents")
    op.drop_column("part_movement", "kind")
    op.drop_column("part", "pack")
    op.drop_column("part", "served_percent")
    op.drop_column("part", "lead_days")
    op.drop_column("part", "consumable")
    op.drop_column("part", "state")
    op.drop_column("goods_in", "landed_cents")
    op.drop_column("goods_in", "freight_cents")
    op.drop_column("goods_in", "wrong_as")
    op.drop_column("consignment_piece", "lost_cents")
    op.drop_column("consignment_piece", "lost_because")
    op.drop_column("consignment_piece", "count_lost")
    op.drop_column("consignment_piece", "times_redone")
    op.drop_column("consignment_piece", "count_rejected")
    op.drop_column("consignment_piece", "area")
    op.drop_column("consignment_piece", "unit_price_cents")
    op.drop_column("consignment_piece", "priced_by")
    op.drop_column("consignment", "billed_on")
    op.drop_column("consignment", "bill_cents")
    op.drop_column("consignment", "bill_number")
    op.drop_table("goods_back")
    op.drop_table("stores_photograph")
    op.drop_table("making")
    op.drop_table("want")
    op.drop_table("piece_event")
    op.drop_table("donor_part")
    op.drop_table("stock_take_line")
    op.drop_table("part_fit")
    op.drop_table("donor")
    op.drop_table("table_in")
    op.drop_table("supplier_price")
    op.drop_table("stock_take")
