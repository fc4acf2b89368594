"""People and firms outside the shop: customers, sellers, suppliers, platers, fitters."""

import datetime as dt

import sqlalchemy as sa
from sqlalchemy.orm import Mapped, mapped_column

from shopdesk.storage.column_types import Day, Flag, UtcTime
from shopdesk.storage.tables.base import SILENT, STRICT, Base, Versioned, maybe_ref, text, whole


class Party(Versioned, Base):
    """A person or a firm. May be erased (texts emptied) or merged while issued papers stand."""

    __tablename__ = "party"
    name: Mapped[str] = text(None)
    is_firm: Mapped[bool] = mapped_column(Flag, default=False)
    contact: Mapped[str] = text()
    email: Mapped[str] = text()
    phone: Mapped[str] = text()
    street: Mapped[str] = text()
    town: Mapped[str] = text()
    region: Mapped[str] = text()
    postcode: Mapped[str] = text()
    country: Mapped[str] = text()
    note: Mapped[str] = text()
    supplies: Mapped[bool] = mapped_column(Flag, default=False)
    trade: Mapped[str] = text()  # outwork this firm does: plater, enameller, ...
    send_days: Mapped[str] = (
        text()
    )  # weekdays it takes pieces in, Monday 1 to Sunday 7, such as 25; empty: any
    return_days: Mapped[str] = text()  # weekdays it gives pieces back
    tax_number: Mapped[str] = text()
    currency: Mapped[str] = text()  # of a supplier's prices; empty: the shop's
    our_account: Mapped[str] = text()  # our number with them
    lead_days: Mapped[int] = whole()  # usual days from order to goods
    exempt_certificate: Mapped[str] = text()
    exempt_until: Mapped[dt.date | None] = mapped_column(Day, default=None)
    merged_into_id: Mapped[int | None] = maybe_ref("party.id")
    erased_at: Mapped[dt.datetime | None] = mapped_column(UtcTime, default=None)
    search_text: Mapped[str] = mapped_column(sa.Text, default="", server_default=sa.text("''"), info=SILENT)
    __table_args__ = (sa.Index("ix_party_name", "name", "id"), STRICT)
