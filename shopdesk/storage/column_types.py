"""Column types that give the same Python values on SQLite STRICT tables and on PostgreSQL."""

import datetime as dt
import json
from decimal import Decimal
from typing import Any

import sqlalchemy as sa
from sqlalchemy.engine import Dialect
from sqlalchemy.types import TypeDecorator, TypeEngine

Key = sa.BigInteger().with_variant(sa.Integer(), "sqlite")  # rowid alias needs INTEGER PRIMARY KEY
Cents = sa.BigInteger().with_variant(sa.Integer(), "sqlite")  # STRICT allows INTEGER, not BIGINT
Count = sa.Integer()
Blob = sa.LargeBinary()


class Day(TypeDecorator[dt.date]):
    """A business day: plain date; ISO text in SQLite."""

    impl = sa.Date
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        return dialect.type_descriptor(sa.Text() if dialect.name == "sqlite" else sa.Date())

    def process_bind_param(self, value: dt.date | None, dialect: Dialect) -> Any:
        if isinstance(value, dt.datetime):
            raise TypeError("a business day is a date, not an instant")
        return value.isoformat() if dialect.name == "sqlite" and value is not None else value

    def process_result_value(self, value: Any, dialect: Dialect) -> dt.date | None:
        return dt.date.fromisoformat(value) if dialect.name == "sqlite" and value is not None else value


class UtcTime(TypeDecorator[dt.datetime]):
    """An aware instant in UTC; fixed-width ISO text in SQLite, so that it sorts."""

    impl = sa.DateTime(timezone=True)
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        return dialect.type_descriptor(sa.Text() if dialect.name == "sqlite" else sa.DateTime(timezone=True))

    def process_bind_param(self, value: dt.datetime | None, dialect: Dialect) -> Any:
        if value is None:
            return None
        if value.tzinfo is None:
            raise TypeError("an instant carries its time zone")
        value = value.astimezone(dt.UTC)
        return value.isoformat(timespec="microseconds") if dialect.name == "sqlite" else value

    def process_result_value(self, value: Any, dialect: Dialect) -> dt.datetime | None:
        if value is None:
            return None
        return dt.datetime.fromisoformat(value) if dialect.name == "sqlite" else value.astimezone(dt.UTC)


class Flag(TypeDecorator[bool]):
    """Yes or no; 0/1 in SQLite. Compare with `== True`, never `.is_(True)`."""

    impl = sa.Boolean
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        return dialect.type_descriptor(sa.Integer() if dialect.name == "sqlite" else sa.Boolean())

    def process_bind_param(self, value: bool | None, dialect: Dialect) -> Any:
        return int(value) if dialect.name == "sqlite" and value is not None else value

    def process_result_value(self, value: Any, dialect: Dialect) -> bool | None:
        return bool(value) if value is not None else None


class Doc(TypeDecorator[Any]):
    """A JSON document: text in SQLite, jsonb in PostgreSQL."""

    impl = sa.Text
    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        if dialect.name == "sqlite":
            return dialect.type_descriptor(sa.Text())
        from sqlalchemy.dialects import postgresql  # a shop on a file opens sooner without it

        return dialect.type_descriptor(postgresql.JSONB())

    def process_bind_param(self, value: Any, dialect: Dialect) -> Any:
        if value is None or dialect.name != "sqlite":
            return value
        return json.dumps(value, sort_keys=True, ensure_ascii=False)

    def process_result_value(self, value: Any, dialect: Dialect) -> Any:
        return json.loads(value) if dialect.name == "sqlite" and value is not None else value


class Percent(TypeDecorator[Decimal]):
    """An exact decimal rate, kept as text on both databases (SQLite has no decimals)."""

    impl = sa.Text
    cache_ok = True

    def process_bind_param(self, value: Decimal | None, dialect: Dialect) -> Any:
        if isinstance(value, float):
            raise TypeError("a rate is never a float")
        return format(value.normalize(), "f") if value is not None else None

    def process_result_value(self, value: Any, dialect: Dialect) -> Decimal | None:
        return Decimal(value) if value is not None else None
