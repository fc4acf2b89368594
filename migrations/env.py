"""How migrations run: the program hands in a connection; `alembic -x shop=FILE` works in a checkout."""

import sqlalchemy as sa
from alembic import context

from shopdesk.storage.engine import make_engine, shop_url
from shopdesk.storage.tables import Base


def include_name(name, type_, _parents):
    if type_ in ("index", "table"):
        return not (name or "").startswith("ft_")  # full-text tables and indexes are written by hand
    return True


def run(connection: sa.Connection) -> None:
    sqlite = connection.dialect.name == "sqlite"
    raw = connection.connection.dbapi_connection
    if sqlite:
        # Rebuilding a table with foreign keys on empties its children; the pragma works only outside
        # a transaction.
        assert not raw.in_transaction
        raw.execute("PRAGMA foreign_keys=OFF")
    try:
        context.configure(
            connection=connection,
            target_metadata=Base.metadata,
            include_name=include_name,
            compare_type=True,
            compare_server_default=True,
            render_as_batch=True,
            user_module_prefix="column_types.",
            autogenerate_plugins=["alembic.autogenerate.*", "alembic.ext.checkconstraint_byname"],
            transactional_ddl=True,
            transaction_per_migration=True,
        )
        with context.begin_transaction():
            context.run_migrations()
        if sqlite:
            broken = raw.execute("PRAGMA foreign_key_check").fetchall()
            if broken:
                raise RuntimeError(f"a migration broke foreign keys: {broken[:5]}")
    finally:
        if sqlite:
            if raw.in_transaction:
                raw.execute("ROLLBACK")
            raw.execute("PRAGMA foreign_keys=ON")


handed_in = context.config.attributes.get("connection")
if handed_in is not None:
    run(handed_in)
else:
    place = context.get_x_argument(as_dictionary=True)["shop"]
    with make_engine(shop_url(place)).connect() as connection:
        run(connection)
