"""What the readings amount to while they are typed: the word, the sentences, the curve; stop first."""

from PySide6.QtGui import QAccessible, QAccessibleEvent
from PySide6.QtWidgets import QWidget

from shopdesk.drawing.chart import chart_of
from shopdesk.ui.pages.proving.draft import Live
from shopdesk.ui.proof_words import MARKS
from shopdesk.ui.widgets.band import Band
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.headings import Note, Words
from shopdesk.ui.widgets.line_chart import LineChart
from shopdesk.wording import Region, say


class LiveResult(QWidget):
    """Under the readings: the word, why, and the curve. Never takes the keyboard."""

    def __init__(self, region: Region) -> None:
        super().__init__()
        self._region = region
        self.word = Words("", "title")
        self.told = Words("")
        self.missing = Note("")
        self.chart = LineChart()
        self.setLayout(upright([self.word, self.told, self.missing, self.chart], gap="small"))

    def show_live(self, live: Live) -> None:
        self.word.setText(word_of(live))
        self.word.setVisible(bool(live.result))
        self.told.setText("\n".join(live.says))
        self.told.setVisible(bool(live.says))
        self.missing.setText(live.missing)
        self.missing.setVisible(bool(live.missing))
        self.chart.show_chart(chart_of(live.curves[0], self._region) if live.curves else None)


class Standing(QWidget):
    """What is always in sight while a proof is made: a stop over all, and the word of the readings."""

    def __init__(self) -> None:
        super().__init__()
        self.stop = Band("")
        self.word = Words("", "strong")
        self.setLayout(upright([self.stop, self.word], gap="hair", margin="small"))
        self.hide()

    def show_live(self, live: Live) -> None:
        """A stop is spoken as soon as it is there."""
        fresh = bool(live.stop) and live.stop != self.stop.text()
        self.stop.setText(live.stop)
        self.stop.setAccessibleName(live.stop)
        self.stop.setVisible(bool(live.stop))
        self.word.setText(live.missing if live.missing else word_of(live))
        self.word.setVisible(not live.stop)
        self.show()
        if fresh:
            QAccessible.updateAccessibility(QAccessibleEvent(self.stop, QAccessible.Event.Alert))


def word_of(live: Live) -> str:
    return say("{mark} {result}", mark=MARKS[live.result], result=say(live.result)) if live.result else ""
