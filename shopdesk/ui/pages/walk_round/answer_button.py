"""One answer of the open checkpoint: its key, its words, how grave it is, and whether it was given."""

from PySide6.QtCore import QEvent, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy, QWidget

from shopdesk.ui.look import colours_of, letters, paint_icon, spacing
from shopdesk.ui.widgets.severity_mark import paint_severity, severity_word
from shopdesk.wording import say

_WRAP = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
SHORT = 12  # letters that always fit in a line


class AnswerButton(QAbstractButton):
    """Large enough for cold fingers; `checked` says that the answer stands."""

    def __init__(self, key: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.key = key
        self._severity = ""
        self._count = ""
        self._heights: dict[int, int] = {}  # by width, until the words or the font change
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def show_answer(self, text: str, severity: str = "", *, given: bool = False, count: str = "") -> None:
        """`severity` empty: the answer is no finding. `count` is how many, in words."""
        if (text, severity, count) != (self.text(), self._severity, self._count):
            self._heights.clear()
            self.updateGeometry()
        self._severity, self._count = severity, count
        self.setText(text)
        self.setChecked(given)
        grave = severity_word(severity) if severity else ""
        told = [
            say("{key}: {answer}", key=self.key, answer=text),
            grave,
            count,
            say("given") if given else "",
        ]
        self.setAccessibleName(", ".join(word for word in told if word))
        self.update()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._heights.clear()

    def nextCheckState(self) -> None:
        """A press answers; what stands as given is shown by the page alone."""

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        if width not in self._heights:
            self._heights[width] = self._height(width)
        return self._heights[width]

    def _height(self, width: int) -> int:
        sizes = spacing(self.font())
        room = max(40, width - self._before() - self._after() - 2 * sizes.small)
        words = self.fontMetrics().boundingRect(0, 0, room, 4000, int(_WRAP), self.text())
        return max(sizes.target + sizes.small, words.height() + 2 * sizes.small)

    def sizeHint(self) -> QSize:
        width = self._before() + self.fontMetrics().horizontalAdvance(self.text()) + self._after()
        return QSize(width, self.heightForWidth(max(self.width(), 240)))

    def minimumSizeHint(self) -> QSize:
        metrics = self.fontMetrics()
        words = min(metrics.horizontalAdvance(self.text()) * 9 // 8, metrics.averageCharWidth() * SHORT)
        return QSize(self._before() + self._after() + words, spacing(self.font()).target)

    def _before(self) -> int:
        """Up to the words: the key in its cap."""
        sizes = spacing(self.font())
        return sizes.target + 2 * sizes.small

    def _after(self) -> int:
        """Behind the words: how many, how grave, and the tick."""
        sizes = spacing(self.font())
        count = self.fontMetrics().horizontalAdvance(self._count) + sizes.small if self._count else 0
        grave = letters("small", self.font())
        word = self.fontMetrics().horizontalAdvance(severity_word(self._severity)) if self._severity else 0
        share = grave.pointSizeF() / self.font().pointSizeF()
        graveness = round(word * share) + sizes.icon + 2 * sizes.small if self._severity else 0
        return count + graveness + sizes.icon + 2 * sizes.small

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_ground(painter)
        sizes, colours = spacing(self.font()), colours_of(self.palette())
        self._paint_key(painter)
        painter.setPen(QColor(colours.text))
        painter.setFont(letters("strong", self.font()) if self.isChecked() else self.font())
        words = self.rect().adjusted(self._before(), 0, -self._after(), 0)
        painter.drawText(words, int(_WRAP), self.text())
        painter.setFont(self.font())
        right = self.width() - sizes.small
        if self.isChecked():
            tick = QRectF(right - sizes.icon, (self.height() - sizes.icon) / 2, sizes.icon, sizes.icon)
            paint_icon(painter, tick, "tick", colours.text)
        right -= sizes.icon + sizes.small
        self._paint_severity(painter, right)
        painter.end()

    def _paint_ground(self, painter: QPainter) -> None:
        colours = colours_of(self.palette())
        box = QRectF(self.rect()).adjusted(1.5, 1.5, -1.5, -1.5)
        width, edge = (2.5, colours.focus) if self.hasFocus() else (1.0, colours.line)
        if self.isChecked() and not self.hasFocus():
            width, edge = 1.5, colours.edge
        painter.setPen(QPen(QColor(edge), width))
        filled = self.isChecked() or self.isDown() or self.underMouse()
        painter.setBrush(QColor(colours.button if filled else colours.base))
        painter.drawRoundedRect(box, 5, 5)

    def _paint_key(self, painter: QPainter) -> None:
        """The key as it stands on the keyboard."""
        sizes, colours = spacing(self.font()), colours_of(self.palette())
        side = sizes.target - sizes.small
        cap = QRectF(sizes.small + 2, (self.height() - side) / 2, side, side)
        painter.setPen(QPen(QColor(colours.edge), 1.2))
        painter.setBrush(QColor(colours.window))
        painter.drawRoundedRect(cap, 4, 4)
        painter.setPen(QColor(colours.text))
        painter.setFont(letters("strong", self.font()))
        painter.drawText(cap, Qt.AlignmentFlag.AlignCenter, self.key)

    def _paint_severity(self, painter: QPainter, right: float) -> None:
        if not self._severity:
            return
        sizes, colours = spacing(self.font()), colours_of(self.palette())
        small = letters("small", self.font())
        painter.setFont(small)
        painter.setPen(QColor(colours.muted))
        words = [severity_word(self._severity)]
        width = painter.fontMetrics().horizontalAdvance(words[0])
        flags = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight
        painter.drawText(QRectF(right - width, 0, width, self.height()), flags, words[0])
        right -= width + sizes.small + sizes.icon
        mark = QRectF(right, 0, sizes.icon, self.height())
        paint_severity(painter, mark, self._severity, self.palette())
        if self._count:
            painter.setFont(self.font())
            painter.setPen(QColor(colours.text))
            count = painter.fontMetrics().horizontalAdvance(self._count)
            box = QRectF(right - sizes.small - count, 0, count, self.height())
            painter.drawText(box, flags, self._count)
