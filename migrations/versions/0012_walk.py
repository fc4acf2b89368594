"""What a finding was filed from, where no person did"""

import sqlalchemy as sa
from alembic import op

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column(
        "observation", sa.Column("filed_for", sa.Text(), server_default=sa.text("''"), nullable=False)
    )


def downgrade() -> None:
    op.drop_column("observation", "filed_for")
