"""Finding: the words of every record in one table, with an index of their three-letter pieces"""

import sqlalchemy as sa
from alembic import op

from shopdesk.domain.folding import fold

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None

_KEY = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
_SQLITE = (
    "CREATE VIRTUAL TABLE ft_findable USING fts5(words, content='findable', content_rowid='id', "
    "tokenize='trigram case_sensitive 1')",
    "CREATE VIRTUAL TABLE ft_findable_pieces USING fts5vocab(ft_findable, row)",
    "CREATE TRIGGER findable_added AFTER INSERT ON findable BEGIN "
    "INSERT INTO ft_findable (rowid, words) VALUES (new.id, new.words); END",
    "CREATE TRIGGER findable_gone AFTER DELETE ON findable BEGIN "
    "INSERT INTO ft_findable (ft_findable, rowid, words) VALUES ('delete', old.id, old.words); END",
    "CREATE TRIGGER findable_changed AFTER UPDATE ON findable BEGIN "
    "INSERT INTO ft_findable (ft_findable, rowid, words) VALUES ('delete', old.id, old.words); "
    "INSERT INTO ft_findable (rowid, words) VALUES (new.id, new.words); END",
)
# What stands in the shop already: kind, then key, job, title, line and further words.
_STANDING = {
    "range": "SELECT id, NULL, trim(number || ' ' || maker || ' ' || model), colour, "
    "serial || ' ' || stands_at || ' ' || note FROM gas_range",
    "party": "SELECT id, NULL, name, trim(phone || ' ' || town), "
    "replace(replace(phone, ' ', ''), '-', '') || ' ' || contact || ' ' || email || ' ' || street || ' ' "
    "|| postcode || ' ' || note FROM party WHERE merged_into_id IS NULL",
    "part": "SELECT id, NULL, number || ' ' || name, lies_at, note FROM part",
    "order": "SELECT id, NULL, number, note, their_number FROM purchase_order",
    "consignment": "SELECT id, NULL, number, note, bill_number FROM consignment",
    "paper": "SELECT id, job_id, title, '', number FROM paper",
    "tag": "SELECT id, job_id, number || ' ' || what, lies_at, goes_back_words FROM tag",
    "job": "SELECT id, id, complaint, '', '' FROM job WHERE complaint <> ''",
    "look": "SELECT o.id, w.job_id, o.note, '', '' FROM observation o JOIN walk_round w "
    "ON w.id = o.walk_round_id WHERE o.note <> ''",
    "task": "SELECT t.id, w.job_id, t.note, t.name, '' FROM task t JOIN work_order w "
    "ON w.id = t.work_order_id WHERE t.note <> ''",
}


def upgrade() -> None:
    findable = op.create_table(
        "findable",
        sa.Column("id", _KEY, nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("record_id", _KEY, nullable=False),
        sa.Column("job_id", _KEY, nullable=True),
        sa.Column("title", sa.Text(), nullable=False),
        sa.Column("line", sa.Text(), server_default=sa.text("''"), nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_findable")),
        sa.UniqueConstraint("kind", "record_id", name=op.f("uq_findable_kind_record_id")),
        sqlite_strict=True,
    )
    op.create_index("ix_findable_words", "findable", ["words"], postgresql_ops={"words": "text_pattern_ops"})
    connection = op.get_bind()
    if connection.dialect.name == "sqlite":
        for statement in _SQLITE:
            op.execute(statement)
    elif connection.exec_driver_sql("SELECT 1 FROM pg_available_extensions WHERE name = 'pg_trgm'").first():
        # Without it (a server with the bare minimum installed) searching is slower and forgives nothing.
        op.execute("CREATE EXTENSION IF NOT EXISTS pg_trgm")
        op.execute("CREATE INDEX ft_findable ON findable USING gin (words gin_trgm_ops)")
    for kind, select in _STANDING.items():
        rows = connection.exec_driver_sql(select).fetchall()
        made = [
            {"kind": kind, "record_id": key, "job_id": job, "title": title, "line": line,
             "words": fold(f"{title} {line} {more}")}
            for key, job, title, line, more in rows
        ]  # fmt: skip
        if made:
            op.bulk_insert(findable, made)


def downgrade() -> None:
    if op.get_bind().dialect.name == "sqlite":
        op.execute("DROP TABLE ft_findable_pieces")
        op.execute("DROP TABLE ft_findable")
    op.drop_table("findable")
