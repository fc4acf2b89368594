"""Lets a tall page scroll when the window is small or the text large; never sideways."""

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt
from PySide6.QtWidgets import QFrame, QLayout, QScrollArea, QWidget


class PageScroll(QScrollArea):
    """Holds a layout or a widget at the width that is there; the field with the keyboard stays in sight."""

    def __init__(self, inside: QLayout | QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        if isinstance(inside, QLayout):
            self.body = QWidget()
            self.body.setLayout(inside)
        else:
            self.body = inside
        self.setWidget(self.body)
        self.body.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The body is never asked to be narrower than it can be, and as high as its texts now need."""
        if watched is self.body and event.type() == QEvent.Type.LayoutRequest:
            self.setMinimumWidth(
                self.body.minimumSizeHint().width() + self.verticalScrollBar().sizeHint().width()
            )
            QCoreApplication.postEvent(self, QEvent(QEvent.Type.LayoutRequest))  # or it misses some
        return super().eventFilter(watched, event)
