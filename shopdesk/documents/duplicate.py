"""A duplicate of an issued paper: the archived pages with a mark over each, on a copy.

The archived bytes are read and never changed.
"""

from io import BytesIO

from pypdf import PdfReader, PdfWriter
from reportlab.pdfgen.canvas import Canvas

from shopdesk.documents.layout.look import ACCENT, PAPER
from shopdesk.documents.layout.page import SIDE
from shopdesk.documents.layout.typeface import BOLD, fitted, register, width_of

_SIZE, _FROM_TOP = 9.0, 20.0  # points; above the letterhead and the running head


def marked_copy(pdf: bytes, mark: str) -> bytes:
    """The paper with `mark` at the top right of every page; the same arguments give the same bytes."""
    writer = PdfWriter(clone_from=PdfReader(BytesIO(pdf)))
    for page in writer.pages:
        size = (float(page.mediabox.width), float(page.mediabox.height))
        page.merge_page(PdfReader(BytesIO(_overlay(mark, size))).pages[0])
    writer.compress_identical_objects()
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def _overlay(mark: str, size: tuple[float, float]) -> bytes:
    """One page that holds nothing but the mark, on a white ground with a frame."""
    register()
    out = BytesIO()
    canvas = Canvas(out, pagesize=size, invariant=1, initialFontName=BOLD)
    side = min(SIDE, size[0] * 0.06)
    text = fitted(mark, BOLD, _SIZE, size[0] - 2 * side - 12)
    wide, right, base = width_of(text, BOLD, _SIZE), size[0] - side, size[1] - _FROM_TOP
    canvas.setFillColor(PAPER)
    canvas.setStrokeColor(ACCENT)
    canvas.setLineWidth(0.8)
    canvas.rect(right - wide - 10, base - 4, wide + 10, _SIZE + 6, stroke=1, fill=1)
    canvas.setFillColor(ACCENT)
    canvas.setFont(BOLD, _SIZE)
    canvas.drawString(right - wide - 5, base, text)
    canvas.save()
    return out.getvalue()
