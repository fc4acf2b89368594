"""A paper on the screen: its pages as they print, zoom, printing and saving as PDF."""

from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtPdf import QPdfDocument
from PySide6.QtPdfWidgets import QPdfView
from PySide6.QtWidgets import QLabel, QWidget

from shopdesk.ui.dialogs import PDF, Dialogs
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.buttons import Button, MainButton
from shopdesk.ui.widgets.headings import ProblemText
from shopdesk.ui.widgets.printing import Printing
from shopdesk.wording import say, say_n

ZOOM_STEP = 1.2
CLOSEST, FARTHEST = 5.0, 0.2


class PaperViewer(QWidget):
    """Shows PDF bytes; a preview of a paper that is not issued is shown the same way."""

    def __init__(self, dialogs: Dialogs, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._dialogs = dialogs
        self._pdf, self._title, self._file_name = b"", "", ""
        self._buffer = QBuffer(self)
        self.document = QPdfDocument(self)
        self.view = QPdfView(self)
        self.view.setDocument(self.document)
        self.view.setPageMode(QPdfView.PageMode.MultiPage)
        self.view.setZoomMode(QPdfView.ZoomMode.FitToWidth)
        self.print_button = MainButton(say("&Print"), self.print_paper, icon_name="print", shortcut="Ctrl+P")
        self.save_button = Button(say("&Save as PDF"), self.save, icon_name="save-pdf", shortcut="Ctrl+S")
        self.fit_button = Button(say("Fit &width"), self.fit)
        self.closer_button = Button("+", self.closer, tip=say("Larger"))
        self.farther_button = Button("−", self.farther, tip=say("Smaller"))
        self.closer_button.setAccessibleName(say("Larger"))
        self.farther_button.setAccessibleName(say("Smaller"))
        self.printing: Printing | None = None
        self._pages = QLabel()
        self.problem = ProblemText()
        bar = level([self.print_button, self.save_button, STRETCH, self._pages, self.farther_button,
                     self.closer_button, self.fit_button])  # fmt: skip
        body = upright([bar, self.problem, self.view], gap="small")
        body.setStretchFactor(self.view, 1)
        self.setLayout(body)
        for keys, act in (("+", self.closer), ("-", self.farther)):
            QShortcut(QKeySequence(keys), self.view).activated.connect(act)

    def show_paper(self, pdf: bytes, title: str, file_name: str = "") -> None:
        """Shows these bytes; `title` is for readers and the printer, `file_name` what a copy is called."""
        self._pdf, self._title, self._file_name = pdf, title, file_name or title
        self.document.close()
        self._buffer.close()
        self._buffer.setData(QByteArray(pdf))
        self._buffer.open(QIODevice.OpenModeFlag.ReadOnly)
        self.document.load(self._buffer)
        count = self.document.pageCount()
        whole = self.document.status() == QPdfDocument.Status.Ready and count > 0
        self._tell_count()
        self.view.setAccessibleName(title)
        self.view.setAccessibleDescription(self.text())
        self.problem.show_text(
            "" if whole else say("{title} cannot be shown: it is not a whole PDF.", title=title)
        )

    def text(self) -> str:
        """The words of the paper, for screen readers and searching."""
        pages = range(self.document.pageCount())
        return "\n".join(self.document.getAllText(page).text() for page in pages)

    def fit(self) -> None:
        """A page as wide as the window."""
        self.view.setZoomMode(QPdfView.ZoomMode.FitToWidth)

    def closer(self) -> None:
        self._zoom(ZOOM_STEP)

    def farther(self) -> None:
        self._zoom(1 / ZOOM_STEP)

    def save(self) -> None:
        """Writes exactly the bytes shown to a file the person chooses."""
        suggested = Path.home() / f"{as_file_name(self._file_name)}.pdf"
        place = self._dialogs.save_file(say("Save as PDF"), suggested, say("PDF"), PDF)
        if place is None:
            return
        if not place.suffix:
            place = place.with_suffix(".pdf")
        try:
            place.write_bytes(self._pdf)
        except OSError as error:
            self.problem.show_text(
                say("{file} was not written ({why}). Choose another folder.", file=place.name,
                    why=error.strerror or str(error))
            )  # fmt: skip
        else:
            self.problem.show_text("")

    def print_paper(self) -> None:
        """Prints on the printer the person chooses; margins are the paper's own."""
        printer = self._dialogs.choose_printer(self._title, self.document.pagePointSize(0))
        if printer is None:
            return
        self.problem.show_text("")
        self.print_button.setEnabled(False)  # one paper at a time; the window goes on meanwhile
        self.printing = Printing(self._pdf, printer)
        self.printing.page.connect(self._tell_page)
        self.printing.ended.connect(self._printed)
        self.printing.start()

    def _tell_page(self, page: int, pages: int) -> None:
        self._pages.setText(say("Printing page {page} of {pages}", page=page, pages=pages))

    def _printed(self, whole: bool) -> None:
        self.printing = None
        self.print_button.setEnabled(True)
        self._tell_count()
        if not whole:
            self.problem.show_text(
                say("{title} was not printed: the printer did not start or stopped.", title=self._title)
            )

    def _tell_count(self) -> None:
        self._pages.setText(say_n("{count} page", "{count} pages", self.document.pageCount()))

    def _zoom(self, by: float) -> None:
        now = self.view.zoomFactor()
        if self.view.zoomMode() == QPdfView.ZoomMode.FitToWidth and self.document.pageCount():
            wide = self.document.pagePointSize(0).width() * self.logicalDpiX() / 72
            now = max(FARTHEST, self.view.viewport().width() / wide)
        self.view.setZoomMode(QPdfView.ZoomMode.Custom)
        self.view.setZoomFactor(min(CLOSEST, max(FARTHEST, now * by)))


def as_file_name(text: str) -> str:
    """A name that every file system takes."""
    return (
        "".join(letter if letter.isalnum() or letter in " -_." else "-" for letter in text).strip() or "paper"
    )
