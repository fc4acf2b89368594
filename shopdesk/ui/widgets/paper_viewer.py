"""A paper on the screen: its pages as they print, zoom, printing and saving as PDF."""

from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QRectF, QSize, Qt
from PySide6.QtGui import QImage, QKeySequence, QPainter, QShortcut
from PySide6.QtPdf import QPdfDocument
from PySide6.QtPdfWidgets import QPdfView
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QLabel, QWidget

from shopdesk.ui.dialogs import PDF, Dialogs
from shopdesk.ui.widgets.boxes import STRETCH, level, upright
from shopdesk.ui.widgets.buttons import Button, MainButton
from shopdesk.ui.widgets.headings import ProblemText
from shopdesk.wording import say, say_n

PRINT_DPI = 300
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
        self._pages.setText(say_n("{count} page", "{count} pages", count))
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
        suggested = Path.home() / f"{_as_file_name(self._file_name)}.pdf"
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
        if printer is not None and not print_document(self.document, printer):
            self.problem.show_text(
                say("{title} was not printed: the printer did not start.", title=self._title)
            )

    def _zoom(self, by: float) -> None:
        now = self.view.zoomFactor()
        if self.view.zoomMode() == QPdfView.ZoomMode.FitToWidth and self.document.pageCount():
            wide = self.document.pagePointSize(0).width() * self.logicalDpiX() / 72
            now = max(FARTHEST, self.view.viewport().width() / wide)
        self.view.setZoomMode(QPdfView.ZoomMode.Custom)
        self.view.setZoomFactor(min(CLOSEST, max(FARTHEST, now * by)))


def print_document(document: QPdfDocument, printer: QPrinter) -> bool:
    """Prints every page of a PDF; False when the printer cannot start."""
    printer.setFullPage(True)
    painter = QPainter()
    if not painter.begin(printer):
        return False
    for page in range(document.pageCount()):
        if page and not printer.newPage():
            painter.end()
            return False
        _print_page(document, page, printer, painter)
    return painter.end()


def _print_page(document: QPdfDocument, page: int, printer: QPrinter, painter: QPainter) -> None:
    """One page in its own size, or smaller when the sheet is smaller."""
    points = document.pagePointSize(page)
    dots = printer.resolution() / 72
    sheet = printer.paperRect(QPrinter.Unit.DevicePixel)
    shrink = min(1.0, sheet.width() / (points.width() * dots), sheet.height() / (points.height() * dots))
    render = min(PRINT_DPI, printer.resolution()) / 72
    drawn = document.render(page, QSize(round(points.width() * render), round(points.height() * render)))
    white = QImage(drawn.size(), QImage.Format.Format_RGB32)
    white.fill(Qt.GlobalColor.white)  # what QtPdf draws is transparent where nothing is printed
    over = QPainter(white)
    over.drawImage(0, 0, drawn)
    over.end()
    target = QRectF(0, 0, points.width() * dots * shrink, points.height() * dots * shrink)
    painter.drawImage(target, white)


def _as_file_name(text: str) -> str:
    """A name that every file system takes."""
    return (
        "".join(letter if letter.isalnum() or letter in " -_." else "-" for letter in text).strip() or "paper"
    )
