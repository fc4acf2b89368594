"""What is done with a tag: each opens a small form beside it, or acts at once. Belongs to one page."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TypeVar

from shopdesk.domain.problem import Problem
from shopdesk.services import outwork, tag_counts, tag_pictures, tag_places, tags
from shopdesk.services.tag_places import PieceOut, TagOrigin
from shopdesk.services.tags import TagRow
from shopdesk.ui.dialogs import PICTURES
from shopdesk.ui.pages.tags import forms
from shopdesk.ui.tag_form import TagForm, draft_of, parts_of, show_labels
from shopdesk.ui.widgets.photo_strip import Brought, read_picture
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat
    from shopdesk.ui.pages.tags.page import TagsPage
    from shopdesk.ui.pages.tags.side import TagSide

T = TypeVar("T")
Act = Callable[["Seat", dict[str, Any]], object]


class TagDeeds:
    """A form closes when it is saved, or when another tag is chosen."""

    def __init__(self, page: "TagsPage") -> None:
        self._page = page
        self._of: int | None = None
        self.waiting = False  # for what a form asks of the shop

    def follow(self, tag: TagRow | None) -> None:
        key = tag.id if tag else None
        if key != self._of and self._side.form is not None:
            self._side.close_form()
        self._of = key

    def back(self) -> None:
        tag = self._standing("out")
        if tag is None:
            return
        told = say("{tag} is back on {number}.", tag=tag.number, number=tag.range_number)
        if tag.how_many == 1:
            self._do(tag, lambda seat: tags.put_back(seat, tag.id, 1), told)
            return
        self._open(tag, lambda save, close: forms.back_form(tag, save, close),
                   lambda seat, v: tags.put_back(seat, tag.id, v["how_many"]), told)  # fmt: skip

    def move(self) -> None:
        tag, places = self._standing("out"), self._page.places
        if tag is not None:
            self._open(tag, lambda save, close: forms.move_form(places, tag, save, close),
                       lambda seat, v: tags.move_tag(seat, tag.id, v["to"]))  # fmt: skip

    def not_back(self) -> None:
        tag = self._standing("out")
        if tag is not None:
            self._open(tag, lambda save, close: forms.not_back_form(tag, save, close),
                       lambda seat, v: tags.not_put_back(seat, tag.id, v["because"]))  # fmt: skip

    def again(self) -> None:
        tag, places = self._standing("back", "not back"), self._page.places
        if tag is not None:
            self._open(tag, lambda save, close: forms.again_form(places, save, close),
                       lambda seat, v: tags.take_off_again(seat, tag.id, v["lies_at"]))  # fmt: skip

    def sent(self) -> None:
        """Counted out with a piece that another trade has."""
        tag = self._standing("out")
        if tag is None:
            return

        def show(pieces: list[PieceOut]) -> None:
            if not pieces:
                self._page.context.tell_problem(
                    say("Nothing of {number} is with another trade. Send it out at Stores, under Outwork.",
                        number=tag.range_number)
                )  # fmt: skip
                return
            self._open(tag, lambda save, close: forms.sent_form(pieces, tag, save, close),
                       lambda seat, v: tag_counts.send_tagged(seat, tag.id, v["piece_id"]),
                       say("{tag} is counted out.", tag=tag.number))  # fmt: skip

        self._ask(lambda seat: tag_places.pieces_out(seat, tag.job_id), show)

    def returned(self) -> None:
        """Counted back from another trade, with the whole of its piece."""
        tag = self._standing("sent")
        if tag is None:
            return

        def question(seat: "Seat") -> PieceOut | None:
            key = tag_places.tag_origin(seat, tag.id).piece_id
            return next((p for p in tag_places.pieces_out(seat, tag.job_id) if p.piece_id == key), None)

        def show(piece: PieceOut | None) -> None:
            if piece is None:
                return
            self._open(
                tag, lambda save, close: forms.returned_form(piece, save, close),
                lambda seat, v: outwork.take_back(seat, piece.piece_id, v["count"], accepted=v["accepted"]),
                say("{name} is counted back.", name=piece.name),
            )  # fmt: skip

        self._ask(question, show)

    def correct(self) -> None:
        tag = self._standing("out")
        if tag is None:
            return

        def show(origin: TagOrigin) -> None:
            def make(save: Any, close: Any) -> SmallForm:
                form = TagForm(say("Correct it"), say("Keep it so"), parts_of(origin.build),
                               self._page.places, save, close, labels=False)  # fmt: skip
                form.show_tag(tag, origin.goes_back, origin.goes_back_words)
                form.form.read_from(self._page.context.reading)
                return form

            self._open(tag, make, lambda seat, v: tags.change_tag(seat, tag.id, draft_of(v, tag.task_id)))

        self._ask(lambda seat: tag_places.tag_origin(seat, tag.id), show)

    def label(self) -> None:
        tag = self._page.current()
        if tag is not None:
            show_labels(self._page.context, [tag])

    def labels(self) -> None:
        """The labels of all that is shown and off its range."""
        out = [tag for tag in self._page.shown if tag.back_at is None]
        if out:
            show_labels(self._page.context, out)

    def photograph(self) -> None:
        if self._page.current() is not None:
            files = self._page.context.dialogs.open_files(
                say("Photograph to the tag"), say("Pictures"), PICTURES
            )
            self.keep_pictures([Brought(path.name, path) for path in files])

    def keep_pictures(self, pictures: list[Brought]) -> None:
        tag = self._page.current()
        if tag is None or not pictures:
            return

        def act(seat: "Seat") -> None:
            for picture in pictures:
                tag_pictures.photograph_tag(seat, tag.id, read_picture(picture), picture.name)

        self._do(tag, act)

    def jacket(self) -> None:
        tag = self._page.current()
        if tag is not None:
            self._page.ask(lambda seat: tag_places.tag_origin(seat, tag.id).range_id,
                           self._page.context.open_jacket)  # fmt: skip

    # Inside

    def _ask(self, question: Callable[["Seat"], T], show: Callable[[T], None]) -> None:
        """Until the form is there no key is a deed: what is typed meanwhile was meant for it."""
        self.waiting = True

        def answered(answer: T) -> None:
            self.waiting = False
            show(answer)

        def refused(problem: Problem) -> None:
            self.waiting = False
            self._side.show_problem(problem)

        self._page.ask(question, answered, refused)

    @property
    def _side(self) -> "TagSide":
        return self._page.side

    def _standing(self, *words: str) -> TagRow | None:
        """The current tag if it stands so, else None."""
        tag = self._page.current()
        return tag if tag is not None and tag.standing in words else None

    def _open(self, tag: TagRow, make: Callable[[Any, Any], SmallForm], act: Act, told: str = "") -> None:
        current = self._page.current()
        if current is None or current.id != tag.id:
            return

        def save(values: dict[str, Any]) -> None:
            self._do(tag, lambda seat: act(seat, values), told)

        self._side.open_form(make(save, self._page.close_form))

    def _do(self, tag: TagRow, act: Callable[["Seat"], object], told: str = "") -> None:
        def stands(_result: object) -> None:
            self._page.close_form()
            if told:
                self._page.context.tell(told)

        form = self._side.form.form if self._side.form is not None else None
        self._page.do(act, stands, self._side.show_problem, form=form,
                      changes=("tags", "jobs", f"job {tag.job_id}", "stores", "ranges"))  # fmt: skip
