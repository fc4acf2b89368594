"""A paper in a window of its own, beside the work; Escape closes it."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QCloseEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QWidget

from shopdesk.ui.context import Context
from shopdesk.ui.dialogs import Dialogs
from shopdesk.ui.memory import Memory
from shopdesk.ui.paper_deeds import PaperDeeds
from shopdesk.ui.widgets.boxes import upright
from shopdesk.ui.widgets.paper_viewer import PaperViewer


class PaperWindow(QWidget):
    """Made anew for every paper and gone when closed."""

    def __init__(
        self, parent: QWidget, dialogs: Dialogs, memory: Memory, context: Context | None = None
    ) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._memory = memory
        self.viewer = PaperViewer(dialogs, self)
        self.deeds = PaperDeeds(context, self.viewer.problem) if context is not None else None
        body = upright([*([self.deeds] if self.deeds else []), self.viewer], margin="gap", gap="small")
        body.setStretchFactor(self.viewer, 1)
        self.setLayout(body)
        if not memory.shape("paper", self):
            self.resize(820, 980)
        for keys in (QKeySequence("Esc"), QKeySequence(QKeySequence.StandardKey.Close)):
            QShortcut(keys, self).activated.connect(self.close)

    def show_paper(self, pdf: bytes, title: str, file_name: str) -> None:
        self.setWindowTitle(title)
        self.viewer.show_paper(pdf, title, file_name)
        if self.deeds is not None:
            self.deeds.about(pdf, file_name)
        self.show()
        self.viewer.print_button.setFocus()

    def closeEvent(self, event: QCloseEvent) -> None:
        self._memory.keep_shape("paper", self)
        super().closeEvent(event)
