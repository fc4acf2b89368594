"""Beside the list of tags: the chosen one in sentences, its pictures, and what can be done with it."""

from collections.abc import Callable, Mapping

from PySide6.QtWidgets import QSizePolicy, QWidget

from shopdesk.domain.problem import Problem
from shopdesk.services.tag_pictures import TagPicture
from shopdesk.services.tags import TagRow
from shopdesk.ui.dialogs import Dialogs
from shopdesk.ui.pages.tags.shown import story
from shopdesk.ui.widgets.boxes import STRETCH, upright
from shopdesk.ui.widgets.buttons import QuietButton
from shopdesk.ui.widgets.headings import ProblemText, Words
from shopdesk.ui.widgets.large_buttons import ButtonGrid, LargeButton
from shopdesk.ui.widgets.page_scroll import PageScroll
from shopdesk.ui.widgets.photo_strip import Photo, PhotoStrip
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.wording import Region, say, say_problem

Deeds = Mapping[str, Callable[[], object]]


class TagSide(QWidget):
    """One form at a time stands in the place of the buttons."""

    def __init__(self, deeds: Deeds, dialogs: Dialogs, region: Region) -> None:
        super().__init__()
        self._region = region
        self.title = Words("", "title")
        self.words = Words()
        self.problem = ProblemText()
        self.form: SmallForm | None = None
        self._room = upright()
        self.buttons = {
            "back": LargeButton(say("It is back (B)"), deeds["back"], icon_name="tick"),
            "returned": LargeButton(say("Count it back (C)"), deeds["returned"], icon_name="box"),
            "again": LargeButton(say("Off again (O)"), deeds["again"], icon_name="undo"),
            "move": LargeButton(say("Moved (M)"), deeds["move"], icon_name="stores"),
            "sent": LargeButton(say("Went out with (S)"), deeds["sent"], icon_name="outwork"),
            "label": LargeButton(say("Label (L)"), deeds["label"], icon_name="print"),
            "photograph": LargeButton(say("Photograph (P)"), deeds["photograph"], icon_name="photo"),
            "correct": LargeButton(say("Correct it (E)"), deeds["correct"], icon_name="note"),
            "not_back": LargeButton(say("Not going back (X)"), deeds["not_back"], icon_name="remove"),
        }
        self._grid = ButtonGrid(list(self.buttons.values()))
        self.jacket_button = QuietButton(say("Jacket (J)"), deeds["jacket"], icon_name="jacket")
        self.strip = PhotoStrip(dialogs)
        body = upright(
            [self.title, self.words, self.problem, self._grid, self._room, self.jacket_button, self.strip,
             STRETCH],
            gap="small", margin="gap",
        )  # fmt: skip
        self.area = PageScroll(body)
        self.setLayout(upright([self.area]))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.show_tag(None)

    def show_tag(self, tag: TagRow | None) -> None:
        self.area.setVisible(tag is not None)
        if tag is None:
            return
        self.title.setText(say("{number}: {count} × {what}", number=tag.number, count=tag.how_many,
                               what=tag.what))  # fmt: skip
        self.words.setText(story(tag, self._region))
        self.problem.show_text("")
        possible = deeds_of(tag)
        names = {id(button): name for name, button in self.buttons.items()}
        self._grid.offer(lambda button: names[id(button)] in possible)

    def show_pictures(self, pictures: list[TagPicture]) -> None:
        self.strip.show_photos([Photo(p.photograph_id, p.caption, p.thumbnail) for p in pictures])

    def open_form(self, form: SmallForm) -> None:
        self.close_form()
        self.form = form
        self._room.addWidget(form)
        self._grid.hide()
        form.show()
        form.focusFirst()
        self.area.ensureWidgetVisible(form)

    def close_form(self) -> None:
        if self.form is not None:
            self._room.removeWidget(self.form)
            self.form.hide()
            self.form.deleteLater()
            self.form = None
            self._grid.show()

    def show_problem(self, problem: Problem) -> None:
        """In the open form beside its field, else under the sentences."""
        if self.form is not None:
            self.form.form.show_problem(problem)
        else:
            self.problem.show_text(say_problem(problem))


def deeds_of(tag: TagRow) -> frozenset[str]:
    """What can be done with a tag as it stands."""
    if tag.standing == "out":
        return frozenset({"back", "move", "sent", "label", "photograph", "correct", "not_back"})
    if tag.standing == "sent":
        return frozenset({"returned", "label", "photograph"})
    return frozenset({"again", "label", "photograph"})
