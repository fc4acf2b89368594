"""The form of a tag: what came off, how many, where it goes back, where it lies; to touch or to type."""

from collections.abc import Sequence
from typing import Any

from shopdesk.domain.build import Build
from shopdesk.drawing import compose, part_name, views
from shopdesk.services.papers.labels import tag_labels
from shopdesk.services.tags import TagDraft, TagRow
from shopdesk.ui.context import Context
from shopdesk.ui.widgets.fields import ChoiceField, CountField, TextField, TickField
from shopdesk.ui.widgets.small_form import Close, Save, SmallForm
from shopdesk.ui.widgets.tapped import Tapped
from shopdesk.wording import say

COUNTS = ("1", "2", "4", "6", "8")


def usual_words() -> tuple[str, ...]:
    """What mostly comes off: common practice, no source."""
    return (say("the part itself"), say("screws"), say("nuts and bolts"), say("clips"), say("springs"))


def usual_places() -> tuple[str, ...]:
    """Where it mostly lies, for a shop that has not named its own places yet."""
    return (say("tray 1"), say("tray 2"), say("bag on the frame"), say("parts shelf"))


class TagForm(SmallForm):
    """`parts` are ids of the drawing with their names; `known` the places where tags lie already."""

    def __init__(
        self, title: str, save_text: str, parts: Sequence[tuple[str, str]], known: Sequence[str],
        save: Save, close: Close, *, labels: bool = True,
    ) -> None:  # fmt: skip
        super().__init__(title, save_text, save, close)
        choices = [("", say("choose a part, or say it in words")), *parts]
        self._names = dict(parts)
        self.part = ChoiceField(choices)
        self.form.add("goes_back", say("Where it goes back"), self.part)
        self.what = TextField()
        self.form.add("what", say("What came off"), Tapped(self.what, usual_words(), self._name_it))
        count = CountField(1, 9999)
        self.form.add("how_many", say("How many"), Tapped(count, COUNTS, lambda n: count.setValue(int(n))))
        places = tuple(dict.fromkeys((*known, *usual_places())))[:6]
        self.form.add("lies_at", say("Where it lies"), Tapped(TextField(), places))
        self.form.add("goes_back_words", say("Where exactly, if it matters"), TextField())
        if labels:
            self.form.add("label", "", TickField(say("Show its label for printing")))
        self.ready()

    def show_tag(self, tag: TagRow, part: str, words: str) -> None:
        """What the tag says now, to be corrected."""
        self.form.show_values(
            {"goes_back": part, "what": tag.what, "how_many": tag.how_many, "lies_at": tag.lies_at,
             "goes_back_words": words}
        )  # fmt: skip

    def _name_it(self, word: str) -> None:
        """A touched word says of which part it is, when the part is chosen."""
        part = self._names.get(self.part.value() or "", "")
        if part and word == usual_words()[0]:
            self.what.setValue(part)
            return
        self.what.setValue(say("{part}, {what}", part=part, what=word) if part else word)


def draft_of(values: dict[str, Any], task_id: int | None) -> TagDraft:
    return TagDraft(
        what=values["what"], how_many=values["how_many"], goes_back=values["goes_back"] or "",
        goes_back_words=values["goes_back_words"], lies_at=values["lies_at"], task_id=task_id,
    )  # fmt: skip


def parts_of(build: Build) -> list[tuple[str, str]]:
    """The parts a range of this build has, with their names, by name."""
    there = {part.id for view in views(build) for part in compose(build, view).parts} - {"room"}
    return sorted(((part, part_name(part)) for part in there), key=lambda named: named[1])


def show_labels(context: Context, tags: Sequence[TagRow]) -> None:
    """The labels of these tags as a paper, to be looked at and printed."""
    keys = [tag.id for tag in tags]
    title = say("Label {number}", number=tags[0].number) if len(tags) == 1 else say("Labels")
    context.ask(lambda seat: tag_labels(seat, keys), lambda pdf: context.show_paper(pdf, title))
