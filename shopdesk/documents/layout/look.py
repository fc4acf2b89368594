"""Colours, sizes and paragraph styles of the papers: quiet, one accent, warm grey rules."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from reportlab.lib.colors import Color, HexColor
from reportlab.lib.enums import TA_CENTER, TA_RIGHT
from reportlab.lib.styles import ParagraphStyle

from shopdesk.documents.layout.typeface import BOLD, ITALIC, REGULAR, register

_OWN = HexColor("#1c2b45")  # blue-black, as the ground coat under enamel
_of_the_shop: ContextVar[Color] = ContextVar("accent", default=_OWN)


class _Accent(Color):
    """The accent of the paper that is being made: styles and rules name it once and for all shops."""

    def __init__(self) -> None:
        self.alpha = 1

    red = property(lambda _self: _of_the_shop.get().red)
    green = property(lambda _self: _of_the_shop.get().green)
    blue = property(lambda _self: _of_the_shop.get().blue)


@contextmanager
def accented(colour: str) -> Iterator[None]:
    """Papers made inside have this accent, `#rrggbb`; "" for the program's own."""
    before = _of_the_shop.set(HexColor(colour) if colour else _OWN)
    try:
        yield
    finally:
        _of_the_shop.reset(before)


INK = HexColor("#23262b")
ACCENT = _Accent()
QUIET = HexColor("#645f57")
RULE = HexColor("#c8c1b5")
PAPER = HexColor("#ffffff")

GAP = 6.0  # points; everything stands off by multiples of it
RULE_WIDTH = 0.6

register()


def _style(name: str, size: float, leading: float, **more: object) -> ParagraphStyle:
    settings: dict[str, object] = {
        "fontName": REGULAR,
        "bulletFontName": REGULAR,
        "textColor": INK,
        "splitLongWords": 1,
        "allowWidows": 0,
        "allowOrphans": 0,
        **more,
    }
    return ParagraphStyle(name, fontSize=size, leading=leading, **settings)


BODY = _style("body", 9.3, 13)
STRONG = _style("strong", 9.3, 13, fontName=BOLD)
RIGHT = _style("right", 9.3, 13, alignment=TA_RIGHT)
STRONG_RIGHT = _style("strong right", 9.3, 13, fontName=BOLD, alignment=TA_RIGHT)
CENTRED = _style("centred", 9.3, 13, alignment=TA_CENTER)
SMALL = _style("small", 7.9, 10.6, textColor=QUIET)
SMALL_CENTRED = _style("small centred", 7.9, 10.6, textColor=QUIET, alignment=TA_CENTER)
SMALL_RIGHT = _style("small right", 7.9, 10.6, textColor=QUIET, alignment=TA_RIGHT)
SMALL_INK = _style("small ink", 7.9, 10.6)
BENCH = _style("bench", 11, 14.5, fontName=BOLD)
BENCH_TEXT = _style("bench text", 9.8, 13.2)
TITLE = _style("title", 20, 24, fontName=BOLD, textColor=ACCENT)
NUMBER = _style("number", 12, 15.6, textColor=QUIET, alignment=TA_RIGHT)
SHOP = _style("shop", 13, 16, fontName=BOLD, textColor=ACCENT)
SECTION = _style("section", 11, 14, fontName=BOLD, textColor=ACCENT, spaceBefore=13, spaceAfter=4)
ZONE = _style("zone", 9.3, 13, fontName=BOLD, textColor=ACCENT, keepWithNext=1)
COLUMN = _style("column", 7.9, 10.6, textColor=QUIET)
COLUMN_RIGHT = _style("column right", 7.9, 10.6, textColor=QUIET, alignment=TA_RIGHT)
DUE = _style("due", 11, 14, fontName=BOLD, textColor=ACCENT)
DUE_RIGHT = _style("due right", 11, 14, fontName=BOLD, textColor=ACCENT, alignment=TA_RIGHT)
LEDE_STRONG = _style("lede strong", 10.4, 14.6, fontName=BOLD)
LEDE = _style("lede", 10.4, 14.6)
NOTE = _style("note", 8.6, 11.8, fontName=ITALIC, textColor=QUIET)
