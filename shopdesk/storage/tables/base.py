"""What every table shares: naming of constraints, keys, the version that two seats compare."""

import sqlalchemy as sa
from sqlalchemy.orm import DeclarativeBase, Mapped, declared_attr, mapped_column

from shopdesk.storage.column_types import Cents, Key

STRICT = {"sqlite_strict": True}
SILENT = {"journal": False}  # column info: not written into the journal (blobs, secrets, derived text)


class Base(DeclarativeBase):
    metadata = sa.MetaData(
        naming_convention={
            "ix": "ix_%(table_name)s_%(column_0_N_name)s",
            "uq": "uq_%(table_name)s_%(column_0_N_name)s",
            "ck": "ck_%(table_name)s_%(constraint_name)s",
            "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
            "pk": "pk_%(table_name)s",
        }
    )


class Keyed:
    """A table with a whole-number key."""

    id: Mapped[int] = mapped_column(Key, primary_key=True, sort_order=-10)


class Versioned(Keyed):
    """A record that two seats may edit: the later save is told (StaleDataError)."""

    version: Mapped[int] = mapped_column(sa.Integer, sort_order=90)

    @declared_attr.directive
    def __mapper_args__(cls) -> dict[str, object]:  # noqa: N805 - SQLAlchemy's declared_attr takes the class
        return {"version_id_col": cls.version}


def text(default: str | None = "") -> Mapped[str]:
    """A text column that is never NULL."""
    if default is None:
        return mapped_column(sa.Text)
    return mapped_column(sa.Text, default=default, server_default=sa.text(f"'{default}'"))


def ref(target: str, *, index: bool = True) -> Mapped[int]:
    """A foreign key that must be there."""
    return mapped_column(Key, sa.ForeignKey(target), index=index)


def maybe_ref(target: str, *, index: bool = True) -> Mapped[int | None]:
    """A foreign key that may be missing."""
    return mapped_column(Key, sa.ForeignKey(target), index=index, default=None)


def whole(default: int = 0) -> Mapped[int]:
    """A whole number that is never NULL, with a default of the database's own."""
    return mapped_column(sa.Integer, default=default, server_default=sa.text(str(default)))


def money() -> Mapped[int]:
    """Minor units, nothing by default, in the database as well."""
    return mapped_column(Cents, default=0, server_default=sa.text("0"))
