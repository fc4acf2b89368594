"""Mapped tables, a file per subject. `Base` brings them all; the few read at the start are mapped alone.

Mapping them all takes as long as loading SQLAlchemy, so it waits until a session is asked for.
"""

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from shopdesk.storage.tables.base import Base

__all__ = ["Base"]


def __getattr__(name: str) -> Any:
    if name != "Base":
        raise AttributeError(name)
    from shopdesk.storage.tables.every import Base

    return Base
