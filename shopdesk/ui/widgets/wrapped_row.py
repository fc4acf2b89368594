"""Buttons and short fields side by side, going on in another line where the width ends."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QPoint, QRect, QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QApplication, QSizePolicy, QWidget

from shopdesk.ui.look import spacing


class WrappedRow(QWidget):
    """As high as its lines; `growing` is the one widget that takes what room is left in its line."""

    def __init__(
        self, parts: Sequence[QWidget], growing: QWidget | None = None, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._parts: list[QWidget] = []
        self._growing = growing
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.show_parts(parts)

    def show_parts(self, parts: Sequence[QWidget]) -> None:
        """Shows these instead; those that are not among them any more are thrown away."""
        for gone in [part for part in self._parts if part not in parts]:
            gone.hide()
            gone.deleteLater()
        self._parts = list(parts)
        for part in self._parts:
            part.setParent(self)
            part.show()
        self._lay()

    def sizeHint(self) -> QSize:
        wide = sum(part.sizeHint().width() for part in self._here()) + self._gap() * len(self._parts)
        return QSize(wide, self.minimumHeight())

    def minimumSizeHint(self) -> QSize:
        widest = max((_least(part).width() for part in self._here()), default=0)
        return QSize(widest, self.minimumHeight())

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._lay()

    def event(self, event: QEvent) -> bool:
        if event.type() in (QEvent.Type.LayoutRequest, QEvent.Type.Show):  # hidden, it hears no request
            self._lay()
        return super().event(event)

    def _gap(self) -> int:
        return spacing(QApplication.font()).small

    def _here(self) -> list[QWidget]:
        return [part for part in self._parts if not part.isHidden()]

    def _lay(self) -> None:
        """Places the parts line by line; the height follows."""
        y = 0
        for line in self._lines():
            high = max(_least(part).height() for part in line)
            left = self.width() - sum(_least(part).width() for part in line) - self._gap() * (len(line) - 1)
            x = 0
            for part in line:
                size = _least(part)
                wide = size.width() + (max(0, left) if part is self._growing else 0)
                at = QPoint(x, y + (high - size.height()) // 2)
                part.setGeometry(self._mirrored(QRect(at, QSize(min(wide, self.width()), size.height()))))
                x += wide + self._gap()
            y += high + self._gap()
        height = max(0, y - self._gap())
        if self.minimumHeight() != height or self.maximumHeight() != height:
            self.setFixedHeight(height)

    def _lines(self) -> list[list[QWidget]]:
        lines: list[list[QWidget]] = []
        x = 0
        for part in self._here():
            wide = _least(part).width()
            if not lines or x + wide > self.width():
                lines.append([])
                x = 0
            lines[-1].append(part)
            x += wide + self._gap()
        return lines

    def _mirrored(self, rect: QRect) -> QRect:
        if self.layoutDirection() == Qt.LayoutDirection.RightToLeft:
            rect.moveLeft(self.width() - rect.right() - 1)
        return rect


def _least(part: QWidget) -> QSize:
    return part.sizeHint().expandedTo(part.minimumSize()).boundedTo(part.maximumSize())
