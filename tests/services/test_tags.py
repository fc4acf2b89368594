"""What came off: tagged, moved, counted out and back, put back before anything is called ready."""

import io

import pypdf
import pytest
from builders import a_firm, agreed, owned, released, stage_of, task_of

from shopdesk.demo.drawn_pictures import picture
from shopdesk.domain.problem import NotAllowed, Problem
from shopdesk.domain.stage import Stage
from shopdesk.services import handovers, intake, outwork, proofs, reports, tag_counts, tag_pictures, tags
from shopdesk.services.jacket import jacket
from shopdesk.services.papers.keeping import paper_bytes
from shopdesk.services.tags import TagDraft
from shopdesk.services.work_orders import task_lines

SCREWS = TagDraft(what="oven-door screws", how_many=8, goes_back="oven-door", lies_at="tin 4")


def numbers(shop, **which):
    return [row.number for row in tags.tags(shop.desk, **which)]


def test_what_comes_off_gets_a_number_and_is_found_by_it_and_by_its_code(shop):
    taken = agreed(shop)
    strip = task_of(shop.owner, taken.job_id, "strip-loose-parts")
    tags.tag_off(shop.technician, taken.job_id, SCREWS)
    six = TagDraft(
        what="knobs", how_many=6, goes_back="knobs", goes_back_words="left to right", task_id=strip.id
    )
    key = tags.tag_off(shop.technician, taken.job_id, six)
    row = tags.find_tag(shop.desk, "shopdesk:tag/B-0002")
    assert (row.id, row.number, row.qr) == (key, "B-0002", "shopdesk:tag/B-0002")
    assert (row.what, row.how_many, row.task) == ("knobs", 6, strip.name)
    assert row.goes_back == "Handles of the valves, left to right"
    assert (row.taken_off_by, row.standing) == ("Bram Tollgate", "out")
    assert tags.find_tag(shop.desk, " b-0001 ").lies_at == "tin 4"
    with pytest.raises(Problem, match="no tag B-0099"):
        tags.find_tag(shop.desk, "B-0099")


@pytest.mark.parametrize(
    ("draft", "said"),
    [
        (TagDraft(what=" ", goes_back="oven"), "Say what came off"),
        (TagDraft(what="screws", how_many=0, goes_back="oven"), "Count what came off"),
        (TagDraft(what="screws", goes_back="left-wing"), "no part of the drawing"),
        (TagDraft(what="screws"), "where it goes back"),
    ],
)
def test_a_tag_that_says_too_little_is_refused(shop, draft, said):
    taken = agreed(shop)
    with pytest.raises(Problem, match=said):
        tags.tag_off(shop.technician, taken.job_id, draft)
    assert numbers(shop) == []


def test_a_tag_names_a_task_of_its_own_range(shop):
    one, other = agreed(shop), owned(shop)
    task = task_of(shop.owner, other.job_id, "strip-loose-parts")
    draft = TagDraft(what="grates", goes_back="grates", task_id=task.id)
    with pytest.raises(Problem, match="not on the work order of R-0001"):
        tags.tag_off(shop.technician, one.job_id, draft)


def test_the_desk_may_move_a_tag_but_takes_nothing_off(shop):
    taken = agreed(shop)
    with pytest.raises(NotAllowed):
        tags.tag_off(shop.desk, taken.job_id, SCREWS)
    key = tags.tag_off(shop.technician, taken.job_id, SCREWS)
    tags.move_tag(shop.desk, key, "shelf A1")
    assert tags.find_tag(shop.desk, "B-0001").lies_at == "shelf A1"
    with pytest.raises(Problem, match="where it lies"):
        tags.move_tag(shop.desk, key, " ")


def test_it_is_put_back_only_when_all_of_it_was_counted(shop):
    taken = agreed(shop)
    key = tags.tag_off(shop.technician, taken.job_id, SCREWS)
    with pytest.raises(Problem, match="8 × oven-door screws; 7 were counted"):
        tags.put_back(shop.technician, key, 7)
    tags.put_back(shop.technician, key, 8)
    row = tags.find_tag(shop.desk, "B-0001")
    assert (row.standing, row.back_by) == ("back", "Bram Tollgate")
    assert numbers(shop, out_only=True) == []
    with pytest.raises(Problem, match="back already"):
        tags.put_back(shop.technician, key, 8)
    tags.take_off_again(shop.technician, key)
    assert numbers(shop, out_only=True) == ["B-0001"]


def test_what_never_goes_back_says_what_became_of_it(shop):
    taken = agreed(shop)
    key = tags.tag_off(shop.technician, taken.job_id, SCREWS)
    with pytest.raises(Problem, match="what became of it"):
        tags.not_put_back(shop.technician, key, "")
    tags.not_put_back(shop.technician, key, "replaced by new ones")
    row = tags.find_tag(shop.desk, "B-0001")
    assert (row.standing, row.not_back_because) == ("not back", "replaced by new ones")


def test_nothing_is_released_while_a_tag_is_out_and_the_sentence_names_it(shop):
    taken = released(shop)
    assert stage_of(shop.desk, taken) is Stage.READY
    key = tags.tag_off(shop.technician, taken.job_id, SCREWS)
    assert stage_of(shop.desk, taken) is Stage.PROVING
    held = jacket(shop.desk, taken.range_id).held
    assert ("part", "B-0001 oven-door screws") in [(h.hold.value, h.what) for h in held]
    assert not proofs.release_state(shop.owner, taken.job_id).given  # taking something off ends it
    with pytest.raises(Problem, match=r"not whole: B-0001 \(oven-door screws\) still out"):
        proofs.release(shop.owner, taken.job_id)
    tags.put_back(shop.technician, key, 8)
    proofs.release(shop.owner, taken.job_id)
    assert stage_of(shop.desk, taken) is Stage.READY


def test_a_range_leaves_with_a_tag_out_only_disconnected_and_red_tagged(shop):
    taken = released(shop)
    tags.tag_off(shop.technician, taken.job_id, SCREWS)
    with pytest.raises(Problem, match="no release that stands"):
        handovers.hand_over(shop.desk, taken.job_id)
    handovers.hand_over(shop.desk, taken.job_id, red_tagged=True)
    with pytest.raises(Problem, match="not in the shop"):
        tags.tag_off(shop.technician, taken.job_id, SCREWS)


def sent_pieces(shop, taken, count=2):
    patch = task_of(shop.owner, taken.job_id, "weld-patch")
    firm = a_firm(shop.desk, "Arcady Welding", trade="welder")
    piece = outwork.PieceDraft(task_id=patch.id, name="griddle plate", count=count)
    sent = outwork.send_out(shop.technician, firm, [piece])
    return sent, outwork.consignments(shop.desk)[0].pieces[0].id


def counts(shop, sent):
    (row,) = tag_counts.piece_counts(shop.desk, sent)
    return row.tags, row.tagged, row.count_out, row.count_back, row.standing


def test_tags_are_counted_against_the_consignment_they_leave_with_and_come_back_with(shop):
    taken = agreed(shop, "top-enamel.rusted-through")
    sent, piece = sent_pieces(shop, taken)
    assert counts(shop, sent) == ((), 0, 2, 0, "untagged")
    one = tags.tag_off(shop.technician, taken.job_id, TagDraft(what="left plate", goes_back="griddle"))
    two = tags.tag_off(shop.technician, taken.job_id, TagDraft(what="right plate", goes_back="griddle"))
    more = tags.tag_off(shop.technician, taken.job_id, TagDraft(what="tray", goes_back="broiler"))
    tag_counts.send_tagged(shop.technician, one, piece)
    assert counts(shop, sent)[-1] == "short of tags"
    tag_counts.send_tagged(shop.technician, two, piece)
    assert counts(shop, sent) == (("B-0001", "B-0002"), 2, 2, 0, "out")
    with pytest.raises(Problem, match="tags would name 3"):
        tag_counts.send_tagged(shop.technician, more, piece)
    assert tags.find_tag(shop.desk, "B-0001").lies_at == "with Arcady Welding (K-0001)"
    with pytest.raises(Problem, match=r"with Arcady Welding \(K-0001\). Count it back"):
        tags.put_back(shop.technician, one, 1)
    outwork.take_back(shop.technician, piece, 1)
    assert counts(shop, sent)[-1] == "missing"
    outwork.take_back(shop.technician, piece, 2)
    assert counts(shop, sent)[-1] == "whole"
    tags.put_back(shop.technician, one, 1)


def test_a_tag_of_another_range_does_not_leave_with_a_piece(shop):
    taken, other = agreed(shop, "top-enamel.rusted-through"), owned(shop)
    _, piece = sent_pieces(shop, taken)
    stranger = tags.tag_off(shop.technician, other.job_id, SCREWS)
    with pytest.raises(Problem, match="another range"):
        tag_counts.send_tagged(shop.technician, stranger, piece)


def test_pictures_of_taking_apart_play_backwards_beside_the_task_that_puts_together(shop):
    taken = agreed(shop)
    strip = task_of(shop.owner, taken.job_id, "strip-loose-parts")
    key = tags.tag_off(
        shop.technician, taken.job_id, TagDraft(what="grates", goes_back="grates", task_id=strip.id)
    )
    shots = [picture(kind, 3) for kind in ("cord", "valve", "rust")]
    first = tag_pictures.photograph_tag(shop.technician, key, shots[0].data, "one.jpg")
    second = tag_pictures.photograph_tag(shop.technician, key, shots[1].data, "two.jpg", caption="stack")
    intake.attach_photograph(shop.technician, taken.range_id, shots[2])  # of the range, of no task
    refit = next(t for t in task_lines(shop.owner, taken.job_id) if t.stage == "refit")
    played = tag_pictures.teardown_pictures(shop.technician, refit.id)
    assert [(p.photograph_id, p.of, p.caption) for p in played] == [
        (second, "B-0001", "stack"),
        (first, "B-0001", "grates"),
    ]
    assert [p.photograph_id for p in tag_pictures.tag_pictures(shop.technician, key)] == [first, second]
    assert tags.find_tag(shop.desk, "B-0001").pictures == 2


def test_the_traveller_lists_what_is_out(shop):
    taken = agreed(shop)
    strip = task_of(shop.owner, taken.job_id, "strip-loose-parts")
    tags.tag_off(shop.technician, taken.job_id, SCREWS)
    gone = tags.tag_off(
        shop.technician, taken.job_id, TagDraft(what="bulb clip", goes_back="bulb", task_id=strip.id)
    )
    tags.put_back(shop.technician, gone, 1)
    number = reports.print_traveller(shop.technician, taken.job_id)
    pages = pypdf.PdfReader(io.BytesIO(paper_bytes(shop.desk, number, "traveller"))).pages
    told = " ".join(" ".join(page.extract_text().split()) for page in pages)
    assert "What came off" in told
    assert "B-0001 8 × oven-door screws Oven door tin 4" in told
    assert "bulb clip" not in told
