"""What published standards ask of a condition record and of an entry record, found on our papers."""

from datetime import date

import paper_facts as make
import pytest
from reading import text

from shopdesk.documents import condition_report, intake_receipt
from shopdesk.documents.facts import ChangedFacts

# Collections Trust, Spectrum: a condition record bears its date, examiner and reason, is reachable by the
# object's number, and earlier records are kept; the overall condition is the most serious one found.
# EN 16095:2012 (contents from memory): object, owner and place, maker and date, materials, dimensions,
# reason, examiner, date, method and circumstances, description of condition and change, earlier treatment,
# images, risks and recommendations.
CONDITION_RECORD = {
    "object number (Spectrum)": "R-17",
    "date of the examination (Spectrum, EN 16095)": "Examined on September 4, 2026",
    "examiner (Spectrum, EN 16095)": "Examiner Maren Holt",
    "reason (Spectrum, EN 16095)": "Purpose cook on it now",
    "overall condition, the gravest one (Spectrum)": "Overall condition: grave",
    "completeness (Spectrum)": "Completeness",
    "earlier record (Spectrum)": "What changed since",
    "owner (EN 16095)": "Ruiz & Søn",
    "place (EN 16095)": "Where",
    "maker (EN 16095)": "Maker",
    "date of making (EN 16095)": "Made about",
    "materials and finish (EN 16095)": "Color",
    "dimensions (EN 16095)": "Size",
    "method (EN 16095)": "Method",
    "circumstances (EN 16095)": "Circumstances",
    "description of condition (EN 16095)": "Findings",
    "earlier treatment (EN 16095)": "Earlier work",
    "risks (EN 16095)": "Cautions",
    "recommendations (EN 16095)": "What we advise",
    "both signatures (Spectrum)": "Maren Holt (examiner), date",
}


@pytest.mark.parametrize("unit", CONDITION_RECORD)
def test_the_report_holds_each_unit_of_a_published_condition_record(unit: str) -> None:
    changed = ChangedFacts(since=date(2026, 8, 1), rows=(("Oven floor", "not seen", "worn"),))
    report = make.a_report(place="Her garage", changed=changed, earlier_work="Here before: May 2, 2024.")
    assert CONDITION_RECORD[unit] in text(condition_report.render(report))


# Collections Trust, Spectrum, object entry: owner, date, brief condition and completeness, reason, return
# date, both signatures, with the object's own number.
ENTRY_RECORD = {
    "owner": "Ruiz & Søn",
    "date": "September 3, 2026",
    "brief condition": "Condition as it came in",
    "completeness": "What came with it",
    "reason": "What you asked for",
    "return date": "Back by",
    "owner's signature": "owner or on the owner's behalf), date",
    "receiver's signature": "For Ember & Latch Range Works, date",
}


@pytest.mark.parametrize("unit", ENTRY_RECORD)
def test_the_intake_receipt_holds_each_unit_of_a_published_entry_record(unit: str) -> None:
    told = text(intake_receipt.render(make.an_intake(back_by=date(2026, 12, 1))))
    assert ENTRY_RECORD[unit] in told
