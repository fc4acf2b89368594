"""Price lists of many lines: tried first, brought in whole or as far as they are good, or stopped."""

from pathlib import Path

import pytest
import sqlalchemy as sa
from builders import a_firm

from shopdesk.domain.problem import NotAllowed, Problem
from shopdesk.exchange.tables_in import Table, open_table
from shopdesk.services import checking, price_lists, purchasing, tables_in
from shopdesk.services.price_lists import PriceList
from shopdesk.services.tables_in import Progress
from shopdesk.storage.tables.price_lists import SupplierPrice, TableIn

MATCHING = {"theirs": 0, "name": 1, "price_cents": 2, "pack": 3}


def a_list(tmp_path: Path, lines: int, *more: str, price: str = "1.50") -> Table:
    rows = [f"A-{n},burner cap size {n},{price},1" for n in range(lines)]
    (tmp_path / "list.csv").write_text("\n".join(["no,what,each,per", *rows, *more]))
    return open_table(tmp_path / "list.csv")


@pytest.fixture
def supplier(shop) -> int:
    return a_firm(shop.desk, supplies=True)


def count(shop) -> int:
    with shop.desk.look() as session:
        return session.scalar(sa.select(sa.func.count(SupplierPrice.id))) or 0


def test_fifty_thousand_lines_come_in_with_the_bad_ones_named(shop, supplier, tmp_path):
    table = a_list(tmp_path, 50_000, "A-7,again,2,1", "B-1,,2,1", "B-2,cap,on request,1")
    target, progress = PriceList(shop.desk, supplier), Progress()
    tried = tables_in.trial(shop.desk, target, table, MATCHING, progress)
    assert (tried.new, tried.bad, progress.lines, count(shop)) == (50_000, 3, 50_003, 0)
    assert [bad.number for bad in tried.bad_lines] == [50_002, 50_003, 50_004]
    assert str(tried.bad_lines[0].problem) == "A-7 stands on line 9 already."
    with pytest.raises(Problem, match=r"Line 50002: A-7 stands on line 9 already\. Nothing was brought in"):
        tables_in.bring_in(shop.desk, target, table, MATCHING, leave_out_bad=False)
    assert count(shop) == 0
    done = tables_in.bring_in(shop.desk, target, table, MATCHING, leave_out_bad=True)
    assert (done.lines, done.new, done.bad, count(shop)) == (50_003, 50_000, 3, 50_000)
    again = tables_in.trial(shop.desk, target, a_list(tmp_path, 50_000), MATCHING)
    assert (again.new, again.changed, again.same) == (0, 0, 50_000)
    with shop.desk.look() as session:
        kept = session.scalars(sa.select(TableIn)).one()
        assert (kept.taken, kept.refused, kept.sha256) == (50_000, 3, table.sha256)
    assert checking.faults(shop.owner) == []


def test_a_list_that_is_stopped_leaves_nothing_behind(shop, supplier, tmp_path):
    progress = Progress()
    target = PriceList(shop.desk, supplier)

    class Stopping(PriceList):
        def keep(self, work, lines):
            super().keep(work, lines)
            progress.stop()  # a person presses stop while the first thousand are written

    with pytest.raises(tables_in.Stopped, match="Stopped at line 1002"):
        tables_in.bring_in(
            shop.desk, Stopping(shop.desk, supplier), a_list(tmp_path, 2500), MATCHING,
            leave_out_bad=True, progress=progress,
        )  # fmt: skip
    assert count(shop) == 0
    assert "theirs" not in tables_in.known_matching(shop.desk, target, a_list(tmp_path, 1))


def test_columns_are_matched_once_and_found_again_where_they_moved_to(shop, supplier, tmp_path):
    target = PriceList(shop.desk, supplier)
    with pytest.raises(Problem, match="Say which column is Their number"):
        tables_in.trial(shop.desk, target, a_list(tmp_path, 2), {"name": 1, "price_cents": 2})
    tables_in.bring_in(shop.desk, target, a_list(tmp_path, 2), MATCHING, leave_out_bad=False)
    (tmp_path / "next.csv").write_text("each,per,no,what\n2.25,10,A-0,burner cap size 0\n")
    table = open_table(tmp_path / "next.csv")
    matching = tables_in.known_matching(shop.desk, target, table)
    assert matching == {"theirs": 2, "name": 3, "price_cents": 0, "pack": 1}
    done = tables_in.bring_in(shop.desk, target, table, matching, leave_out_bad=False)
    assert (done.new, done.changed) == (0, 1)
    row = price_lists.prices(shop.desk, "CAP size 0")[0]
    assert (row.theirs, row.price_cents, row.pack, row.currency) == ("A-0", 225, 10, "USD")
    with pytest.raises(NotAllowed):
        tables_in.bring_in(shop.technician, target, table, matching, leave_out_bad=False)


def test_what_is_short_is_proposed_to_its_last_supplier_else_to_the_cheapest_list(shop, supplier, tmp_path):
    other = a_firm(shop.desk, "Cobble Lane Fittings", supplies=True)
    for firm, price in ((supplier, "1.50"), (other, "1.25")):
        target = PriceList(shop.desk, firm)
        table = a_list(tmp_path, 3, price=price)
        tables_in.bring_in(shop.desk, target, table, MATCHING, leave_out_bad=False)
    purchasing.order_parts(shop.desk, supplier, [purchasing.OrderLine("oven bulb clip", 1, 90)])
    found = price_lists.proposals(shop.desk, ["burner cap", "oven bulb clip", "no such thing"])
    assert (found["burner cap"].supplier_id, found["burner cap"].price_cents) == (other, 125)
    assert (found["oven bulb clip"].supplier_id, found["oven bulb clip"].price_cents) == (supplier, 90)
    assert set(found) == {"burner cap", "oven bulb clip"}
