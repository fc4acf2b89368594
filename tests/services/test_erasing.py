"""A customer who asks to be erased: nothing of theirs is found again but on issued papers."""

import dataclasses
import datetime as dt
from pathlib import Path

import pytest
import sqlalchemy as sa
from builders import Shop, a_customer, billed, reopened, walked
from sqlalchemy.exc import DBAPIError

from shopdesk.domain.build import Build
from shopdesk.domain.catalogue.model import Scope
from shopdesk.services import (
    agreements,
    erasing,
    finding,
    handovers,
    intake,
    invoices,
    payments,
    people,
    quotes,
    undo,
    work_orders,
)
from shopdesk.services.papers.keeping import paper_bytes
from shopdesk.services.planning import appointments
from shopdesk.storage.checking import faults
from shopdesk.storage.tables import Base

OLD, NEW = "555 017 4433", "555 017 9921"
HERS = people.PartyDraft(
    name="Ottoline Marchbanks", phone=OLD, email="ottoline@example.org", street="9 Larkspur Row",
    town="Millbrook", note="Her terrier Biscuit bites",
)  # fmt: skip
LETTER = "Yes, go on with it.\nRing my sister Philomena on 555 017 8800 if I am away."
WORDS = (
    "Ottoline", "Marchbanks", "marchbanks", OLD, NEW, "ottoline@example.org", "Larkspur", "larkspur",
    "Biscuit", "Philomena", "017 8800", "through the scullery",
)  # fmt: skip
ON_NO_PAPER = (OLD, "Biscuit", "Philomena", "scullery")


@pytest.fixture
def hers(shop: Shop) -> int:
    return lived_through(shop)


def lived_through(shop: Shop) -> int:
    """A customer with a job that is done, paid and gone; her key."""
    key = people.keep_party(shop.desk, HERS)
    people.keep_party(shop.desk, dataclasses.replace(HERS, phone=NEW), key)
    taken = intake.take_on(
        shop.owner,
        intake.RangeDraft(
            maker="Corvane", model="No. 40", build=Build(lamp=True), stands_at="through the scullery",
            note="Ottoline wants the clock kept",
        ),
        intake.JobDraft(customer_id=key, complaint="Mrs Marchbanks says the lamp flickers"),
    )  # fmt: skip
    walked(shop.owner, taken.job_id, "lamp-cord.frayed")
    work_orders.write_order(shop.owner, taken.job_id, Scope.MECHANICAL)
    quote = quotes.write_quote(shop.desk, taken.job_id)
    agreements.agree(shop.desk, quote, who="O. Marchbanks", how="e-mail", kept_text=LETTER)
    appointments.appoint(
        shop.desk,
        appointments.AppointmentDraft(
            kind="delivery", day=shop.desk.today + dt.timedelta(days=3), minute=600, party_id=key,
            place="9 Larkspur Row",
        ),
    )  # fmt: skip
    invoice = billed(shop, taken.job_id)
    handovers.hand_over(shop.desk, taken.job_id, red_tagged=True)
    gross = invoices.invoice_view(shop.desk, invoice).row.gross_cents
    payments.take_payment(shop.desk, taken.job_id, gross, "cash")
    return key


def everywhere(shop: Shop) -> str:
    """Every text of every table but the issued papers' own."""
    found = []
    with shop.owner.file.reading() as session:
        for table in Base.metadata.sorted_tables:
            issued = {"facts", "pdf"} if table.name == "paper" else set()
            columns = [c for c in table.c if c.name not in issued and not isinstance(c.type, sa.LargeBinary)]
            found += [str(tuple(row)) for row in session.execute(sa.select(*columns))]
    return "\n".join(found)


def test_no_word_of_theirs_is_found_outside_issued_papers_and_the_chain_still_verifies(shop, hers):
    before = everywhere(shop)
    assert [word for word in WORDS if word not in before] == []
    other = a_customer(shop.desk, "Hill, Marian", note="Ask Ottoline Marchbanks about her")
    bill = paper_bytes(shop.owner, "I-0001")
    erasing.erase(shop.owner, hers)
    after = everywhere(shop)
    assert [word for word in WORDS if word in after] == []
    assert people.party_draft(shop.owner, other).name == "Hill, Marian"
    assert "The lamp" in after or "the lamp flickers" in after  # what is about the range stays
    assert finding.find(shop.owner, "marchbanks") == ()
    assert paper_bytes(shop.owner, "I-0001") == bill
    assert faults(shop.owner.file) == []
    assert "erase a customer" not in {one.action for one in undo.undoable(shop.owner)}


def test_in_the_file_itself_nothing_is_left_of_what_stood_on_no_paper(set_up_file, clock):
    shop = reopened(set_up_file, clock)
    erasing.erase(shop.owner, lived_through(shop))
    shop.owner.file.close()
    for path in Path(set_up_file).parent.glob("shop.db*"):
        held = path.read_bytes()
        assert [word for word in ON_NO_PAPER if word.encode() in held] == [], path.name


OPENED_ELSE = (
    "UPDATE journal SET \"after\" = '{}', salt = '' WHERE id = (SELECT max(id) FROM journal)",
    "UPDATE journal SET who = 'x', salt = '' WHERE id = (SELECT max(record_id) FROM erasure)",
    "UPDATE erasure SET holds = 'x'",
    "DELETE FROM erasure",
    "UPDATE agreement SET amount_cents = 1, number_called = '', note = '', kept_text = ''",
)


def test_an_erasing_opens_nothing_else_and_a_struck_row_changed_again_is_found(shop, hers):
    erasing.erase(shop.owner, hers)
    for change in OPENED_ELSE:
        with shop.owner.file.engine.connect() as connection, pytest.raises(DBAPIError, match="never changed"):
            connection.exec_driver_sql(change)
    with shop.owner.file.engine.begin() as connection:
        first = "SELECT min(record_id) FROM erasure WHERE record = 'journal'"
        row = connection.exec_driver_sql(first).scalar_one()
        connection.exec_driver_sql(f"UPDATE journal SET \"after\" = '{{}}' WHERE id = {row}")
    assert faults(shop.owner.file) == [f"Journal row {row} was changed after it was written."]
