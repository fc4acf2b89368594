"""The shop file: mapped tables, opening, upgrading, backup, journal.

Knows the domain's values; never services, papers or Qt.
"""

from shopdesk.storage.opening import ShopFile
from shopdesk.storage.upgrading import make_shop, upgrade

__all__ = ["ShopFile", "make_shop", "upgrade"]
