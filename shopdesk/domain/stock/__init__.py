"""What the storeroom computes: what goods cost, what a part fits, when to order again, what a donor yields.

Values and pure functions; knows nothing of where records are kept or who asks.
"""

from shopdesk.domain.stock.costing import cost_out
from shopdesk.domain.stock.donors import DonorShare, shared_cost
from shopdesk.domain.stock.fitting import Fit, Fitting, fitting, one_name
from shopdesk.domain.stock.landed import Landed, exchanged, landed
from shopdesk.domain.stock.reorder import Reorder, reorder_point, suggestion

__all__ = [
    "DonorShare",
    "Fit",
    "Fitting",
    "Landed",
    "Reorder",
    "cost_out",
    "exchanged",
    "fitting",
    "landed",
    "one_name",
    "reorder_point",
    "shared_cost",
    "suggestion",
]
