"""What the habits need of the tables: which record a line of older books became"""

import sqlalchemy as sa
from alembic import op

revision = "0015"
down_revision = "0014"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "brought_record",
        sa.Column("id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("theirs", sa.Text(), nullable=False),
        sa.Column("record_id", sa.BigInteger().with_variant(sa.Integer(), "sqlite"), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_brought_record")),
        sa.UniqueConstraint("kind", "theirs", name=op.f("uq_brought_record_kind_theirs")),
        sqlite_strict=True,
    )
    _protect("brought_record")


def downgrade() -> None:
    op.drop_table("brought_record")


def _protect(table: str) -> None:
    """Rows are only ever added."""
    connection = op.get_bind()
    if connection.dialect.name != "sqlite":
        connection.exec_driver_sql(
            f"CREATE TRIGGER {table}_no_change BEFORE UPDATE OR DELETE ON {table} FOR EACH ROW "
            "EXECUTE FUNCTION refuse_change()"
        )
        return
    for verb in ("update", "delete"):
        connection.exec_driver_sql(
            f"CREATE TRIGGER {table}_no_{verb} BEFORE {verb.upper()} ON {table} "
            f"BEGIN SELECT RAISE(ABORT, 'a row of {table} is never changed'); END"
        )
