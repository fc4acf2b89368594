"""Weekdays on which a firm outside takes pieces in and gives them back; weekly lists get their own letters"""

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
    _weekly_lists_apart_from_letters()


def _weekly_lists_apart_from_letters() -> None:
    """Both counted under the same letters, so that the second of a number was refused.

    Letters go on after whichever had come further; a gap in them means nothing.
    """
    op.execute(
        "UPDATE number_series SET next = (SELECT MAX(either.next) FROM number_series AS either "
        "WHERE either.name IN ('letter', 'weekly list')) WHERE name = 'letter' AND prefix = "
        "(SELECT weekly.prefix FROM number_series AS weekly WHERE weekly.name = 'weekly list')"
    )
    op.execute(
        "UPDATE number_series SET prefix = 'WL-' WHERE name = 'weekly list' AND prefix = "
        "(SELECT letter.prefix FROM number_series AS letter WHERE letter.name = 'letter')"
    )


def downgrade() -> None:
    op.execute("UPDATE number_series SET prefix = 'L-' WHERE name = 'weekly list' AND prefix = 'WL-'")
    for name in reversed(_DAYS):
        op.drop_column("party", name)
