"""Bench: when gas work was last done, what waits for a laboratory and what its answers cover"""

import sqlalchemy as sa
from alembic import op

from shopdesk.storage import column_types

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("hold_answer", sa.Column("covers", column_types.Doc(), nullable=True))
    op.add_column("task", sa.Column("touched_at", column_types.UtcTime(timezone=True), nullable=True))
    op.add_column("work_order", sa.Column("suspects", column_types.Doc(), nullable=True))
    _protect()


def downgrade() -> None:
    _unprotect()
    op.drop_column("work_order", "suspects")
    op.drop_column("task", "touched_at")
    op.drop_column("hold_answer", "covers")


def _protect() -> None:
    """A laboratory's answer is never changed: another one may follow it."""
    connection = op.get_bind()
    if connection.dialect.name != "sqlite":
        connection.exec_driver_sql(
            "CREATE TRIGGER hold_answer_no_change BEFORE UPDATE OR DELETE ON hold_answer FOR EACH ROW "
            "EXECUTE FUNCTION refuse_change()"
        )
        return
    for verb in ("update", "delete"):
        connection.exec_driver_sql(
            f"CREATE TRIGGER hold_answer_no_{verb} BEFORE {verb.upper()} ON hold_answer "
            "BEGIN SELECT RAISE(ABORT, 'a row of hold_answer is never changed'); END"
        )


def _unprotect() -> None:
    connection = op.get_bind()
    if connection.dialect.name != "sqlite":
        connection.exec_driver_sql("DROP TRIGGER hold_answer_no_change ON hold_answer")
        return
    for verb in ("update", "delete"):
        connection.exec_driver_sql(f"DROP TRIGGER hold_answer_no_{verb}")
