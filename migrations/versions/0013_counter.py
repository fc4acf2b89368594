"""Counter: what a bill's line takes of what was agreed, and texts that may be erased

The journal's rows and the consents, never changed otherwise, give up
a person's words once that person is erased, and nothing else.
"""

import sqlalchemy as sa
from alembic import op

revision = "0013"
down_revision = "0012"
branch_labels = None
depends_on = None

_KEY = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
_STAYS = {
    "journal": "id at staff_id who action record record_id job_id previous_hash hash",
    "agreement": "id job_id quote_id at how taken_by_id amount_cents",
}
_GIVEN_UP = {
    "journal": "NEW.salt = ''",
    "agreement": "NEW.number_called = '' AND NEW.note = '' AND NEW.kept_text = ''",
}
_LISTED = "EXISTS (SELECT 1 FROM erasure WHERE record = '{table}' AND record_id = OLD.id)"


def _may_be_erased(table: str, same: str) -> str:
    """When a change only takes a person's words away; `same` compares two values, NULL or not."""
    stays = " AND ".join(f"NEW.{name} {same} OLD.{name}" for name in _STAYS[table].split())
    return f"{stays} AND {_GIVEN_UP[table]} AND {_LISTED.format(table=table)}"


def _refused(table: str, verb: str, when: str = "") -> str:
    return (
        f"CREATE TRIGGER {table}_no_{verb} BEFORE {verb.upper()} ON {table} {when}"
        f"BEGIN SELECT RAISE(ABORT, 'a row of {table} is never changed'); END"
    )


def _erasable() -> list[str]:
    """Statements that let erasing through, and nothing else."""
    if op.get_bind().dialect.name == "sqlite":
        made = [_refused("erasure", verb) for verb in ("update", "delete")]
        for table in _STAYS:
            when = f"WHEN NOT ({_may_be_erased(table, 'IS')}) "
            made += [f"DROP TRIGGER {table}_no_update", _refused(table, "update", when)]
        return made
    made = [
        "CREATE TRIGGER erasure_no_change BEFORE UPDATE OR DELETE ON erasure FOR EACH ROW "
        "EXECUTE FUNCTION refuse_change()"
    ]
    for table in _STAYS:
        made += [
            f"CREATE FUNCTION refuse_change_of_{table}() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
            "IF TG_OP = 'UPDATE' THEN "
            f"IF {_may_be_erased(table, 'IS NOT DISTINCT FROM')} THEN RETURN NEW; END IF; END IF; "
            "RAISE EXCEPTION 'a row of %% is never changed', TG_TABLE_NAME; END $$",
            f"DROP TRIGGER {table}_no_change ON {table}",
            f"CREATE TRIGGER {table}_no_change BEFORE UPDATE OR DELETE ON {table} FOR EACH ROW "
            f"EXECUTE FUNCTION refuse_change_of_{table}()",
        ]
    return made


def _not_erasable() -> list[str]:
    if op.get_bind().dialect.name == "sqlite":
        return [s for t in _STAYS for s in (f"DROP TRIGGER {t}_no_update", _refused(t, "update"))]
    made = []
    for table in _STAYS:
        made += [
            f"DROP TRIGGER {table}_no_change ON {table}",
            f"CREATE TRIGGER {table}_no_change BEFORE UPDATE OR DELETE ON {table} FOR EACH ROW "
            "EXECUTE FUNCTION refuse_change()",
            f"DROP FUNCTION refuse_change_of_{table}()",
        ]
    return made


def upgrade() -> None:
    op.create_table(
        "erasure",
        sa.Column("id", _KEY, nullable=False),
        sa.Column("record", sa.Text(), nullable=False),
        sa.Column("record_id", _KEY, nullable=False),
        sa.Column("holds", sa.Text(), server_default=sa.text("('')"), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_erasure")),
        sqlite_strict=True,
    )
    op.create_index("ix_erasure_record", "erasure", ["record", "record_id"])
    op.add_column("journal", sa.Column("salt", sa.Text(), server_default=sa.text("('')"), nullable=False))
    op.add_column("invoice_line", sa.Column("agreed_cents", _KEY, nullable=True))
    for statement in _erasable():
        op.get_bind().exec_driver_sql(statement)


def downgrade() -> None:
    for statement in _not_erasable():
        op.get_bind().exec_driver_sql(statement)
    op.drop_column("invoice_line", "agreed_cents")
    op.drop_column("journal", "salt")
    op.drop_index("ix_erasure_record", "erasure")
    op.drop_table("erasure")
