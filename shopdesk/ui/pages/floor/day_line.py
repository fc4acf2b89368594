"""The day in a few sentences: what is held and since when, what was promised, what is to come."""

import datetime as dt
from collections.abc import Callable

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSizePolicy

from shopdesk.services.today import Expected, HeldGroup, Today
from shopdesk.ui.range_words import days_words
from shopdesk.ui.widgets.headings import Words
from shopdesk.wording import Region, say, say_n

LOW = 34  # lines of text in the window; in a lower one each sentence has one line, cut with dots
MOST = 3  # named in one sentence; the rest is counted


class DayLine(Words):
    """The sentences under each other; whole in the tip and for screen readers where they are cut."""

    _sentences: tuple[str, ...] = ()

    def __init__(self) -> None:
        super().__init__("", "body", "muted")
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def show_day(self, region: Region, today: Today) -> None:
        self._sentences = tuple(day_sentences(region, today))
        self.setToolTip("\n".join(self._sentences))
        self.setAccessibleName(" ".join(self._sentences))
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._fit()

    def _fit(self) -> None:
        metrics = self.fontMetrics()
        low = self.window().height() < LOW * metrics.lineSpacing()
        shown = self._sentences
        if low:
            cut = Qt.TextElideMode.ElideRight
            shown = tuple(metrics.elidedText(sentence, cut, self.width()) for sentence in shown)
        text = "\n".join(shown)
        if text != self.text():
            self.setWordWrap(not low)
            self.setText(text)


def day_sentences(region: Region, today: Today) -> list[str]:
    """One sentence each; what does not concern today has none."""
    made = (
        _held(region, today),
        _each(today.promised, lambda one: _promise(region, today.day, one), say("Promised: {them}.")),
        _each(today.orders, lambda one: _coming(region, today.day, one), say("Orders expected: {them}.")),
        _each(today.outwork, lambda one: _coming(region, today.day, one), say("Back from outwork: {them}.")),
    )
    return [sentence for sentence in made if sentence]


def _held(region: Region, today: Today) -> str:
    if not today.held:
        return say("Nothing is held.")
    groups = "; ".join(_group(region, today.day, group) for group in today.held)
    return say("Held: {groups}.", groups=groups)


def _group(region: Region, day: dt.date, group: HeldGroup) -> str:
    count = say("{count} for {reason}", count=group.count, reason=say(group.reason))
    if group.since is None:
        return count
    since = region.day_short(group.since, day)
    if group.count == 1:
        return say("{count} since {day} ({number})", count=count, day=since, number=group.number)
    return say("{count}, longest since {day} ({number})", count=count, day=since, number=group.number)


def _promise(region: Region, day: dt.date, one: Expected) -> str:
    return say("{number} {day}, {days}", number=one.number, day=region.day_short(one.on, day),
               days=days_words(one.on, day))  # fmt: skip


def _coming(region: Region, day: dt.date, one: Expected) -> str:
    on = region.day_short(one.on, day)
    words = say("{number} from {who} {day}", number=one.number, who=one.who, day=on)
    return f"{words}, {days_words(one.on, day)}" if one.on <= day else words


def _each(found: tuple[Expected, ...], write: Callable[[Expected], str], sentence: str) -> str:
    if not found:
        return ""
    named = [write(one) for one in found[:MOST]]
    if len(found) > MOST:
        named.append(say_n("{count} more", "{count} more", len(found) - MOST))
    return sentence.format(them="; ".join(named))
