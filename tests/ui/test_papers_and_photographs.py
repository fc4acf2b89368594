"""Papers on the screen, printed and saved; photographs brought by dialog, drop and paste; severity marks."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from conftest import CannedDialogs  # type: ignore[import-not-found]
from PySide6.QtCore import QBuffer, QIODevice, QMimeData, QPoint, QPointF, QRectF, QSize, Qt, QUrl
from PySide6.QtGui import QColor, QDragEnterEvent, QDropEvent, QGuiApplication, QImage, QPainter
from PySide6.QtPdf import QPdfDocument
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QApplication, QDialog, QWidget
from pytestqt.qtbot import QtBot
from reportlab.pdfgen.canvas import Canvas

from shopdesk.ui.dialogs import Dialogs
from shopdesk.ui.widgets.paper_viewer import PaperViewer
from shopdesk.ui.widgets.photo_strip import Brought, Photo, PhotoStrip
from shopdesk.ui.widgets.severity_mark import SeverityMark, paint_severity, severity_word


def pdf(tmp_path: Path, *texts: str) -> bytes:
    file = tmp_path / "made.pdf"
    canvas = Canvas(str(file), pagesize=(612, 792))
    for text in texts:
        canvas.drawString(72, 700, text)
        canvas.rect(72, 300, 200, 200, fill=1)
        canvas.showPage()
    canvas.save()
    return file.read_bytes()


@pytest.fixture
def viewer(qtbot: QtBot, dialogs: CannedDialogs) -> PaperViewer:
    made = PaperViewer(dialogs)
    qtbot.addWidget(made)
    made.resize(700, 800)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    return made


def jpeg(colour: str = "orange") -> bytes:
    image = QImage(32, 24, QImage.Format.Format_RGB32)
    image.fill(QColor(colour))
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "JPEG")
    return bytes(buffer.data().data())


def test_a_paper_is_shown_page_by_page_on_white(viewer: PaperViewer, tmp_path: Path, qtbot: QtBot) -> None:
    viewer.show_paper(pdf(tmp_path, "Quote Q-0001", "Second page"), "Quote Q-0001")
    assert viewer.document.pageCount() == 2
    assert viewer.text().splitlines() == ["Quote Q-0001", "Second page"]
    assert viewer._pages.text() == "2 pages"
    assert not viewer.problem.isVisible()

    def inked() -> bool:
        picture = viewer.view.grab().toImage()
        colours = {picture.pixelColor(x, y).name() for x in range(40, 600, 7) for y in range(40, 700, 7)}
        return {"#ffffff", "#000000"} <= colours

    qtbot.waitUntil(inked, timeout=5000)


def test_a_second_paper_takes_the_place_of_the_first(viewer: PaperViewer, tmp_path: Path) -> None:
    viewer.show_paper(pdf(tmp_path, "First", "More"), "First")
    viewer.show_paper(pdf(tmp_path, "Other"), "Other")
    assert viewer.text() == "Other"
    assert viewer._pages.text() == "1 page"


@pytest.mark.parametrize("data", [b"", b"not a paper", b"%PDF-1.4\n%%EOF"])
def test_bytes_that_are_no_paper_get_a_sentence(viewer: PaperViewer, data: bytes) -> None:
    viewer.show_paper(data, "Quote Q-0001")
    assert viewer.problem.text() == "Quote Q-0001 cannot be shown: it is not a whole PDF."
    assert viewer.problem.isVisible()


def test_saving_writes_exactly_the_bytes_that_are_kept(
    viewer: PaperViewer, tmp_path: Path, dialogs: CannedDialogs
) -> None:
    data = pdf(tmp_path, "Invoice I-0001")
    viewer.show_paper(data, "Invoice I-0001")
    dialogs.file = tmp_path / "for the customer"
    viewer.save_button.click()
    assert (tmp_path / "for the customer.pdf").read_bytes() == data
    dialogs.file = tmp_path / "no folder" / "x.pdf"
    viewer.save_button.click()
    assert "x.pdf was not written" in viewer.problem.text()
    dialogs.file = None
    viewer.save_button.click()


@pytest.mark.parametrize("sheet", ["Letter", "A5"])
def test_printing_puts_every_page_on_the_chosen_printers_sheet(
    viewer: PaperViewer, tmp_path: Path, dialogs: CannedDialogs, sheet: str, qtbot: QtBot
) -> None:
    from PySide6.QtGui import QPageSize

    viewer.show_paper(pdf(tmp_path, "One", "Two", "Three"), "Invoice I-0001")
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    printer.setPageSize(QPageSize(getattr(QPageSize.PageSizeId, sheet)))
    dialogs.printer = printer
    viewer.print_button.click()
    assert dialogs.asked == ["Invoice I-0001"]
    assert not viewer.print_button.isEnabled(), "one paper at a time, while the window goes on"
    said: list[str] = []
    viewer.printing.page.connect(lambda *_at: said.append(viewer._pages.text()))  # type: ignore[union-attr]
    qtbot.waitUntil(lambda: viewer.printing is None, timeout=20_000)
    assert said == [f"Printing page {page} of 3" for page in (1, 2, 3)]
    assert (viewer._pages.text(), viewer.print_button.isEnabled()) == ("3 pages", True)
    printed = QPdfDocument(viewer)
    printed.load(str(tmp_path / "printed.pdf"))
    assert printed.pageCount() == 3
    picture = printed.render(0, QSize(306, 396))
    assert picture.pixelColor(80, 200).lightness() < 40, "the black square is there"
    assert picture.pixelColor(250, 350).lightness() > 200, "and paper is white"


def test_the_printer_is_offered_with_the_papers_own_size(
    viewer: PaperViewer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    viewer.show_paper(pdf(tmp_path, "One"), "One")
    monkeypatch.setattr(QPrintDialog, "exec", lambda _dialog: QDialog.DialogCode.Accepted)
    printer = Dialogs(viewer).choose_printer("One", viewer.document.pagePointSize(0))
    assert printer is not None
    assert printer.pageLayout().pageSize().sizePoints().toTuple() == (612, 792)


def test_a_printer_that_does_not_start_is_told_in_a_sentence(
    viewer: PaperViewer, tmp_path: Path, dialogs: CannedDialogs, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    viewer.show_paper(pdf(tmp_path, "One"), "One")
    monkeypatch.setattr(QPainter, "begin", lambda _painter, _device: False)
    dialogs.printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    viewer.print_paper()
    qtbot.waitUntil(lambda: viewer.printing is None, timeout=20_000)
    assert viewer.problem.text() == "One was not printed: the printer did not start or stopped."


def test_printing_nowhere_is_no_deed(viewer: PaperViewer, tmp_path: Path) -> None:
    viewer.show_paper(pdf(tmp_path, "One"), "One")
    viewer.print_paper()
    assert viewer.problem.text() == ""


def test_zooming_starts_from_what_is_shown_and_fits_again(viewer: PaperViewer, tmp_path: Path) -> None:
    viewer.show_paper(pdf(tmp_path, "One"), "One")
    viewer.closer_button.click()
    closer = viewer.view.zoomFactor()
    viewer.farther_button.click()
    viewer.farther_button.click()
    assert viewer.view.zoomFactor() < closer
    for _ in range(40):
        viewer.closer()
    assert viewer.view.zoomFactor() == 5.0
    viewer.fit_button.click()
    assert viewer.view.zoomMode() == viewer.view.ZoomMode.FitToWidth


def test_photographs_come_by_dialog_by_drop_and_by_paste(
    qtbot: QtBot, dialogs: CannedDialogs, tmp_path: Path
) -> None:
    strip = PhotoStrip(dialogs)
    qtbot.addWidget(strip)
    strip.resize(600, 250)
    brought: list[Brought] = []
    strip.brought.connect(brought.extend)
    picture = tmp_path / "broiler screw.JPG"
    picture.write_bytes(jpeg())
    (tmp_path / "letter.txt").write_text("no picture", encoding="utf-8")
    dialogs.files = [picture]
    strip.add_button.click()
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(f)) for f in (picture, tmp_path / "letter.txt")])
    enter = QDragEnterEvent(
        QPoint(9, 9), Qt.DropAction.CopyAction, mime, Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )  # fmt: skip
    QApplication.sendEvent(strip, enter)
    assert enter.isAccepted()
    drop = QDropEvent(
        QPointF(9, 9), Qt.DropAction.CopyAction, mime, Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )  # fmt: skip
    QApplication.sendEvent(strip, drop)
    image = QImage(20, 10, QImage.Format.Format_RGB32)
    image.fill(QColor("blue"))
    QGuiApplication.clipboard().setImage(image)
    strip.paste_button.click()
    assert [(b.name, b.path) for b in brought] == [
        ("broiler screw.JPG", picture), ("broiler screw.JPG", picture), ("pasted picture", None)
    ]  # fmt: skip
    assert brought[0].read() == jpeg()
    pasted = QImage.fromData(brought[2].read(), "PNG")
    assert pasted.size() == QSize(20, 10)
    QGuiApplication.clipboard().setText("no picture")
    strip.paste_button.click()
    assert len(brought) == 3


def test_photographs_keep_the_chosen_one_and_open_by_key(
    qtbot: QtBot, dialogs: CannedDialogs, unnamed: Callable[[QWidget], list[Any]]
) -> None:
    strip = PhotoStrip(dialogs)
    qtbot.addWidget(strip)
    with qtbot.waitActive(strip):
        strip.show()
        strip.activateWindow()
    opened: list[int] = []
    strip.opened.connect(opened.append)
    photos = [Photo(4, "frayed cord", jpeg()), Photo(9, "", jpeg("red"))]
    strip.show_photos(photos)
    strip.list.setFocus()
    strip.list.setCurrentRow(1)
    strip.show_photos([Photo(2, "door", jpeg()), *photos])
    assert strip.list.currentItem().data(Qt.ItemDataRole.UserRole) == 9
    assert strip.list.currentItem().data(Qt.ItemDataRole.AccessibleTextRole) == "Photograph 3"
    qtbot.keyClick(strip.list, Qt.Key.Key_Return)
    assert opened == [9]
    assert unnamed(strip) == []


def test_a_strip_that_only_shows_takes_nothing(qtbot: QtBot, dialogs: CannedDialogs, tmp_path: Path) -> None:
    strip = PhotoStrip(dialogs, may_add=False)
    qtbot.addWidget(strip)
    strip.show()
    brought: list[Brought] = []
    strip.brought.connect(brought.extend)
    QGuiApplication.clipboard().setImage(QImage.fromData(jpeg()))
    strip.paste()
    assert brought == []
    assert not strip.add_button.isVisible()


def test_severities_differ_in_shape_and_word_not_in_colour_alone(qtbot: QtBot) -> None:
    masks = set()
    for severity in ("none", "minor", "serious", "grave"):
        image = QImage(40, 40, QImage.Format.Format_ARGB32)
        image.fill(Qt.GlobalColor.transparent)
        painter = QPainter(image)
        paint_severity(painter, QRectF(0, 0, 40, 40), severity, QApplication.palette())
        painter.end()
        masks.add(tuple(image.pixelColor(x, y).alpha() > 128 for x in range(40) for y in range(40)))
    assert len(masks) == 4
    assert len({severity_word(s) for s in ("none", "minor", "serious", "grave")}) == 4
    mark = SeverityMark("grave")
    qtbot.addWidget(mark)
    mark.show()
    assert mark.accessibleName() == "grave"
    mark.setSeverity("minor")
    assert mark.accessibleName() == "minor"
    assert mark.width() >= mark.fontMetrics().horizontalAdvance("minor")
