"""Rights at a database server: what each role's accounts may write there, beside what the program allows.

`domain.rights` says who may do what; `WRITERS` says which deeds write a table. From both follow the grants of
three group roles, one for each kind of person, to which a person's own account belongs. Whoever comes with
`psql` instead of the program gets no further than the program lets him. Tables that are not named are
written by deeds of everybody; `PROGRAM_ONLY` are deeds that write nothing but such tables.
"""

import secrets
from dataclasses import dataclass

import sqlalchemy as sa

from shopdesk.domain.problem import Problem
from shopdesk.domain.rights import Action, Role, may

_BILLS = frozenset({Action.INVOICE, Action.TAKE_PAYMENT, Action.WRITE_OFF, Action.WITHDRAW})
_QUOTES = frozenset({Action.QUOTE, Action.AGREE})
_PLANS = frozenset({Action.PLAN_BENCH})
_HOURS = frozenset({Action.KEEP_HOURS})
_SET_UP = frozenset({Action.SET_UP})

WRITERS: dict[str, frozenset[Action]] = {
    **dict.fromkeys(("wage", "labour_rate", "tax_rate", "local_tax_rate"), _SET_UP),
    **dict.fromkeys(("invoice", "invoice_line", "invoice_adjustment"), _BILLS),
    **dict.fromkeys(("payment", "payment_share"), _BILLS),
    **dict.fromkeys(("quote", "quote_line", "quote_adjustment", "quote_finish"), _QUOTES),
    **dict.fromkeys(("quote_milestone", "finish_grade"), _QUOTES),
    **dict.fromkeys(("agreement", "agreement_left_out"), frozenset({Action.AGREE})),
    **dict.fromkeys(("bench_plan", "planned_task", "pin", "morning_odds"), _PLANS),
    **dict.fromkeys(("leave", "odd_day", "working_hours", "outwork_closure", "station"), _HOURS),
    **dict.fromkeys(("appointment", "appointment_person"), frozenset({Action.APPOINT})),
    "outlay": frozenset({Action.SEE_COSTS}),
    "write_off": frozenset({Action.WRITE_OFF}),
    "verdict": frozenset({Action.DECIDE}),
    "job_release": frozenset({Action.RELEASE}),
    "letter": frozenset({Action.WRITE_LETTER, Action.WITHDRAW, Action.INVOICE}),
    "dispute": frozenset({Action.WRITE_LETTER}),
    "comeback": frozenset({Action.BOOK_IN}),
    "promise": frozenset({Action.PROMISE, Action.QUOTE, Action.PLAN_BENCH, Action.BOOK_IN}),
    "party": frozenset({Action.KEEP_PEOPLE, Action.ERASE, Action.BOOK_IN}),
    "caution_seen": frozenset({Action.READ_CAUTIONS}),
    "thermostat_card": frozenset({Action.TEST_THERMOSTAT}),
    "instrument": frozenset({Action.KEEP_INSTRUMENTS}),
    "gas_reckoning": frozenset({Action.RECKON_GAS, Action.CONVERT_GAS}),
    "gas_conversion": frozenset({Action.CONVERT_GAS}),
    "proof": frozenset({Action.PROVE}),
    "erasure": frozenset({Action.ERASE}),
}  # fmt: skip
READERS: dict[str, Action] = {"wage": Action.SEE_COSTS}  # everybody reads the rest
ADDED_ONLY = frozenset({"journal"})  # written by every deed, changed by none but erasing
_ERASED_COLUMNS = {"journal": ("before", "after", "salt")}  # a trigger asks for the row's erasure as well
# A person's own signing in; name, role and skills of the row are the owner's.
_OWN_COLUMNS = {"staff": ("passphrase_hash", "signed_in_at", "failed_count", "failed_at", "version")}
# These write tables that other roles' deeds write as well; there the program alone keeps them apart.
PROGRAM_ONLY = frozenset({
    Action.WALK, Action.PLAN_WORK, Action.ORDER, Action.WORK, Action.TAG, Action.CLOCK, Action.FIND_MORE,
    Action.HAND_OVER, Action.ERASE,
})  # fmt: skip
_HEAD = "journal_head"


@dataclass(frozen=True)
class Login:
    """An account of a person's own. The password is shown once and kept nowhere."""

    name: str
    password: str


def group(database: str, role: Role) -> str:
    """The group role of everybody of this kind in this shop (roles belong to the whole server)."""
    return f"{database}_{role.value}"


def writes(role: Role, table: str) -> bool:
    """Whether a person of this kind may write this table by anything the program lets him do."""
    writers = WRITERS.get(table)
    return writers is None or any(may(role, action) for action in writers)


def reads(role: Role, table: str) -> bool:
    return table not in READERS or may(role, READERS[table])


def grant_rights(connection: sa.Connection) -> None:
    """Makes the group roles of this shop where they are missing, and grants each what is its own.

    Problem where this account may make no roles. Rows of the journal that tell wages are hidden from
    whoever may not read them; the chain goes on over them by a function that tells its last link.
    """
    database = str(connection.scalar(sa.select(sa.func.current_database())))
    _refuse_unable(connection)
    quoted = connection.dialect.identifier_preparer.quote
    from shopdesk.storage.tables import Base  # maps every table; who only reads needs none of them

    tables = sorted(Base.metadata.tables)
    connection.exec_driver_sql("REVOKE ALL ON ALL TABLES IN SCHEMA public FROM PUBLIC")
    for role in Role:
        name = quoted(group(database, role))
        if not _is_known(connection, group(database, role)):
            connection.exec_driver_sql(f"CREATE ROLE {name} NOLOGIN")
        connection.exec_driver_sql(f"REVOKE ALL ON ALL TABLES IN SCHEMA public FROM {name}")
        connection.exec_driver_sql(f"GRANT USAGE ON SCHEMA public TO {name}")
        connection.exec_driver_sql(f"GRANT USAGE ON ALL SEQUENCES IN SCHEMA public TO {name}")
        connection.exec_driver_sql(f"GRANT SELECT ON alembic_version TO {name}")
        for table in tables:
            for grant in _grants(role, table):
                connection.exec_driver_sql(f"GRANT {grant} ON {quoted(table)} TO {name}")
    _hide_wages_in_journal(connection, [quoted(group(database, role)) for role in Role], database)


def _grants(role: Role, table: str) -> list[str]:
    found = ["SELECT"] if reads(role, table) else []
    if table in ADDED_ONLY:
        erased = f"UPDATE ({', '.join(_ERASED_COLUMNS[table])})"
        return [*found, "INSERT", *([erased] if may(role, Action.ERASE) else [])]
    if table in _OWN_COLUMNS and not may(role, Action.SET_UP):
        return [*found, f"UPDATE ({', '.join(_OWN_COLUMNS[table])})"]
    return [*found, "INSERT", "UPDATE", "DELETE"] if writes(role, table) else found


def _hide_wages_in_journal(connection: sa.Connection, groups: list[str], database: str) -> None:
    owners = group(database, Role.OWNER).replace("'", "''")
    for statement in (
        f"CREATE OR REPLACE FUNCTION {_HEAD}() RETURNS TABLE (id bigint, hash text) LANGUAGE sql STABLE "
        "SECURITY DEFINER SET search_path = public AS "
        "'SELECT id, hash FROM journal ORDER BY id DESC LIMIT 1'",
        f"REVOKE ALL ON FUNCTION {_HEAD}() FROM PUBLIC",
        f"GRANT EXECUTE ON FUNCTION {_HEAD}() TO {', '.join(groups)}",
        "ALTER TABLE journal ENABLE ROW LEVEL SECURITY",
        "DROP POLICY IF EXISTS anybody_adds ON journal",
        "DROP POLICY IF EXISTS no_wages ON journal",
        "DROP POLICY IF EXISTS owners_erase ON journal",
        "CREATE POLICY anybody_adds ON journal FOR INSERT WITH CHECK (true)",
        "CREATE POLICY owners_erase ON journal FOR UPDATE USING "
        f"(pg_has_role(current_user, '{owners}', 'MEMBER'))",
        "CREATE POLICY no_wages ON journal FOR SELECT USING ("
        f"pg_has_role(current_user, '{owners}', 'MEMBER') OR "
        "(before::text NOT LIKE '%%\"wage %%' AND after::text NOT LIKE '%%\"wage %%'))",
    ):
        connection.exec_driver_sql(statement)


def last_link(connection: sa.Connection) -> tuple[int, str] | None:
    """The newest journal row's key and hash, also where its row is hidden from this account; None: the
    server has no such function, and nothing is hidden."""
    if connection.scalar(sa.text("SELECT to_regprocedure('journal_head()')")) is None:
        return None
    row = connection.execute(sa.text("SELECT id, hash FROM journal_head()")).first()
    return (row[0], row[1]) if row else (0, "")


def make_login(connection: sa.Connection, name: str, role: Role) -> Login:
    """A new account in the group of its role; an account of that name gets a new password."""
    grant_rights(connection)
    password = secrets.token_urlsafe(15)
    quoted = connection.dialect.identifier_preparer.quote
    known = _is_known(connection, name)
    driver = connection.connection.dbapi_connection
    # hashed here, so that the password stands in no log of the server
    secret = driver.pgconn.encrypt_password(password.encode(), name.encode(), b"scram-sha-256").decode()  # type: ignore[union-attr]
    verb = "ALTER" if known else "CREATE"
    connection.exec_driver_sql(f"{verb} ROLE {quoted(name)} LOGIN PASSWORD '{secret}'")
    put_in_group(connection, name, role, active=True)
    return Login(name, password)


def put_in_group(connection: sa.Connection, name: str, role: Role, *, active: bool) -> None:
    """The account follows its person: another role, or nobody who works here any more."""
    if not _is_known(connection, name):
        return  # it stayed behind at another server when the shop moved
    _refuse_unable(connection)
    database = str(connection.scalar(sa.select(sa.func.current_database())))
    quoted = connection.dialect.identifier_preparer.quote
    for each in Role:
        verb, word = ("GRANT", "TO") if each is role and active else ("REVOKE", "FROM")
        connection.exec_driver_sql(f"{verb} {quoted(group(database, each))} {word} {quoted(name)}")
    connection.exec_driver_sql(f"ALTER ROLE {quoted(name)} {'LOGIN' if active else 'NOLOGIN'}")


def _is_known(connection: sa.Connection, name: str) -> bool:
    """Whether the server has a role of this name."""
    return bool(connection.scalar(sa.text("SELECT 1 FROM pg_roles WHERE rolname = :name"), {"name": name}))


def may_make_roles(connection: sa.Connection) -> bool:
    """Whether this account may make groups and accounts at its server."""
    able = sa.text("SELECT rolsuper OR rolcreaterole FROM pg_roles WHERE rolname = current_user")
    return bool(connection.scalar(able))


def _refuse_unable(connection: sa.Connection) -> None:
    if not may_make_roles(connection):
        raise Problem(
            "This account at the server may make no accounts. Open the shop with the account that made it, "
            "or let whoever looks after the server give it the right to make roles."
        )
