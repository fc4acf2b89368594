"""Whether a range gets to where it is to stand, from what was measured of it and of the way."""

from shopdesk.domain.access import SIZES, Access, access, sizes_of
from shopdesk.storage.tables.ranges import Range


def access_of(row: Range) -> Access:
    """The plain verdict on one range."""
    return access(sizes_of({name: getattr(row, name) for name in SIZES}))
