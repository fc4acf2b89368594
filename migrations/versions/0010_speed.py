"""Indexes for what is asked for most: the Floor in its orders, names, the bills and parts of a year"""

from alembic import op

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None

_INDEXES = {
    "ix_job_stage_id": "job (stage, id)",
    "ix_job_promised": "job (promised_on, id)",
    "ix_job_held_since": "job (held_since, id)",
    "ix_job_held": "job (held_for) WHERE held_for <> ''",
    "ix_party_name": "party (name, id)",
    "ix_invoice_day": "invoice (on_day)",
    "ix_part_movement_at": "part_movement (at)",
    "ix_consignment_piece_back": "consignment_piece (back_on)",
}


def upgrade() -> None:
    for name, of in _INDEXES.items():
        op.execute(f"CREATE INDEX {name} ON {of}")


def downgrade() -> None:
    for name in _INDEXES:
        op.execute(f"DROP INDEX {name}")
