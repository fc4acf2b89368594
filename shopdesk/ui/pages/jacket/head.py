"""The head of a jacket: the drawing with its pins, who and what it is, where it stands, what holds it."""

import datetime as dt

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QWidget

from shopdesk.domain.catalogue.model import Catalogue
from shopdesk.domain.rights import Action
from shopdesk.services.jacket import Jacket
from shopdesk.ui.context import Context
from shopdesk.ui.range_picture import RangePicture, wanted_pins
from shopdesk.ui.range_words import held_words, name_of, owner_of, promise_words
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.buttons import QuietButton
from shopdesk.ui.widgets.fields import ChoiceField
from shopdesk.ui.widgets.headings import Heading, Words
from shopdesk.ui.widgets.stage_strip import StageShown, StageStrip
from shopdesk.ui.widgets.wrapped_row import WrappedRow
from shopdesk.wording import Region, say

BESIDE = 58  # letters of width from which the picture stands beside the words


class Head(QWidget):
    """`promiseAsked` opens the form of the promise, `jobAsked` another job of the same range."""

    promiseAsked = Signal()
    jobAsked = Signal(int)

    def __init__(self, context: Context) -> None:
        super().__init__()
        self._context = context
        self.picture = RangePicture()
        self.name = Heading("", "head")
        self.name.setWordWrap(True)
        self.about = Words("", "body", "muted")
        self.customer = Words()
        self.customer.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.complaint = Words("", "body", "muted")
        self.strip = StageStrip()
        self.held = Words("", "body", "hold")
        self.promised = Words()
        self.promised.setWordWrap(False)
        self.promise_button = QuietButton(
            say("Change the promise"), self.promiseAsked.emit, icon_name="calendar"
        )
        self.jobs = ChoiceField()
        self.jobs.setAccessibleName(say("Which job of this range"))
        self.jobs.setMinimumContentsLength(24)
        self.jobs.edited.connect(lambda: self.jobAsked.emit(self.jobs.value()))
        promise = WrappedRow([self.promised, self.promise_button])
        words = upright(
            [self.name, self.about, self.customer, self.complaint, self.strip, self.held, promise,
             level([self.jobs, STRETCH])], gap="hair",
        )  # fmt: skip
        self._words = words
        self._row = level([self.picture, words], gap="wide")
        self._row.setAlignment(self.picture, Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self._row.setStretchFactor(words, 1)
        self.setLayout(self._row)

    def minimumSizeHint(self) -> QSize:
        """The words alone; where there is no more room the picture stands above them."""
        return QSize(self._words.minimumSize().width(), super().minimumSizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        beside = self.width() >= self.fontMetrics().averageCharWidth() * BESIDE
        directions = QBoxLayout.Direction
        self._row.setDirection(directions.LeftToRight if beside else directions.TopToBottom)

    def show_jacket(self, jacket: Jacket) -> None:
        seat = self._context.seat
        findings = tuple(f.code for f in jacket.findings)
        pins = wanted_pins(seat.catalogue, findings, jacket.purpose)
        self.picture.show_range(jacket.described.build, pins)
        range_ = jacket.described
        self.name.setText(f"{jacket.number}  {name_of(range_.maker, range_.model, range_.colour)}")
        self.about.setText(about_words(jacket))
        self.customer.setText(customer_words(jacket))
        self.complaint.setText(say("“{words}”", words=jacket.complaint))
        self.complaint.setVisible(bool(jacket.complaint))
        self.strip.setShown(StageShown(jacket.stage.value, "", jacket.customer_id is None))
        held = held_lines(seat.catalogue, seat.region, seat.today, jacket)
        self.held.setText("\n".join(held))
        self.held.setVisible(bool(held))
        self.promised.setText(day_words(seat.region, seat.today, jacket))
        self.promise_button.setVisible(jacket.gone_on is None and self._context.may(Action.QUOTE))
        self._show_jobs(jacket)

    def _show_jobs(self, jacket: Jacket) -> None:
        region = self._context.region
        self.jobs.setChoices(
            [
                (job.id, say("Job of {day}: {stage}", day=region.day(job.opened_on), stage=job.stage))
                for job in reversed(jacket.jobs)
            ]
        )
        self.jobs.setValue(jacket.job_id)
        self.jobs.setVisible(len(jacket.jobs) > 1)


def about_words(jacket: Jacket) -> str:
    """What is known of the range itself, in one line."""
    range_ = jacket.described
    parts = (
        say("serial {serial}", serial=range_.serial) if range_.serial else "",
        say("made about {year}", year=range_.made_about) if range_.made_about else "",
        say("{gas} on the plate", gas=range_.gas_on_plate) if range_.gas_on_plate else "",
        say("set to {gas}", gas=range_.set_to_gas) if range_.set_to_gas else "",
        say("stands at {place}", place=range_.stands_at) if range_.stands_at else "",
    )
    return " · ".join(part for part in parts if part)


def customer_words(jacket: Jacket) -> str:
    return ", ".join(word for word in (owner_of(jacket.customer), jacket.customer_phone) if word)


def held_lines(catalogue: Catalogue, region: Region, today: dt.date, jacket: Jacket) -> list[str]:
    """Everything that holds it, the most pressing first; further pieces of one kind on one line."""
    lines: dict[tuple[str, dt.date | None], list[str]] = {}
    for held in jacket.held:
        lines.setdefault((held.hold.value, held.since), []).append(held.what)
    return [
        _capital(held_words(catalogue, region, today, reason, ", ".join(_named(what)), since))
        for (reason, since), what in lines.items()
    ]


def _named(names: list[str]) -> list[str]:
    """The first few names, and how many more."""
    found = list(dict.fromkeys(name for name in names if name))
    if len(found) <= 4:
        return found
    return [*found[:4], say("{count} more", count=len(found) - 4)]


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def day_words(region: Region, today: dt.date, jacket: Jacket) -> str:
    """The promise, or that it has gone."""
    if jacket.gone_on is not None:
        tagged = say("disconnected and red-tagged") if jacket.red_tagged else ""
        gone = say("Gone {day}", day=region.day(jacket.gone_on))
        return f"{gone}, {tagged}" if tagged else gone
    if jacket.promised_on is None:
        return say("No day is promised.")
    day = say("Promised {day}", day=region.day(jacket.promised_on))
    left = promise_words(jacket.promised_on, jacket.stage, today)
    return f"{day}, {left}" if left else day
