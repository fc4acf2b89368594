"""People's text made fit for print: escaped, its line breaks kept, nothing read as markup."""

import unicodedata
from xml.sax.saxutils import escape

from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Paragraph

from shopdesk.documents.layout.look import BODY


def marked(text: str) -> str:
    """Text as reportlab markup that prints exactly as written."""
    shown = "".join(c if c == "\n" or unicodedata.category(c)[0] != "C" else " " for c in _lines(text))
    return escape(unicodedata.normalize("NFC", shown)).replace("\n", "<br/>")


def strong(text: str) -> str:
    """Markup for bold text."""
    return f"<b>{marked(text)}</b>"


def quiet(text: str) -> str:
    """Markup for a small grey aside."""
    return f'<font size="7.9" color="#645f57">{marked(text)}</font>'


def para(text: str, style: ParagraphStyle = BODY) -> Paragraph:
    """A paragraph of people's text."""
    return _Text(marked(text), style)


def markup(pieces: str, style: ParagraphStyle = BODY) -> Paragraph:
    """A paragraph of pieces already made by `marked`, `strong` and `quiet`."""
    return _Text(pieces, style)


def paras(texts: tuple[str, ...], style: ParagraphStyle = BODY) -> list[Flowable]:
    """One paragraph per text, empty ones left out."""
    spaced = ParagraphStyle(f"{style.name} spaced", parent=style, spaceAfter=3)
    return [para(text, spaced) for text in texts if text.strip()]


def listed(texts: tuple[str, ...], style: ParagraphStyle = BODY) -> list[Flowable]:
    """A list with a dash before each entry."""
    entry = ParagraphStyle(f"{style.name} entry", parent=style, leftIndent=11, bulletIndent=1, spaceAfter=1.5)
    return [_Text(marked(text), entry, bulletText="–") for text in texts if text.strip()]


class _Text(Paragraph):
    """Broken into lines once for a width: tables and frames ask the same of each cell several times over."""

    _broken_at: float | None = None

    def wrap(self, wide: float, high: float) -> tuple[float, float]:
        if self._broken_at != wide or not hasattr(self, "blPara"):
            self._broken_at = None
            taken: tuple[float, float] = super().wrap(wide, high)
            if taken[0] != wide:  # no room at all: nothing was broken
                return taken
            self._broken_at = wide
        return self.width, self.height


def _lines(text: str) -> str:
    return (
        text.replace("\r\n", "\n").replace("\r", "\n").replace("\u2028", "\n").replace("\t", " ").strip("\n")
    )
