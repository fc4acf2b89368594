"""What befalls pieces that are out: sent again, lost, billed, photographed."""

from typing import TYPE_CHECKING, Any

from shopdesk.services import outwork_back
from shopdesk.services.outwork import ConsignmentRow, PieceRow
from shopdesk.ui.widgets.fields import CountField, DayField, MoneyField, TextField
from shopdesk.ui.widgets.photo_strip import Brought, Photo
from shopdesk.ui.widgets.small_form import SmallForm
from shopdesk.wording import Region, say

if TYPE_CHECKING:
    from shopdesk.ui.pages.stores.outwork import OutworkSection


class OutworkWays:
    """The forms of these ways, opened beside the list of pieces for its current row."""

    def __init__(self, section: "OutworkSection") -> None:
        self._section = section

    def send_again(self) -> None:
        piece, _sent = self._current()
        if piece is None or piece.accepted != "rejected":
            return

        def keep(values: dict[str, Any]) -> None:
            self._section.save(
                lambda seat: outwork_back.send_again(
                    seat, piece.id, expected_on=values["expected_on"], note=values["note"]
                ),
                say("{name} went out again.", name=piece.name),
            )

        form = self._form(say("Send {name} again", name=piece.name), say("It went out"), keep)
        form.form.add("expected_on", say("Expected back"), DayField(self._region))
        form.form.add("note", say("What is to be done again"), TextField())
        self._section.side.open_form(form.ready())

    def lose(self) -> None:
        piece, _sent = self._current()
        if piece is None or not (piece.out or piece.rejected):
            return

        def keep(values: dict[str, Any]) -> None:
            self._section.save(
                lambda seat: outwork_back.lose(
                    seat, piece.id, values["count"], values["because"], cents=values["cents"]
                ),
                say("{count} of {name} written off.", count=values["count"], name=piece.name),
            )

        form = self._form(say("{name} is lost", name=piece.name), say("Write it off"), keep)
        count = form.form.add("count", say("How many"), CountField(1, piece.out + piece.rejected))
        count.setValue(max(1, piece.out))
        form.form.add("because", say("What became of it"), TextField(),
                      required=say("Say what became of it."))  # fmt: skip
        form.form.add("cents", say("Worth, all of it"), MoneyField(self._region),
                      note=say("Empty: its share of what it was insured for."))  # fmt: skip
        self._section.side.open_form(form.ready())

    def bill(self) -> None:
        _piece, sent = self._current()
        if sent is None or sent.bill_cents is not None:
            return

        def keep(values: dict[str, Any]) -> None:
            self._section.save(
                lambda seat: outwork_back.take_bill(seat, sent.id, values["number"], values["cents"] or 0),
                say("The bill of {firm} for {number} is in.", firm=sent.firm, number=sent.number),
            )

        form = self._form(say("Bill for {number}", number=sent.number), say("Take it in"), keep)
        form.form.add("number", say("Number of the bill"), TextField(),
                      required=say("Write the number of the bill."))  # fmt: skip
        cents = form.form.add("cents", say("Its total"), MoneyField(self._region),
                              note=say("Shared over the pieces by what was agreed."))  # fmt: skip
        cents.setValue(sum(piece.cost_cents for piece in sent.pieces))
        self._section.side.open_form(form.ready())

    def keep_pictures(self, pictures: list[Brought]) -> None:
        piece, _sent = self._current()
        if piece is None:
            return

        def keep(seat: Any) -> None:
            for picture in pictures:
                outwork_back.photograph_piece(seat, piece.id, picture.read(), picture.name)

        self._section.page.do(
            keep, lambda _none: self.show_pictures(piece.id), self._section.side.show_problem,
            changes=("stores",),
        )  # fmt: skip

    def show_pictures(self, piece_id: int) -> None:
        """The pictures of a piece, once they came."""
        self._section.page.ask(
            lambda seat: [Photo(*found) for found in outwork_back.piece_pictures(seat, piece_id)],
            self._section.photos.show_photos, key="piece pictures",
        )  # fmt: skip

    @property
    def _region(self) -> Region:
        return self._section.context.region

    def _current(self) -> tuple[PieceRow | None, ConsignmentRow | None]:
        row = self._section.list.current()
        return (row.piece, row.sent) if row is not None else (None, None)

    def _form(self, title: str, deed: str, keep: Any) -> SmallForm:
        return SmallForm(title, deed, keep, self._section.close_form)
