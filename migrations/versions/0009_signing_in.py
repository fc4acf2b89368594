"""Signing in: when a person did last, and how often it failed since"""

import sqlalchemy as sa
from alembic import op

from shopdesk.storage import column_types

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("staff", sa.Column("signed_in_at", column_types.UtcTime(), nullable=True))
    op.add_column(
        "staff", sa.Column("failed_count", sa.Integer(), server_default=sa.text("0"), nullable=False)
    )
    op.add_column("staff", sa.Column("failed_at", column_types.UtcTime(), nullable=True))


def downgrade() -> None:
    with op.batch_alter_table("staff") as table:
        for name in ("failed_at", "failed_count", "signed_in_at"):
            table.drop_column(name)
