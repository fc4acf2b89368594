"""Hours that learn: what the shop's own work says about the catalogue's hours, to be taken or left."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from shopdesk.services import learning
from shopdesk.services.learning import OwnHours, PersonPace, Proposal
from shopdesk.ui.pages.set_up.hours_words import own_strips, pace_words, proposal_sentence, proposal_strips
from shopdesk.ui.pages.set_up.section import SetUpSection
from shopdesk.ui.widgets.boxes import Part
from shopdesk.ui.widgets.buttons import Button, MainButton
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.ui.widgets.strip_list import StripList
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import say

if TYPE_CHECKING:
    from shopdesk.services.seat import Seat


@dataclass(frozen=True, slots=True)
class _Found:
    proposals: list[Proposal]
    own: list[OwnHours]
    people: list[PersonPace]


class HoursSection(SetUpSection):
    """Both hours stay: the shipped ones can be had back at any time."""

    key = "hours"

    def __init__(self, page: Any) -> None:
        self.title = say("Catalogue: hours that learn")
        self._found = _Found([], [], [])
        super().__init__(page)

    def build(self) -> list[Part]:
        intro = say(
            "When tasks of a kind were done often enough, their clocked hours speak. What they say is "
            "proposed here; nothing changes before you take it."
        )
        self.proposals = StripList(
            say("Proposed hours"), most=6,
            empty=say("Proposals will stand here when three jobs or more disagree with the catalogue."),
        )  # fmt: skip
        self.sentence = Words()
        self.take_button = MainButton(say("Take it"), self.take, icon_name="tick")
        self.leave_button = Button(say("Leave it as it is"), self.leave)
        self.own = StripList(
            say("The shop’s own hours"), most=6,
            empty=say("Hours you took will stand here, with the catalogue’s."),
        )  # fmt: skip
        self.back_button = Button(say("Back to the catalogue’s hours"), self.back, icon_name="undo")
        self.pace_title, self.pace = Heading(say("Pace of each person")), Words()
        self.proposals.chosen.connect(lambda _key: self._tell())
        self.own.chosen.connect(lambda _key: self._tell())
        return [
            Words(intro, "body", "muted"), Heading(say("Proposed")), self.proposals, self.sentence,
            WrappedRow([self.take_button, self.leave_button]), Heading(say("Your own hours")), self.own,
            WrappedRow([self.back_button]), self.pace_title, self.pace,
        ]  # fmt: skip

    def ask(self) -> None:
        def question(seat: "Seat") -> _Found:
            return _Found(learning.proposals(seat), learning.own_hours(seat), learning.people_pace(seat))

        self.page.ask(question, self._show, key=self.key)

    def focusFirst(self) -> None:
        self.proposals.focusFirst()

    def take(self) -> None:
        """The proposed hours become the shop's own."""
        self._decide(learning.take_proposal, lambda name: say("{name}: your hours now.", name=name))

    def leave(self) -> None:
        """The hours stay; it does not come again before more jobs were done."""
        self._decide(learning.leave_proposal, lambda name: say("{name}: left as it is.", name=name))

    def back(self) -> None:
        code = self.own.current_key()
        if code is not None:
            self.page.do(lambda seat: learning.back_to_shipped(seat, str(code)), None,
                         changes=("settings", "catalogue"))  # fmt: skip

    def _decide(self, act: Callable[["Seat", str], None], told: Callable[[str], str]) -> None:
        chosen = self._chosen()
        if chosen is None:
            return
        self.page.do(
            lambda seat: act(seat, chosen.task_code),
            lambda _none: self.context.tell(told(chosen.name)),
            changes=("settings", "catalogue"),
        )

    def _show(self, found: _Found) -> None:
        self._found = found
        region = self.context.region
        self.proposals.show_rows(proposal_strips(region, found.proposals))
        if found.proposals and self.proposals.current_key() is None:
            self.proposals.select(found.proposals[0].task_code)
        self.own.show_rows(own_strips(region, found.own))
        words = pace_words(region, found.people)
        self.pace.setText(words)
        for widget in (self.pace_title, self.pace):
            widget.setVisible(bool(words))
        self._tell()

    def _chosen(self) -> Proposal | None:
        code = self.proposals.current_key()
        return next((p for p in self._found.proposals if p.task_code == code), None)

    def _tell(self) -> None:
        chosen = self._chosen()
        self.sentence.setText(proposal_sentence(self.context.region, chosen) if chosen else "")
        for widget in (self.sentence, self.take_button, self.leave_button):
            widget.setVisible(chosen is not None)
        self.back_button.setVisible(self.own.current_key() is not None)
