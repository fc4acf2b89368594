"""The help, in a window of its own beside the work: F1 opens it at the page one is on."""

from typing import Any

from PySide6.QtCore import QEvent, Qt, QUrl
from PySide6.QtGui import QCloseEvent, QImage, QKeySequence, QResizeEvent, QShortcut, QTextDocument
from PySide6.QtWidgets import QSplitter, QTextBrowser, QWidget

from shopdesk import paths
from shopdesk.ui.memory import Memory
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.search_field import SearchField
from shopdesk.ui.widgets.strip_list import Strip, StripList
from shopdesk.wording import say
from shopdesk.wording.topics import Topic, find, topics

FIRST = "first-day"
TOPIC_OF = {  # of a place, where it is not called like its topic
    "first-hour": "first-day",
    "proving": "proofs",
    "thermostat-card": "tags",
}


class HelpPage(QTextBrowser):
    """A topic; its pictures follow the width of the window, and no link leaves the program."""

    def __init__(self) -> None:
        super().__init__()
        self.setOpenLinks(False)
        self.setAccessibleName(say("Help"))
        self.setFrameShape(QTextBrowser.Shape.NoFrame)
        self._shown: Topic | None = None
        self._paper: QTextDocument | None = None

    def show_topic(self, topic: Topic) -> None:
        self._shown = topic
        before, self._paper = self._paper, QTextDocument(self)  # the old one keeps pictures of another width
        self._paper.setDefaultFont(self.font())
        self._paper.setDocumentMargin(self.fontMetrics().height())
        self.setDocument(self._paper)
        if before is not None:
            before.deleteLater()
        self.setMarkdown(topic.text)

    def loadResource(self, kind: int, name: QUrl | str) -> Any:
        if kind != QTextDocument.ResourceType.ImageResource.value:
            return None
        picture = QImage(str(paths.resource("pictures", QUrl(name).fileName())))
        ratio = self.devicePixelRatioF()
        wide = min(
            picture.width(), round((self.viewport().width() - 4 * self.fontMetrics().height()) * ratio)
        )
        shown = picture.scaledToWidth(max(1, wide), Qt.TransformationMode.SmoothTransformation)
        shown.setDevicePixelRatio(ratio)
        return shown

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._shown is not None and event.size().width() != event.oldSize().width():
            place = self.verticalScrollBar().value()
            self.show_topic(self._shown)
            self.verticalScrollBar().setValue(place)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and self._shown is not None:
            self.show_topic(self._shown)


class HelpWindow(QWidget):
    """Topics on the left, narrowed by words; the topic on the right. Escape closes it."""

    def __init__(self, parent: QWidget, memory: Memory) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.setWindowTitle(say("Help"))
        self._memory = memory
        self.list = StripList(say("Topics"), empty=say("No topic has these words."))
        self.search = SearchField(say("Words to look for"), self.list)
        self.page = HelpPage()
        self.search.searched.connect(self._narrow)
        self.list.chosen.connect(self._open)
        left = QWidget()
        left.setLayout(upright([self.search, self.list], gap="small"))
        parts = QSplitter()
        parts.setChildrenCollapsible(False)
        for part in (left, self.page):
            parts.addWidget(part)
        parts.setStretchFactor(1, 1)
        self.setLayout(upright([parts], margin="gap"))
        if not memory.shape("help", self):
            self.resize(1000, 760)
        list_width = min(38 * self.fontMetrics().averageCharWidth(), self.width() // 3)
        parts.setSizes([list_width, self.width() - list_width])
        for keys in (QKeySequence("Esc"), QKeySequence(QKeySequence.StandardKey.Close)):
            QShortcut(keys, self).activated.connect(self.close)
        self._narrow("")

    def show_topic(self, key: str) -> None:
        """Opens on a topic, or on the first one where a page has none of its own."""
        self.search.clear()
        self._narrow("")
        self.list.select(key if any(topic.key == key for topic in topics()) else FIRST)
        self.show()
        self.raise_()
        self.activateWindow()
        self.search.setFocus()

    def _narrow(self, words: str) -> None:
        self.list.show_rows([Strip(hit.topic.key, hit.topic.title, hit.line) for hit in find(words)])

    def _open(self, key: Any) -> None:
        topic = next((topic for topic in topics() if topic.key == key), None)
        if topic is None:
            return
        self.page.show_topic(topic)
        if words := self.search.words().split():
            self.page.find(words[0])

    def closeEvent(self, event: QCloseEvent) -> None:
        self._memory.keep_shape("help", self)
        super().closeEvent(event)
