"""A person may have an account of his own at the database server.

The account's name stands with the person, so that whoever is signed in at the server acts as himself.
"""

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("staff", sa.Column("login", sa.Text(), server_default=sa.text("''"), nullable=False))


def downgrade() -> None:
    op.drop_column("staff", "login")
