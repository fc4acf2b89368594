"""A paper in a window of its own, beside the work; Escape closes it."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QCloseEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QWidget

from shopdesk.ui.dialogs import Dialogs
from shopdesk.ui.memory import Memory
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.paper_viewer import PaperViewer


class PaperWindow(QWidget):
    """Made anew for every paper and gone when closed."""

    def __init__(self, parent: QWidget, dialogs: Dialogs, memory: Memory) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._memory = memory
        self.viewer = PaperViewer(dialogs, self)
        self.setLayout(upright([self.viewer], margin="gap"))
        if not memory.shape("paper", self):
            self.resize(820, 980)
        for keys in (QKeySequence("Esc"), QKeySequence(QKeySequence.StandardKey.Close)):
            QShortcut(keys, self).activated.connect(self.close)

    def show_paper(self, pdf: bytes, title: str, file_name: str) -> None:
        self.setWindowTitle(title)
        self.viewer.show_paper(pdf, title, file_name)
        self.show()
        self.viewer.print_button.setFocus()

    def closeEvent(self, event: QCloseEvent) -> None:
        self._memory.keep_shape("paper", self)
        super().closeEvent(event)
