"""No thermostat is condemned, quoted or ordered before its card is complete."""

import pytest
from builders import a_firm, agreed, task_of, walked
from builders import a_range as a_range_taken_in

from shopdesk.domain.catalogue.model import Scope
from shopdesk.domain.problem import NotAllowed, Problem
from shopdesk.domain.thermostat_card import FORCED, Points
from shopdesk.services import bench, order_by_hand, outwork, quotes, stores, thermostat_card, work_orders

BAD = "capillary.cut"  # its way is another thermostat
ANSWERS = {
    "hold-flame": "cannot-light", "trouble": "never-off", "dial": "free", "bulb": "in-clips",
    "capillary": "cut", "before-it": "right", FORCED: "passes-and-closes",
}  # fmt: skip


def condemned(shop):
    taken = a_range_taken_in(shop.owner)
    walked(shop.owner, taken.job_id, BAD)
    work_orders.write_order(shop.owner, taken.job_id, Scope.MECHANICAL)
    return taken


def fill_in(shop, job, *, but=()):
    for step, answer in ANSWERS.items():
        if step not in but:
            thermostat_card.answer_card(shop.technician, job, step, answer)


def test_a_quote_is_refused_and_the_sentence_names_the_range_and_what_is_missing(shop):
    taken = condemned(shop)
    with pytest.raises(
        Problem, match=r"R-0001: no thermostat .* before its card is complete.*The forced test"
    ):
        quotes.write_quote(shop.desk, taken.job_id)
    fill_in(shop, taken.job_id, but=(FORCED,))
    with pytest.raises(Problem, match=r"Still missing: The forced test[^?]*$"):
        quotes.write_quote(shop.desk, taken.job_id)
    thermostat_card.answer_card(shop.technician, taken.job_id, FORCED, "passes-and-closes")
    assert quotes.write_quote(shop.desk, taken.job_id)


def test_the_teardown_may_be_quoted_before_it(shop):
    taken = condemned(shop)
    assert quotes.write_quote(shop.desk, taken.job_id, "teardown")


def test_nothing_of_it_is_ordered_or_sent_out(shop):
    taken = condemned(shop)
    need = next(n for n in stores.needs(shop.owner, job_id=taken.job_id) if n.name == "thermostat")
    line = stores.OrderLine(need.name, 1, need.cost_cents, need_id=need.id)
    supplier = a_firm(shop.desk, supplies=True)
    with pytest.raises(Problem, match="before its card is complete"):
        stores.order_parts(shop.desk, supplier, [line])
    task = task_of(shop.owner, taken.job_id, "replace-thermostat")
    with pytest.raises(Problem, match="before its card is complete"):
        outwork.send_out(
            shop.technician,
            a_firm(shop.desk, "Dial Rebuilders"),
            [outwork.PieceDraft(task_id=task.id, name="t")],
        )
    fill_in(shop, taken.job_id)
    assert stores.order_parts(shop.desk, supplier, [line])


def test_the_task_waits_for_it_and_says_so(shop):
    taken = condemned(shop)
    task = next(t for t in bench.job_tasks(shop.technician, taken.job_id) if t.code == "replace-thermostat")
    assert "card" in [wait.kind for wait in task.waits]
    fill_in(shop, taken.job_id)
    task = next(t for t in bench.job_tasks(shop.technician, taken.job_id) if t.code == "replace-thermostat")
    assert "card" not in [wait.kind for wait in task.waits]


def test_it_is_not_put_on_an_order_by_hand_either(shop):
    taken = agreed(shop)
    with pytest.raises(Problem, match="before its card is complete"):
        order_by_hand.add_known_task(shop.owner, taken.job_id, "send-thermostat-out")
    fill_in(shop, taken.job_id)
    order_by_hand.add_known_task(shop.owner, taken.job_id, "send-thermostat-out")


def test_the_hold_flame_is_asked_first_and_answers_are_kept_with_who_gave_them(shop):
    job = agreed(shop).job_id
    with pytest.raises(Problem, match="hold flame comes first"):
        thermostat_card.answer_card(shop.technician, job, "dial", "free")
    thermostat_card.answer_card(shop.technician, job, "hold-flame", "too-high", " whistles ", oven="left")
    view = thermostat_card.card_view(shop.desk, job)
    first = view.steps[0]
    assert (first.answer, first.note, view.oven, view.by) == ("too-high", "whistles", "left", "Bram Tollgate")
    assert len(view.missing) == 6
    assert view.verdict.points is None
    with pytest.raises(NotAllowed):
        thermostat_card.answer_card(shop.desk, job, "dial", "free")


def test_a_complete_card_stays_and_a_later_answer_begins_another(shop):
    job = agreed(shop).job_id
    assert thermostat_card.card_view(shop.desk, job).id is None
    fill_in(shop, job)
    complete = thermostat_card.card_view(shop.desk, job)
    assert complete.complete_at == shop.clock()
    assert complete.verdict.points is Points.THERMOSTAT
    assert complete.points_words
    assert complete.why
    thermostat_card.answer_card(shop.technician, job, "hold-flame", "right")
    newest, before = thermostat_card.cards(shop.desk, job)
    assert before == complete
    assert (newest.steps[0].answer, newest.complete_at) == ("right", None)
    thermostat_card.begin_again(shop.technician, job)
    assert len(thermostat_card.cards(shop.desk, job)) == 2  # one is open already
    with shop.owner.look() as session:
        assert thermostat_card.lacking_words(session, job) == ""  # what was complete stays complete
