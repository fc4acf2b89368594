"""The mark that a shop which moved to another place leaves behind."""

import sqlalchemy as sa

from shopdesk.storage.tables.shop import Setting

MOVED = "moved"  # the setting in which a shop that moved says where it went


def where_it_went(connection: sa.Connection) -> str:
    """The new place of a shop that moved; empty for one that did not."""
    kept = connection.execute(sa.select(Setting.value).where(Setting.name == MOVED)).scalar()
    return str(kept["to"]) if kept else ""
