"""The label put by the rating plate: the gas a range is set for, and who connects it. One to a page."""

from io import BytesIO

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Frame, KeepInFrame

from shopdesk.documents.facts.labels import GasLabelFacts
from shopdesk.documents.layout.look import BENCH, BODY, INK, SMALL_INK
from shopdesk.documents.layout.text import para
from shopdesk.documents.layout.typeface import REGULAR, register
from shopdesk.wording import say

PAGE = (100 * mm, 62 * mm)  # along a tape of 62 mm, a usual width (common practice, no source)
_EDGE = 3 * mm
_TITLE = BENCH.clone("gas", fontSize=17, leading=21)


def render(facts: GasLabelFacts) -> bytes:
    """The label as PDF bytes; what does not fit is set smaller, never cut."""
    register()
    wide, high = PAGE
    out = BytesIO()
    canvas = Canvas(
        out, pagesize=PAGE, invariant=1, lang=facts.shop.region.locale.replace("_", "-"),
        initialFontName=REGULAR,
    )  # fmt: skip
    canvas.setTitle(say("Gas label, {number}", number=facts.range))
    canvas.setAuthor(facts.shop.name)
    canvas.setCreator("shopdesk")
    canvas.setStrokeColor(INK)
    canvas.setLineWidth(1.4)
    canvas.rect(_EDGE / 2, _EDGE / 2, wide - _EDGE, high - _EDGE)
    lines = [
        para(say("Set for {gas}", gas=facts.gas), _TITLE),
        para(facts.range, BENCH),
        *[para(text, BODY) for text in facts.says],
        *[para(text, SMALL_INK) for text in facts.connecting],
        para(facts.by, SMALL_INK),
    ]
    inside = KeepInFrame(wide - 2 * _EDGE - 12, high - 2 * _EDGE - 12, lines, mode="shrink")
    Frame(_EDGE, _EDGE, wide - 2 * _EDGE, high - 2 * _EDGE).addFromList([inside], canvas)
    canvas.showPage()
    canvas.save()
    return out.getvalue()
