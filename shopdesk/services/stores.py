"""The deeds of the Stores under one name: needs, stock, orders, goods in; each lives in its own room."""

from shopdesk.services.goods_in import Arrived, send_back, take_delivery, take_goods_in
from shopdesk.services.needs import NeedRow, call_off, cover_from_stock, needs, put_back
from shopdesk.services.purchasing import (
    OrderLine,
    OrderLineRow,
    OrderRow,
    cancel_order,
    order_parts,
    orders,
)
from shopdesk.services.stock import CONDITIONS, PartRow, in_stock, keep_part, move_part, parts, sell_part

__all__ = [
    "CONDITIONS",
    "Arrived",
    "NeedRow",
    "OrderLine",
    "OrderLineRow",
    "OrderRow",
    "PartRow",
    "call_off",
    "cancel_order",
    "cover_from_stock",
    "in_stock",
    "keep_part",
    "move_part",
    "needs",
    "order_parts",
    "orders",
    "parts",
    "put_back",
    "sell_part",
    "send_back",
    "take_delivery",
    "take_goods_in",
]
