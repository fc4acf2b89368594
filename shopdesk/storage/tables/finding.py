"""What can be found by typing: a line for each record with words, kept in step by `storage/searching.py`."""

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, mapped_column

from shopdesk.storage.column_types import Key
from shopdesk.storage.tables.base import STRICT, Base, Keyed, text


class Findable(Keyed, Base):
    """One record's words, folded. Derived: it may be thrown away and made again."""

    __tablename__ = "findable"
    kind: Mapped[str] = text(None)  # range, party, part, order, consignment, paper, tag, job, look, task
    record_id: Mapped[int] = mapped_column(Key)
    job_id: Mapped[int | None] = mapped_column(Key, default=None)
    title: Mapped[str] = text(None)
    line: Mapped[str] = text()
    words: Mapped[str] = text(None)
    __table_args__ = (
        sa.UniqueConstraint("kind", "record_id"),
        sa.Index("ix_findable_words", "words", postgresql_ops={"words": "text_pattern_ops"}),
        STRICT,
    )
