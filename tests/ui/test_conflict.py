"""Two people at one record: nothing is overwritten unseen, both texts are shown, the choice is saved."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from conftest import CannedDialogs  # type: ignore[import-not-found]
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot
from walk_shop import a_walk

from shopdesk.domain.answers import Answer
from shopdesk.domain.catalogue.model import Evidence
from shopdesk.services import people, walks
from shopdesk.services.people import PartyDraft
from shopdesk.services.seat import Seat
from shopdesk.services.settings import Terms
from shopdesk.services.shops import keep_setting, setting
from shopdesk.ui.both_words import both_texts
from shopdesk.ui.conflict_pane import DRAFTS, ConflictPane, KeptTextPane
from shopdesk.ui.context import Conflict, Context
from shopdesk.ui.pages.counter.page import CounterPage
from shopdesk.ui.pages.set_up.page import SetUpPage
from shopdesk.ui.pages.walk_round.keeping import Keeper

Settled = Callable[[], None]
HERS = PartyDraft(name="Hesper Dunmarrow", phone="555 0300", town="Quarrel Bend")


class Counter:
    """The counter with a customer open, and what the workspace does when two texts meet."""

    def __init__(self, page: CounterPage, context: Context, settled: Settled) -> None:
        self.page, self.context, self.settled = page, context, settled
        self.pane: ConflictPane | None = None
        context.conflicted.connect(self._show)

    def _show(self, conflict: Conflict) -> None:
        self.pane = ConflictPane(self.context, conflict, self.page)

    def type(self, **texts: str) -> None:
        form = self.page.customers.form
        assert form is not None
        for name, text in texts.items():
            form[name].setTyped(text)
            form[name].edited.emit()

    def save(self) -> None:
        assert self.page.customers.form is not None
        self.page.customers.form.submit()
        self.settled()


@pytest.fixture
def counter(seat: Seat, context: Context, settled: Settled, qtbot: QtBot) -> Counter:
    people.keep_party(seat, PartyDraft(name="Hesper Dunmarrow", phone="555 0114", town="Ferrow"))
    page = CounterPage(context)
    qtbot.addWidget(page)
    context.changed.connect(page.refresh)
    page.resize(1200, 900)
    with qtbot.waitActive(page):
        page.show()
        page.activateWindow()
    page.refresh(CounterPage.everything)
    page.tabs.setCurrentWidget(page.customers)
    settled()
    page.customers.choose(1)
    settled()
    return Counter(page, context, settled)


def test_two_texts_are_shown_and_the_choice_is_saved_by_keyboard(
    counter: Counter, seat: Seat, qtbot: QtBot
) -> None:
    counter.type(phone="555 0200")
    people.keep_party(seat, HERS, 1)  # another seat, meanwhile
    counter.save()
    assert people.party_draft(seat, 1) == HERS
    pane = counter.pane
    assert pane is not None
    assert [(c.texts.label, c.texts.theirs, c.texts.mine, c.is_theirs) for c in pane.choices] == [
        ("Telephone", "555 0300", "555 0200", False),
        ("Town", "Quarrel Bend", "Ferrow", True),  # only she changed it
    ]
    assert pane.choices[0].mine.radio.hasFocus()
    qtbot.keyClick(pane.choices[0].mine.radio, Qt.Key.Key_Left)
    assert pane.choices[0].is_theirs
    qtbot.keyClick(pane.choices[0].theirs.radio, Qt.Key.Key_Right)
    qtbot.keyClick(pane.choices[0].mine.radio, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    counter.settled()
    kept = people.party_draft(seat, 1)
    assert (kept.phone, kept.town) == ("555 0200", "Quarrel Bend")
    form = counter.page.customers.form
    assert form is not None
    assert form["town"].text() == "Quarrel Bend"  # the form shows what stands, so that it may be saved again
    assert not counter.context.drafts.names(DRAFTS)
    pane.hide()
    counter.type(street="4 Kiln Row")
    counter.save()
    assert people.party_draft(seat, 1).town == "Quarrel Bend"
    assert people.party_draft(seat, 1).street == "4 Kiln Row"


def test_what_was_typed_outlives_leaving_and_is_offered_again(
    counter: Counter, seat: Seat, qtbot: QtBot, dialogs: CannedDialogs
) -> None:
    counter.type(phone="555 0200")
    people.keep_party(seat, HERS, 1)
    counter.save()
    assert counter.pane is not None
    with qtbot.waitSignal(counter.context.told) as told:
        qtbot.keyClick(counter.pane, Qt.Key.Key_Escape)
    form = counter.page.customers.form
    assert form is not None
    assert form["phone"].text() == "555 0200"
    assert people.party_draft(seat, 1) == HERS
    told.args[0].step()  # the strip's "Show both texts"
    assert counter.pane.choices[0].texts.mine == "555 0200"
    (name,) = counter.context.drafts.names(DRAFTS)
    kept = KeptTextPane(counter.context, name, counter.page)
    kept.buttons[1].click()
    assert not counter.context.drafts.names(DRAFTS)


def test_one_set_up_does_not_undo_another(
    seat: Seat, context: Context, settled: Settled, qtbot: QtBot
) -> None:
    page = SetUpPage(context)
    qtbot.addWidget(page)
    context.changed.connect(page.refresh)
    page.show()
    page.refresh(SetUpPage.everything)
    page.open_on(section="terms")
    settled()
    section = page.section("terms")
    section.form["payment_days"].setTyped(30)
    section.form["payment_days"].edited.emit()
    keep_setting(seat, Terms(payment_days=21, warranty_days=365))
    with qtbot.waitSignal(context.conflicted) as signal:
        section.form.submit()
    conflict: Conflict = signal.args[0]
    texts = both_texts(context.region, conflict.changed, conflict.labels)
    assert [(t.label, t.theirs, t.mine, t.take_theirs) for t in texts] == [
        ("Invoices are due after, days", "21", "30", False),
        ("Warranty, days", "365", "90", True),
    ]
    conflict.answer(frozenset((t.key, t.path) for t in texts if t.take_theirs))
    settled()
    kept = setting(seat, Terms)
    assert (kept.payment_days, kept.warranty_days) == (30, 365)


def test_a_note_on_a_walk_round_is_not_overwritten_and_the_walk_goes_on_after_the_choice(
    seat: Seat, context: Context, settled: Settled, qtbot: QtBot
) -> None:
    view = a_walk(seat)
    code = next(iter(seat.catalogue.checkpoints))
    sound = Answer(checkpoint=code, finding=None, evidence=Evidence.SEEN)
    walks.answer(seat, view.id, sound)
    keeper = Keeper(context, context)
    keeper.read = seat.file.seen()
    walks.answer(seat, view.id, replace(sound, note="crazed at the back"))  # another seat
    with qtbot.waitSignal(context.conflicted) as signal:
        keeper.do(view, lambda s: walks.answer(s, view.id, replace(sound, note="a chip")))
    conflict: Conflict = signal.args[0]
    assert [(d.path, d.theirs, d.mine) for d in conflict.changed.differences] == [
        (("note",), "crazed at the back", "a chip")
    ]
    conflict.answer(frozenset())
    settled()
    keeper.do(view, lambda s: walks.answer(s, view.id, replace(sound, note="a chip, and crazed")))
    settled()
    (given,) = walks.walk_view(seat, view.id).given
    assert given.answer.note == "a chip, and crazed"
