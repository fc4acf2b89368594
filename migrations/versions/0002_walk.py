"""Walk-round: size and the way there, the house's pressure, pictures turned, cropped and marked"""

import sqlalchemy as sa
from alembic import op

from shopdesk.storage import column_types

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

_TOLD = ("house_pressure_inwc", "depth_in", "height_in", "door_in", "opening_in", "stairs")


def upgrade() -> None:
    op.create_table(
        "photograph_edit",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("photograph_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("original_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("changes", column_types.Doc(), nullable=False),
        sa.Column("at", column_types.UtcTime(timezone=True), nullable=False),
        sa.ForeignKeyConstraint(
            ["original_id"], ["photograph.id"], name=op.f("fk_photograph_edit_original_id_photograph")
        ),
        sa.ForeignKeyConstraint(
            ["photograph_id"], ["photograph.id"], name=op.f("fk_photograph_edit_photograph_id_photograph")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_photograph_edit")),
        sa.UniqueConstraint("photograph_id", name=op.f("uq_photograph_edit_photograph_id")),
        sqlite_strict=True,
    )
    op.create_index(op.f("ix_photograph_edit_original_id"), "photograph_edit", ["original_id"])
    for name in _TOLD:
        op.add_column("gas_range", sa.Column(name, sa.Text(), server_default=sa.text("('')"), nullable=False))


def downgrade() -> None:
    for name in reversed(_TOLD):
        op.drop_column("gas_range", name)
    op.drop_index(op.f("ix_photograph_edit_original_id"), table_name="photograph_edit")
    op.drop_table("photograph_edit")
