"""Printing a PDF off the GUI thread, page by page, with a word about how far it is.

Qt allows painting on a printer in a thread of its own; the thread has its own copy of the document.
"""

from PySide6.QtCore import (
    QBuffer,
    QByteArray,
    QCoreApplication,
    QIODevice,
    QRectF,
    QSize,
    Qt,
    QThread,
    Signal,
)
from PySide6.QtGui import QImage, QPainter
from PySide6.QtPdf import QPdfDocument
from PySide6.QtPrintSupport import QPrinter

PRINT_DPI = 300


class Printing(QThread):
    """Belongs to the application, not to the window: closing the window does not stop the printer."""

    page = Signal(int, int)  # the page that is being printed, of how many
    ended = Signal(bool)  # False: the printer did not start, or failed on the way

    def __init__(self, pdf: bytes, printer: QPrinter) -> None:
        super().__init__(QCoreApplication.instance())
        self._pdf, self._printer = pdf, printer
        self.finished.connect(self.deleteLater)
        app = QCoreApplication.instance()
        if app is not None:
            app.aboutToQuit.connect(self.wait)

    def run(self) -> None:
        held = QByteArray(self._pdf)
        buffer = QBuffer(held)
        buffer.open(QIODevice.OpenModeFlag.ReadOnly)
        document = QPdfDocument(None)  # type: ignore[call-overload]  # without a parent: it is this thread's
        document.load(buffer)
        whole = self._print(document)
        document.close()
        buffer.close()
        self.ended.emit(whole)

    def _print(self, document: QPdfDocument) -> bool:
        """Prints every page; False when the printer cannot start or go on."""
        printer, count = self._printer, document.pageCount()
        printer.setFullPage(True)
        painter = QPainter()
        if not painter.begin(printer):
            return False
        for page in range(count):
            self.page.emit(page + 1, count)
            if page and not printer.newPage():
                painter.end()
                return False
            print_page(document, page, printer, painter)
        return painter.end()


def print_page(document: QPdfDocument, page: int, printer: QPrinter, painter: QPainter) -> None:
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
