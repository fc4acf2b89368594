"""The page: sizes, margins, running head and foot, `page x of y`, and the finished bytes."""

from collections.abc import Callable
from functools import partial
from io import BytesIO

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, NextPageTemplate, PageTemplate

from shopdesk.documents.facts.parties import ShopHead
from shopdesk.documents.layout.letterhead import letterhead
from shopdesk.documents.layout.look import ACCENT, QUIET, RULE, RULE_WIDTH
from shopdesk.documents.layout.typeface import BOLD, REGULAR, fitted, width_of
from shopdesk.wording import say

SIDE, TOP, RUNNING_TOP, BOTTOM = 54.0, 40.0, 66.0, 58.0
_SIZES = {"letter": LETTER, "a4": A4}


def width(shop: ShopHead) -> float:
    """Room for text across the page, in points."""
    return float(_SIZES[shop.region.paper][0]) - 2 * SIDE


def printed(shop: ShopHead, title: str, number: str, story: list[Flowable], *, about: str = "") -> bytes:
    """The paper as PDF: letterhead, title, story. The same arguments give the same bytes."""
    out = BytesIO()
    size = _SIZES[shop.region.paper]
    name = f"{title} {number}".strip()
    document = BaseDocTemplate(
        out,
        pagesize=size,
        invariant=1,
        title=name,
        author=shop.name,
        subject=about or name,
        creator="shopdesk",
        lang=shop.region.locale.replace("_", "-"),
        initialFontName=REGULAR,
        displayDocTitle=True,
    )
    document.addPageTemplates([_template("first", size, TOP), _template("later", size, RUNNING_TOP)])
    head = [NextPageTemplate("later"), *letterhead(shop, title, number, width(shop))]
    furniture = partial(_furniture, shop=shop, name=name, about=about)
    document.build([*head, *story], canvasmaker=partial(_PagedCanvas, furniture=furniture))
    return out.getvalue()


def framed(shop: ShopHead, title: str, draw: Callable[[Canvas], None]) -> bytes:
    """One page without head or foot, drawn whole by `draw`. The same arguments give the same bytes."""
    out = BytesIO()
    canvas = Canvas(out, pagesize=_SIZES[shop.region.paper], invariant=1, initialFontName=REGULAR,
                    lang=shop.region.locale.replace("_", "-"))  # fmt: skip
    canvas.setTitle(title)
    canvas.setAuthor(shop.name)
    canvas.setSubject(title)
    canvas.setCreator("shopdesk")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    draw(canvas)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def _template(name: str, size: tuple[float, float], top: float) -> PageTemplate:
    frame = Frame(SIDE, BOTTOM, size[0] - 2 * SIDE, size[1] - top - BOTTOM, 0, 0, 0, 0, id=name)
    return PageTemplate(id=name, frames=[frame])


class _PagedCanvas(Canvas):
    """Keeps the pages back until their number is known, then draws head and foot on each."""

    def __init__(self, *args: object, furniture: Callable[[Canvas, int, int], None], **kept: object) -> None:
        super().__init__(*args, **kept)
        self._furniture = furniture
        self._pages: list[dict[str, object]] = []

    def showPage(self) -> None:  # noqa: N802 - reportlab's name
        self._pages.append(dict(self.__dict__))
        self._startPage()

    def save(self) -> None:
        pages = self._pages
        for page, state in enumerate(pages, start=1):
            self.__dict__.update(state)
            self._furniture(self, page, len(pages))
            super().showPage()
        super().save()


def _furniture(canvas: Canvas, page: int, pages: int, *, shop: ShopHead, name: str, about: str) -> None:
    wide, high = canvas._pagesize  # noqa: SLF001 - reportlab offers no public way
    right = wide - SIDE
    if page > 1:
        _running_head(canvas, shop.name, name, SIDE, right, high - 44)
    canvas.setStrokeColor(RULE)
    canvas.setLineWidth(RULE_WIDTH)
    canvas.line(SIDE, 44, right, 44)
    canvas.setFillColor(QUIET)
    canvas.setFont(REGULAR, 7.9)
    count = say("Page {page} of {pages}", page=page, pages=pages)
    room = right - SIDE - width_of(count, REGULAR, 7.9) - 24
    left = shop.footer or " · ".join(piece for piece in (name, about) if piece)
    canvas.drawString(SIDE, 32, fitted(left, REGULAR, 7.9, room))
    canvas.drawRightString(right, 32, count)


def _running_head(canvas: Canvas, shop: str, name: str, left: float, right: float, y: float) -> None:
    half = (right - left) / 2 - 8
    canvas.setFillColor(ACCENT)
    canvas.setFont(BOLD, 8.6)
    canvas.drawString(left, y, fitted(shop, BOLD, 8.6, half))
    canvas.setFont(REGULAR, 8.6)
    canvas.setFillColor(QUIET)
    canvas.drawRightString(right, y, fitted(name, REGULAR, 8.6, half))
    canvas.setStrokeColor(RULE)
    canvas.setLineWidth(RULE_WIDTH)
    canvas.line(left, y - 7, right, y - 7)
