"""Beside an issued paper: a mail draft in a private folder, a duplicate, XML; nothing beside a preview."""

import email
import stat
from dataclasses import replace
from email.policy import default
from pathlib import Path

import pytest
from conftest import CannedDialogs  # type: ignore[import-not-found]
from counter_shop import make_counter_shop
from published_rules import rule_faults, schema_faults
from pytestqt.qtbot import QtBot

from shopdesk import paths
from shopdesk.services import invoices, people, shops
from shopdesk.services.papers.keeping import paper_bytes
from shopdesk.services.seat import Seat
from shopdesk.services.settings import ShopIdentity
from shopdesk.ui.context import Context
from shopdesk.ui.paper_deeds import PaperDeeds
from shopdesk.ui.widgets.headings import ProblemText


@pytest.fixture
def deeds(qtbot: QtBot, seat: Seat, context: Context) -> PaperDeeds:
    """Beside invoice I-0001 of a shop whose customers have e-mail."""
    work = make_counter_shop(seat)
    for row in people.parties(seat, kind="customer"):
        people.keep_party(seat, replace(people.party_draft(seat, row.id), email="ruiz@home.example"), row.id)
    shops.keep_setting(seat, ShopIdentity(name="Emberlow", street="4 Kiln Row", tax_number="00-0"))
    invoices.issue_invoice(seat, invoices.draft_invoice(seat, work.agreed.job_id))
    problem = ProblemText()
    made = PaperDeeds(context, problem)
    qtbot.addWidget(problem)
    qtbot.addWidget(made)
    made.about(paper_bytes(seat, "I-0001"), "invoice I-0001")
    qtbot.waitUntil(lambda: made.row is not None)
    return made


def test_a_paper_becomes_a_draft_a_duplicate_and_xml(
    deeds: PaperDeeds, qtbot: QtBot, seat: Seat, dialogs: CannedDialogs, tmp_path: Path
) -> None:
    kept = paper_bytes(seat, "I-0001")
    assert not deeds.xml_button.isHidden()
    deeds.mail_button.click()
    qtbot.waitUntil(lambda: bool(dialogs.opened), timeout=10_000)
    [file] = dialogs.opened
    assert file == paths.data_folder() / "drafts" / "I-0001.eml"
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert stat.S_IMODE(file.parent.stat().st_mode) == 0o700
    read = email.message_from_bytes(file.read_bytes(), policy=default)
    assert read["To"].addresses[0].addr_spec == "ruiz@home.example"
    assert [part.get_content() for part in read.iter_attachments()] == [kept]

    dialogs.file = tmp_path / "again"
    deeds.duplicate_button.click()
    qtbot.waitUntil((tmp_path / "again.pdf").is_file, timeout=10_000)
    assert (tmp_path / "again.pdf").read_bytes() != kept

    dialogs.file = tmp_path / "bill.xml"
    deeds.xml_button.click()
    qtbot.waitUntil((tmp_path / "bill.xml").is_file, timeout=10_000)
    xml = (tmp_path / "bill.xml").read_bytes()
    assert (schema_faults(xml), rule_faults(xml)) == ([], {})
    assert paper_bytes(seat, "I-0001") == kept


def test_where_it_cannot_be_done_a_sentence_says_so(
    deeds: PaperDeeds, qtbot: QtBot, dialogs: CannedDialogs, tmp_path: Path
) -> None:
    dialogs.opens = False
    deeds.mail_button.click()
    qtbot.waitUntil(lambda: "No mail program" in deeds._problem.text(), timeout=10_000)
    dialogs.file = tmp_path / "no folder" / "x.xml"
    deeds.xml_button.click()
    qtbot.waitUntil(lambda: "x.xml was not written" in deeds._problem.text(), timeout=10_000)


def test_beside_what_is_not_issued_nothing_is_offered(deeds: PaperDeeds, qtbot: QtBot, seat: Seat) -> None:
    deeds.about(paper_bytes(seat, "I-0001") + b" ", "invoice I-0001")
    qtbot.waitUntil(lambda: deeds.row is None)
    assert deeds.isHidden()
