"""Cut the program's typeface out of Noto Sans (needs fontTools; see README.md beside this)."""

import sys
from pathlib import Path

from fontTools import subset
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.pens.transformPen import TransformPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont

FAMILY = "Shopdesk Text"
STYLES = ("Regular", "Bold", "Italic")
BLOCKS = [(0x20, 0x24F), (0x259, 0x259), (0x2B0, 0x52F), (0x1E00, 0x1EFF), (0x2000, 0x20BF), (0x2100, 0x218F)]
FEATURES = ["kern", "mark", "mkmk", "ccmp", "locl", "lnum", "tnum", "frac", "numr", "dnom", "sups", "subs"]
GRAFTS = {"NotoSansMath-Regular": "←↑→↓↔−√∞≈≠≤≥", "NotoSansSymbols2-Regular": "☐☑☒✓✗■□▲△▶▼◆◇●○"}


def cut(source: Path, target: Path, style: str) -> None:
    """Write one style to `target`, the same bytes every time."""
    font = TTFont(source / f"NotoSans-{style}.ttf", recalcTimestamp=False)
    options = subset.Options(hinting=True, layout_features=FEATURES, drop_tables=["DSIG"])
    options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
    cutter = subset.Subsetter(options)
    cutter.populate(unicodes=[code for first, last in BLOCKS for code in range(first, last + 1)])
    cutter.subset(font)
    for name, letters in GRAFTS.items():
        other = TTFont(source / f"{name}.ttf")
        for letter in letters:
            if ord(letter) not in font.getBestCmap():
                _graft(font, other, ord(letter))
    _rename(font, style)
    font.save(target / f"{FAMILY.replace(' ', '')}-{style}.ttf")


def _graft(font: TTFont, other: TTFont, code: int) -> None:
    old, new = other.getBestCmap()[code], f"uni{code:04X}"
    scale = font["head"].unitsPerEm / other["head"].unitsPerEm
    shape, pen = DecomposingRecordingPen(other.getGlyphSet()), TTGlyphPen(None)
    other.getGlyphSet()[old].draw(shape)
    shape.replay(TransformPen(pen, (scale, 0, 0, scale, 0, 0)))
    font.setGlyphOrder([*font.getGlyphOrder(), new])
    glyph = font["glyf"].glyphs[new] = pen.glyph()
    font["glyf"].glyphOrder = font.getGlyphOrder()
    glyph.recalcBounds(font["glyf"])
    font["hmtx"].metrics[new] = (round(other["hmtx"].metrics[old][0] * scale), glyph.xMin)
    for table in font["cmap"].tables:
        if table.isUnicode():
            table.cmap[code] = new


def _rename(font: TTFont, style: str) -> None:
    full = f"{FAMILY} {style}"
    names = {1: FAMILY, 2: style, 3: f"{full} 1", 4: full, 6: f"{FAMILY.replace(' ', '')}-{style}"}
    for record in font["name"].names:
        record.string = names.get(record.nameID, record.string)


if __name__ == "__main__":
    for wanted in STYLES:
        cut(Path(sys.argv[1]), Path(sys.argv[2]), wanted)
