"""Photographs and marks placed on a paper, in a box that never stretches them."""

from io import BytesIO

from reportlab.lib.utils import ImageReader
from reportlab.platypus import Flowable, Image

from shopdesk.documents.facts.condition import Photo
from shopdesk.documents.layout.cells import cells
from shopdesk.documents.layout.look import GAP, SMALL
from shopdesk.documents.layout.text import para, paras
from shopdesk.wording import say


def picture(image: bytes, wide: float, high: float) -> Flowable:
    """The picture fitted into `wide` by `high` points; words instead when it cannot be read."""
    try:
        across, down = ImageReader(BytesIO(image)).getSize()
    except OSError:
        return para(say("This picture cannot be read."), SMALL)
    scale = min(wide / across, high / down)
    return Image(BytesIO(image), width=across * scale, height=down * scale, hAlign="LEFT")


def photographs(photos: tuple[Photo, ...], width: float, across: int = 3) -> list[Flowable]:
    """Photographs in rows of `across`, each with its caption below; a row never breaks."""
    if not photos:
        return []
    wide = (width - GAP * 2 * (across - 1)) / across
    framed: list[list[Flowable] | str] = [
        [picture(p.image, wide, wide * 0.75), *paras((p.caption,), SMALL)] for p in photos
    ]
    rows = [framed[i : i + across] for i in range(0, len(framed), across)]
    rows[-1] += [""] * (across - len(rows[-1]))
    spaced = (("TOPPADDING", (0, 0), (-1, -1), GAP / 2), ("BOTTOMPADDING", (0, 0), (-1, -1), GAP))
    return [cells(rows, [wide + GAP * 2] * (across - 1) + [wide], *spaced)]
