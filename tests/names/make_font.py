#!/usr/bin/env python3
"""Makes the fonts of these tests with fontTools: each letter is a box, so that they are small and nobody's work.

`every-script.ttf` has the letters below; `no-embedding.ttf` is the same with bit 1 of `fsType` set.
"""
import pathlib
import sys

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen

LETTERS = "王小明佐藤さくらサ김민준משהכהןمحمدعليराजสมชายԱնի"


def box(width: int):
    pen = TTGlyphPen(None)
    pen.moveTo((60, 0))
    for corner in ((60, 600), (width - 60, 600), (width - 60, 0)):
        pen.lineTo(corner)
    pen.closePath()
    return pen.glyph()


def make(path: pathlib.Path, fs_type: int) -> None:
    letters = sorted(set(LETTERS))
    names = [".notdef", "space"] + [f"u{ord(c):04X}" for c in letters]
    font = FontBuilder(1000, isTTF=True)
    font.setupGlyphOrder(names)
    font.setupCharacterMap({ord(" "): "space"} | {ord(c): f"u{ord(c):04X}" for c in letters})
    widths = {name: 400 + 10 * (at % 40) for at, name in enumerate(names)}
    font.setupGlyf({n: TTGlyphPen(None).glyph() if n == "space" else box(w) for n, w in widths.items()})
    font.setupHorizontalMetrics({n: (w, 60) for n, w in widths.items()})
    font.setupHorizontalHeader(ascent=800, descent=-200)
    font.setupNameTable({"familyName": "Every Script Boxes", "styleName": "Regular"})
    font.setupOS2(sTypoAscender=800, sTypoDescender=-200, usWinAscent=800, usWinDescent=200, fsType=fs_type)
    font.setupPost()
    # The same bytes whenever it is made.
    font.updateHead(created=0, modified=0)
    font.font.recalcTimestamp = False
    font.save(path)


if __name__ == "__main__":
    folder = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else __file__).resolve()
    folder = folder if folder.is_dir() else folder.parent
    make(folder / "every-script.ttf", 0)
    make(folder / "no-embedding.ttf", 2)
