"""A shop brings its older books in: customers, parts and open jobs, and again when they have grown."""

import datetime as dt
from pathlib import Path

import pytest
import sqlalchemy as sa
from openpyxl import Workbook

from shopdesk.domain.problem import NotAllowed, Problem
from shopdesk.services import checking, people, stock, tables_in
from shopdesk.services.brought.kinds import opened
from shopdesk.services.floor import floor
from shopdesk.storage.tables.plan import Promise
from shopdesk.storage.tables.ranges import Job

CUSTOMERS = """Customer No;Surname;First name;Mobile;Mail;City;Zip
101;Quillfeather;Ada;555 0101;ada@example.org;Quarrel Bend;01234
102;Brockmuir;;555 0102;;Ambleford;
103;;;555 0103;;;
104;Tansy;Rolf;;no-mail;;
"""
JOBS = """Job no,Owner,Phone,Make,Model,Serial no,Problem,Date in,Due
J-1,Ada Quillfeather,,Corvane,No. 40,8812,oven will not light,2026-01-05,2030-03-01
J-2,Someone New,555 0199,Ostrava Hearth,,,,,
J-3,Ada Quillfeather,,Corvane,No. 12,,,2031-01-01,
"""


def written(path: Path, text: str) -> Path:
    path.write_text(text, encoding="utf-8")
    return path


def workbook(path: Path, rows: list[list[object]]) -> Path:
    book = Workbook()
    for row in rows:
        book.active.append(row)
    book.save(path)
    return path


def tried(seat, kind, path):
    target, table, matching = opened(seat, kind, path)
    return tables_in.trial(seat, target, table, matching)


def brought(seat, kind, path):
    target, table, matching = opened(seat, kind, path)
    return tables_in.bring_in(seat, target, table, matching, leave_out_bad=True)


def counts(outcome) -> tuple[int, int, int, int]:
    return outcome.new, outcome.changed, outcome.same, outcome.bad


def test_customers_come_in_with_bad_lines_by_number_and_are_known_the_next_time(shop, tmp_path):
    path = written(tmp_path / "customers.csv", CUSTOMERS)
    before = len(people.parties(shop.desk, kind="customer"))
    outcome = tried(shop.desk, "customers", path)
    assert counts(outcome) == (2, 0, 0, 2)
    assert [(bad.number, str(bad.problem)) for bad in outcome.bad_lines] == [
        (4, "Name is empty."),
        (5, "no-mail is not an e-mail address. Correct it or leave it empty."),
    ]
    assert len(people.parties(shop.desk, kind="customer")) == before
    assert counts(brought(shop.desk, "customers", path)) == (2, 0, 0, 2)
    (ada,) = people.parties(shop.desk, "ada quillfeather")
    assert (ada.phone, ada.town) == ("555 0101", "Quarrel Bend")
    assert counts(tried(shop.desk, "customers", path)) == (0, 0, 2, 2)
    moved = written(
        tmp_path / "later.csv", CUSTOMERS.replace("Quillfeather;Ada", "Marlow;Ada").replace("0101", "0777")
    )
    assert counts(brought(shop.desk, "customers", moved)) == (0, 1, 1, 2)
    assert people.party_draft(shop.desk, ada.id).name == "Ada Marlow"  # known by the old number
    assert checking.faults(shop.owner) == []


def test_a_customer_without_a_number_is_known_by_name_unless_the_telephone_is_another(shop, tmp_path):
    rows = [["name", "phone", "town"], ["Ida Fennwick", "555 0301", "Ambleford"]]
    brought(shop.desk, "customers", workbook(tmp_path / "a.xlsx", rows))
    rows = [
        ["name", "phone", "town"],
        ["Ida  Fennwick", "+1 (555) 0301", "Quarrel Bend"],
        ["ida fennwick", "555 9999", "Elsewhere"],
        ["Ida Fennwick", "", ""],
    ]
    assert counts(brought(shop.desk, "customers", workbook(tmp_path / "b.xlsx", rows[:3]))) == (1, 1, 0, 0)
    outcome = tried(shop.desk, "customers", workbook(tmp_path / "c.xlsx", [rows[0], rows[3]]))
    assert "2 people are called Ida Fennwick" in str(outcome.bad_lines[0].problem)


def test_parts_come_in_with_their_counts_once_and_what_moved_since_stays(shop, tmp_path):
    rows = [
        ["Part no", "Description", "Qty", "Bin", "Cost", "Condition"],
        [7001, "burner cap", 6, "A1", 4.5, "new"],
        [7002, "oven valve", 2, "B2", 38, "used"],
        [7003, "grate", "several", "C3", 12, "new"],
        [7004, "knob", 1, "C4", 3, "nearly new"],
    ]
    path = workbook(tmp_path / "parts.xlsx", rows)
    assert counts(brought(shop.desk, "parts", path)) == (2, 0, 0, 2)
    (cap,) = stock.parts(shop.desk, "burner cap")
    assert (cap.in_stock, cap.lies_at, cap.price_in_cents, cap.price_out_cents) == (6, "A1", 450, 585)
    assert cap.value_cents == 2700
    stock.move_part(shop.desk, cap.id, -1, "used up")
    assert counts(tried(shop.desk, "parts", path)) == (0, 0, 2, 2)
    rows[1][3] = "A9"
    assert counts(brought(shop.desk, "parts", workbook(path, rows))) == (0, 1, 1, 2)
    (cap,) = stock.parts(shop.desk, "burner cap")
    assert (cap.in_stock, cap.lies_at) == (5, "A9")
    assert checking.faults(shop.owner) == []


def test_open_jobs_come_in_booked_in_for_customers_known_or_new(shop, tmp_path):
    brought(shop.desk, "customers", written(tmp_path / "customers.csv", CUSTOMERS))
    path = written(tmp_path / "jobs.csv", JOBS)
    outcome = brought(shop.desk, "open jobs", path)
    assert counts(outcome) == (2, 0, 0, 1)
    assert outcome.bad_lines[0].number == 4
    assert "has not come yet" in str(outcome.bad_lines[0].problem)
    rows = {row.maker: row for row in floor(shop.desk)}
    assert {"Corvane", "Ostrava Hearth"} <= set(rows)
    assert rows["Corvane"].stage.value == "booked in"
    assert len(people.parties(shop.desk, "quillfeather")) == 1
    assert people.parties(shop.desk, "someone new")[0].phone == "555 0199"
    with shop.desk.look() as session:
        job = session.get_one(Job, rows["Corvane"].job_id)
        assert (job.booked_in_on, job.opened_on) == (dt.date(2026, 1, 5), dt.date(2026, 1, 5))
        assert (job.promised_on, job.complaint) == (dt.date(2030, 3, 1), "oven will not light")
    assert counts(tried(shop.desk, "open jobs", path)) == (0, 0, 2, 1)
    later = written(tmp_path / "later.csv", JOBS.replace("2030-03-01", "2030-04-01"))
    assert counts(brought(shop.desk, "open jobs", later)) == (0, 1, 1, 1)
    with shop.desk.look() as session:
        query = sa.select(Promise.on_day).where(Promise.job_id == rows["Corvane"].job_id).order_by(Promise.id)
        assert list(session.scalars(query)) == [dt.date(2030, 3, 1), dt.date(2030, 4, 1)]
    assert checking.faults(shop.owner) == []


def test_the_technician_brings_in_no_customers(shop, tmp_path):
    with pytest.raises(NotAllowed):
        tried(shop.technician, "customers", written(tmp_path / "c.csv", CUSTOMERS))


def test_a_column_that_is_needed_has_to_be_named(shop, tmp_path):
    target, table, _ = opened(shop.desk, "open jobs", written(tmp_path / "jobs.csv", JOBS))
    with pytest.raises(Problem, match="Say which column is Maker"):
        tables_in.trial(shop.desk, target, table, {"customer": 1})
