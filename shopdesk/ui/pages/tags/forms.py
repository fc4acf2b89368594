"""The small forms of a tag: counted back, moved, not going back, went out with a piece, counted in again."""

from collections.abc import Sequence

from shopdesk.services.tag_places import PieceOut
from shopdesk.services.tags import TagRow
from shopdesk.ui.pages.tags.shown import piece_words
from shopdesk.ui.tag_form import usual_places
from shopdesk.ui.widgets.fields import ChoiceField, CountField, TextField
from shopdesk.ui.widgets.small_form import Close, Save, SmallForm
from shopdesk.ui.widgets.tapped import Tapped
from shopdesk.wording import say


def back_form(tag: TagRow, save: Save, close: Close) -> SmallForm:
    """The count is typed or touched, never filled in beforehand."""
    deed = SmallForm(say("It is back"), say("Put it back"), save, close)
    count = CountField(0, 9999)
    all_of_it = say("all {count}", count=tag.how_many)
    field = Tapped(count, [all_of_it], lambda _word: count.setValue(tag.how_many))
    deed.form.add("how_many", say("Counted, piece by piece"), field,
                  note=say("The tag says {count} × {what}.", count=tag.how_many, what=tag.what))  # fmt: skip
    return deed.ready()


def move_form(known: Sequence[str], tag: TagRow, save: Save, close: Close) -> SmallForm:
    deed = SmallForm(say("Moved"), say("It lies there now"), save, close)
    places = [p for p in dict.fromkeys((*known, *usual_places())) if p != tag.lies_at][:6]
    deed.form.add("to", say("Lies now at"), Tapped(TextField(), places))
    return deed.ready()


def not_back_form(tag: TagRow, save: Save, close: Close) -> SmallForm:
    deed = SmallForm(say("Not going back"), say("It does not go back"), save, close)
    reasons = [say("replaced by a new part"), say("replaced from a donor"), say("scrapped"),
               say("given to the customer")]  # fmt: skip
    deed.form.add("because", say("What became of {what}", what=tag.what), Tapped(TextField(), reasons))
    return deed.ready()


def again_form(known: Sequence[str], save: Save, close: Close) -> SmallForm:
    deed = SmallForm(say("Off again"), say("It is off again"), save, close)
    places = list(dict.fromkeys((*known, *usual_places())))[:6]
    deed.form.add(
        "lies_at", say("Lies now at"), Tapped(TextField(), places),
        note=say("A release given before lapses."),
    )  # fmt: skip
    return deed.ready()


def sent_form(pieces: Sequence[PieceOut], tag: TagRow, save: Save, close: Close) -> SmallForm:
    deed = SmallForm(say("Went out"), say("It went out with it"), save, close)
    field = deed.form.add(
        "piece_id", say("{count} × {what} went out with", count=tag.how_many, what=tag.what),
        ChoiceField([(piece.piece_id, piece_words(piece)) for piece in pieces]),
        note=say("Count it against the consignment before it leaves the door."),
    )  # fmt: skip
    field.setValue(pieces[0].piece_id)
    return deed.ready()


def returned_form(piece: PieceOut, save: Save, close: Close) -> SmallForm:
    """What came back of a piece; what its tags name is counted, not believed."""
    deed = SmallForm(say("Count it back from {firm}", firm=piece.firm), say("Take it back"), save, close)
    count = CountField(0, piece.count_out)
    all_of_it = say("all {count}", count=piece.count_out)
    field = Tapped(count, [all_of_it], lambda _word: count.setValue(piece.count_out))
    deed.form.add(
        "count", say("How many came back"), field,
        note=say("{name} was sent as {count}; tags name {tagged}.", name=piece.name, count=piece.count_out,
                 tagged=piece.tagged),
    )  # fmt: skip
    looked = [(True, say("accepted")), (False, say("rejected, to be done again"))]
    deed.form.add("accepted", say("Looked over and"), ChoiceField(looked)).setValue(True)
    return deed.ready()
