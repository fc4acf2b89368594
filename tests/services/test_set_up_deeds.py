"""Set-up's deeds: a copy of the shop, a logo, one change to the catalogue at a time."""

import base64
import io
from dataclasses import replace
from pathlib import Path

import pytest
from fixed_clock import FixedClock
from PIL import Image

from shopdesk.domain.answers import Answer
from shopdesk.domain.build import Build
from shopdesk.domain.problem import NotAllowed, Problem
from shopdesk.services import backups, catalogue_changes, intake, logos, reports, shops, walks
from shopdesk.services.checking import faults
from shopdesk.services.seat import open_shop


def _png(path: Path, side: int = 8) -> Path:
    Image.new("RGB", (side, side), "navy").save(path, "PNG")
    return path


def test_a_copy_opens_as_the_same_shop_and_is_whole(shop, tmp_path, clock):
    if not shop.owner.file.is_file:
        dump = tmp_path / "copy.dump"  # brought back and compared in tests/storage/test_server_copy.py
        assert backups.back_up(shop.owner, dump) == dump.stat().st_size
        assert dump.read_bytes()[:5] == b"PGDMP"
        return
    copy = tmp_path / "kept" / "copy.db"
    assert backups.back_up(shop.owner, copy) == copy.stat().st_size
    with pytest.raises(Problem, match="already a file"):
        backups.back_up(shop.owner, copy)
    backups.back_up(shop.owner, copy, replace=True)
    other = open_shop(copy, clock)
    try:
        assert [row.name for row in shops.staff(other)] == [row.name for row in shops.staff(shop.owner)]
        assert faults(other) == []
    finally:
        other.file.close()


def test_the_open_shop_is_not_copied_onto_itself_and_the_desk_copies_nothing(sqlite_shop, tmp_path):
    seat = open_shop(sqlite_shop, FixedClock())
    try:
        with pytest.raises(Problem, match="the open shop itself"):
            backups.back_up(seat, sqlite_shop, replace=True)
    finally:
        seat.file.close()


def test_the_desk_makes_no_copies(shop, tmp_path):
    with pytest.raises(NotAllowed):
        backups.back_up(shop.desk, tmp_path / "copy.db")
    assert not (tmp_path / "copy.db").exists()


def test_a_logo_is_kept_as_it_is_and_only_a_whole_small_png_is_one(tmp_path):
    good = _png(tmp_path / "mark.png")
    assert base64.b64decode(logos.read_logo(good)) == good.read_bytes()
    other = tmp_path / "mark.jpg"
    Image.new("RGB", (8, 8)).save(other, "JPEG")
    with pytest.raises(Problem, match="not a PNG"):
        logos.read_logo(other)
    cut = tmp_path / "cut.png"
    cut.write_bytes(good.read_bytes()[:40])
    with pytest.raises(Problem):
        logos.read_logo(cut)
    noise = io.BytesIO()
    Image.effect_noise((900, 900), 90).save(noise, "PNG")
    large = tmp_path / "large.png"
    large.write_bytes(noise.getvalue())
    with pytest.raises(Problem, match="at most 500"):
        logos.read_logo(large)
    with pytest.raises(Problem, match="cannot be read"):
        logos.read_logo(tmp_path / "nowhere.png")


def test_a_checkpoint_is_switched_off_reworded_and_put_back(shop):
    code = next(iter(shop.owner.catalogue.checkpoints))
    shipped = catalogue_changes.shipped_catalogue().checkpoints[code]
    catalogue_changes.change_checkpoint(shop.owner, code, asked=True, words={"name": "Own name", "why": " "})
    assert shop.owner.refreshed().catalogue.checkpoints[code].name == "Own name"
    assert shop.owner.refreshed().catalogue.checkpoints[code].why == shipped.why
    catalogue_changes.change_checkpoint(shop.owner, code, asked=False, words={})
    assert code in shop.owner.refreshed().catalogue.off
    catalogue_changes.change_checkpoint(shop.owner, code, asked=True, words={})
    assert shop.owner.refreshed().catalogue.checkpoints[code] == shipped
    assert catalogue_changes.changes(shop.owner).catalogue == {}
    shipped_version = catalogue_changes.shipped_catalogue().version
    assert shop.owner.refreshed().catalogue.version == f"{shipped_version}.3"


def test_a_finding_is_reworded_and_switched_off_and_old_answers_keep_their_name(shop):
    seat = shop.owner
    point = next(c for c in seat.catalogue.walk(Build()) if len(c.findings) > 1)
    code = point.findings[0].code
    taken = intake.take_on(seat, intake.RangeDraft(maker="Bellwick"), intake.JobDraft(), booked_in=False)
    walk_id = walks.open_walk(seat, taken.job_id)
    walks.answer(seat, walk_id, Answer(point.code, code))
    catalogue_changes.change_finding(seat, code, asked=False, words={"name": "Ours"})
    catalogue_changes.change_checkpoint(seat, point.code, asked=False, words={})
    now = seat.refreshed()
    assert now.catalogue.findings[code].name == "Ours"
    assert code not in [f.code for f in now.catalogue.offered(now.catalogue.checkpoints[point.code])]
    assert walks.judge_walk(now, walk_id).reasons
    assert b"%PDF" in reports.preview_condition_report(now, walk_id)


def test_a_checkpoint_of_the_shop_s_own_is_added_and_put_earlier(shop):
    seat = shop.owner
    zone = next(iter(seat.catalogue.zones))
    draft = catalogue_changes.OwnCheckpoint(
        zone, "Maker's badge on the side", "Look for two rivets.", "It is there.", "Buyers ask for it.",
        ("Badge lost", "Badge bent"), "serious",
    )  # fmt: skip
    code = catalogue_changes.add_checkpoint(seat, draft)
    now = seat.refreshed()
    here = [c.code for c in now.catalogue.checkpoints.values() if c.zone == zone]
    assert here[-1] == code
    assert [f.name for f in now.catalogue.checkpoints[code].findings] == ["Badge lost", "Badge bent"]
    catalogue_changes.move_checkpoint(now, code, -1)
    again = [c.code for c in seat.refreshed().catalogue.checkpoints.values() if c.zone == zone]
    assert again.index(code) == len(here) - 2
    assert sorted(again) == sorted(here)
    assert catalogue_changes.add_checkpoint(seat.refreshed(), draft) != code
    with pytest.raises(Problem, match="finding"):
        catalogue_changes.add_checkpoint(seat, replace(draft, findings=()))


def test_figures_and_checkpoints_are_changed_without_losing_each_other(shop):
    code = next(iter(shop.owner.catalogue.checkpoints))
    catalogue_changes.change_figures(shop.owner, {"charge_per_hour": "110.00", "margin": 0.2})
    catalogue_changes.change_checkpoint(shop.owner, code, asked=False, words={})
    figures = shop.owner.refreshed().catalogue.figures
    assert (figures.charge_per_hour, figures.margin) == (11_000, 0.2)
    assert code in shop.owner.refreshed().catalogue.off
    with pytest.raises(Problem, match="confidence"):
        catalogue_changes.change_figures(shop.owner, {"confidence": 3})
    assert shop.owner.refreshed().catalogue.figures.charge_per_hour == 11_000
