"""The bare baselines of `tests.bench.speed`: sqlite3 and reportlab platypus without the program's layers."""

import datetime as dt
import io
import sqlite3
from typing import Any
from zoneinfo import ZoneInfo

from reportlab.lib.styles import getSampleStyleSheet
from reportlab.platypus import Paragraph, SimpleDocTemplate, Spacer, Table, TableStyle

from shopdesk.documents.facts.counter import InvoiceFacts
from shopdesk.domain.folding import fold
from shopdesk.domain.stage import Stage
from shopdesk.services.floor import FloorOrder

_STAGES = " ".join(f"WHEN '{stage.value}' THEN {n}" for n, stage in enumerate(Stage))
_ORDERS = {
    FloorOrder.NUMBER: "r.id DESC",
    FloorOrder.PROMISED: "j.promised_on IS NULL, j.promised_on, j.id",
    FloorOrder.STAGE: f"CASE j.stage {_STAGES} ELSE 99 END, j.id",
    FloorOrder.HELD_SINCE: "j.held_since IS NULL, j.held_since, j.id",
    FloorOrder.CUSTOMER: "p.name IS NULL, p.name, j.id",
}


def floor_sql(order: FloorOrder, chosen: dict[str, Any]) -> tuple[str, list[str]]:
    """One statement that answers what the Floor shows: rows, what is owed, and the findings."""
    where = ["NOT EXISTS (SELECT 1 FROM job n WHERE n.range_id = j.range_id AND n.id > j.id)"]
    values: list[str] = []
    for word in fold(chosen.get("words", "")).split():
        where.append("(r.search_text LIKE ? OR p.search_text LIKE ?)")
        values += [f"%{word}%"] * 2
    if stages := chosen.get("stages"):
        where.append(f"j.stage IN ({', '.join('?' * len(stages))})")
        values += [stage.value for stage in stages]
    if chosen.get("held"):
        where.append("j.held_for <> ''")
    return (
        "WITH page AS (SELECT j.id AS job_id, r.id AS range_id, r.number, r.maker, r.model, r.colour, r.build, "
        "p.name, j.stage, j.held_for, j.held_what, j.held_since, j.promised_on, r.stands_at, "
        f"row_number() OVER () AS n FROM (SELECT j.id FROM job j "
        "JOIN gas_range r ON r.id = j.range_id "
        f"LEFT JOIN party p ON p.id = j.customer_id WHERE {' AND '.join(where)} ORDER BY {_ORDERS[order]} LIMIT 200) k "
        "JOIN job j ON j.id = k.id JOIN gas_range r ON r.id = j.range_id LEFT JOIN party p ON p.id = j.customer_id) "
        "SELECT page.*, (SELECT sum(CASE kind WHEN 'credit' THEN -gross_cents ELSE gross_cents END) FROM invoice i "
        "WHERE i.job_id = page.job_id AND i.number IS NOT NULL), (SELECT sum(s.amount_cents) FROM payment_share s "
        "JOIN invoice i ON i.id = s.invoice_id WHERE i.job_id = page.job_id), (SELECT group_concat(o.finding) FROM "
        "observation o WHERE o.finding <> '' AND o.walk_round_id = (SELECT max(w.id) FROM walk_round w "
        "WHERE w.job_id = page.job_id)) FROM page ORDER BY n",
        values,
    )


_OF_JOB = {
    "task": "SELECT * FROM task WHERE work_order_id = (SELECT id FROM work_order WHERE job_id = ?) ORDER BY place",
    "cause": "SELECT c.* FROM task_cause c JOIN task t ON t.id = c.task_id JOIN work_order w ON w.id = t.work_order_id "
             "WHERE w.job_id = ?",
    "need": "SELECT n.* FROM need n JOIN task t ON t.id = n.task_id JOIN work_order w ON w.id = t.work_order_id "
            "WHERE w.job_id = ?",
    "time": "SELECT e.task_id, sum(e.minutes) FROM time_entry e JOIN task t ON t.id = e.task_id JOIN work_order w "
            "ON w.id = t.work_order_id WHERE w.job_id = ? GROUP BY e.task_id",
    "piece": "SELECT p.* FROM consignment_piece p JOIN task t ON t.id = p.task_id JOIN work_order w "
             "ON w.id = t.work_order_id WHERE w.job_id = ?",
    "walk": "SELECT o.* FROM observation o JOIN walk_round w ON w.id = o.walk_round_id WHERE w.job_id = ?",
    "quote": "SELECT * FROM quote WHERE job_id = ?",
    "quote line": "SELECT l.* FROM quote_line l JOIN quote q ON q.id = l.quote_id WHERE q.job_id = ?",
    "agreement": "SELECT * FROM agreement WHERE job_id = ?",
    "invoice": "SELECT * FROM invoice WHERE job_id = ?",
    "invoice line": "SELECT l.* FROM invoice_line l JOIN invoice i ON i.id = l.invoice_id WHERE i.job_id = ?",
    "payment": "SELECT * FROM payment WHERE job_id = ?",
    "share": "SELECT s.* FROM payment_share s JOIN invoice i ON i.id = s.invoice_id WHERE i.job_id = ?",
    "proof": "SELECT p.*, s.name FROM proof p JOIN staff s ON s.id = p.staff_id WHERE p.job_id = ?",
    "release": "SELECT * FROM job_release WHERE job_id = ?",
    "paper": "SELECT id, kind, number, title, job_id, issued_at, sha256 FROM paper WHERE job_id = ?",
    "tag": "SELECT * FROM tag WHERE job_id = ?",
    "change": "SELECT * FROM change_order WHERE job_id = ?",
    "journal": "SELECT at, who, action, record FROM journal WHERE job_id = ? ORDER BY id DESC LIMIT 200",
}  # fmt: skip


def jacket_selects(bare: sqlite3.Connection, range_id: int, job_id: int) -> list[Any]:
    """Every row the jacket is made of."""
    found: list[Any] = [
        bare.execute("SELECT * FROM gas_range WHERE id = ?", (range_id,)).fetchall(),
        bare.execute("SELECT j.*, p.name, p.phone FROM job j LEFT JOIN party p ON p.id = j.customer_id "
                     "WHERE j.range_id = ?", (range_id,)).fetchall(),
        bare.execute("SELECT u.*, f.sha256, f.width, f.height FROM photograph_use u JOIN photograph f "
                     "ON f.id = u.photograph_id WHERE u.range_id = ?", (range_id,)).fetchall(),
        bare.execute("SELECT value FROM setting").fetchall(),
    ]  # fmt: skip
    return found + [bare.execute(sql, (job_id,)).fetchall() for sql in _OF_JOB.values()]


def books(bare: sqlite3.Connection, year: int, today: dt.date, timezone: str) -> tuple[Any, ...]:
    """The figures of a year by aggregates alone; one wage a person."""
    zone = ZoneInfo(timezone)
    days = dt.date(year, 1, 1), dt.date(year + 1, 1, 1)
    span = [
        dt.datetime.combine(day, dt.time(), zone).astimezone(dt.UTC).isoformat(timespec="microseconds")
        for day in days
    ]
    on = [day.isoformat() for day in days]
    minutes, cost = bare.execute(
        "SELECT sum(e.minutes), sum((e.minutes * w.cost_cents_per_hour + 30) / 60) "
        "FROM staff s JOIN wage w ON w.staff_id = s.id JOIN time_entry e ON e.staff_id = s.id AND e.started_at >= ? "
        "AND e.started_at < ?", span,
    ).fetchone()  # fmt: skip
    billed = bare.execute(
        "SELECT sum(CASE kind WHEN 'credit' THEN -net_cents ELSE net_cents END) FROM invoice "
        "WHERE number IS NOT NULL AND on_day >= ? AND on_day < ?", on,
    ).fetchone()[0]  # fmt: skip
    parts = bare.execute(
        "SELECT -sum(cost_cents) FROM part_movement WHERE need_id IS NOT NULL AND at >= ? AND at < ?", span
    ).fetchone()[0]
    outwork = bare.execute(
        "SELECT sum(cost_cents) FROM consignment_piece WHERE back_on >= ? AND back_on < ?", on
    ).fetchone()[0]
    late = "CAST(julianday(?) - julianday(due_on) AS INTEGER)"
    owed = bare.execute(
        f"SELECT CASE WHEN {late} <= 0 THEN 0 WHEN {late} <= 30 THEN 1 WHEN {late} <= 60 THEN 2 WHEN {late} <= 90 "
        "THEN 3 ELSE 4 END AS age, sum(asked) FROM (SELECT i.due_on, i.gross_cents - coalesce(s.cents, 0) - "
        "coalesce(g.cents, 0) AS asked FROM invoice i LEFT JOIN (SELECT invoice_id, sum(amount_cents) AS cents FROM "
        "payment_share GROUP BY invoice_id) s ON s.invoice_id = i.id LEFT JOIN (SELECT invoice_id, sum(amount_cents) AS "
        "cents FROM write_off GROUP BY invoice_id) g ON g.invoice_id = i.id WHERE i.kind = 'invoice' AND i.number IS "
        "NOT NULL AND i.id NOT IN (SELECT corrects_id FROM invoice WHERE corrects_id IS NOT NULL)) WHERE asked > 0 "
        "GROUP BY age", [today.isoformat()] * 4,
    ).fetchall()  # fmt: skip
    ages = dict(owed)
    return (
        minutes or 0,
        cost or 0,
        billed or 0,
        parts or 0,
        outwork or 0,
        tuple(ages.get(n, 0) for n in range(5)),
    )


def drawn_again(facts: InvoiceFacts) -> bytes:
    """The same texts and figures by platypus alone: head, lines, sums, consents, terms."""
    sheet = getSampleStyleSheet()
    plain, head = sheet["BodyText"], sheet["Heading1"]
    region = facts.shop.region
    story: list[Any] = [Paragraph(f"Invoice {facts.number}", head), Paragraph(facts.customer.name, plain)]
    rows: list[Any] = [["What", "Quantity", "Price", "Amount"]]
    for line in facts.lines:
        what = f"{line.what} <font color='grey'>{line.because}</font>"
        rows.append([Paragraph(what, plain), str(line.quantity), region.amount(line.unit_cents),
                     region.amount(line.net_cents)])  # fmt: skip
    table = Table(rows, colWidths=[300, 58, 74, 68], repeatRows=1)
    table.setStyle(
        TableStyle([("LINEBELOW", (0, 0), (-1, -1), 0.25, "grey"), ("VALIGN", (0, 0), (-1, -1), "TOP")])
    )
    story += [Spacer(0, 12), table, Paragraph(region.money(facts.totals.with_tax), plain)]
    story += [Paragraph(f"{one.who} {one.how} {one.what}", plain) for one in facts.consents]
    story += [Paragraph(text, plain) for text in (*facts.how_to_pay, *facts.terms)]
    kept = io.BytesIO()
    SimpleDocTemplate(kept).build(story)
    return kept.getvalue()
