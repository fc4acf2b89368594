"""Weekdays on which a firm outside takes pieces in and gives them back"""

import sqlalchemy as sa
from alembic import op

revision = "0014"
down_revision = "0013"
branch_labels = None
depends_on = None

_DAYS = ("send_days", "return_days")


def upgrade() -> None:
    for name in _DAYS:
        op.add_column("party", sa.Column(name, sa.Text(), server_default=sa.text("('')"), nullable=False))


def downgrade() -> None:
    for name in reversed(_DAYS):
        op.drop_column("party", name)
