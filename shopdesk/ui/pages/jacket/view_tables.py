"""The tables at the foot of a jacket: papers, money, history."""

from PySide6.QtWidgets import QWidget

from shopdesk.ui.context import Context
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.headings import Heading
from shopdesk.ui.widgets.rows import Column
from shopdesk.ui.widgets.short_table import ShortTable
from shopdesk.wording import say


def under(title: str, table: QWidget) -> QWidget:
    holder = QWidget()
    holder.setLayout(upright([Heading(title), table]))
    return holder


def papers_table(context: Context) -> ShortTable:
    return ShortTable(
        say("Papers"),
        [
            Column("title", say("Paper"), lambda p: p.title, stretch=True),
            Column("issued", say("Issued"), lambda p: context.region.instant(p.issued_at), width=24),
        ],
        key=lambda p: p.id, empty=say("Papers of this range will stand here once they are issued."),
    )  # fmt: skip


def money_table() -> ShortTable:
    return ShortTable(
        say("Money of this job"),
        [
            Column("name", say("Money"), lambda m: m.name, width=14),
            Column("amount", say("Amount"), lambda m: m.amount, width=14, figures=True, strong=True),
            Column("note", "", lambda m: m.note, stretch=True),
        ],
        key=lambda m: m.name, empty="",
    )  # fmt: skip


def history_table() -> ShortTable:
    return ShortTable(
        say("History"),
        [
            Column("when", say("Day"), lambda t: t.when, width=16),
            Column("who", say("Who"), lambda t: t.who, width=20),
            Column("what", say("What"), lambda t: t.what, stretch=True, tip=lambda t: t.what),
        ],
        key=lambda t: t.key, empty=say("What happens to this range will stand here."),
    )  # fmt: skip
